"""How nails are sold: by the piece, the coil, the strip, the box or the weight. Every supply and price is invented."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.estimate.materials.buying import bought
from service.estimate.materials.sold import pack_of_pieces
from service.firm import SupplyKind
from service.problems import Code, Problems
from tests import invented
from tests.features import ceilings as hung
from tests.materials.examples import BOOK, SUPPLIES, D, centers, materials, nail, plan, price_list, row, run, supply

if TYPE_CHECKING:
    from service.firm import PriceList

JOISTS = centers(16, 144)
OTHERS = tuple(item for item in SUPPLIES if item.length is None)


def sold(size: str, unit: str):
    """The row of the only nail, which holds a board of 18 nails, sold in packages of this size and unit."""
    only = nail("2.5", "0.099", size, unit)
    return row(materials(run(at=JOISTS), prices=price_list(only, *OTHERS)), only.code)


@pytest.mark.parametrize(
    ("size", "unit", "holds", "packages", "rest"),
    [
        ("1", "strip of 21", 21, 2, "20.4"),
        ("1", "coil of 300", 300, 1, "278.4"),
        ("1", "Box of 1,000", 1000, 1, "978.4"),
        ("2", "strips of 21 nails", 42, 1, "20.4"),
        ("10", "collated strip of 2", 20, 2, "18.4"),
        ("300", "nail", 300, 1, "278.4"),
        ("21", "nails", 21, 2, "20.4"),
    ],
)
def test_nails_by_the_coil_strip_or_box(size, unit, holds, packages, rest):
    """Nine joists take 18 nails, 21.6 with a fifth more (EN0069A table 4-1): two strips of 21, one coil of 300.

    2 × 21 − 21.6 = 20.4; 300 − 21.6 = 278.4; 1,000 − 21.6 = 978.4; 2 × 20 − 21.6 = 18.4.
    """
    found = sold(size, unit)
    assert (found.need, found.package_size, found.packages, found.rest) == (18, holds, packages, D(rest))
    assert found.amount == packages * D("30.00")


@pytest.mark.parametrize(
    ("unit", "told"), [("coil of 300", "nails"), ("each", "each"), ("lb", "lb"), ("box of 5 lb", "lb")]
)
def test_need_is_told_in_what_is_counted(unit, told):
    """Of coils the need is told in nails, of a box sold by weight in pounds, so that need and package size compare."""
    assert sold("1", unit).unit == told


def test_boxes_by_weight():
    """18 nails 8d at 189 to the pound are 0.0952 lb, printed 0.096, 0.1152 with waste: one box of 5 lb, 4.8848 lb left."""
    found = sold("1", "box of 5 lb")
    assert (found.need, found.package_size, found.packages, found.rest) == (D("0.096"), 5, 1, D("4.8848"))


def test_pounds_of_boxes_are_the_pounds_of_pounds():
    """A package of 2 boxes of 5 lb holds 10 lb, and the work takes as many pounds as of a nail sold by the pound."""
    boxed, loose = sold("2", "box of 5 lb"), sold("1", "lb")
    assert boxed.package_size == 10
    assert boxed.room_needs == loose.room_needs


@pytest.mark.parametrize(
    "unit", ["coil", "box", "coil of nails", "coil of 0", "box of 2.5", "box of 12 ft", "of 300", "300", "coil of 3,00"]
)
def test_unit_that_tells_no_number_is_a_fault(unit):
    """A unit from which nobody can tell how many nails a package holds is a fault that says what to type instead."""
    problems = Problems()
    bad = nail("2.5", "0.099", "1", unit)
    materials(run(at=JOISTS), prices=price_list(bad, *OTHERS), problems=problems)
    (problem,) = problems.errors
    assert problem.code is Code.SUPPLY_MISSING
    assert problem.found == f"1 {unit}"
    assert "coil of 300" in problem.help


def screws(size: str, unit: str) -> PriceList:
    """The price list with its screws sold this way."""
    sold_so = supply("screw", SupplyKind.SCREW, size, unit, "2.00")
    return replace(hung.PAINTED, supplies=hung.PAINTED.supplies | {"screw": sold_so})


def test_screws_by_the_box():
    """A medallion's 4 screws with a tenth more are 4.4 of boxes of 3: two boxes, 1.6 left (numbers the book assumes)."""
    found = row(hung.materials_of(hung.room(hung.feature(hung.MEDALLION)), screws("1", "box of 3")), "screw")
    assert (found.need, found.unit, found.packages, found.rest) == (4, "screws", 2, D("1.6"))


def test_screws_by_weight_are_a_fault():
    """How many screws make a pound is printed nowhere in the book, so screws by the pound cannot be counted."""
    problems, place = Problems(), hung.room(hung.feature(hung.MEDALLION))
    assert bought((invented.shape(place),), (), plan(), screws("1", "lb"), BOOK, problems) is None
    assert [problem.code for problem in problems.errors] == [Code.SUPPLY_MISSING]
    assert "box of 100" in problems.errors[0].help


@given(st.integers(1, 2000), st.integers(1, 5000), st.sampled_from(["coil", "strip", "box", "paper tape"]))
def test_package_holds_size_times_count(size, count, holder):
    """So many holders of so many pieces hold the product, whatever they are called."""
    pack = pack_of_pieces(nail("2", size=str(size), unit=f"{holder} of {count}"), "nails")
    assert pack is not None
    assert pack.size.value == size * count


@given(st.integers(40, 3000), st.integers(2, 600))
def test_coils_cover_the_nails(length, count):
    """Whatever a coil holds, the coils bought hold the nails and a fifth more, and one coil less would not."""
    at = centers(8, length - 8)
    only = nail("2.5", "0.099", "1", f"coil of {count}")
    found = row(materials(run(length=length, at=at), prices=price_list(only, *OTHERS)), only.code)
    gross = Fraction(6, 5) * 2 * len(at)
    assert found.packages * count >= gross > (found.packages - 1) * count
