"""Production rates compared and accepted over HTTP. Every job here is invented."""

from __future__ import annotations

import json
import math
from datetime import timedelta
from decimal import Decimal

import pytest
from jsonschema import Draft202012Validator

from service.trade.book import shipped_book
from tests.web.office import XLSX, changed, count_of, sheet

JSON = "application/json"
RATES = "/v1/production-rates"
DOOR = "/v1/production-rates/accept"
COPE = "cut-cope"


def labor(quote, task, member="hours"):
    """Hours or quantity of a task added up over a quote's labor rows."""
    return sum((Decimal(str(row[member])) for row in quote["labor"] if row["task"] == task), Decimal(0))


def fed_back(caller, quote, tasks):
    """Feed hours back for a quote."""
    document = {"tasks": [{"task": task, "hours": str(hours)} for task, hours in tasks.items()]}
    path = f"/v1/quotes/{quote['id']}/actuals"
    response = caller.post(path, json.dumps(document).encode(), Content_Type=JSON)
    assert response.status_code == 200, response.get_data(as_text=True)


def jobs_done(caller, *factors, task=COPE):
    """Make and finish a job for each factor: the task took so many times the hours planned. Answers with the last quote."""
    for factor in factors:
        quote = caller.quoted()
        fed_back(caller, quote, {task: labor(quote, task) * Decimal(factor)})
    return quote


def rate_of(caller, task, path=RATES):
    """The row of a task."""
    return next(row for row in caller.get(path).json["items"] if row["task"] == task)


def accepted(caller, tasks, price_list="standard", **headers):
    """The answer to an acceptance; `If_Match` as given, else the tag of the rates as they are."""
    tag = {"If_Match": caller.get(f"{RATES}?price_list={price_list}").headers.get("ETag", '"x"')}
    document = json.dumps({"price_list": price_list, "tasks": tasks}).encode()
    return caller.post(DOOR, document, Content_Type=JSON, **(tag | headers))


def faults(response):
    """Code and pointer of each fault of a refused request."""
    assert (response.status_code, response.mimetype) == (422, "application/problem+json")
    assert response.json["type"].rsplit("/", 1)[-1] == "rates-refused"
    return [(problem["code"], problem["pointer"]) for problem in response.json["problems"]]


def test_without_jobs_every_rate_of_the_list_stands_alone(estimator):
    """Each task of the price list is there with its rate, no job and no proposal."""
    response = estimator.get(RATES)
    listed = estimator.get("/v1/price-lists/standard").json["document"]["labor"]
    assert (response.status_code, response.json["price_list"]) == (200, {"name": "standard", "version": 1})
    rates = {row["task"]: Decimal(row["current_rate"]) for row in response.json["items"]}
    assert rates == {row["task"]: Decimal(row["hours_per_unit"]) for row in listed}
    assert {(row["jobs"], row["proposed_rate"], row["outcome"]) for row in response.json["items"]} == {
        (0, None, "too-few-jobs")
    }


def test_three_jobs_propose_a_rate(estimator):
    """Jobs that took 1, 1.5 and 2 times the plan: median 1.5, and half of the way to it in logarithms is proposed."""
    quote = jobs_done(estimator, "1", "2", "1.5")
    row, current = rate_of(estimator, COPE), 0.180
    planned = labor(quote, COPE)
    assert (row["jobs"], Decimal(row["quantity"])) == (3, labor(quote, COPE, "quantity") * 3)
    assert Decimal(row["planned_hours"]) == planned * 3
    assert Decimal(row["actual_hours"]) == planned * Decimal("4.5")
    assert (row["current_rate"], row["outcome"], row["weight"]) == ("0.18", "proposed", 0.5)
    assert float(row["median_rate"]) == pytest.approx(1.5 * current, rel=5e-3)
    assert float(row["proposed_rate"]) == pytest.approx(math.sqrt(1.5) * current, rel=5e-3)
    low, high = (float(row["interval"][end]) for end in ("low", "high"))
    assert (low, high) == (pytest.approx(current, rel=1e-2), pytest.approx(2 * current, rel=1e-2))
    assert row["interval"]["coverage"] == 0.75


def test_only_the_newest_hours_of_a_quote_count(estimator):
    """A job whose hours were posted twice is one observation, of the second posting."""
    quote = jobs_done(estimator, "2")
    fed_back(estimator, quote, {COPE: labor(quote, COPE)})
    row = rate_of(estimator, COPE)
    assert (row["jobs"], row["actual_hours"]) == (1, str(labor(quote, COPE)))
    fed_back(estimator, quote, {"layout": "0.5"})
    assert rate_of(estimator, COPE)["jobs"] == 0


def test_each_firm_learns_from_its_own_jobs(estimator, rival):
    """Another firm's hours move nothing."""
    before = rival.get(RATES)
    jobs_done(estimator, "2")
    after = rival.get(RATES)
    assert (after.data, after.headers["ETag"]) == (before.data, before.headers["ETag"])


def test_method_and_basis_are_told(estimator):
    """The answer cites its publications as from memory and names entries that the trade book has."""
    answer = estimator.get(RATES).json
    assert "Hampel" in answer["method"]
    assert "from memory" in answer["method"]
    assert all(entry.removeprefix("trade:") in shipped_book() for entry in answer["basis"])
    assert len(answer["basis"]) == 5


def test_answers_match_the_description(estimator, client):
    """Rates and acceptance are valid by the published schema; figures are decimal texts, never floats."""
    described = client.get("/openapi.json").json["components"]
    jobs_done(estimator, "1.5", "1.5", "1.5")
    rates, done = estimator.get(RATES).json, accepted(estimator, [COPE]).json
    for name, value in [("ProductionRates", rates), ("AcceptedRates", done)]:
        schema = {"$ref": f"#/components/schemas/{name}", "components": described}
        assert [error.message for error in Draft202012Validator(schema).iter_errors(value)] == []


def test_an_accepted_rate_makes_a_new_version(estimator):
    """Version 2 has the new rate and is else version 1; the workbook stays behind version 1 alone."""
    jobs_done(estimator, "1.5", "1.5", "1.5")
    proposed = rate_of(estimator, COPE)["proposed_rate"]
    response = accepted(estimator, [COPE])
    first = estimator.get("/v1/price-lists/standard/versions/1").json["document"]
    second = estimator.get(response.headers["Location"]).json
    assert response.status_code == 201
    assert response.json["price_list"] == {"name": "standard", "version": 2}
    assert response.json["changes"] == [{"task": COPE, "unit": "joint", "before": "0.18", "after": proposed}]
    assert second["version"] == 2
    rows = {row["task"]: row for row in second["document"]["labor"]}
    assert rows[COPE]["hours_per_unit"] == proposed
    rows[COPE]["hours_per_unit"] = next(row["hours_per_unit"] for row in first["labor"] if row["task"] == COPE)
    assert second["document"] == first
    assert estimator.get("/v1/price-lists/standard/versions/1", Accept=XLSX).data == sheet("price_list.xlsx")
    assert estimator.get("/v1/price-lists/standard", Accept=XLSX).status_code == 406


def test_new_quotes_have_the_new_rate_and_old_ones_stay(estimator):
    """After acceptance a quote is priced with the new rate; the older one is served as it was stored."""
    quote = jobs_done(estimator, "1.5", "1.5", "1.5")
    path = f"/v1/quotes/{quote['id']}"
    before = estimator.get(path)
    proposed = accepted(estimator, [COPE]).json["changes"][0]["after"]
    later = estimator.quoted()
    assert (quote["price_list"]["version"], later["price_list"]["version"]) == (1, 2)
    assert {row["rate"] for row in later["labor"] if row["task"] == COPE} == {float(proposed)}
    assert labor(later, COPE) > labor(quote, COPE)
    assert (estimator.get(path).data, estimator.get(path).headers["ETag"]) == (before.data, before.headers["ETag"])


def test_jobs_in_an_accepted_rate_do_not_pull_again(estimator):
    """After acceptance the same jobs still tell their median, but propose nothing: accepting again cannot creep to it."""
    jobs_done(estimator, "1.5", "1.5", "1.5")
    before = rate_of(estimator, COPE)
    accepted(estimator, [COPE])
    after = rate_of(estimator, COPE)
    assert (before["jobs"], before["new_jobs"]) == (3, 3)
    assert (after["jobs"], after["new_jobs"], after["median_rate"]) == (3, 0, before["median_rate"])
    assert (after["outcome"], after["weight"], after["current_rate"]) == ("unchanged", 0, before["proposed_rate"])
    assert faults(accepted(estimator, [COPE])) == [("rate-not-proposed", "/tasks/0")]


def test_jobs_after_an_acceptance_pull_against_those_in_it(estimator, office):
    """A job a day later weighs 1 against the 3 of the firm and the 3 accepted; it counts by the rate it was priced with."""
    jobs_done(estimator, "1.5", "1.5", "1.5")
    current = float(accepted(estimator, [COPE]).json["changes"][0]["after"])
    office.clock.now += timedelta(days=1)
    jobs_done(estimator, "2")
    row = rate_of(estimator, COPE)
    assert (row["jobs"], row["new_jobs"], row["weight"]) == (4, 1, pytest.approx(1 / 7, abs=1e-6))
    assert float(row["proposed_rate"]) == pytest.approx(current * 2 ** (1 / 7), rel=5e-3)


def test_a_rate_that_the_office_sets_itself_starts_anew(estimator):
    """When the office puts its old list again, the jobs are in no accepted rate and all of them pull as at first."""
    jobs_done(estimator, "1.5", "1.5", "1.5")
    before = rate_of(estimator, COPE)
    accepted(estimator, [COPE])
    estimator.put("/v1/price-lists/standard", sheet("price_list.xlsx"))
    assert rate_of(estimator, COPE) == before


def test_acceptance_needs_the_tag_of_the_rates_as_they_are(estimator):
    """Without If-Match it is 428; with the tag from before a new list version, or before more hours, 412; nothing changes."""
    jobs_done(estimator, "1.5", "1.5", "1.5")
    document = json.dumps({"price_list": "standard", "tasks": [COPE]}).encode()
    seen = estimator.get(RATES).headers["ETag"]
    assert estimator.post(DOOR, document, Content_Type=JSON).status_code == 428
    estimator.put("/v1/price-lists/standard", changed("price_list.xlsx", {"Wages!B2": "99.00"}))
    assert accepted(estimator, [COPE], If_Match=seen).status_code == 412
    seen = estimator.get(RATES).headers["ETag"]
    jobs_done(estimator, "3")
    for old in (seen, f"W/{estimator.get(RATES).headers['ETag']}"):
        assert accepted(estimator, [COPE], If_Match=old).status_code == 412
    assert estimator.get("/v1/price-lists/standard").json["version"] == 2
    assert accepted(estimator, [COPE]).json["price_list"]["version"] == 3
    assert accepted(estimator, [COPE], If_Match=seen).status_code == 412


def test_a_known_comparison_is_not_sent_again(estimator):
    """With its own tag the comparison is 304; hours fed back give it another."""
    tag = estimator.get(RATES).headers["ETag"]
    assert estimator.get(RATES, If_None_Match=tag).status_code == 304
    jobs_done(estimator, "1.5")
    assert estimator.get(RATES, If_None_Match=tag).status_code == 200


def test_all_faults_come_at_once(estimator, office):
    """An unknown task, one named twice and those without a proposal are told in one answer; no version is made."""
    jobs_done(estimator, "1.5", "1.5", "1.5")
    tasks = ["cut-coop", COPE, "layout", "Cut-Cope", 3]
    assert set(faults(accepted(estimator, tasks))) == {
        ("value-not-in-list", "/tasks/0"),
        ("rate-not-proposed", "/tasks/2"),
        ("item-duplicate", "/tasks/3"),
        ("value-not-in-list", "/tasks/4"),
    }
    assert count_of(office.desk, "price_list_versions") == 2  # the firm's and the rival's


@pytest.mark.parametrize(
    ("document", "fault"),
    [
        ([], ("document-unreadable", "")),
        ({"tasks": [COPE]}, ("value-missing", "/price_list")),
        ({"price_list": "standard"}, ("value-missing", "/tasks")),
        ({"price_list": "standard", "tasks": []}, ("value-missing", "/tasks")),
        ({"price_list": "standard", "tasks": COPE}, ("document-unreadable", "/tasks")),
        ({"price_list": "standard", "tasks": [COPE], "all": True}, ("member-unknown", "/all")),
        ({"price_list": "winter", "tasks": [COPE]}, ("price-list-unknown", "/price_list")),
    ],
)
def test_each_fault_has_its_place(estimator, document, fault):
    """What is wrong with an acceptance is named by code and JSON Pointer, whatever tag comes with it."""
    response = estimator.post(DOOR, json.dumps(document).encode(), Content_Type=JSON, If_Match="*")
    assert fault in faults(response)


def test_a_rate_that_stays_is_not_accepted(estimator):
    """Jobs that went as planned leave the rate, and there is nothing to accept."""
    jobs_done(estimator, "1", "1", "1")
    assert rate_of(estimator, COPE)["outcome"] == "unchanged"
    response = accepted(estimator, [COPE])
    assert faults(response) == [("rate-not-proposed", "/tasks/0")]
    assert "stays" in response.json["problems"][0]["detail"]


def test_a_named_list_is_compared(estimator):
    """Rates of another list stand beside the same jobs, and its acceptance leaves `standard` alone."""
    estimator.put("/v1/price-lists/winter", sheet("price_list.xlsx"))
    jobs_done(estimator, "1.5", "1.5", "1.5")
    answer = estimator.get(f"{RATES}?price_list=Winter").json
    assert answer["price_list"] == {"name": "winter", "version": 1}
    assert accepted(estimator, [COPE], "winter").json["price_list"] == {"name": "winter", "version": 2}
    assert estimator.get("/v1/price-lists/standard").json["version"] == 1
    assert faults(estimator.get(f"{RATES}?price_list=summer")) == [("price-list-unknown", "/price_list")]


def test_a_list_put_as_json_gets_the_rate_whatever_its_spelling(estimator):
    """A list that spells a task in capitals and its rate as a number takes the new rate in that row."""
    document = estimator.get("/v1/price-lists/standard").json["document"]
    row = next(row for row in document["labor"] if row["task"] == COPE)
    row |= {"task": " CUT-COPE ", "hours_per_unit": 0.18}
    estimator.put("/v1/price-lists/standard", json.dumps(document).encode(), Content_Type=JSON)
    jobs_done(estimator, "1.5", "1.5", "1.5")
    after = accepted(estimator, [COPE]).json["changes"][0]["after"]
    rows = estimator.get("/v1/price-lists/standard").json["document"]["labor"]
    assert [r["hours_per_unit"] for r in rows if r["task"] == " CUT-COPE "] == [after]


def test_a_firms_own_trade_values_count(estimator):
    """A list that weighs its rates as twelve jobs and asks for two proposes after two jobs, a seventh of the way."""
    document = estimator.get("/v1/price-lists/standard").json["document"]
    document["trade"] = [
        {"entry": "calibration.prior-jobs", "value": "12", "source": "our seasons"},
        {"entry": "calibration.least-jobs", "value": "2", "source": "our seasons"},
    ]
    estimator.put("/v1/price-lists/standard", json.dumps(document).encode(), Content_Type=JSON)
    jobs_done(estimator, "3", "3")
    row = rate_of(estimator, COPE)
    assert row["weight"] == pytest.approx(2 / 14, abs=1e-6)
    assert float(row["proposed_rate"]) == pytest.approx(0.180 * 3 ** (2 / 14), rel=5e-3)


def test_rates_are_the_offices_alone(estimator, integrator, field_lead, client):
    """Integration and field get 403, nobody without a key gets in."""
    for caller in (integrator, field_lead):
        assert caller.get(RATES).status_code == 403
        assert caller.post(DOOR, b"{}", Content_Type=JSON, If_Match="*").status_code == 403
    assert client.get(RATES).status_code == 401
    assert client.post(DOOR, json={}).status_code == 401


@pytest.mark.parametrize("query", ["?list=standard", "?price_list=standard&price_list=winter"])
def test_unknown_parameters_are_refused(estimator, query):
    """A parameter that this address does not have, or that stands there twice, is 422."""
    response = estimator.get(RATES + query)
    assert (response.status_code, response.json["type"].rsplit("/", 1)[-1]) == (422, "query-not-understood")


def test_acceptance_is_a_json_document(estimator):
    """A workbook in the place of the document is 415."""
    assert estimator.post(DOOR, sheet("price_list.xlsx"), If_Match="*").status_code == 415
