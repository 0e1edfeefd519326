"""Hours fed back over HTTP. Every job here is invented."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from jsonschema import Draft202012Validator

from service.storage.actuals import actuals_of
from tests.web.office import XLSX, count_of

JSON = "application/json"
NOBODYS = "01a20000-0000-7000-8000-000000000000"


def address(quote):
    """Where the hours of a quote are."""
    return f"/v1/quotes/{quote['id']}/actuals"


def sent(caller, quote, document, **headers):
    """The answer to hours fed back for a quote."""
    return caller.post(address(quote), json.dumps(document).encode(), Content_Type=JSON, **headers)


def hours(**tasks):
    """A request with hours by task, underscores for hyphens."""
    return {"tasks": [{"task": task.replace("_", "-"), "hours": taken} for task, taken in tasks.items()]}


def refused(caller, quote, document):
    """Code and pointer of each error and warning of hours that are refused."""
    response = sent(caller, quote, document)
    body = response.json
    assert (response.status_code, response.mimetype) == (422, "application/problem+json")
    assert body["type"].rsplit("/", 1)[-1] == "actuals-refused"
    assert body["problem_count"] == len(body["problems"])
    assert all(problem["detail"] and problem["help"] for problem in body["problems"])
    return [(problem["code"], problem["pointer"]) for problem in body["problems"]]


def planned(quote, task):
    """Hours of a task added up over a quote's labor rows."""
    return sum((Decimal(str(row["hours"])) for row in quote["labor"] if row["task"] == task), Decimal(0))


def task_of(answer, task):
    """The row of a task in an answer."""
    return next(row for row in answer["tasks"] if row["task"] == task)


def test_before_any_posting_the_plan_stands_alone(estimator, client):
    """Version 0 lists each task of the quote's labor rows once, with their hours added up and no actual ones."""
    quote = estimator.quoted("l_shaped.xlsx")
    response = estimator.get(address(quote))
    answer = response.json
    assert (response.status_code, answer["version"], answer["number"]) == (200, 0, quote["number"])
    assert [row["task"] for row in answer["tasks"]] == list(dict.fromkeys(r["task"] for r in quote["labor"]))
    assert all(Decimal(row["planned_hours"]) == planned(quote, row["task"]) for row in answer["tasks"])
    assert {row["actual_hours"] for row in answer["tasks"]} == {None}
    assert Decimal(answer["planned_hours"]) == Decimal(str(quote["labor_hours"]))


def test_hours_stand_beside_the_plan(estimator):
    """Posted hours are answered beside those planned, with the hours per unit: actual over planned times the rate."""
    quote = estimator.quoted()
    document = hours(layout="0.75", cut_cope="3.5") | {"finished_on": "2026-11-24"}
    document["tasks"][1]["note"] = "Old corners, out of square"
    posted = sent(estimator, quote, document)
    cope = task_of(posted.json, "cut-cope")
    expected = Decimal("3.5") / planned(quote, "cut-cope") * Decimal(cope["rate"])
    assert posted.status_code == 200
    assert (posted.json["version"], posted.json["finished_on"]) == (1, "2026-11-24")
    assert posted.json["posted_at"] == "2026-11-25T07:30:00.000Z"
    assert (cope["actual_hours"], cope["note"]) == ("3.5", "Old corners, out of square")
    assert float(cope["hours_per_unit"]) == pytest.approx(float(expected), rel=5e-3)
    assert posted.json["actual_hours"] == "4.25"
    shown = estimator.get(address(quote))
    assert (shown.json, shown.headers["ETag"]) == (posted.json, posted.headers["ETag"])
    assert estimator.get(address(quote), If_None_Match=posted.headers["ETag"]).status_code == 304


def test_answers_match_the_description(estimator, client):
    """Hours before and after a posting are valid by the published schema, and so is the request."""
    described = client.get("/openapi.json").json["components"]
    quote = estimator.quoted()
    document = hours(layout="0.75", scarf="1")
    answers = [estimator.get(address(quote)).json, sent(estimator, quote, document).json]
    for name, value in [("Actuals", answers[0]), ("Actuals", answers[1]), ("ActualsRequest", document)]:
        schema = {"$ref": f"#/components/schemas/{name}", "components": described}
        assert [error.message for error in Draft202012Validator(schema).iter_errors(value)] == []


@pytest.mark.parametrize(
    ("value", "code"),
    [
        (1.5, "number-not-understood"),
        (True, "number-not-understood"),
        ("1_000", "number-not-understood"),
        ("1,5", "number-not-understood"),
        ("1e2", "number-not-understood"),
        (" 2", "number-not-understood"),
        ("2\n", "number-not-understood"),
        ("٣", "number-not-understood"),
        ("NaN", "number-not-understood"),
        ("1:30", "number-not-understood"),
        ("0.00001", "number-not-understood"),
        ("-3", "number-out-of-range"),
        ("0", "number-out-of-range"),
        ("10001", "number-out-of-range"),
        ("", "value-missing"),
        (None, "value-missing"),
        (["3"], "number-not-understood"),
    ],
)
def test_what_is_no_hours_is_refused(estimator, office, value, code):
    """A float, a truth value, digit groups, exponents, clock time, a negative or absurd figure are faults at their place."""
    quote = estimator.quoted()
    assert refused(estimator, quote, hours(layout=value)) == [(code, "/tasks/0/hours")]
    assert count_of(office.desk, "actuals") == 0


@pytest.mark.parametrize(
    ("document", "faults"),
    [
        ([], [("document-unreadable", "")]),
        ({}, [("value-missing", "/tasks")]),
        ({"tasks": []}, [("value-missing", "/tasks")]),
        ({"tasks": "layout"}, [("document-unreadable", "/tasks")]),
        ({"tasks": [3]}, [("document-unreadable", "/tasks/0")]),
        ({"tasks": [{"task": "layuot", "hours": "1"}]}, [("value-not-in-list", "/tasks/0/task")]),
        ({"tasks": [{"task": 7, "hours": "1"}]}, [("value-not-in-list", "/tasks/0/task")]),
        ({"tasks": [{"hours": "1"}]}, [("value-missing", "/tasks/0/task")]),
        (hours(layout="1") | {"finished_on": "11/24/2026"}, [("date-not-understood", "/finished_on")]),
        (hours(layout="1") | {"finished": "2026-11-24"}, [("member-unknown", "/finished")]),
        ({"tasks": [{"task": "layout", "hours": "1"}, {"task": "Layout", "hours": "1"}]}, [("item-duplicate", "/tasks/1/task")]),
        ({"tasks": [{"task": "layout", "hours": "1", "note": "x" * 9000}]}, [("text-too-long", "/tasks/0/note")]),
    ],
)  # fmt: skip
def test_each_fault_has_its_place(estimator, document, faults):
    """What is wrong with a document is named by code and JSON Pointer."""
    assert refused(estimator, estimator.quoted(), document) == faults


def test_all_faults_come_at_once(estimator, office):
    """Faults of spelling, of the plan and of the calendar come in one answer, warnings with them; nothing is kept."""
    document = {
        "tasks": [
            {"task": "nonsense", "hours": "2"},
            {"task": "layout", "hours": "-1"},
            {"task": "cut-cope", "hours": "200"},
            {"task": "cut-cope", "hours": "2"},
            {"task": "scarf", "hours": "1"},
        ],
        "finished_on": "2026-11-26",
    }
    assert set(refused(estimator, estimator.quoted(), document)) == {
        ("value-not-in-list", "/tasks/0/task"),
        ("number-out-of-range", "/tasks/1/hours"),
        ("hours-not-possible", "/tasks/2/hours"),
        ("item-duplicate", "/tasks/3/task"),
        ("task-not-planned", "/tasks/4/task"),
        ("date-out-of-range", "/finished_on"),
    }
    assert count_of(office.desk, "actuals") == 0


def test_a_task_that_was_not_planned_is_kept_with_a_warning(estimator):
    """Work that came up on site counts in the job's hours; a warning says that it tells nothing of a rate."""
    quote = estimator.quoted()
    answer = sent(estimator, quote, hours(scarf="1.25")).json
    scarf = task_of(answer, "scarf")
    assert [(p["code"], p["severity"], p["pointer"]) for p in answer["problems"]] == [
        ("task-not-planned", "warning", "/tasks/0/task")
    ]
    assert (scarf["planned_hours"], scarf["rate"], scarf["hours_per_unit"]) == (None, None, None)
    assert (scarf["actual_hours"], answer["actual_hours"]) == ("1.25", "1.25")


def test_hours_unlike_the_plan_are_kept_with_a_warning(estimator):
    """Four times the planned hours of crown are kept and asked about."""
    quote = estimator.quoted()
    taken = planned(quote, "hang-crown") * 4
    answer = sent(estimator, quote, hours(hang_crown=str(taken))).json
    assert [problem["code"] for problem in answer["problems"]] == ["hours-unlike-plan"]
    assert task_of(answer, "hang-crown")["actual_hours"] == str(taken)


@pytest.mark.parametrize(
    ("day", "status"), [("2025-04-13", 422), ("2025-04-14", 200), ("2026-11-25", 200), ("2026-11-26", 422)]
)
def test_a_job_is_finished_between_measuring_and_today(estimator, day, status):
    """The rooms were measured on 2025-04-14, and today is 2026-11-25 in Chicago: both days are in, those beside are not."""
    quote = estimator.quoted()
    assert quote["job"]["measured_on"] == "2025-04-14"
    assert sent(estimator, quote, hours(layout="1") | {"finished_on": day}).status_code == status


def test_more_hours_than_the_days_have_are_refused(estimator):
    """On the day of measuring twelve people of sixteen hours have 192 h; a task without a plan cannot take 193 of them."""
    quote = estimator.quoted()
    same_day = {"finished_on": "2025-04-14"}
    assert sent(estimator, quote, hours(scarf="192") | same_day).status_code == 200
    assert ("hours-not-possible", "/tasks") in refused(estimator, quote, hours(scarf="193") | same_day)


def test_posting_again_replaces_and_keeps_the_earlier_ones(estimator, office):
    """The second posting is version 2 and alone counts; version 1 stays in the table; the same again makes no third."""
    quote = estimator.quoted()
    sent(estimator, quote, hours(layout="1", caulk="2"))
    answers = [sent(estimator, quote, hours(layout="1.5")).json for _ in range(2)]
    assert [answer["version"] for answer in answers] == [2, 2]
    assert (answers[0]["actual_hours"], task_of(answers[0], "caulk")["actual_hours"]) == ("1.5", None)
    assert count_of(office.desk, "actuals") == 2
    with office.desk.database.reading() as connection:
        first = actuals_of(connection, quote["id"], 1)
    assert [(task.task, task.hours) for task in first.tasks] == [("layout", 1), ("caulk", 2)]


def test_if_match_guards_where_it_is_sent(estimator):
    """With an old tag hours are 412 and nothing changes; with the present one, or none, they are kept."""
    quote = estimator.quoted()
    blank = estimator.get(address(quote)).headers["ETag"]
    first = sent(estimator, quote, hours(layout="1"), If_Match=blank)
    assert first.status_code == 200
    for old in (blank, f"W/{first.headers['ETag']}", '"x"'):
        assert sent(estimator, quote, hours(layout="2"), If_Match=old).status_code == 412
    assert estimator.get(address(quote)).json == first.json
    assert sent(estimator, quote, hours(layout="2"), If_Match=first.headers["ETag"]).status_code == 200
    assert sent(estimator, quote, hours(layout="3")).json["version"] == 3


@pytest.mark.parametrize("steps", [["withdraw"], ["issue", "decline"]])
def test_no_work_follows_from_a_refused_quote(estimator, steps):
    """Hours for a withdrawn or declined quote are 409: they belong to another."""
    quote = estimator.quoted()
    for step in steps:
        estimator.post(f"/v1/quotes/{quote['id']}/{step}", If_Match="*")
    response = sent(estimator, quote, hours(layout="1"))
    assert (response.status_code, response.json["type"].rsplit("/", 1)[-1]) == (409, "status-does-not-fit")


def test_an_accepted_quote_stays_as_it_is(estimator):
    """Hours fed back change neither the bytes nor the tag of the quote."""
    quote = estimator.quoted()
    path = f"/v1/quotes/{quote['id']}"
    for step in ("issue", "accept"):
        estimator.post(f"{path}/{step}", If_Match="*")
    before = estimator.get(path)
    assert sent(estimator, quote, hours(layout="1")).status_code == 200
    after = estimator.get(path)
    assert (after.data, after.headers["ETag"]) == (before.data, before.headers["ETag"])


def test_hours_are_the_offices_alone(estimator, integrator, field_lead, client):
    """Integration and field get 403, nobody without a key gets in."""
    quote = estimator.quoted()
    for caller in (integrator, field_lead):
        assert caller.get(address(quote)).status_code == 403
        assert sent(caller, quote, hours(layout="1")).status_code == 403
    assert client.get(address(quote)).status_code == 401
    assert client.post(address(quote), json=hours(layout="1")).status_code == 401


def test_another_firms_quote_is_not_there(estimator, rival, office):
    """To another firm, and for an unknown id, hours are 404, also when they have faults; nothing is kept."""
    quote = estimator.quoted()
    for caller, wanted in ((rival, quote), (estimator, {"id": NOBODYS})):
        assert caller.get(address(wanted)).status_code == 404
        assert sent(caller, wanted, hours(layout="1")).status_code == 404
        assert sent(caller, wanted, hours(layout="x")).status_code == 404
    assert count_of(office.desk, "actuals") == 0


@pytest.mark.parametrize(("kind", "body", "status"), [(XLSX, b"PK", 415), ("text/csv", b"a", 415), (JSON, b"{", 422)])
def test_only_a_json_document_is_read(estimator, kind, body, status):
    """A workbook or text is 415, broken JSON 422, as problem documents."""
    response = estimator.post(address(estimator.quoted()), body, Content_Type=kind)
    assert (response.status_code, response.mimetype) == (status, "application/problem+json")


def test_unknown_parameters_are_refused(estimator):
    """A word after the question mark that this address does not have is 422 for both methods."""
    path = address(estimator.quoted()) + "?verbose=1"
    body = json.dumps(hours(layout="1")).encode()
    assert estimator.get(path).status_code == 422
    assert estimator.post(path, body, Content_Type=JSON).status_code == 422
