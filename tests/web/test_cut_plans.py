"""Cut plans over HTTP, each worked out again from the request it answers. Every job here is invented."""

from __future__ import annotations

import json
from copy import deepcopy
from fractions import Fraction
from random import Random

import pytest
from jsonschema import Draft202012Validator

from service.__main__ import main
from tests.web.office import SAMPLES, XLSX, as_part, office_in, sheet

JSON = "application/json"
DOOR = "/v1/cut-plans"
MM = Fraction(254, 10)


@pytest.fixture(scope="module")
def office(founded, tmp_path_factory):
    """One office for all: a cut plan stores nothing."""
    with office_in(tmp_path_factory.mktemp("cuts") / "data", founded) as made:
        yield made


@pytest.fixture(scope="module")
def client(office):
    """Its web side."""
    return office.app().test_client()


@pytest.fixture(scope="module")
def sample():
    """The sample request."""
    return json.loads((SAMPLES / "cut_plan.json").read_text("utf-8"))


@pytest.fixture
def planned(estimator):
    """Plan a request that has one."""

    def plan(document):
        response = asked(estimator, document)
        assert (response.status_code, response.mimetype) == (200, JSON), response.get_data(as_text=True)
        return response.json

    return plan


def asked(caller, document):
    """The answer to a request."""
    return caller.post(DOOR, json.dumps(document).encode(), Content_Type=JSON)


def refused(caller, document):
    """Code and pointer of every fault of a request that is refused."""
    response = asked(caller, document)
    body = response.json
    assert (response.status_code, response.mimetype) == (422, "application/problem+json")
    assert (body["type"].rsplit("/", 1)[-1], body["title"]) == ("cut-plan-refused", "The cut plan cannot be made")
    assert body["problem_count"] == len(body["problems"])
    assert all(problem["detail"] and problem["help"] for problem in body["problems"])
    return [(problem["code"], problem["pointer"]) for problem in body["problems"]]


def exact(value):
    """A length of a request in inches."""
    if isinstance(value, dict):
        return Fraction(value["mm"]) / MM if "mm" in value else Fraction(value["in"])
    return Fraction(value)


def money(value):
    """An amount of an answer, exact."""
    return Fraction(value["amount"])


def sawn(request, plan):
    """Mark, run and exact length of every piece, worked out from request and joints alone."""
    half = exact(request["scarf_overlap"]) / 2
    joints = {run["id"]: [exact(joint) for joint in run["joints"]] for run in plan["runs"]}
    for run in request["runs"]:
        stops = [Fraction(0), *joints[run["id"]], exact(run["length"])]
        for number in range(1, len(stops)):
            overlaps = (number > 1) + (number < len(stops) - 1)
            yield f"{run['id']}/{number}", run["profile"], stops[number] - stops[number - 1] + half * overlaps
    for row in request["pieces"]:
        for number in range(1, row["quantity"] + 1):
            yield f"{row['id']}/{number}", row["profile"], exact(row["length"])


def check(request, plan):
    """Every piece is on one board of its profile that holds it, stock suffices, and the sums add up."""
    lengths = {mark: (profile, length) for mark, profile, length in sawn(request, plan)}
    assert {piece["mark"]: piece["profile"] for piece in plan["pieces"]} == {m: p for m, (p, _) in lengths.items()}
    cut = [mark for boards in plan["boards"] for board in boards["patterns"] for mark in board["pieces"]]
    assert sorted(cut) == sorted(lengths)
    kerf, trim = exact(request["kerf"]), exact(request["end_trim"])
    boards_cost = Fraction(0)
    for boards in plan["boards"]:
        sold = {
            snapped(row["length"]): exact(row["length"])
            for row in request["stock"]
            if row["profile"] == boards["profile"]
        }
        for board in boards["patterns"]:
            assert {lengths[mark][0] for mark in board["pieces"]} == {boards["profile"]}
            taken = sum(lengths[mark][1] for mark in board["pieces"]) + kerf * (len(board["pieces"]) - 1)
            assert taken + trim <= sold[board["length_in"]]
        boards_cost += sum(money(buy["unit_price"]) * buy["count"] for buy in boards["purchases"])
        assert sum(buy["count"] for buy in boards["purchases"]) == len(boards["patterns"])
    joints = sum(len(run["joints"]) for run in plan["runs"])
    assert money(plan["boards_cost"]) == boards_cost
    assert money(plan["joint_cost"]) == joints * Fraction(request["joint_cost"])
    assert money(plan["cost"]) == boards_cost + money(plan["joint_cost"])
    assert money(plan["gap_amount"]) == money(plan["cost"]) - money(plan["lower_bound"]) >= 0
    assert plan["proven"] == (money(plan["gap_amount"]) == 0)


def snapped(value):
    """A length as answers print it: inches to the nearest 1/64."""
    parts = (exact(value) * 128 + 1) // 2
    return f"{parts / 64:.6f}".rstrip("0").rstrip(".")


def test_the_sample_is_planned(planned, sample):
    """The sample's plan holds against its request: boards, kerf, trim, sums; it costs no more than the old way."""
    plan = planned(sample)
    check(sample, plan)
    assert [run["id"] for run in plan["runs"]] == [run["id"] for run in sample["runs"]]
    assert money(plan["saving_amount"]) >= 0
    assert {mark for group in plan["groups"] for mark in group["profiles"]} == {
        row["profile"] for row in sample["stock"]
    }


def test_the_example_of_the_readme_is_planned(planned):
    """The request printed in the README has a plan, its one long run joined on the backing it names."""
    text = (SAMPLES.parent / "README.md").read_text("utf-8").partition("## Cut plans alone")[2]
    request = json.loads(text.split("```")[1])
    plan = planned(request)
    check(request, plan)
    assert [joint in request["runs"][0]["backing"] for joint in plan["runs"][0]["joints"]] == [True]


def test_joints_lie_on_backing_and_keep_their_distance(planned, sample):
    """Each joint is a value of its run's `backing`, and joints of two runs of a wall are a stagger apart."""
    plan, runs = planned(sample), {run["id"]: run for run in sample["runs"]}
    assert sum(len(run["joints"]) for run in plan["runs"]) >= 4
    places = []
    for run in plan["runs"]:
        asked_for = runs[run["id"]]
        assert all(joint in asked_for["backing"] for joint in run["joints"])
        places += [(asked_for["wall"], run["id"], exact(asked_for["from"]) + exact(joint)) for joint in run["joints"]]
    near = [
        (one, two) for one in places for two in places
        if one[0] == two[0] and one[1] != two[1] and abs(one[2] - two[2]) < exact(sample["stagger"])
    ]  # fmt: skip
    assert near == []


def test_the_same_request_has_the_same_plan(estimator, integrator, sample):
    """Office and integration get the same bytes, however often they ask."""
    answers = {asked(caller, sample).data for caller in (estimator, integrator, estimator)}
    assert len(answers) == 1


def test_the_command_answers_as_the_api_does(planned, sample, capsys):
    """`python -m service cut-plan` prints the plan that the API answers with."""
    assert main(["cut-plan", str(SAMPLES / "cut_plan.json")]) == 0
    assert json.loads(capsys.readouterr().out) == planned(sample)


def test_the_order_of_runs_and_the_unit_of_lengths_change_no_cost(planned, sample):
    """Runs turned round, and all lengths in millimeters, are the same job."""
    turned = deepcopy(sample)
    turned["runs"].reverse()
    turned["stock"].reverse()
    metric = in_millimeters(sample)
    costs = [planned(request)["cost"] for request in (sample, turned, metric)]
    assert costs[1:] == costs[:2]
    check(metric, planned(metric))


def in_millimeters(value, name=""):
    """A request with every length as millimeters; inches of the sample are exact in them."""
    if isinstance(value, dict) and "mm" not in value:
        return {member: in_millimeters(inner, member) for member, inner in value.items()}
    if isinstance(value, list):
        return [in_millimeters(inner, name) for inner in value]
    if name in {"kerf", "end_trim", "scarf_overlap", "shortest_piece", "stagger", "length", "from", "backing"}:
        return value if isinstance(value, dict) else {"mm": f"{float(Fraction(value) * MM):.6f}"}
    return value


def triplets(count, seed):
    """So many boards of 1000 filled by three pieces each, so that no plan has fewer boards than pieces over three.

    Source: Falkenauer 1996, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2, the recipe of
    the triplet classes (from memory): first 380 to 490, second 250 to half the rest, third what is left.
    """
    random = Random(seed)  # noqa: S311 - chance for tests, no secret
    for _ in range(count):
        first = random.randint(380, 490)
        second = random.randint(250, (1000 - first) // 2)
        yield from (first, second, 1000 - first - second)


@pytest.mark.parametrize("seed", range(3))
def test_triplets_fill_their_boards(planned, seed):
    """A job whose least number of boards is known by construction gets that many, proven."""
    lengths = list(triplets(10, seed))
    plan = planned(fixed_pieces(lengths))
    assert (plan["cost"], plan["proven"]) == ({"amount": "25.00", "currency": "EUR"}, True)
    assert plan["boards"][0]["purchases"][0]["count"] == len(lengths) // 3


def fixed_pieces(lengths):
    """A request of these pieces alone, from boards of 1000 at 2.50 without kerf."""
    return {
        "currency": "EUR", "kerf": "0", "end_trim": "0", "scarf_overlap": "0", "shortest_piece": "0", "stagger": "0",
        "joint_cost": "0", "splice_short_runs": False,
        "stock": [{"profile": "bar", "length": "1000", "price": "2.50"}], "runs": [],
        "pieces": [{"id": str(n), "profile": "bar", "length": str(at), "quantity": 1} for n, at in enumerate(lengths)],
    }  # fmt: skip


def test_rules_stand_as_they_are_told(planned):
    """Two pieces of half a board fill it without kerf and need two boards with the least one; trim counts too."""
    exactly = fixed_pieces([500, 500])
    assert planned(exactly)["cost"]["amount"] == "2.50"
    assert planned(exactly | {"kerf": "0.0001"})["cost"]["amount"] == "5.00"
    assert planned(exactly | {"end_trim": {"mm": "0.01"}})["cost"]["amount"] == "5.00"


def test_a_run_is_joined_only_where_it_must_or_may(planned):
    """A run that fits a board stays whole though joining is cheaper, until `splice_short_runs` allows it."""
    request = fixed_pieces([]) | {
        "stock": [
            {"profile": "bar", "length": "1000", "price": "9.00"},
            {"profile": "bar", "length": "500", "price": "2.00"},
        ],
        "runs": [{"id": "r", "profile": "bar", "wall": "w", "from": "0", "length": "1000", "backing": ["500"]}],
    }
    whole, joined = planned(request), planned(request | {"splice_short_runs": True})
    assert (whole["cost"]["amount"], whole["runs"]) == ("9.00", [{"id": "r", "joints": []}])
    assert (joined["cost"]["amount"], joined["runs"]) == ("4.00", [{"id": "r", "joints": ["500"]}])


def test_what_has_no_plan_is_a_fault_of_its_row(estimator, sample):
    """A piece longer than any board, a long run without backing, and too few boards are told by pointer."""
    bar = fixed_pieces([1001, 400])
    assert refused(estimator, bar) == [("piece-cannot-be-cut", "/pieces/0")]
    run = {"id": "r", "profile": "bar", "wall": "North", "from": "0", "length": "1500", "backing": []}
    assert refused(estimator, fixed_pieces([]) | {"runs": [run]}) == [("piece-cannot-be-cut", "/runs/0")]
    few = fixed_pieces([600, 600])
    few["stock"][0]["available"] = 1
    assert {code for code, _ in refused(estimator, few)} == {"stock-missing"}


def test_the_fault_of_a_run_names_run_and_wall(estimator):
    """A run that cannot be joined is told by its id and its wall."""
    run = {"id": "cove 3", "profile": "bar", "wall": "North", "from": "0", "length": "1500", "backing": ["100"]}
    (problem,) = asked(estimator, fixed_pieces([]) | {"runs": [run]}).json["problems"]
    assert "cove 3" in problem["detail"]
    assert "North" in problem["detail"]


def test_every_fault_of_a_request_comes_at_once(estimator, sample):
    """Faults in all parts are one answer, each with its pointer; the kind of refusal has a page of its own."""
    document = deepcopy(sample) | {"kerf": 0.125, "joint_cost": "6.005", "colour": "oak"}
    document["runs"][1]["id"] = document["runs"][0]["id"]
    document["runs"][2]["backing"] = ["-4", "500", True]
    document["pieces"][0]["profile"] = "Wren base"
    assert refused(estimator, document) == [
        ("length-not-understood", "/kerf"),
        ("number-not-understood", "/joint_cost"),
        ("length-not-understood", "/runs/2/backing/0"),
        ("length-is-boolean", "/runs/2/backing/2"),
        ("member-unknown", "/colour"),
        ("item-duplicate", "/runs/1/id"),
        ("stock-missing", "/pieces/0/profile"),
        ("number-out-of-range", "/runs/2/backing/1"),
    ]
    assert estimator.client.get("/problems/cut-plan-refused").status_code == 200


@pytest.mark.parametrize(
    "body", ["", "{", "[" * 20_000, '{"kerf": 1e400}', '{"kerf": NaN}', '{"kerf": "0", "kerf": "1"}', "\ufeff{}"]
)
def test_a_body_that_is_not_json_is_refused(estimator, body):
    """Broken, endless, infinite or doubled JSON is 422 (RFC 8259)."""
    response = estimator.post(DOOR, body.encode(), Content_Type=JSON)
    assert (response.status_code, response.json["type"].rsplit("/", 1)[-1]) == (422, "body-not-understood")


@pytest.mark.parametrize(
    "body", ["null", "[]", '"x"', "7", "{}", "[" * 900 + "]" * 900, '{"kerf": ' + "9" * 4000 + "}"]
)
def test_json_of_another_shape_is_refused(estimator, body):
    """Any other JSON value is 422 with faults."""
    response = estimator.post(DOOR, body.encode(), Content_Type=JSON)
    assert (response.status_code, response.json["type"].rsplit("/", 1)[-1]) == (422, "cut-plan-refused")
    assert response.json["problem_count"] >= 1


@pytest.mark.parametrize("media_type", [XLSX, "text/plain", "application/x-www-form-urlencoded", ""])
def test_a_body_that_is_not_said_to_be_json_is_415(estimator, sample, media_type):
    """A workbook, a form and an unnamed body are refused with what is wanted."""
    response = estimator.post(DOOR, json.dumps(sample).encode(), Content_Type=media_type)
    assert (response.status_code, response.json["type"].rsplit("/", 1)[-1]) == (415, "body-wrong-type")
    assert response.json["problems"][0]["help"] == "Send the document as application/json."


def test_a_part_of_a_form_is_415(client, office):
    """A file in a form is no JSON document, whatever is in it."""
    headers = {"Authorization": f"Bearer {office.keys['office']}"}
    assert client.post(DOOR, headers=headers, **as_part(sheet("rectangle.xlsx"))).status_code == 415


def test_a_body_of_20_megabytes_is_refused(estimator):
    """More than 10 MiB are 413 before anything is read."""
    assert estimator.post(DOOR, b" " * 20_000_000, Content_Type=JSON).status_code == 413


def test_a_query_and_another_form_are_refused(estimator, sample):
    """There are no parameters, and the answer is JSON alone."""
    body = json.dumps(sample).encode()
    assert estimator.post(f"{DOOR}?seconds=2", body, Content_Type=JSON).status_code == 422
    assert estimator.post(DOOR, body, Content_Type=JSON, Accept="application/pdf").status_code == 406


def test_office_and_integration_may_ask(client, field_lead, integrator, sample):
    """The field key is refused with 403, a stranger with 401, another method with 405."""
    assert asked(integrator, sample).status_code == 200
    response = asked(field_lead, sample)
    assert (response.status_code, response.json["type"].rsplit("/", 1)[-1]) == (403, "role-not-allowed")
    assert client.post(DOOR, json=sample).status_code == 401
    assert integrator.get(DOOR).status_code == 405


def test_request_and_answer_are_as_described(client, planned, estimator, sample):
    """The sample, its plan and a refusal fit the objects that the service describes (a general validator)."""
    described = client.get("/openapi.json").json
    words = described["paths"][DOOR]["post"]
    assert words["requestBody"]["content"][JSON]["schema"] == {"$ref": "#/components/schemas/CutRequest"}
    plan, refusal = planned(sample), asked(estimator, {}).json
    for name, value in (("CutRequest", sample), ("CutPlan", plan), ("Problem", refusal)):
        schema = {"$ref": f"#/components/schemas/{name}", "components": described["components"]}
        assert [error.message for error in Draft202012Validator(schema).iter_errors(value)] == [], name
