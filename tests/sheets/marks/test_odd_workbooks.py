"""Workbooks damaged at random: what the guard lets through is marked, or refused as unpatchable, and nothing else."""

from __future__ import annotations

import io
import re
import zipfile

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.problems import Cell, Code, Problem, Severity
from service.sheets.guard import inspected
from service.sheets.marks import UnpatchableError, marked
from tests.sheets.marks.examples import packed, parts
from tests.sheets.marks.test_notes import OWN_NOTE, PLAIN_NOTE, TALK, noted_book

SOUND = parts(noted_book(OWN_NOTE, PLAIN_NOTE, TALK))
NAMES = sorted(SOUND)
WORDS = [
    b"", b'""', b'"-1"', b'"999999999999"', b'"A1"', b'"XFD1048576"', b'"rId1"', b'"rId9"', b'"External"', b"<x/>", b"&amp;",
    b'"nan"', b'"1e999"', b'"s"', b'"e"', b'"inlineStr"', b"</r>", b' count="0"', b' priority="1"', b' hidden="1" ht="0"',
]  # fmt: skip
FAULTS = tuple(
    Problem(Code.VALUE_NOT_IN_LIST, severity, f"/rooms/{number}", "Wrong.", "Type.", "found", Cell("Walls", address))
    for number, (address, severity) in enumerate(
        [("C2", Severity.ERROR), ("D5", Severity.WARNING), ("A1", Severity.NOTE), ("XFD1048576", Severity.ERROR)]
    )
)
TOKEN = re.compile(rb'"[^"]*"|<[^>]*>|[^<]+')
SLOWLY = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def damaged(name: str, place: int, word: bytes) -> bytes:
    """One attribute value, tag or text of a part replaced."""
    tokens = list(TOKEN.finditer(SOUND[name]))
    match = tokens[place % len(tokens)]
    content = SOUND[name][: match.start()] + word + SOUND[name][match.end() :]
    return packed(SOUND | {name: content})


@SLOWLY
@given(name=st.sampled_from(NAMES), place=st.integers(0, 400), word=st.sampled_from(WORDS))
def test_damage_never_surprises(name, place, word):
    """A workbook that the guard lets through comes back as a sound archive that the guard lets through, or is unpatchable."""
    data = damaged(name, place, word)
    if inspected(data).problems:
        return
    try:
        copy = marked(data, FAULTS)
    except UnpatchableError:
        return
    assert inspected(copy).problems == ()
    assert inspected(marked(copy, FAULTS)).problems == ()


def test_what_is_not_damaged_is_marked():
    """The workbook that the damage is done to is itself let through and marked: the test above can fail."""
    data = packed(SOUND)
    assert inspected(data).problems == ()
    assert zipfile.is_zipfile(io.BytesIO(marked(data, FAULTS)))
