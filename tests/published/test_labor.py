"""The labor method against its printed examples."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from service.estimate.figures import HOUR, given
from service.estimate.labor.clock import Hours
from service.estimate.labor.days import Chunk, RoomWork, put_into_days
from service.estimate.labor.model import Factor
from service.estimate.labor.rows import hours_of
from service.estimate.labor.stages import Phase, Stage
from service.estimate.labor.working import days_of
from service.trade.book import shipped_book
from tests.invented import SETTINGS
from tests.labor.examples import D


def person_hours(hours):
    """Person-hours as the labor stage hands them on."""
    return given("hours on site", hours, HOUR, "plan:hours")


def test_man_days_of_the_printed_example():
    """16,000 sq ft at 33 man-hours a thousand are 66 man-days of 8 hours (NAVEDTRA 14045 page 2-27, public domain)."""
    hours = hours_of(D(16000), D(33) / D(1000), ())
    alone = replace(SETTINGS, crew_size=1, productive_hours_a_day=D(8))
    assert days_of(person_hours(hours), alone).value == 66


def test_delay_factor_multiplies():
    """Man-days are quantity over unit × man-hours ÷ 8 × delay factor (NAVEDTRA 14045 page 2-27, public domain).

    The factor 1.25 is our own case of the formula: 66 × 1.25 = 82.5 man-days.
    """
    hours = hours_of(D(16000), D(33) / D(1000), [Factor("delay", D("1.25"))])
    alone = replace(SETTINGS, crew_size=1, productive_hours_a_day=D(8))
    assert days_of(person_hours(hours), alone).value == Fraction(165, 2)


@pytest.mark.parametrize(("crew", "availability", "efficiency"), [(6, "1", "1"), (5, "0.8", "1"), (4, "0.9", "0.75")])
def test_duration_is_man_days_over_crew_availability_and_efficiency(crew, availability, efficiency):
    """Duration = man-days ÷ crew ÷ availability ÷ efficiency (NAVEDTRA 14045 page 2-28, public domain).

    The firm's productive hours a day are the 8 hours less what availability and efficiency take of them.
    """
    productive = D(8) * D(availability) * D(efficiency)
    crewed = replace(SETTINGS, crew_size=crew, productive_hours_a_day=productive)
    expected = 66 / Fraction(crew) / Fraction(availability) / Fraction(efficiency)
    assert days_of(person_hours(D(528)), crewed).value == expected


@pytest.mark.parametrize(
    ("crew", "availability", "efficiency", "days"),
    [(1, "1", "1", 66), (6, "1", "1", 11), (5, "0.8", "1", 17), (4, "0.9", "0.75", 25)],
)
def test_plan_by_day_takes_the_printed_duration(crew, availability, efficiency, days):
    """The printed 66 man-days of one task, put into days, fill 66 ÷ crew ÷ availability ÷ efficiency of them.

    Source: NAVEDTRA 14045 pages 2-27, 2-28 (public domain); a part of a day is a day: 16.5 is 17, 24.44 is 25.
    """
    productive = D(8) * D(availability) * D(efficiency)
    hours = hours_of(D(16000), D(33) / D(1000), ())
    crewed = replace(SETTINGS, crew_size=crew, productive_hours_a_day=productive)
    stages = {Stage(Phase.HANG): [Chunk("hang-wall", "Hang wall board", int(hours * 100))]}
    site = put_into_days([RoomWork(1, "Hall", stages, ())], Hours.of(crewed, shipped_book()), no_set_up)
    assert site.day + 1 == days
    assert sum(item.hundredths for item in site.placed) == 52800


def no_set_up(room, times):
    """Rooms that take no time to set up."""
    return Chunk("set-up", "Set up", 0)
