"""Fans and medallions against what is printed."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.estimate.takeoff.feature_sizes import fan_band, medallion_advised, tip_clearance
from service.trade.book import Grade
from tests.features.ceilings import FAN, IN, feature, room, told
from tests.features.ceilings import found_in as everything_in
from tests.materials.examples import BOOK

BANDS = [
    (40, 29, 36), (75, 29, 36), (76, 36, 42), (120, 36, 42), (144, 36, 42), (Decimal("144.01"), 44, 44), (200, 44, 44),
    (225, 44, 44), (Decimal("225.01"), 50, 54), (400, 50, 54),
]  # fmt: skip


@pytest.mark.parametrize(("area", "least", "most"), BANDS)
def test_fan_band_of_a_room(area, least, most):
    """Up to 75 sq ft 29 to 36 in, 76 to 144 36 to 42 in, 144 to 225 44 in, 225 to 400 50 to 54 in.

    The printed bands overlap at 144 and 225 sq ft, where the lower one holds. Source: ENERGY STAR, older table of
    fan sizes, seen second hand (from memory).
    """
    assert fan_band(Decimal(area), BOOK) == (IN(least), IN(most))


def test_no_band_beyond_the_table():
    """The table ends at 400 sq ft (ENERGY STAR, older table, seen second hand)."""
    assert fan_band(Decimal("400.01"), BOOK) is None


def test_bands_join_without_a_gap():
    """Every room up to 400 sq ft has a band, and no larger room a smaller fan (follows from the printed table)."""
    bands = [fan_band(Decimal(area), BOOK) for area in range(1, 401)]
    assert None not in bands
    assert bands == sorted(bands)


@pytest.mark.parametrize(("area", "inches"), [(140, 20), (225, 32), (7, 1), (168, 24)])
def test_medallion_of_a_room(area, inches):
    """An inch for every 7 sq ft: 140 sq ft 20 in, 225 sq ft 32 in (common practice; other rules differ)."""
    assert medallion_advised(Decimal(area), BOOK.value("features.medallion-area-divisor")) == IN(inches)


def test_medallion_rule_says_that_it_is_custom():
    """No publication stands behind the medallion's rule, and the book says so."""
    assert BOOK["features.medallion-area-divisor"].grade is Grade.COMMON_PRACTICE


@pytest.mark.parametrize(
    ("ceiling", "down", "is_low"), [("8'", 12, False), ("8'", 13, True), ("9'", 24, False), ("7' 6\"", 7, True)]
)
def test_blades_are_seven_feet_up(ceiling, down, is_low):
    """Fan blades turn at least 7 ft above the floor (U.S. Department of Energy; 29 CFR 1926.300(b)(5))."""
    found = everything_in(room(feature(FAN, hangs_down=IN(down)), height=ceiling))
    assert [str(problem.code) for problem in found] == (["fan-blades-too-low"] if is_low else [])


@pytest.mark.parametrize(("wall", "span", "clear"), [(44, 52, 18), (43, 52, 17), (40, 44, 18), (39, 44, 17)])
def test_blade_tips_clear_the_wall(wall, span, clear):
    """From the blade tips to the wall is its distance less half the span; 18 in are asked for (Department of Energy)."""
    assert tip_clearance(IN(wall), IN(span)) == IN(clear)
    codes = [code for code, _, _ in told(feature(FAN, nearest_wall=IN(wall), diameter=IN(span)))]
    assert ("fan-near-wall" in codes) is (clear < 18)


@pytest.mark.parametrize(("pounds", "said"), [(35, 0), (36, 1), (70, 1), (71, 1)])
def test_heavy_fan_and_its_box(pounds, said):
    """A fan over 35 lb wants a marked box, over 70 lb its own support (NEC 314.27(C), 422.18)."""
    codes = [code for code, _, _ in told(feature(FAN, weight_lb=Decimal(pounds)))]
    assert codes == ["weight-on-box"] * said
