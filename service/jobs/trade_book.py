"""The trade book as a firm uses it: every entry, with the firm's own value in force where its price list has one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.jobs.desk import Refused
from service.jobs.price_lists import price_list_for
from service.trade.book import overridden, shipped_book

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from service.jobs.desk import Desk
    from service.problems import Problem
    from service.trade.book import Entry, Source


@dataclass(frozen=True, slots=True)
class EntryInForce:
    """An entry as it ships, where its number comes from, and the firm's own in its place, if it has one."""

    shipped: Entry
    source: Source
    own: Entry | None = None

    @property
    def is_in_range(self) -> bool:
        """False where the firm's own value lies outside the entry's range."""
        return self.own is None or self.own.low <= self.own.value <= self.own.high


@dataclass(frozen=True, slots=True)
class BookInForce:
    """All entries by key, and what is worth saying of the firm's own values."""

    entries: Mapping[str, EntryInForce]
    problems: tuple[Problem, ...] = ()


def trade_book_in_force(desk: Desk, firm_id: str, price_list: str | None) -> BookInForce | Refused:
    """The trade book; with a price list's name, as that list has it, with its warnings of strange values and keys.

    Args:
        desk: the office's.
        firm_id: whose price list.
        price_list: its name; None for the book as it ships.

    Returns:
        The book, or `price-list-unknown`.
    """
    if price_list is None:
        return _in_force((), ())
    found = price_list_for(desk, firm_id, price_list, None)
    if isinstance(found, Refused):
        return found
    own, problems = overridden(shipped_book(), {item.entry: (item.value, item.source) for item in found.overrides})
    return _in_force((own[item.entry] for item in found.overrides if item.entry in own), problems)


def _in_force(own: Iterable[Entry], problems: tuple[Problem, ...]) -> BookInForce:
    book, by_key = shipped_book(), {entry.key: entry for entry in own}
    return BookInForce(
        {entry.key: EntryInForce(entry, book.sources[entry.source], by_key.get(entry.key)) for entry in book}, problems
    )
