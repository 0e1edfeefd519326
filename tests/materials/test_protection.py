"""Tape along edges and a cover on the floor, worked by hand. Room, trim and every price are invented."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from service.firm import FinishState, Position, SupplyKind
from service.problems import Code, Problems
from service.survey import FinishOrder
from tests.materials.examples import (
    BASE,
    BOARD,
    IN,
    PROTECTION,
    SHOE,
    SUPPLIES,
    D,
    book_with,
    centers,
    crown,
    materials,
    price_list,
    row,
    run,
    supply,
)

PRICES = price_list(*SUPPLIES, *PROTECTION)
STUDS = centers(16, 144)


def base(**more: object):
    """A painted base with its top edge caulked."""
    return run(Position.BASE, BASE, at=STUDS, **{"finish": FinishOrder.PAINT, "layer": {"caulked_edges": 1}, **more})


def taped(*runs, prices=PRICES, **more):
    """Need of tape, in yards, None where none is bought."""
    found = materials(*runs, prices=prices, **more)
    return next((item.room_needs[1] for item in found.supplies if item.code == "masking-tape"), None)


def test_tape_follows_the_caulked_edges():
    """A base of 160 in with one caulked edge takes 160 / 36 = 4.444 yd of tape, with a tenth more 4.89 of a roll of 60 yd."""
    found = row(materials(base(), prices=PRICES), "masking-tape")
    assert found.room_needs[1] == Fraction(160, 36)
    assert (found.need, found.unit, found.package_size, found.packages) == (D("4.445"), "yd", 60, 1)
    assert found.rest == 60 - D("4.445") * D("1.1")
    assert found.amount == D("5.00")


def test_coated_layer_without_a_caulked_edge_is_masked_once():
    """A painted shoe with no caulked edge is masked along one edge, the floor's, and the basis says that this is assumed."""
    shoe = run(Position.SHOE, SHOE, finish=FinishOrder.PAINT)
    found = row(materials(shoe, prices=PRICES), "masking-tape")
    assert found.room_needs[1] == Fraction(160, 36)
    assert "trade:protection.masked-edges" in found.basis
    assert taped(shoe, book=book_with(protection__masked_edges="2")) == Fraction(320, 36)


def test_caulked_layer_rests_on_no_assumed_edge():
    """Where caulked edges tell what to mask, the basis does not name the assumed number of edges."""
    assert "trade:protection.masked-edges" not in row(materials(base(), prices=PRICES), "masking-tape").basis


@pytest.mark.parametrize(
    ("bare", "yards"),
    [
        (run(Position.BASE, BASE, at=STUDS), None),
        (run(Position.BASE, BASE, at=STUDS, layer={"caulked_edges": 2}), Fraction(320, 36)),
        (base(finish=FinishOrder.PRIME, layer={}), None),
        (
            replace(base(finish=FinishOrder.PRIME, layer={}), profile=replace(BASE, finish=FinishState.RAW)),
            Fraction(160, 36),
        ),
    ],
    ids=["neither", "caulked", "sold primed", "primed on site"],
)
def test_what_is_neither_caulked_nor_coated_is_not_masked(bare, yards):
    """Tape goes where caulk or a coat is put on; what comes primed and gets no more is left alone."""
    assert taped(bare) == yards


def test_crown_between_boards_is_not_masked():
    """A crown between boards lies on trim with both edges, so the boards alone are masked."""
    board = run(finish=FinishOrder.PAINT, at=STUDS, layer={"caulked_edges": 1})
    between = replace(crown(number=2), finish=FinishOrder.PAINT)
    assert taped(board, between) == taped(board) == Fraction(160, 36)


def test_floor_is_covered_along_trimmed_walls():
    """A wall trimmed over 160 in takes a strip 48 in wide: 160 × 48 / 144 = 53.33 sq ft, with a tenth more of 300 one roll."""
    found = row(materials(run(at=STUDS), base(number=2), prices=PRICES), "floor-covering")
    assert found.room_needs[1] == Fraction(160 * 48, 144)
    assert (found.need, found.unit, found.package_size, found.packages) == (D("53.334"), "sq ft", 300, 1)
    assert {"trade:protection.floor-width", "trade:protection.floor-waste"} <= set(found.basis)


def test_two_layers_over_each_other_cover_the_floor_once():
    """Stretches of 100 in from either end of a wall of 160 in cover it once: as much floor as one layer all along."""
    left = run(length=100, at=centers(16, 96))
    right = run(length=100, at=centers(64, 160), number=2, start=IN(60), cut_start=IN(60))
    found = row(materials(left, right, prices=PRICES), "floor-covering")
    assert found.room_needs[1] == Fraction(160 * 48, 144)


def test_nothing_is_bought_that_the_firm_does_not_list():
    """A price list without tape and floor covering prices none, and that is no fault."""
    found = materials(base())
    assert not {"masking-tape", "floor-covering"} & {item.code for item in found.supplies}


@pytest.mark.parametrize(
    ("unit", "size", "in_feet"),
    [
        ("ft", "180", 1),
        ("yd", "60", 3),
        ("m", "50", 1 / Fraction("0.3048")),
        ("rolls of 55 m", "1", 1 / Fraction("0.3048")),
    ],
)
def test_tape_by_any_length(unit, size, in_feet):
    """Tape is sold by feet, yards or meters (1 ft = 0.3048 m: NIST Handbook 44), and its need is told in that."""
    tape = supply("masking-tape", SupplyKind.OTHER, size, unit, "5.00")
    assert taped(base(), prices=price_list(*SUPPLIES, tape)) == Fraction(160, 12) / in_feet


@pytest.mark.parametrize(("size", "unit", "rolls"), [("50", "sq ft", 2), ("5", "sq m", 2), ("60", "sq ft", 1)])
def test_covering_by_the_square_foot(size, unit, rolls):
    """53.33 sq ft and a tenth are 58.67 sq ft, 5.45 sq m: two packages of 50 sq ft or of 5 sq m, one of 60 sq ft."""
    cover = supply("floor-covering", SupplyKind.OTHER, size, unit, "20.00")
    assert row(materials(base(), prices=price_list(*SUPPLIES, cover)), "floor-covering").packages == rolls


@pytest.mark.parametrize(("code", "word"), [("masking-tape", "roll of 60 yd"), ("floor-covering", "Coverage")])
def test_protection_that_cannot_be_measured_is_a_fault(code, word):
    """A listed tape or covering whose size nobody can tell is a fault, once, with what to type."""
    problems = Problems()
    materials(
        base(), prices=price_list(*SUPPLIES, supply(code, SupplyKind.OTHER, "1", "roll", "5.00")), problems=problems
    )
    assert [problem.code for problem in problems.errors] == [Code.SUPPLY_MISSING]
    assert word in problems.errors[0].help


def test_special_supplies_serve_no_other_purpose():
    """Tape listed first of all kinds of supplies is never taken for glue plates or anything else of its kind."""
    found = materials(run(profile=BOARD, at=STUDS), prices=price_list(*PROTECTION, *SUPPLIES))
    assert "masking-tape" not in {item.code for item in found.supplies}
