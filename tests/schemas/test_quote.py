"""The quote as JSON and back: the contract's names, exact values, and what is for the office alone."""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass, replace
from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from marshmallow import ValidationError

from schemas.fields.answers import length_read, timestamp_text
from schemas.quote import quote_document, quote_from
from service.survey import BoxRating
from service.units import Length, Units
from tests.schemas.examples import END, PIECE, inches, quote

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.cuts.model import Piece
    from service.estimate.quote.model import Quote

TOP = [  # design of the contract, top level of the quote, in its order; `schema`, `units` and hours stand beside
    "id", "number", "revision", "status", "created_at", "valid_until", "currency", "price_list", "firm", "job", "rooms",
    "pieces", "boards", "cutting", "supplies", "labor", "lines", "totals", "options", "payment_schedule", "assumptions",
    "warnings", "cautions", "documents",
]  # fmt: skip
MEMBERS = {
    "rooms.0": "number name area_sqft perimeter_in closure walls runs features",
    "rooms.0.closure": "closed gap_in suspects",
    "rooms.0.runs.0": "wall assembly layer position profile length_in left right backed_at_in unbacked_in pieces",
    "pieces.0": "mark room wall layer position profile long_point_in short_point_in left right board",
    "pieces.0.left": "joint corner_deg miter_deg bevel_deg nested_miter_deg long_edge",
    "boards.0": "profile purchases patterns cost joints usage",
    "boards.0.purchases.0": "length_in count unit_price amount",
    "boards.0.patterns.0": "length_in pieces offcut_in waste_in nested_in is_offcut offcut_label",
    "boards.0.usage": "boards_in pieces_in kerf_in offcuts_in waste_in pieces_share kerf_share offcuts_share waste_share",
    "cutting": "cost boards_cost joint_cost lower_bound gap gap_amount proven proof saving_amount groups",
    "cutting.groups.0": "profiles cost lower_bound proven",
    "supplies.0": "code kind need unit waste_share packages unit_price amount basis",
    "labor.0": "task quantity unit rate factors hours amount basis",
    "lines.0": "code room kind description quantity unit unit_code unit_price amount cost basis",
    "totals": "wages burden labor materials material_tax direct_cost overhead cost contingency profit discount "
    "minimum_charge price_before_tax taxable sales_tax total deposit",
    "price_list": "name version",
}
OFFICE_ALONE = [
    "explain", "lines.0.cost", "options.0.cost", "totals.wages", "totals.burden", "totals.labor", "totals.materials",
    "totals.material_tax", "totals.direct_cost", "totals.overhead", "totals.cost", "totals.contingency", "totals.profit",
    "labor.0.rate", "labor.0.wage", "labor.0.amount", "supplies.0.unit_price", "supplies.0.amount", "boards.0.cost",
    "boards.0.purchases.0.unit_price", "boards.0.purchases.0.amount", "cutting.cost", "cutting.boards_cost",
    "cutting.joint_cost", "cutting.lower_bound", "cutting.gap_amount", "cutting.saving_amount", "cutting.groups.0.cost",
    "cutting.groups.0.lower_bound",
]  # fmt: skip


def at(document: Any, path: str) -> Any:
    """The value at a dotted path; KeyError when a member is not there."""
    for part in path.split("."):
        document = document[int(part)] if isinstance(document, list) else document[part]
    return document


def leaves(document: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every value of a document with its dotted path."""
    if isinstance(document, dict | list):
        for key, value in document.items() if isinstance(document, dict) else enumerate(document):
            yield from leaves(value, f"{path}.{key}" if path else str(key))
    else:
        yield path, document


def snapped(record: Any) -> Any:
    """The record with every length to 1/64", as the contract prints it."""
    if isinstance(record, Length):
        return record.snapped()
    if is_dataclass(record) and not isinstance(record, type):
        return replace(record, **{field.name: snapped(getattr(record, field.name)) for field in fields(record)})
    return tuple(map(snapped, record)) if isinstance(record, tuple) else record


def test_the_members_are_the_contracts() -> None:
    """Every member that the contract names is there, the top level in its order."""
    document = quote_document(quote(), office=True)
    assert [member for member in document if member in TOP] == TOP
    for path, members in MEMBERS.items():
        assert set(members.split()) <= set(at(document, path)), path


def test_it_is_json() -> None:
    """Nothing but JSON values: writing and reading it changes nothing, and NaN is nowhere."""
    document = quote_document(quote(), office=True)
    assert json.loads(json.dumps(document, allow_nan=False)) == document


def test_values_are_spelled_as_the_contract_says() -> None:
    """Lengths as decimal strings with a text, angles to 0.01, money with its currency, times in UTC."""
    document = quote_document(quote(), office=True)
    piece = document["pieces"][0]
    assert (piece["long_point_in"], piece["long_point_text"]) == ("166.5", "13′\N{NO-BREAK SPACE}10 1/2″")
    assert (piece["room"], piece["room_number"]) == ("Dining", 1)
    assert piece["left"] == {
        "joint": "miter", "corner": "outside", "corner_deg": 90.0, "miter_deg": 31.62, "bevel_deg": 33.86,
        "nested_miter_deg": 45.0, "long_edge": "bottom",
        "hand": {"swing": "left", "tilt": "left", "fence_edge": "bottom", "up": "face", "keep": "left"},
        "nested_hand": {"swing": "left", "tilt": None, "fence_edge": "bottom", "up": "bottom", "keep": "left"},
    }  # fmt: skip
    assert set(piece["right"].values()) == {"square", None}
    assert document["lines"][0]["amount"] == {"amount": "56.89", "currency": "USD"}
    assert document["created_at"] == "2026-03-14T15:09:26.535Z"
    assert document["valid_until"] == "2026-04-13"
    assert document["cutting"]["gap"] == 0.029412
    assert document["rooms"][0]["runs"][0]["pieces"] == ["D1-3"]
    assert document["boards"][0]["patterns"][0]["pieces"] == ["D1-3"]
    assert document["warnings"][0]["cell"] == {"sheet": "Rooms", "address": "F2"}
    assert document["warnings"][1]["cell"] is None


def test_metric_texts_are_millimeters() -> None:
    """The machine's inches stay, the text for people follows the quote's units."""
    piece = quote_document(quote(Units.METRIC), office=True)["pieces"][0]
    assert (piece["long_point_in"], piece["long_point_text"]) == ("166.5", "4229\N{NO-BREAK SPACE}mm")


@pytest.mark.parametrize("units", list(Units))
def test_what_is_written_reads_back(units: Units) -> None:
    """The records of a stored document are the quote's, lengths to 1/64"."""
    stored = json.loads(json.dumps(quote_document(quote(units), office=True)))
    assert snapped(quote_from(stored)) == snapped(quote(units))


lengths = st.fractions(min_value=-100, max_value=20_000, max_denominator=10**7).map(Length)
figures = st.decimals(min_value=0, max_value=10**7, places=6)
angles = st.floats(min_value=0, max_value=180).map(lambda angle: round(angle, 2))


@settings(max_examples=60)
@given(lengths, lengths, angles, figures, st.sampled_from(list(Units)), st.text(max_size=20))
def test_any_quote_reads_back_and_writes_the_same(
    long: Length, short: Length, angle: float, figure: Decimal, units: Units, text: str
) -> None:  # fmt: skip
    """Reading and writing again gives the same document, whatever the lengths, angles, figures and texts."""
    piece: Piece = replace(PIECE, long_point=long, short_point=short, left=replace(END, miter_deg=angle), wall=text)
    before: Quote = replace(quote(units), pieces=(piece,), labor_hours=figure)
    document = quote_document(before, office=True)
    after = quote_from(json.loads(json.dumps(document)))
    assert quote_document(after, office=True) == document
    assert snapped(after) == snapped(before)


@given(st.integers(0, 10**6))
def test_a_metric_length_survives_the_stored_inches(tenths: int) -> None:
    """A wall of 3820 mm is stored as inches to 1/64" and still prints as 3820 mm when it is read back."""
    length = Length.of_mm(Fraction(tenths, 10))
    back = length_read(str(length.decimal()), length.text(Units.METRIC))
    assert back.text(Units.METRIC) == length.text(Units.METRIC)
    assert back.decimal() == length.decimal()


def test_stored_lists_of_metric_lengths_survive_too() -> None:
    """Stud centers in millimeters."""
    before = quote(Units.METRIC)
    wall = replace(before.rooms[0].walls[0], studs_at=(Length.of_mm(380), Length.of_mm(780)))
    before = replace(before, rooms=(replace(before.rooms[0], walls=(wall,)),))
    after = quote_from(quote_document(before, office=True))
    assert [stud.mm for stud in after.rooms[0].walls[0].studs_at] == [380, 780]


def test_cost_is_for_the_office_alone() -> None:
    """Without office no cost, wage, rate, purchase price or margin is left; all else is the same."""
    full, plain = quote_document(quote(), office=True), quote_document(quote(), office=False)
    for path in OFFICE_ALONE:
        at(full, path)
        with pytest.raises(KeyError):
            at(plain, path)
    kept = dict(leaves(plain))
    assert kept.items() <= dict(leaves(full)).items()
    gone = {path for path, _ in leaves(full)} - set(kept)
    assert all(
        any(path == office or path.startswith(f"{office}.") for office in OFFICE_ALONE) or path.startswith("labor.1")
        for path in gone
    )


def test_no_wage_or_rate_is_left_in_any_value() -> None:
    """A figure that stands in the cost side alone is found nowhere in what others see."""
    secret = Decimal("987654.32")
    before = quote()
    wages = replace(before.totals, wages=secret, profit=secret)
    labor = tuple(replace(row, wage=secret, amount=secret, rate=secret) for row in before.labor)
    before = replace(
        before, totals=wages, labor=labor, lines=tuple(replace(line, cost=secret) for line in before.lines)
    )
    assert "987654" in json.dumps(quote_document(before, office=True))
    assert "987654" not in json.dumps(quote_document(before, office=False))


def test_documents_are_added_by_the_caller() -> None:
    """Addresses are no part of the quote; they are empty unless given."""
    assert quote_document(quote(), office=True)["documents"] == {}
    given_ones = {"pdf": "/v1/quotes/x/quote.pdf"}
    assert quote_document(quote(), office=True, documents=given_ones)["documents"] == given_ones


def test_casing_and_features_are_spelled_out() -> None:
    """Members around openings name themselves and their opening; features carry size, weight, drop and place."""
    room = quote_document(quote(), office=False)["rooms"][0]
    leg = room["runs"][1]
    assert [leg[name] for name in ("member", "opening", "side", "low_in", "high_in")] == [
        "left leg",
        1,
        2,
        "6",
        "83.4375",
    ]
    assert [room["runs"][0][name] for name in ("member", "opening", "side", "low_in")] == ["along", None, 1, None]
    cased = [(item["casing"], item["style"], item["sides"]) for item in room["openings"]]
    assert cased == [("Casing", None, 2), ("Casing", "picture frame", 1)]
    fan = room["features"][0]
    assert (fan["diameter_in"], fan["weight_lb"], fan["hangs_down_in"], fan["nearest_wall_in"]) == (
        "52",
        31.5,
        "12.25",
        "84",
    )
    assert (fan["remove_existing"], fan["box_rated_for_fan"]) == (True, "yes")


def test_a_quote_stored_before_casings_still_reads() -> None:
    """Members added later are missing from an old document: each takes the value that says nothing."""
    document = quote_document(quote(), office=True)
    room = document["rooms"][0]
    for run in room["runs"]:
        for name in ("member", "opening", "side", "low_in", "high_in"):
            del run[name]
    for opening in room["openings"]:
        for name in ("casing", "style", "sides"):
            del opening[name]
    for feature in room["features"]:
        for name in set(feature) - {"feature", "item", "notes"}:
            del feature[name]
    card = quote_from(document).rooms[0]
    assert all(run.is_along_wall and run.opening is None and run.low is None and run.side == 1 for run in card.runs)
    assert all((item.casing, item.style, item.sides) == ("", None, 1) for item in card.openings)
    (fan,) = card.features
    assert (fan.diameter, fan.weight_lb, fan.hangs_down, fan.nearest_wall) == (None, None, None, None)
    assert (fan.remove_existing, fan.box_rated_for_fan) == (False, BoxRating.UNKNOWN)


def test_a_quote_stored_before_cut_plans_still_reads() -> None:
    """Saving, nesting, offcuts on hand and setbacks are missing from an old document; all else is as it was."""
    document = quote_document(quote(), office=True)
    del document["cutting"]["saving_amount"]
    for boards in document["boards"]:
        del boards["usage"]
        for pattern in boards["patterns"]:
            for name in ("nested_in", "nested_text", "is_offcut", "offcut_label"):
                del pattern[name]
    for piece in document["pieces"]:
        for name in ("left_setback_in", "left_setback_text", "right_setback_in", "right_setback_text"):
            del piece[name]
    old = quote_from(document)
    assert old.cutting.saving_amount is None
    assert (old.boards[0].patterns[0].nested, old.boards[0].patterns[0].is_offcut) == (Length.of(0), False)
    assert (old.pieces[0].left_setback, old.pieces[0].right_setback) == (Length.of(0), Length.of(0))
    assert replace(old, cutting=quote().cutting, boards=quote().boards, pieces=quote().pieces) == quote_from(
        quote_document(quote(), office=True)
    )


def test_each_offcut_has_a_label_of_its_own() -> None:
    """Profile, length, quote and board; a draft has its job's name, a board without offcut to keep no label."""
    before = quote()
    (boards,) = before.boards
    more = replace(boards.patterns[0], number=2), replace(boards.patterns[0], number=3, offcut=Length.of(0))
    before = replace(before, boards=(replace(boards, patterns=(*boards.patterns, *more)),), revision=1)
    told = [
        pattern["offcut_label"]
        for one in (before, replace(before, revision=2), replace(before, number=None))
        for pattern in quote_document(one, office=False)["boards"][0]["patterns"]
    ]
    text = "CR · 2′\N{NO-BREAK SPACE}0″"
    assert told[:3] == [f"{text} · quote Q-0007 · board 1", f"{text} · quote Q-0007 · board 2", None]
    assert told[3] == f"{text} · quote Q-0007 rev. 2 · board 1"
    assert told[6] == f"{text} · Tern Street · board 1"


def test_what_the_boards_become_is_told() -> None:
    """The example's board of 192 in: 1/8 in of cuts, 24 in kept, 1 3/8 in of waste, the rest in pieces."""
    usage = quote_document(quote(), office=False)["boards"][0]["usage"]
    lengths = [usage[f"{part}_in"] for part in ("boards", "pieces", "kerf", "offcuts", "waste")]
    assert lengths == ["192", "166.5", "0.125", "24", "1.375"]
    assert [usage[f"{part}_share"] for part in ("pieces", "offcuts")] == [0.867188, 0.125]


def test_a_document_without_its_members_is_refused() -> None:
    """A stored document that lost a member is an error, never half a quote."""
    document = quote_document(quote(), office=True)
    del document["totals"]["total"]
    with pytest.raises(ValidationError):
        quote_from(document)


@pytest.mark.parametrize(
    ("moment", "text"),
    [(datetime(2026, 3, 14, 9, 5, tzinfo=UTC), "2026-03-14T09:05:00.000Z"),
     (datetime(2026, 3, 14, 9, 5, 1, 250, tzinfo=UTC), "2026-03-14T09:05:01.000250Z"),
     (datetime(2026, 3, 14, 1, 5, tzinfo=timezone(timedelta(hours=-5))), "2026-03-14T06:05:00.000Z")],
)  # fmt: skip
def test_times_are_rfc_3339_in_utc(moment: datetime, text: str) -> None:
    """Milliseconds, microseconds only where there are any, always with Z."""
    assert timestamp_text(moment) == text
    assert datetime.fromisoformat(text) == moment


def test_small_angles_have_no_negative_zero() -> None:
    """−0.0 prints as 0.0."""
    before = replace(quote(), pieces=(replace(PIECE, left=replace(END, bevel_deg=-0.001)),))
    assert str(quote_document(before, office=True)["pieces"][0]["left"]["bevel_deg"]) == "0.0"


def test_inches_help_is_exact() -> None:
    """The example's own lengths are what they say."""
    assert inches("3.59375").decimal() == Decimal("3.59375")
