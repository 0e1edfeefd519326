"""Trade-book entries and how a firm overrides them."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Any

from service.problems import Code, Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping


class Grade(StrEnum):
    """How well a number is known."""

    PUBLISHED = "published"
    LAW = "law"
    MAKER = "maker"
    COMMON_PRACTICE = "common-practice"
    ASSUMPTION = "assumption"
    FIRM = "firm"


@dataclass(frozen=True, slots=True)
class Source:
    """A publication: full reference, and whether its page was at hand (`seen`) or it is from memory."""

    id: str
    reference: str
    seen: bool


@dataclass(frozen=True, slots=True)
class Entry:
    """One number: value and allowed range in `unit`, meaning in words, source and page, grade."""

    key: str
    value: Decimal
    unit: str
    meaning: str
    low: Decimal
    high: Decimal
    source: str
    page: str
    grade: Grade


class TradeBook:
    """Entries by key; immutable."""

    __slots__ = ("_entries", "sources")

    def __init__(self, entries: Mapping[str, Entry], sources: Mapping[str, Source]) -> None:
        """Keep a copy of the entries and the sources they name."""
        self._entries = dict(entries)
        self.sources = dict(sources)

    def __getitem__(self, key: str) -> Entry:
        """Entry by key; KeyError when there is none: a stage asks only for entries that ship."""
        return self._entries[key]

    def __iter__(self) -> Iterator[Entry]:
        """Entries, by key."""
        return iter(self._entries[key] for key in sorted(self._entries))

    def __contains__(self, key: str) -> bool:
        """True when there is such an entry."""
        return key in self._entries

    def value(self, key: str) -> Decimal:
        """Value of an entry, in its unit."""
        return self._entries[key].value


@cache
def shipped_book() -> TradeBook:
    """The book that ships with the program, read once from the `.toml` files beside this module."""
    folder = resources.files(__package__)
    sources = {
        key: Source(key, item["reference"], item["seen"])
        for key, item in tomllib.loads((folder / "sources.toml").read_text("utf-8")).items()
    }
    entries: dict[str, Entry] = {}
    for file in sorted(folder.iterdir(), key=lambda item: item.name):
        if file.name.endswith(".toml") and file.name != "sources.toml":
            table = tomllib.loads(file.read_text("utf-8"), parse_float=Decimal)
            subject = file.name.removesuffix(".toml")
            entries |= {f"{subject}.{key}": _entry(f"{subject}.{key}", item) for key, item in table.items()}
    return TradeBook(entries, sources)


def _entry(key: str, item: Mapping[str, Any]) -> Entry:
    low, high = item["range"]
    return Entry(
        key=key,
        value=Decimal(str(item["value"])),
        unit=str(item["unit"]),
        meaning=str(item["meaning"]),
        low=Decimal(str(low)),
        high=Decimal(str(high)),
        source=str(item["source"]),
        page=str(item["page"]),
        grade=Grade(str(item["grade"])),
    )


def overridden(book: TradeBook, values: Mapping[str, tuple[Decimal, str]]) -> tuple[TradeBook, tuple[Problem, ...]]:
    """The book with a firm's own values, each with its own source; unknown keys and strange values are told.

    Args:
        book: the book to start from.
        values: entry key to (value in the entry's unit, where the firm has it from).

    Returns:
        The new book, and a warning for each value outside the entry's range or key that is not in the book.
    """
    entries = {entry.key: entry for entry in book}
    problems = []
    for position, (key, (value, source)) in enumerate(values.items()):
        place = f"/trade/{position}"
        if key not in entries:
            problems.append(_unknown(key, place))
            continue
        entry = entries[key]
        if not entry.low <= value <= entry.high:
            problems.append(_out_of_range(entry, value, place))
        entries[key] = replace(entry, value=value, source=source, page="", grade=Grade.FIRM)
    return TradeBook(entries, book.sources), tuple(problems)


def _unknown(key: str, place: str) -> Problem:
    return Problem(
        Code.TRADE_VALUE_OUT_OF_RANGE, Severity.WARNING, place,
        "The trade book has no such entry; the value was not used.", "Use a key from the trade book.", key,
    )  # fmt: skip


def _out_of_range(entry: Entry, value: Decimal, place: str) -> Problem:
    return Problem(
        Code.TRADE_VALUE_OUT_OF_RANGE, Severity.WARNING, place,
        f"{entry.key} is usually {entry.low} to {entry.high} {entry.unit}; the firm's value was used.",
        "Check the value and its unit.", str(value),
    )  # fmt: skip
