"""What a profile can be bought in: its stock lengths, less what the ends lose."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.money import to_cents
from service.problems import Code
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable
    from decimal import Decimal

    from service.estimate.takeoff.model import Run
    from service.firm import PriceList, Stock
    from service.problems import Problems
    from service.units import Length


@dataclass(frozen=True, slots=True)
class Choice:
    """One length on the price list.

    Attributes:
        length: as sold. [Length]
        usable: length less the end trim of both ends. [Length]
        price: one board, whole cents. [money]
        available: how many there are; None: no limit.
        is_offcut: on hand, from an earlier job.
    """

    length: Length
    usable: Length
    price: Decimal
    available: int | None
    is_offcut: bool


@dataclass(frozen=True, slots=True)
class Shelf:
    """Every length in which one profile can be had, the longest first."""

    profile: str
    choices: tuple[Choice, ...]

    @property
    def longest(self) -> Length:
        """The longest piece that any board holds. [Length]"""
        return self.choices[0].usable

    @property
    def longest_unlimited(self) -> Length:
        """The longest piece of which there is no end; zero where every length is limited. [Length]"""
        return max((choice.usable for choice in self.choices if choice.available is None), default=ZERO)

    def next_below(self, limit: Length) -> Length | None:
        """The longest piece that a board shorter than `limit` holds; None when there is none. [Length]"""
        return max((choice.usable for choice in self.choices if choice.usable < limit), default=None)


def shelves_of(runs: Iterable[Run], price_list: PriceList, problems: Problems) -> dict[str, Shelf]:
    """Shelf of every profile that the runs need; one without stock is a fault and left out."""
    shelves: dict[str, Shelf] = {}
    missing: set[str] = set()
    for run in runs:
        name = run.profile.name
        if name in shelves or name in missing:
            continue
        choices = _choices(name, price_list)
        if choices:
            shelves[name] = Shelf(name, choices)
        else:
            missing.add(name)
            _tell_missing(run, problems)
    return shelves


def _choices(profile: str, price_list: PriceList) -> tuple[Choice, ...]:
    trim = price_list.settings.end_trim
    rows = (_choice(row, trim) for row in price_list.stock if row.profile == profile)
    usable = (choice for choice in rows if choice.usable > ZERO and choice.available != 0)
    return tuple(sorted(usable, key=lambda choice: (-choice.length.inches, choice.price)))


def _choice(row: Stock, trim: Length) -> Choice:
    return Choice(row.length, row.length - trim, to_cents(row.price), row.available, row.is_offcut)


def _tell_missing(run: Run, problems: Problems) -> None:
    problems.error(
        Code.STOCK_MISSING,
        run.trim_pointer,
        f"The price list has no length of {run.profile.name} to cut from; {run.assembly} needs it in {run.room_name}.",
        help="Add a row for the profile on the tab Stock, longer than the end trim.",
        found=run.profile.name,
    )
