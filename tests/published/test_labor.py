"""The labor method against its printed examples."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from service.estimate.labor.model import Factor
from service.estimate.labor.rows import hours_of
from service.estimate.labor.working import days_of
from tests.invented import SETTINGS
from tests.labor.examples import D


def test_man_days_of_the_printed_example():
    """16,000 sq ft at 33 man-hours a thousand are 66 man-days of 8 hours (NAVEDTRA 14045 page 2-27, public domain)."""
    hours = hours_of(D(16000), D(33) / D(1000), ())
    alone = replace(SETTINGS, crew_size=1, productive_hours_a_day=D(8))
    assert days_of(hours, alone) == 66


def test_delay_factor_multiplies():
    """Man-days are quantity over unit × man-hours ÷ 8 × delay factor (NAVEDTRA 14045 page 2-27, public domain).

    The factor 1.25 is our own case of the formula: 66 × 1.25 = 82.5 man-days.
    """
    hours = hours_of(D(16000), D(33) / D(1000), [Factor("delay", D("1.25"))])
    alone = replace(SETTINGS, crew_size=1, productive_hours_a_day=D(8))
    assert days_of(hours, alone) == Fraction(165, 2)


@pytest.mark.parametrize(("crew", "availability", "efficiency"), [(6, "1", "1"), (5, "0.8", "1"), (4, "0.9", "0.75")])
def test_duration_is_man_days_over_crew_availability_and_efficiency(crew, availability, efficiency):
    """Duration = man-days ÷ crew ÷ availability ÷ efficiency (NAVEDTRA 14045 page 2-28, public domain).

    The firm's productive hours a day are the 8 hours less what availability and efficiency take of them.
    """
    productive = D(8) * D(availability) * D(efficiency)
    crewed = replace(SETTINGS, crew_size=crew, productive_hours_a_day=productive)
    expected = 66 / Fraction(crew) / Fraction(availability) / Fraction(efficiency)
    assert days_of(D(528), crewed) == expected
