"""Waste, cartridges and coverage against what is printed."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from service.estimate.figures import WHOLE, rounded
from service.estimate.materials.geometry import AREA_UNITS, KILOGRAMS_IN_POUND, LENGTH_UNITS
from service.estimate.materials.measure import coverage_sqft
from service.estimate.materials.packages import whole_packages, with_waste
from service.estimate.materials.volumes import FLUID_OUNCE, GALLON, LITER, bead_volume, fillet_volume, unit_volume
from service.firm import SupplyKind
from tests.materials.examples import BOOK, D, supply, told

CARTRIDGE = Fraction("10.1") * FLUID_OUNCE.value
TUBE = supply("tube", SupplyKind.ADHESIVE, "1", "cartridge", "7.00", volume_cu_in=D("10.1") * D(231) / D(128))


@pytest.mark.parametrize(("need", "share", "bought"), [(500, "0.1", 550), (300, "0.1", 330), (6000, "0.2", 7200)])
def test_waste(need, share, bought):
    """500 and 10 percent are 550, 300 are 330, 6,000 nails and 20 percent 7,200 (U.S. Army EN0069A table 4-1)."""
    assert with_waste(told(need), told(share)).value == bought


@pytest.mark.parametrize(("need", "bought"), [(500, 550), (300, 330), (505, 556), (504, 554), (495, 545)])
def test_half_a_piece_is_a_whole_one(need, bought):
    """With 10 percent 505 are 555.5, and the half rounds up: 556; 504 are 554.4: 554; 495 are 544.5: 545.

    Source: U.S. Army EN0069A table 4-1 and its rule that a half rounds up, public domain.
    """
    assert rounded("pieces", "each", with_waste(told(need), told("0.1")), WHOLE).value == bought


def test_package_is_never_rounded_down():
    """What is bought by the package is rounded up whatever is over: 550 in boxes of 549 are two, in boxes of 550 one."""
    gross = with_waste(told(500), told("0.1"))
    assert [whole_packages(gross, told(size)).number for size in (549, 550, 551)] == [2, 1, 1]


def test_nail_waste_is_the_printed_share():
    """Wire nails are bought with 20 percent more (U.S. Army EN0069A table 4-1, public domain)."""
    assert BOOK.value("waste.nails") == D("0.20")


def test_fluid_ounce_and_liter():
    """A fluid ounce is 231/128 cubic inches, a liter 61.0237 (NIST Handbook 44, Appendix C, public domain)."""
    assert Fraction(231, 128) == FLUID_OUNCE.value
    assert round(float(LITER.value), 4) == 61.0237


def test_cartridge_volumes():
    """Cartridges of 10.1 and 27 fl oz hold the printed 18.3 and 48.7 cubic inches within 0.5 percent.

    Source: a sealant maker's technical note; exact values from NIST Handbook 44.
    """
    assert round(float(CARTRIDGE), 3) == 18.227
    assert float(CARTRIDGE) == pytest.approx(18.3, rel=0.005)
    assert float(27 * FLUID_OUNCE.value) == pytest.approx(48.7, rel=0.005)
    assert unit_volume(TUBE).value == CARTRIDGE


@pytest.mark.parametrize(("diameter", "feet"), [("0.25", "30.9"), ("0.375", "13.75")])
def test_bead_from_a_cartridge(diameter, feet):
    """A cartridge of 10.1 fl oz gives 30.9 ft of 1/4 in round bead and 13.75 ft of 3/8 in.

    Source: a sealant maker's technical note prints the lengths; π·d²/4 is geometry.
    """
    found = float(CARTRIDGE / bead_volume(told(diameter), told(12)).value)
    assert f"{found:.{len(feet) - 3}f}" == feet
    assert found == pytest.approx(18.227 / (math.pi / 4 * float(diameter) ** 2 * 12), rel=1e-4)


def test_meter_and_kilogram():
    """A foot is 0.3048 m and a pound 0.45359237 kg, exactly (NIST Handbook 44, Appendix C, public domain)."""
    assert 1 / LENGTH_UNITS["m"].value == Fraction("0.3048")
    assert KILOGRAMS_IN_POUND.value == Fraction("0.45359237")
    assert round(float(AREA_UNITS["sq m"].value), 4) == 10.7639


def test_gallon_in_a_square_joint():
    """A gallon fills 308 ft of a 1/4 in square joint, so twice that of the 1/4 in fillet, which is half a square.

    Source: sealant maker's technical note; 231 / (1/16) / 12 = 308 exactly.
    """
    assert GALLON.value / fillet_volume(told("0.25"), told(12)).value == 2 * 308


@pytest.mark.parametrize(("entry", "low", "high"), [("primer", 500, 600), ("paint", 400, 500)])
def test_coverage_is_within_the_printed_range(entry, low, high):
    """New wood takes a gallon of primer for 500–600 sq ft, a repaint 400–500 (U.S. Army TM 43-0139 Table 3-2)."""
    assert low <= BOOK.value(f"finish.{entry}-coverage") <= high


def test_coverage_of_a_quart_is_a_quarter():
    """A can without coverage takes the printed one by volume: a quart of paint at 400 sq ft a gallon covers 100."""
    quart = supply("paint", SupplyKind.PAINT, "1", "qt", "20.00")
    assert coverage_sqft(quart, told(400)).value == 100
    assert coverage_sqft(replace(quart, coverage_sqft=D(90)), told(400)).value == 90


def test_liter_covers_its_share_of_a_gallon():
    """A gallon is 3.785411784 L (NIST Handbook 44): a liter of primer at 500 sq ft a gallon covers 132.09."""
    liter = supply("primer", SupplyKind.PRIMER, "1", "L", "12.00")
    assert float(coverage_sqft(liter, told(500)).value) == pytest.approx(500 / 3.785411784)
