"""Reading the trade book and putting a firm's own values over it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.problems import Code, Severity
from service.trade.book import Grade, overridden, shipped_book

BOOK = shipped_book()
KEY = "fastening.nail-spacing"


def test_value_is_the_entrys():
    """A value is read by key, exact."""
    assert BOOK.value("waste.nails") == Decimal("0.2")
    assert BOOK["waste.nails"].grade is Grade.PUBLISHED


def test_no_value_passed_through_binary():
    """Decimals of the files are kept as written, never as the nearest binary fraction."""
    assert str(BOOK.value("fastening.steel-weight")) == "0.28356"


def test_unknown_key_is_a_programming_fault():
    """Asking for what does not ship raises, it never guesses."""
    assert "fastening.nonsense" not in BOOK
    with pytest.raises(KeyError):
        BOOK.value("fastening.nonsense")


def test_entries_come_in_order_of_their_keys():
    """The book lists its entries by key, each once."""
    keys = [entry.key for entry in BOOK]
    assert keys == sorted(set(keys))


def test_firm_value_goes_first():
    """A firm's value replaces the book's, with the firm as its source and grade."""
    book, problems = overridden(BOOK, {KEY: (Decimal(12), "own jobs 2024")})
    entry = book[KEY]
    assert (entry.value, entry.source, entry.grade) == (12, "own jobs 2024", Grade.FIRM)
    assert problems == ()


def test_shipped_book_stays_as_it_is():
    """Overriding makes a new book."""
    overridden(BOOK, {KEY: (Decimal(12), "own")})
    assert BOOK.value(KEY) == 16


@pytest.mark.parametrize(("value", "is_told"), [(6, False), (24, False), (5, True), (25, True)])
def test_value_out_of_range_is_used_and_told(value, is_told):
    """A value outside the entry's range is used with a warning; the limits themselves are within."""
    book, problems = overridden(BOOK, {KEY: (Decimal(value), "own")})
    assert book.value(KEY) == value
    assert [(p.code, p.severity) for p in problems] == [(Code.TRADE_VALUE_OUT_OF_RANGE, Severity.WARNING)] * is_told


def test_unknown_override_is_told_at_its_row():
    """A key that the book does not have is told at its row of the Trade tab, and the others are used."""
    book, problems = overridden(BOOK, {KEY: (Decimal(12), "own"), "fastening.typo": (Decimal(1), "own")})
    (problem,) = problems
    assert (problem.pointer, problem.found) == ("/trade/1", "fastening.typo")
    assert book.value(KEY) == 12
    assert "fastening.typo" not in book


def test_assumptions_are_marked():
    """What nobody published says so: its grade is assumption and its source names none."""
    for entry in BOOK:
        assert (entry.grade is Grade.ASSUMPTION) == (entry.source == "assumption"), entry.key


def test_from_memory_is_said():
    """Every source that was not at hand says in its reference that it is from memory, or that none exists."""
    words = ("from memory", "no single publication", "Assumption")
    unseen = [source for source in BOOK.sources.values() if not source.seen]
    assert unseen
    assert all(any(word in source.reference for word in words) for source in unseen)
