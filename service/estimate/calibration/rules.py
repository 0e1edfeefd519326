"""How rates are compared with hours, which hours are no hours, and how a rate is rounded: from the trade book."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from service.trade.book import Entry, TradeBook


@dataclass(frozen=True, slots=True)
class CalibrationRules:
    """How rates are compared with hours fed back.

    Attributes:
        mad_scale: from median distance to standard deviation. [factor]
        prior_jobs: what the current rate weighs. [jobs]
        least_jobs: fewer propose nothing. [jobs]
        coverage: of the interval. [share]
        figures: of a proposed rate. [figures]
    """

    mad_scale: Decimal
    prior_jobs: Decimal
    least_jobs: int
    coverage: Fraction
    figures: int

    @classmethod
    def of(cls, book: TradeBook) -> CalibrationRules:
        """Rules of a trade book."""
        return cls(
            mad_scale=_bounded(book["calibration.mad-scale"]),
            prior_jobs=_bounded(book["calibration.prior-jobs"]),
            least_jobs=int(_bounded(book["calibration.least-jobs"])),
            coverage=Fraction(_bounded(book["calibration.coverage"])),
            figures=int(_bounded(book["calibration.rate-figures"])),
        )


@dataclass(frozen=True, slots=True)
class BookingRules:
    """Which hours are no hours.

    Attributes:
        most_times_plan: more times the plan, and a working day above it, is a slip. [factor]
        working_day: of one person. [h]
        unlike_plan: so many times the plan, or that part of it, is worth a look. [factor]
        unlike_plan_hours: differences up to this are not. [h]
        most_day_hours: of one person on a day. [h]
        most_people: on one job. [people]
    """

    most_times_plan: Decimal
    working_day: Decimal
    unlike_plan: Decimal
    unlike_plan_hours: Decimal
    most_day_hours: Decimal
    most_people: Decimal

    @classmethod
    def of(cls, book: TradeBook) -> BookingRules:
        """Rules of a trade book."""
        return cls(
            most_times_plan=_bounded(book["calibration.most-times-plan"]),
            working_day=_bounded(book["calibration.working-day"]),
            unlike_plan=_bounded(book["calibration.unlike-plan"]),
            unlike_plan_hours=_bounded(book["calibration.unlike-plan-hours"]),
            most_day_hours=_bounded(book["calibration.most-day-hours"]),
            most_people=_bounded(book["calibration.most-people"]),
        )


def _bounded(entry: Entry) -> Decimal:
    """The entry's value; a firm's own beyond the entry's range counts as the range's end, for no rule works beyond."""
    return min(max(entry.value, entry.low), entry.high)


def to_figures(value: Decimal, figures: int, rounding: str = ROUND_HALF_UP) -> Decimal:
    """Value above zero rounded to so many figures: hours a nail and hours a fan alike keep their meaning.

    Source: trade book `calibration.rate-figures`.
    """
    return value.quantize(Decimal(1).scaleb(value.adjusted() + 1 - figures), rounding=rounding)
