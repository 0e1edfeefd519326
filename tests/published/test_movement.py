"""Seasonal movement of wood against the Wood Handbook, and against plain vectors. Rooms and prices are invented."""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from service.estimate.takeoff.movement import SPECIES, WoodRules, miter_gap, species_of, width_change
from service.firm import TradeOverride
from service.problems import Code, Problems, Severity
from service.survey import InsideJoint
from service.trade.book import shipped_book
from service.units import Length
from tests.invented import PROFILES, inches, l_shape, order, rectangle, runs_in
from tests.pipeline.estimates import quote_of, sample_price_list, sample_survey

BOOK = shipped_book()
RULES = WoodRules.of(BOOK)
PRINTED = [
    # species, shrinkage green to oven-dry (Table 4-3, percent, radial or tangential), coefficient (Table 13-5), in the book
    ("yellow-poplar, radial", "4.6", "0.00158", None),
    ("yellow-poplar, tangential", "8.2", "0.00289", "wood.poplar"),
    ("ponderosa pine, tangential, from memory", "6.2", "0.00216", "wood.pine"),
    ("sugar maple, tangential, from memory", "9.9", "0.00353", "wood.maple"),
    ("black cherry, tangential, from memory", "7.1", "0.00248", "wood.cherry"),
    ("black walnut, tangential, from memory", "7.8", "0.00274", "wood.walnut"),
    ("coast Douglas-fir, tangential, from memory", "7.6", "0.00267", "wood.douglas-fir"),
]


def coefficient(shrinkage: Fraction) -> Fraction:
    """(S/30)/(1 - 20 S/30), the Wood Handbook's formula beside Table 13-5; S as a fraction."""
    return shrinkage / 30 / (1 - 20 * shrinkage / 30)


@pytest.mark.parametrize(("row", "shrinkage", "printed", "entry"), PRINTED)
def test_coefficients_follow_from_the_printed_shrinkages(row, shrinkage, printed, entry):
    """A shrinkage of Table 4-3 gives the coefficient of Table 13-5 to its five places, which is the book's number."""
    assert round(coefficient(Fraction(shrinkage) / 100), 5) == Fraction(printed), row
    if entry is not None:
        assert BOOK.value(entry) == Decimal(printed)
        assert BOOK.sources[BOOK[entry].source].seen is not ("from memory" in row)


def test_red_oak_is_as_printed():
    """Red oak moves .00369 of its width a point (Table 13-5, tangential; .00158 radial), more than twice along its rays."""
    assert BOOK.value("wood.red-oak") == Decimal("0.00369")
    assert Fraction("0.00369") > 2 * Fraction("0.00158")


def test_every_species_of_the_book_is_checked_here():
    """No coefficient of the trade book goes without its row of the Wood Handbook."""
    rest = {"wood.moisture-range", "wood.gap-told"}
    named = {entry for _, _, _, entry in PRINTED if entry} | {"wood.red-oak"}
    assert (
        {entry.key for entry in BOOK if entry.key.startswith("wood.")} - rest
        == named
        == {f"wood.{name}" for name in SPECIES}
    )


def test_a_wide_board_worked_by_hand():
    """5 1/2 in of poplar over 4 points: 5.5 x .00289 x 4 = 0.06358 in; a square miter opens 2 x 0.06358 x cos 45 = 0.0899."""
    change = width_change(inches("5 1/2"), RULES.coefficients["poplar"], Fraction(4))
    assert change.inches == Fraction("0.06358")
    assert float(miter_gap(change, 45.0)) == pytest.approx(0.0899, abs=5e-5)
    assert float(miter_gap(change, 45.0)) == pytest.approx(2 * 0.06358 * math.cos(math.radians(90 / 2)), abs=1e-9)


@pytest.mark.parametrize("corner_deg", [60.0, 90.0, 120.0, 135.0, 150.0])
def test_a_miter_opens_as_two_swollen_boards_leave_it(corner_deg):
    """Boards drawn as vectors: each far edge moves by the change, square to its own length; the gap is where they part.

    Oracle: plane geometry. Board one runs along x to the miter through the origin; its far corner lies on the line
    that halves the angle. Swollen by d it lies d further from the wall's edge; the second board is its mirror image.
    """
    half, width, change = math.radians(corner_deg / 2), 5.5, 0.06358
    far = (width / math.tan(half), width + change)
    across = (-math.sin(half), math.cos(half))
    parted = 2 * abs(far[0] * across[0] + far[1] * across[1])
    assert float(miter_gap(Length.measured(change), 90 - corner_deg / 2)) == pytest.approx(parted, abs=1e-9)


@pytest.mark.parametrize(
    ("material", "species"),
    [
        ("poplar", "poplar"), ("Primed yellow-poplar", "poplar"), ("Red Oak", "red-oak"), ("primed pine", "pine"),
        ("hard maple", "maple"), ("Douglas-fir, clear", "douglas-fir"), ("cherry", "cherry"), ("walnut", "walnut"),
        ("white oak", None), ("red maple", None), ("southern yellow pine", None), ("MDF", None), ("", None),
        ("pine veneer on MDF", None), ("polyurethane", None), ("ash", None),
    ],
)  # fmt: skip
def test_species_are_read_by_their_words(material, species):
    """A known species is found among the words; a composite, another species of the name or a blank is none."""
    assert species_of(material) == species


def told(room, trim, material="poplar", joint=None, **sizes):
    """Movement notes of one assembly in a room, every profile of one material."""
    wood = [
        replace(item, material=material, **sizes.get(name.replace(" ", "_"), {})) for name, item in PROFILES.items()
    ]
    problems = Problems()
    runs_in(room, order(trim, inside_joint=joint), problems=problems, profiles=tuple(wood))
    assert not problems.has_errors
    return [problem for problem in problems if problem.code is Code.MITER_MAY_OPEN]


def test_a_mitered_ceiling_board_is_told_in_words():
    """One note for four corners, with width, species, movement, gap and what to do; it refuses nothing."""
    (note,) = told(rectangle(), "ceiling board", joint=InsideJoint.MITER)
    assert note.severity is Severity.NOTE
    assert note.pointer == "/trim/ceiling board/assembly"
    assert "may open by 0.090 in" in note.detail
    assert "5 1/2\N{DOUBLE PRIME} of poplar change by 0.064 in over 4 points of moisture" in note.detail
    assert all(word in note.help for word in ("lie in the heated rooms", "glue the miters", "cope inside corners"))


def test_coped_corners_are_not_told():
    """A crown coped in four inside corners is silent; with one mitered outside corner the same crown is told once."""
    assert told(rectangle(), "crown alone") == []
    assert len(told(l_shape(), "crown alone")) == 1
    assert len(told(rectangle(), "crown alone mitered")) == 1


def test_a_board_on_edge_grows_along_its_joint():
    """Base mitered at an outside corner is cut across its thickness, so its width opens nothing (plane geometry)."""
    assert told(l_shape(), "base") == []


@pytest.mark.parametrize("material", ["", "MDF", "white oak", "polyurethane"])
def test_wood_that_is_not_known_is_not_guessed_at(material):
    """Blank, composite and a species that the book has not: no note rather than a made-up one."""
    assert told(rectangle(), "ceiling board", material, InsideJoint.MITER) == []


@pytest.mark.parametrize(("width", "is_told"), [("61/64", False), ("31/32", True)])
def test_the_threshold_is_a_sixty_fourth(width, is_told):
    """Poplar over 4 points at 90: 0.015625 / (2 x .01156 x cos 45) = 0.9558 in; 61/64 (.953) is silent, 31/32 is told."""
    assert (
        bool(told(rectangle(), "ceiling board", joint=InsideJoint.MITER, board_5={"width": inches(width)})) is is_told
    )


def test_movement_moves_no_price():
    """A firm with a drier winter reads more notes and pays the same."""
    survey, prices = sample_survey("l_shaped"), sample_price_list()
    dry = replace(prices, overrides=(TradeOverride("wood.moisture-range", Decimal(9), "own hygrometer"),))
    one, other = quote_of(survey, prices), quote_of(survey, dry)
    assert one.lines == other.lines
    assert one.totals == other.totals
    notes = [[item.detail for item in quote.warnings if item.code is Code.MITER_MAY_OPEN] for quote in (one, other)]
    assert notes[0]
    assert notes[0] != notes[1]
