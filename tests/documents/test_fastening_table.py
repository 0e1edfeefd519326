"""The field sheet's table of what holds each run. Codes and counts are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from service.documents import field_sheet_pdf
from service.documents.fastening_table import adhesive_text, blocks_text, fastening, holding_texts, nails_text
from service.estimate.quote.model import BlockLegs
from service.firm import Position
from service.units import Length, Units
from tests.documents.papers import outside, overlaps, text_of

LEFT_PT, OTHER_PT = 54.0, 39.6
LEGS = BlockLegs(Length.of("2.505"), Length.of("1.922"))


@pytest.fixture(scope="module")
def runs(quote):
    """Runs of the attic study, without anything that holds them."""
    return quote.rooms[0].runs


def of_position(runs, position, **facts):
    """The first run of a position, with what holds it."""
    return replace(next(run for run in runs if run.position is position), **facts)


def held(quote, **facts):
    """The quote, every run of it held by the same."""
    rooms = tuple(
        replace(room, runs=tuple(replace(run, **facts) for run in room.runs)) for room in quote.rooms
    )  # fmt: skip
    return replace(quote, rooms=rooms)


def test_nails_are_counted_by_code(runs):
    """Counts of one code add up over the runs of a row, and thousands are grouped; none is a dash."""
    one, other = (
        of_position(runs, Position.WALL, nails=nails) for nails in ({"brad": 1200, "finish": 8}, {"brad": 34})
    )
    told = nails_text([one, other])
    assert "<b>1,234</b>" in told
    assert "<b>8</b>" in told
    assert nails_text([replace(one, nails={})]) == "–"


def test_code_cannot_be_mistaken_for_markup(runs):
    """A code with signs that mean something in markup is printed as it stands."""
    assert "nail&lt;b&gt;" in nails_text([of_position(runs, Position.WALL, nails={"nail<b>": 2})])


@pytest.mark.parametrize(
    ("units", "told"), [(Units.IMPERIAL, "9 of 2 1/2″ × 1 15/16″"), (Units.METRIC, "9 of 63.5 mm × 49 mm")]
)
def test_blocks_are_told_with_their_legs(runs, units, told):
    """Legs of 2.505 × 1.922 in are 2 1/2 × 1 15/16 to the sixteenth, 63.6 × 48.8 mm to the half 63.5 × 49."""
    crown = of_position(runs, Position.CROWN, blocks=9, block_legs=LEGS)
    assert blocks_text([crown], units).replace("\N{NO-BREAK SPACE}", " ") == told


def test_glue_plates_stand_with_the_blocks(runs):
    """Splices off the framing are told as glue plates; a run with neither has a dash."""
    board = of_position(runs, Position.CEILING, glue_plates=2)
    assert blocks_text([board], Units.IMPERIAL) == "2\N{NO-BREAK SPACE}glue plates"
    assert blocks_text([replace(board, glue_plates=0)], Units.IMPERIAL) == "–"


def test_adhesive_adds_up(runs):
    """Beads of 100 in and 60 in are 13 ft 4 in of bead."""
    parts = [of_position(runs, Position.CEILING, adhesive=Length.of(size)) for size in (100, 60)]
    assert adhesive_text(parts, Units.IMPERIAL).replace("\N{NO-BREAK SPACE}", " ") == "13′ 4″"


@pytest.mark.parametrize(
    ("factor", "told"),
    [
        ("12.99", "holds 12.9 times its weight"),
        ("1", "holds 1 times its weight"),
        ("0.99", "<b>holds only 0.9 of its weight</b>"),
    ],
)
def test_holding_is_never_told_too_high(runs, factor, told):
    """A factor is cut to a tenth, so that 0.99 does not read as 1; below 1 it is bold."""
    assert holding_texts([of_position(runs, Position.CEILING, holding_factor=Decimal(factor))]) == [told]


@pytest.mark.parametrize(("position", "word"), [(Position.CEILING, "prop it"), (Position.BASE, "they hold")])
def test_what_hangs_on_adhesive_is_propped(runs, position, word):
    """Overhead a board is propped until its adhesive has cured; elsewhere crossed nails hold it meanwhile."""
    (told,) = holding_texts([replace(of_position(runs, Position.CEILING), position=position, cross_nailed=18)])
    assert told.replace("\N{NO-BREAK SPACE}", " ").startswith("18 nails in crossed pairs")
    assert word in told


def test_room_without_fastening_has_no_table(quote):
    """A quote stored before fastening was kept prints no empty table."""
    assert fastening(quote.rooms[0], quote, 500.0) == []


def test_every_wall_and_layer_has_its_row(quote):
    """The table names every wall with every layer on it, and its nails."""
    text = " ".join(text_of(field_sheet_pdf(held(quote, nails={"finish-15-200": 17}))))
    part = text.partition("Fastening Nails by supply code")[2]
    for run in quote.rooms[0].runs:
        words = {"ceiling": "ceiling board", "wall": "wall board"}.get(run.position.value, run.position.value)
        assert f"{run.wall} {words} 17 finish-15-200" in part


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_nothing_leaves_the_page(quote, paper):
    """Codes as long as the price list takes, and all that can hold a run at once, stay inside the margins."""
    codes = {"finish-nail-galvanized-15-gauge-" + "x" * 30: 1234, "W" * 40: 56, "brad-18-150": 7}
    full = held(
        quote, nails=codes, blocks=120, block_legs=LEGS, glue_plates=3, adhesive=Length.of(1234), cross_nailed=44,
        holding_factor=Decimal("0.42"),
    )  # fmt: skip
    data = field_sheet_pdf(replace(full, firm=replace(full.firm, paper=paper)))
    assert outside(data, LEFT_PT, OTHER_PT, OTHER_PT, OTHER_PT) == []
    assert overlaps(data) == []
