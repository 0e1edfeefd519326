"""When something is dry: days of work, and the nights between them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from service.firm import FirmSettings
    from service.trade.book import TradeBook

HOURS_IN_DAY = 24
HUNDREDTHS = 100


class Moment(NamedTuple):
    """A moment on the job: elapsed day, from 0, and productive hours of it that have passed."""

    day: int
    hour: Fraction


@dataclass(frozen=True, slots=True)
class Hours:
    """How a crew's time runs.

    Attributes:
        crew: people.
        day: productive hours of one day. [hours]
        night: between two days of work. [hours]
        longest_idle: the crew waits no longer on the job. [hours]
        shortest_stay: the crew doesn't come for less. [hours]
    """

    crew: int
    day: Fraction
    night: Fraction
    longest_idle: Fraction
    shortest_stay: Fraction

    @classmethod
    def of(cls, settings: FirmSettings, book: TradeBook) -> Hours:
        """The firm's crew and day; the trade book `labor.overnight`, `labor.longest-idle`, `labor.shortest-stay`."""
        day = Fraction(settings.productive_hours_a_day)
        night, idle, stay = (
            max(Fraction(book.value(entry)), Fraction(0))
            for entry in ("labor.overnight", "labor.longest-idle", "labor.shortest-stay")
        )
        return cls(settings.crew_size, day, min(night, HOURS_IN_DAY - day), idle, min(stay, day))

    @property
    def capacity(self) -> int:
        """Person-hours of a day in hundredths, at least one."""
        return max(1, math.floor(self.crew * self.day * HUNDREDTHS))

    def moment(self, day: int, used: int) -> Moment:
        """When so many hundredths of a day's person-hours are done."""
        return Moment(day, Fraction(used, HUNDREDTHS * self.crew))

    def used(self, moment: Moment) -> int:
        """Hundredths of a day's person-hours that have passed at a moment, rounded up."""
        return math.ceil(moment.hour * self.crew * HUNDREDTHS)

    def is_worth_coming(self, moment: Moment) -> bool:
        """True when enough of a day is left at a moment for the crew to come."""
        return self.used(moment) < self.capacity and self.day - moment.hour >= self.shortest_stay

    def passed(self, start: Moment, end: Moment) -> Fraction:
        """Hours that surely pass between two moments: the rest of the day, the night, whole days between. [hours]"""
        if start.day == end.day:
            return end.hour - start.hour
        between = end.day - start.day - 1
        return self.day - start.hour + self.night + between * HOURS_IN_DAY + end.hour

    def dry(self, start: Moment, wait: Fraction) -> Moment:
        """The first moment of a day of work at which a wait that begins at `start` has passed.

        Args:
            start: when it begins.
            wait: how long it takes. [hours]
        """
        if start.hour + wait <= self.day:
            return Moment(start.day, start.hour + wait)
        left = wait - (self.day - start.hour) - self.night
        whole = max(0, math.floor(left / HOURS_IN_DAY))
        hour = max(Fraction(0), left - whole * HOURS_IN_DAY)
        day = start.day + 1 + whole
        return Moment(day, hour) if hour <= self.day else Moment(day + 1, Fraction(0))
