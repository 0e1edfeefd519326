"""Every number of the trade book is somebody's, and within its own range."""

from __future__ import annotations

import ast
import re

import pytest

from service.trade.book import Grade, shipped_book

BOOK = shipped_book()
ENTRIES = list(BOOK)
SUBJECTS = {entry.key.partition(".")[0] for entry in ENTRIES}
KEY = re.compile(r"^(trade:)?(?P<key>[a-z_]+(-[a-z_]+)*\.[a-z0-9_.-]+)$")


def test_book_is_not_empty():
    """The book ships with entries in several subjects."""
    assert len(ENTRIES) >= 20
    assert len(SUBJECTS) >= 3


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.key)
def test_entry_is_whole(entry):
    """An entry has a known source, a unit, a meaning and a range that holds its value."""
    assert entry.source in BOOK.sources
    assert entry.unit
    assert entry.meaning
    assert entry.low <= entry.value <= entry.high
    assert entry.low < entry.high or entry.grade is Grade.LAW


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.key)
def test_published_number_has_its_place(entry):
    """A published number or a law's names the page, table or section, unless its source says it is from memory."""
    is_printed = entry.grade in {Grade.PUBLISHED, Grade.LAW}
    assert entry.page or not is_printed or not BOOK.sources[entry.source].seen


def test_every_source_is_used():
    """No publication is listed that no entry rests on."""
    assert set(BOOK.sources) == {entry.source for entry in ENTRIES}


def test_every_key_in_the_program_is_in_the_book(shipped_python):
    """A trade-book key written in the estimate stands in the book."""
    written = {
        found["key"]: f"{file}:{node.lineno}"
        for file in shipped_python
        if file.is_in("service/estimate")
        for node in ast.walk(file.tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and (found := KEY.match(node.value))
        if found["key"].partition(".")[0] in SUBJECTS
    }
    assert len(written) >= 10
    assert {key: place for key, place in written.items() if key not in BOOK} == {}
