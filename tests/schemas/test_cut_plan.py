"""Requests of cut plans as records, and plans as JSON. Every job here is invented."""

from __future__ import annotations

import json
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from schemas.cut_plan import MOST_PIECES, MOST_POSITIONS, MOST_RUNS, MOST_STOCK, cut_order_from
from schemas.cut_plan_answer import cut_plan_document
from schemas.cut_plan_fields import MOST_OF_ONE_RUN
from schemas.problem import problem_body
from schemas.published import published_schemas
from service.estimate.cuts.model import CutGroup, Cutting, Pattern, ProfileBoards, Proof, Purchase
from service.estimate.cuts.request import CutAnswer, PieceRow, RunJoints, RunRow, SawnPiece, StockRow
from service.units import ZERO, Length, Units
from tests.schemas.examples import changed, inches

SAMPLE = Path(__file__).parents[2] / "sample_sheets" / "cut_plan.json"
ROOT = ("currency", "kerf", "end_trim", "scarf_overlap", "shortest_piece", "stagger", "joint_cost", "splice_short_runs", "stock")  # fmt: skip


def wanted(**changes: Any) -> dict[str, Any]:
    """A small request: one run of 260 in. on one wall, two pieces, boards of 16 and 12 ft."""
    return {
        "currency": "USD", "kerf": "0.125", "end_trim": "0.5", "scarf_overlap": "0.75", "shortest_piece": "24",
        "stagger": "24", "joint_cost": "6.00", "splice_short_runs": False,
        "stock": [
            {"profile": "Base", "length": "192", "price": "41.60"},
            {"profile": "base", "length": {"in": "144"}, "price": "0.00", "available": 2, "offcut": True},
        ],
        "runs": [
            {"id": "A-1", "profile": "BASE", "wall": "A", "from": "0.75", "length": "260",
             "backing": ["100", {"mm": "812.80"}, "16.50", {"in": "132.0"}, "100.0", 200]},
        ],
        "pieces": [{"id": 7, "profile": "Base", "length": {"mm": 2032}, "quantity": "2"}],
    } | changes  # fmt: skip


def told(document: object) -> list[tuple[str, str]]:
    """Code and pointer of every fault; no record beside a fault."""
    order, problems = cut_order_from(document)
    assert (order is None) == bool(problems)
    return [(problem.code.value, problem.pointer) for problem in problems]


def validator(name: str) -> Draft202012Validator:
    """A validator of one published object."""
    return Draft202012Validator(
        {"$ref": f"#/components/schemas/{name}", "components": {"schemas": published_schemas()}}
    )


def test_a_request_becomes_exact_records() -> None:
    """Inches and millimeters are exact, spellings of a profile are one, positions rise and stand once."""
    order, problems = cut_order_from(wanted())
    assert problems == ()
    request = order.request
    assert (request.currency, request.kerf, request.end_trim) == ("USD", inches("1/8"), inches("1/2"))
    assert (request.scarf_overlap, request.shortest_piece, request.stagger) == (
        inches("3/4"),
        inches("24"),
        inches("24"),
    )
    assert (request.joint_cost, request.splice_short_runs, request.seconds) == (Decimal("6.00"), False, None)
    assert request.stock == (
        StockRow("Base", inches("192"), Decimal("41.60")),
        StockRow("Base", inches("144"), Decimal("0.00"), 2, is_offcut=True),
    )
    backing = tuple(map(inches, ("33/2", "32", "100", "132", "200")))
    assert request.runs == (RunRow("A-1", "Base", "A", inches("3/4"), inches("260"), backing),)
    assert request.pieces == (PieceRow("7", "Base", inches("80"), 2),)


def test_millimeters_are_exact_by_definition() -> None:
    """1 inch is 25.4 mm (NIST Handbook 44, Appendix C): 1000 mm are 5000/127 in, without rounding."""
    order, _ = cut_order_from(wanted(kerf={"mm": "3.2"}, stagger={"mm": "1000"}))
    assert order.request.stagger == Length(Fraction(5000, 127))
    assert order.request.kerf == Length(Fraction(16, 127))


@pytest.mark.parametrize("seconds", ["0.5", 2, "600", 0])
def test_seconds_are_whole_or_text(seconds: object) -> None:
    """How hard to try is a whole number or a decimal text, 600 at most."""
    order, _ = cut_order_from(wanted(seconds=seconds))
    assert order.request.seconds == Decimal(str(seconds))


def test_runs_or_pieces_may_be_left_out() -> None:
    """One of the two is enough; null and empty members count as left out."""
    only_runs, only_pieces = wanted(pieces=None, seconds=None), wanted()
    del only_pieces["runs"]
    assert cut_order_from(only_runs)[0].request.pieces == ()
    assert cut_order_from(only_pieces)[0].request.runs == ()
    assert told(wanted(runs=[], pieces=[])) == [("value-missing", "")]


FAULTS: list[tuple[str, object, str, str]] = [
    *((f"/{member}", None, "value-missing", f"/{member}") for member in ROOT),
    *((f"/{member}", 0.125, "length-not-understood", f"/{member}") for member in ROOT[1:6]),
    ("/currency", "XYZ", "value-not-in-list", "/currency"),
    ("/currency", "JPY", "value-not-in-list", "/currency"),
    ("/colour", "red", "member-unknown", "/colour"),
    ("/kerf", True, "length-is-boolean", "/kerf"),
    ("/kerf", "-0.125", "length-not-understood", "/kerf"),
    ("/kerf", "1/8", "length-not-understood", "/kerf"),
    ("/kerf", "1e-1", "length-not-understood", "/kerf"),
    ("/kerf", "0,125", "length-not-understood", "/kerf"),
    ("/kerf", {"cm": "1"}, "length-not-understood", "/kerf"),
    ("/kerf", {"mm": "3", "in": "1"}, "length-not-understood", "/kerf"),
    ("/kerf", {"mm": 3.2}, "length-not-understood", "/kerf"),
    ("/kerf", {"mm": True}, "length-not-understood", "/kerf"),
    ("/kerf", {"mm": "-3"}, "length-not-understood", "/kerf"),
    ("/kerf", ["0.125"], "length-not-understood", "/kerf"),
    ("/joint_cost", "6.001", "number-not-understood", "/joint_cost"),
    ("/joint_cost", 6.5, "number-not-understood", "/joint_cost"),
    ("/joint_cost", True, "number-not-understood", "/joint_cost"),
    ("/joint_cost", "-6", "number-out-of-range", "/joint_cost"),
    ("/joint_cost", "1000000.01", "number-out-of-range", "/joint_cost"),
    ("/joint_cost", {"amount": "6.00", "currency": "EUR"}, "number-not-understood", "/joint_cost"),
    ("/splice_short_runs", "perhaps", "value-not-in-list", "/splice_short_runs"),
    ("/seconds", 0.5, "number-not-understood", "/seconds"),
    ("/seconds", True, "number-not-understood", "/seconds"),
    ("/seconds", "-1", "number-out-of-range", "/seconds"),
    ("/seconds", 601, "number-out-of-range", "/seconds"),
    ("/stock", [], "value-missing", "/stock"),
    ("/stock", {}, "document-unreadable", "/stock"),
    ("/runs", "A", "document-unreadable", "/runs"),
    ("/runs/0", "A", "document-unreadable", "/runs/0"),
    ("/stock/0/length", "0", "number-out-of-range", "/stock/0/length"),
    ("/stock/0/price", None, "value-missing", "/stock/0/price"),
    ("/stock/1/available", -1, "number-out-of-range", "/stock/1/available"),
    ("/stock/1/available", 1.5, "number-not-understood", "/stock/1/available"),
    ("/stock/1/offcut", 2, "value-not-in-list", "/stock/1/offcut"),
    ("/runs/0/from", None, "value-missing", "/runs/0/from"),
    ("/runs/0/from", "-1", "length-not-understood", "/runs/0/from"),
    ("/runs/0/length", "0", "number-out-of-range", "/runs/0/length"),
    ("/runs/0/profile", "Bass", "stock-missing", "/runs/0/profile"),
    ("/runs/0/backing", None, "value-missing", "/runs/0/backing"),
    ("/runs/0/backing", "16; 32", "document-unreadable", "/runs/0/backing"),
    ("/runs/0/backing/1", "0", "number-out-of-range", "/runs/0/backing/1"),
    ("/runs/0/backing/1", "260", "number-out-of-range", "/runs/0/backing/1"),
    ("/runs/0/backing/1", {"mm": "6604"}, "number-out-of-range", "/runs/0/backing/1"),
    ("/runs/0/backing/1", 32.5, "length-not-understood", "/runs/0/backing/1"),
    ("/runs/0/backing/1", False, "length-is-boolean", "/runs/0/backing/1"),
    ("/runs/0/backing/1", "-16", "length-not-understood", "/runs/0/backing/1"),
    ("/pieces/0/quantity", 0, "number-out-of-range", "/pieces/0/quantity"),
    ("/pieces/0/quantity", 1.5, "number-not-understood", "/pieces/0/quantity"),
    ("/pieces/0/id", "A-1", "item-duplicate", "/pieces/0/id"),
    ("/pieces/0/profile", "Crown", "stock-missing", "/pieces/0/profile"),
]


@pytest.mark.parametrize(("place", "value", "code", "pointer"), FAULTS)
def test_a_wrong_member_is_told_where_it_stands(place: str, value: object, code: str, pointer: str) -> None:
    """One member changed gives one fault, with its code and the JSON Pointer (RFC 6901) of the member."""
    assert told(changed(wanted(), place, value)) == [(code, pointer)]


def test_every_fault_is_told_at_once() -> None:
    """Faults of members, unknown members, positions beside an unreadable one, ids and profiles come together."""
    document = wanted(kerf=0.125, note="x")
    document["runs"].append({**document["runs"][0], "profile": "Crown", "backing": ["12", 3.5, "260", "261"]})
    assert told(document) == [
        ("length-not-understood", "/kerf"),
        ("length-not-understood", "/runs/1/backing/1"),
        ("member-unknown", "/note"),
        ("item-duplicate", "/runs/1/id"),
        ("stock-missing", "/runs/1/profile"),
        ("number-out-of-range", "/runs/1/backing/2"),
        ("number-out-of-range", "/runs/1/backing/3"),
    ]


def test_a_profile_is_not_missed_where_the_stock_itself_is_faulty() -> None:
    """A stock row without a readable profile may have been the one that is named: no second fault."""
    assert told(changed(wanted(), "/stock/0/profile", None)) == [("value-missing", "/stock/0/profile")]


def rooms(count: int, positions: int, pieces: int) -> dict[str, Any]:
    """A request of so many runs with so many positions each, and so many rows of one piece."""
    backing = [f"{14 + 16 * number}.25" for number in range(positions)]
    run = {"profile": "Base", "wall": "A", "from": "0", "length": "4000", "backing": backing}
    return wanted(
        runs=[{"id": f"r{number}", **run} for number in range(count)],
        pieces=[{"id": f"p{number}", "profile": "Base", "length": "80", "quantity": 1} for number in range(pieces)],
    )


def test_sixty_rooms_are_accepted() -> None:
    """1,000 runs with 30 positions each and 2,000 pieces are within the limits."""
    order, problems = cut_order_from(rooms(1000, 30, 2000))
    assert problems == ()
    assert (len(order.request.runs), len(order.request.pieces)) == (1000, 2000)


@pytest.mark.parametrize(
    ("document", "pointer"),
    [
        (wanted(stock=[wanted()["stock"][0]] * (MOST_STOCK + 1)), "/stock"),
        (rooms(MOST_RUNS + 1, 0, 0), "/runs"),
        (rooms(MOST_POSITIONS // MOST_OF_ONE_RUN + 1, MOST_OF_ONE_RUN, 0), "/runs"),
        (rooms(1, MOST_OF_ONE_RUN + 1, 0), "/runs/0/backing"),
        (changed(rooms(1, 0, 2), "/pieces/0/quantity", MOST_PIECES), "/pieces"),
    ],
    ids=["stock", "runs", "positions", "positions of a run", "pieces"],
)
def test_an_amount_beyond_the_limits_is_one_fault(document: dict[str, Any], pointer: str) -> None:
    """One row, position or piece too many is refused where it stands."""
    assert told(document) == [("number-out-of-range", pointer)]


@pytest.mark.parametrize("document", [None, [], "x", 1, True])
def test_what_is_no_object_is_no_request(document: object) -> None:
    """Another JSON value is one fault of the whole document."""
    assert told(document) == [("document-unreadable", "")]


values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8) | st.sampled_from(["1", "-0", "½", "\ud800", "9" * 40]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["in", "mm", "id", "x"]), inner, max_size=2),
    max_leaves=6,
)  # fmt: skip
PLACES = (*(f"/{name}" for name in ROOT), "/runs", "/pieces", "/runs/0", "/runs/0/backing", "/runs/0/backing/1",
          "/runs/0/length", "/runs/0/id", "/runs/0/wall", "/stock/0", "/stock/0/price", "/stock/1/offcut",
          "/pieces/0/quantity")  # fmt: skip


@settings(max_examples=100, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.sampled_from(PLACES), values)
def test_any_value_in_any_place_is_read_without_an_exception(place: str, value: object) -> None:
    """The answer is a request or faults that can be sent, never an exception."""
    document = changed(wanted(), place, 0)
    order, problems = cut_order_from(changed(document, place, value) if value is not None else document)
    assert (order is None) == any(problem.is_error for problem in problems)
    json.dumps(problem_body(problems, type="about:blank", title="x", status=422)).encode("utf-8")


def test_deep_nesting_is_a_fault_of_its_member() -> None:
    """Nesting that would overflow a recursive reader is one fault."""
    deep: Any = "x"
    for _ in range(5000):
        deep = [deep]
    for place in ("/kerf", "/runs/0/backing/1", "/seconds", "/stock/0/price"):
        assert [pointer for _, pointer in told(changed(wanted(), place, deep))] == [place]


def answer_of(*joints: Length) -> CutAnswer:
    """A plan of the small request, its figures made up; its run joined at these positions."""
    cutting = Cutting(
        Decimal("47.60"), Decimal("41.60"), Decimal("6.00"), Decimal("47.00"), Fraction(6, 470), Decimal("0.60"),
        is_proven=False, proof=Proof.EXACT, groups=(CutGroup(("Base",), Decimal("47.60"), Decimal("47.00"), is_proven=False),),
        saving_amount=Decimal("3.20"),
    )  # fmt: skip
    boards = ProfileBoards(
        "Base", (Purchase(inches("192"), 1, Decimal("41.60"), Decimal("41.60")),),
        (Pattern(1, inches("192"), ("A-1/1",), ZERO, inches("24"), inches("1")),), Decimal("41.60"), len(joints),
    )  # fmt: skip
    sawn = SawnPiece("A-1/1", "A-1", "Base", inches("100.375"))
    return CutAnswer("USD", cutting, (RunJoints("A-1", joints),), (boards,), (sawn,))


def test_joints_come_back_as_the_request_spelled_them() -> None:
    """Every joint is the JSON value that stood in `backing`: text as it was, an object as an object."""
    order, _ = cut_order_from(wanted())
    document = cut_plan_document(answer_of(*order.request.runs[0].backing), order)
    assert document["runs"] == [{"id": "A-1", "joints": ["16.50", {"mm": "812.80"}, "100", {"in": "132.0"}, "200"]}]


def test_a_plan_has_the_members_of_the_contract() -> None:
    """Cost and proof stand on top, money as in a quote; boards and pieces follow."""
    order, _ = cut_order_from(wanted())
    document = cut_plan_document(answer_of(), order)
    assert list(document) == [
        "currency", "cost", "boards_cost", "joint_cost", "lower_bound", "gap", "gap_amount", "proven", "proof",
        "saving_amount", "groups", "runs", "boards", "pieces",
    ]  # fmt: skip
    assert document["cost"] == {"amount": "47.60", "currency": "USD"}
    assert (document["gap"], document["proven"], document["proof"]) == (0.012766, False, "exact")
    assert document["saving_amount"] == {"amount": "3.20", "currency": "USD"}
    assert document["groups"][0]["profiles"] == ["Base"]
    assert document["boards"][0]["purchases"][0]["amount"] == {"amount": "41.60", "currency": "USD"}
    assert document["boards"][0]["patterns"][0]["pieces"] == ["A-1/1"]
    assert document["pieces"] == [
        {
            "mark": "A-1/1",
            "of": "A-1",
            "profile": "Base",
            "length_in": "100.375",
            "length_text": "8\N{PRIME}\N{NO-BREAK SPACE}4 3/8\N{DOUBLE PRIME}",
        }
    ]


def test_a_metric_shop_reads_millimeters() -> None:
    """Lengths are worded in millimeters where the stock is given in them."""
    document = changed(changed(wanted(), "/stock/0/length", {"mm": "4880"}), "/stock/1/length", {"mm": "3660"})
    order, _ = cut_order_from(document)
    assert order.units is Units.METRIC
    assert cut_plan_document(answer_of(), order)["pieces"][0]["length_text"] == "2549.5\N{NO-BREAK SPACE}mm"


def test_the_published_schemas_describe_request_and_plan() -> None:
    """The small request, the sample and a plan are valid by the published JSON Schema (a general validator)."""
    order, _ = cut_order_from(wanted())
    backing = order.request.runs[0].backing
    request = changed(changed(wanted(), "/runs/0/backing/5", "200"), "/pieces/0/length/mm", "2032")
    sample = json.loads(SAMPLE.read_text("utf-8"))
    for name, document in (
        ("CutRequest", changed(request, "/pieces/0/id", "7")),
        ("CutRequest", sample),
        ("CutPlan", cut_plan_document(answer_of(*backing[:4]), order)),
    ):
        assert [error.message for error in validator(name).iter_errors(document)] == []


@pytest.mark.parametrize(
    ("place", "value"),
    [("/kerf", 0.125), ("/joint_cost", 6.5), ("/joint_cost", "6.001"), ("/runs/0/backing/0", "-1"), ("/note", "x"),
     ("/stock/0/price", None), ("/kerf", {"mm": "1", "in": "1"})],
)  # fmt: skip
def test_what_is_refused_is_invalid_by_the_published_schema(place: str, value: object) -> None:
    """Floats, cents of cents, negative and doubled lengths, unknown and missing members are invalid there too."""
    assert list(validator("CutRequest").iter_errors(changed(wanted(), place, value)))


def test_the_sample_is_understood() -> None:
    """The sample request has no fault and says in every profile that it is invented."""
    order, problems = cut_order_from(json.loads(SAMPLE.read_text("utf-8")))
    assert problems == ()
    assert all("invented" in row.profile for row in order.request.stock)
