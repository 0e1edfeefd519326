"""What a note says, and how large its box must be to show all of it."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from service.sheets.marks.own import FAULTS_TAB, NOTE_END, NOTE_START

if TYPE_CHECKING:
    from service.problems import Problem
    from service.sheets.marks.placing import Mark

WIDTH = 340
_CHARACTERS = 50  # in a line of 340 pixels of 9 point Tahoma, 6.4 pixels a character, 10 at either side
_LINE = 15  # pixels from line to line of that type
_MARGIN = 14
_TALLEST = 620
_LONGEST = 1_600
_SHOWN = 200


def note_text(mark: Mark) -> str:
    """Our part of a cell's note, between the two lines by which it is known again."""
    text = "\n\n".join(_told(problem) for problem in mark.problems)
    if len(text) > _LONGEST:
        text = text[:_LONGEST].rstrip() + f" … (the rest stands on the tab {FAULTS_TAB})"
    return f"{NOTE_START}\n{text}\n{NOTE_END}"


def _told(problem: Problem) -> str:
    lines = [f"{str(problem.severity).capitalize()}: {_short(problem.detail)}"]
    if problem.found:
        lines.append(f"Found: {_short(problem.found)}")
    if problem.help:
        lines.append(f"What to do: {problem.help}")
    return "\n".join(_markless(line) for line in lines)


def _short(text: str) -> str:
    return text if len(text) <= _SHOWN else text[:_SHOWN] + "…"


def _markless(text: str) -> str:
    """A cell may hold the very words that end a note."""
    return text.replace(NOTE_START, "Sheet check").replace(NOTE_END, "end of sheet check")


def height_of(text: str) -> int:
    """Pixels that a text needs in a box of the usual width."""
    lines = sum(max(1, len(textwrap.wrap(line, _CHARACTERS))) for line in text.split("\n"))
    return min(_TALLEST, lines * _LINE + _MARGIN)
