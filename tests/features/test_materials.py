"""What features are bought, glued, screwed and painted with, worked out by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest

from service.estimate.materials.buying import bought
from service.estimate.materials.hanging import disk_area, rim_length
from service.firm import AdhesiveUse
from service.problems import Code, Problems
from service.survey import BoxRating
from service.units import ZERO
from tests import invented
from tests.features.ceilings import FAN, IN, LIGHT, MEDALLION, PAINTED, PRICES, feature, materials_of, room
from tests.materials import examples as made
from tests.materials.examples import book_with, row, told


@pytest.mark.parametrize(("kind", "code"), [(FAN, "fan-44"), (LIGHT, "light")])
def test_fan_and_light_take_themselves_alone(kind, code):
    """A fan or a light is one item, and no screw, glue or paint is invented for it."""
    (supply,) = materials_of(room(feature(kind)), PAINTED).supplies
    assert (supply.code, supply.need, supply.packages, supply.waste_share) == (code, 1, 1, 0)
    assert supply.room_needs == {1: 1}
    assert supply.basis == (f"list:supplies/{code}", "trade:waste.items", "sheet:/rooms/0/ceiling/0/item")


def test_two_of_a_kind_are_two():
    """Items are counted over the rooms, none to spare."""
    found = materials_of(room(feature(LIGHT), feature(LIGHT, 1), feature(LIGHT, 2)))
    assert (row(found, "light").need, row(found, "light").packages) == (3, 3)


def test_medallion_is_screwed_and_glued():
    """A 24 in medallion: 4 screws, one bead of π · 24 = 75.4 in, 4 holes filled.

    A 1/4 in bead of 75.4 in is π/4 · (1/4)² · 75.4 = 3.701 cu in; a 10.1 oz cartridge holds 18.227 cu in
    (231/128 cu in an ounce, NIST Handbook 44): 0.2031 cartridges. 4 · 0.02 = 0.08 cu in of filler in pints of
    28.875 cu in: 0.0028.
    """
    found = materials_of(room(feature(MEDALLION)))
    needs = {supply.code: float(supply.need) for supply in found.supplies}
    assert needs["screw"] == 4
    assert needs["adhesive"] == pytest.approx(math.pi / 4 / 16 * math.pi * 24 / 18.227, abs=0.001)
    assert needs["filler"] == pytest.approx(0.08 / 28.875, abs=0.001)
    assert set(needs) == {"medallion-24", "screw", "adhesive", "filler"}


def test_medallion_is_painted_where_the_firm_paints():
    """Two coats on a disk of 24 in: 2 · π · 144 / 144 = 6.283 sq ft at 400 sq ft a gallon; no primer: sold primed."""
    found = materials_of(room(feature(MEDALLION)), PAINTED)
    assert float(row(found, "paint").need) == pytest.approx(2 * math.pi / 400, abs=0.001)
    assert "sheet:/rooms/0/ceiling/0/diameter" in row(found, "paint").basis
    assert not [supply for supply in found.supplies if supply.code == "primer"]


@pytest.mark.parametrize("finish", ["none", "prime", "stain"])
def test_medallion_is_not_painted_otherwise(finish):
    """A firm that leaves the finish to others, primes or stains does not paint a medallion."""
    prices = replace(PRICES, settings=replace(PRICES.settings, default_finish=finish))
    (fitting,) = materials_of(room(feature(MEDALLION)), prices).features
    assert (fitting.painted_area_sqft, fitting.coats) == (0, 0)


def test_medallion_without_diameter_is_counted_as_its_room_advises():
    """In 168 sq ft that is 24 in, and the divisor stands among what the adhesive rests on."""
    measured, blank = (materials_of(room(feature(MEDALLION, diameter=size)), PAINTED) for size in (IN(24), None))
    assert row(blank, "adhesive").need == row(measured, "adhesive").need
    assert "trade:features.medallion-area-divisor" in row(blank, "adhesive").basis
    assert "trade:features.medallion-area-divisor" not in row(measured, "adhesive").basis


def test_medallion_of_unknown_size_on_an_island_has_no_glue():
    """Where neither the sheet nor an area tells a size, nothing is made up; the screws hold."""
    shape = replace(invented.shape(room(feature(MEDALLION, diameter=None))), area_sqft=None)
    found = bought((shape,), (), made.plan(), PRICES, made.BOOK, Problems())
    assert {supply.code for supply in found.supplies} == {"medallion-24", "screw", "filler"}


def test_item_of_others_is_not_bought():
    """Without an item on the list a medallion's fixing is bought, the medallion is not."""
    found = materials_of(room(feature(MEDALLION, item="")))
    assert {supply.code for supply in found.supplies} == {"screw", "adhesive", "filler"}


def test_screws_beads_and_bead_are_settings():
    """Six screws and two beads, as a firm may set them."""
    book = book_with(features__medallion_screws="6", features__medallion_beads="2")
    (fitting,) = materials_of(room(feature(MEDALLION)), book=book).features
    assert (fitting.screws, fitting.adhesive_length) == (6, rim_length(told(24), told(2)).length)


def test_missing_screw_is_told_at_the_medallion():
    """A price list without a screw refuses a medallion, at its row."""
    without = made.price_list(*(item for item in PRICES.supplies.values() if item.code != "screw"))
    problems = Problems()
    assert bought((invented.shape(room(feature(MEDALLION))),), (), made.plan(), without, made.BOOK, problems) is None
    (problem,) = problems.errors
    assert (problem.code, problem.pointer) == (Code.SUPPLY_MISSING, "/rooms/0/ceiling/0/feature")


def test_medallion_and_trim_share_their_packages():
    """Adhesive of a glued board and of a medallion comes from the same cartridges, and needs add up."""
    of = room(feature(MEDALLION))
    board = made.run(layer={"adhesive": AdhesiveUse.BEAD}, at=made.centers(16, 144))
    both = made.materials(board, prices=PRICES, place=of)
    apart = (made.materials(board, prices=PRICES), materials_of(of))
    needs = [row(found, "adhesive").need for found in (both, *apart)]
    assert abs(needs[0] - needs[1] - needs[2]) <= Decimal("0.002")
    assert needs[0] > max(needs[1:])


@pytest.mark.parametrize("diameter", [10, 24, 48])
def test_rim_and_disk_are_those_of_a_circle(diameter):
    """A regular polygon of 10,000 corners drawn around the rim has its length and area (geometry, summed side by side)."""
    corners = [(math.cos(a), math.sin(a)) for a in (2 * math.pi * k / 10_000 for k in range(10_001))]
    around = sum(math.dist(one, other) for one, other in pairwise(corners)) * diameter / 2
    area = sum(x * v - u * y for (x, y), (u, v) in pairwise(corners)) / 2 * (diameter / 2) ** 2
    assert float(rim_length(told(diameter), told(1)).value) == pytest.approx(around, rel=1e-6)
    assert float(disk_area(told(diameter)).value) == pytest.approx(area / 144, rel=1e-6)


def test_fittings_are_kept_for_the_hours():
    """Every feature is handed on to labor, with nothing to screw or paint on a fan."""
    found = materials_of(room(feature(FAN), feature(MEDALLION, 1), feature(LIGHT, 2, box_rated_for_fan=BoxRating.NO)))
    assert [fitting.feature.feature for fitting in found.features] == [FAN, MEDALLION, LIGHT]
    assert [(fitting.screws, fitting.adhesive_length > ZERO) for fitting in found.features] == [
        (0, False), (4, True), (0, False),
    ]  # fmt: skip
    assert all(fitting.painted_area_sqft == Fraction(0) for fitting in found.features)
