"""Bought boards drawn to scale, each with its pieces in sawing order and what is left."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from reportlab.graphics.shapes import Drawing, Line, Polygon, String
from reportlab.lib.colors import black, white

from service.documents.fonts import BOLD, REGULAR, fitted, one_line, width
from service.documents.tagging import Picture
from service.documents.words import length_text
from service.estimate.cuts.nesting import is_one_cut

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from service.estimate.cuts.model import Pattern, Piece, ProfileBoards
    from service.units import Length, Units

BAR_PT = 17.0
TYPE_PT = 10.0
SMALL_PT = 9.0
NUMBER_PT = 74.0
LENGTH_AT_PT = 22.0
BELOW_PT = 12.0
SLANT_PT = 3.0
ON_HAND = "offcut on hand"
NOTE = "Each board to the scale of the longest of its profile; pieces in sawing order from the left, waste hatched."
SHARED_NOTE = "A slanted line between two pieces: one cut makes both ends; saw once and keep both sides."
LABEL_NOTE = "Write the label under an offcut on it."


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of a bar: where it lies, and what it is called at full length and in short. [pt]

    `shares_left`, `shares_right`: one cut makes that end and the neighbor's.
    """

    left: float
    right: float
    words: tuple[str, ...]
    is_piece: bool
    shares_left: bool = False
    shares_right: bool = False

    @property
    def size(self) -> float:
        """How long it is drawn. [pt]"""
        return self.right - self.left

    @property
    def middle(self) -> float:
        """Where its middle is drawn. [pt]"""
        return (self.left + self.right) / 2


class Below(NamedTuple):
    """Words under a bar: what they belong to the middle of, and whether they start there. [pt]"""

    text: str
    at: float
    is_bold: bool = False
    is_pointing: bool = True


ON_HAND_BELOW = Below(ON_HAND, LENGTH_AT_PT, is_pointing=False)


def sticks_note(profiles: Iterable[ProfileBoards], pieces: Mapping[str, Piece]) -> str:
    """How the stick plans are read; shared cuts and labels are told of where there are any."""
    patterns = [pattern for boards in profiles for pattern in boards.patterns]
    shared = any(any(_shared(_found(pattern, pieces))) for pattern in patterns)
    kept = any(pattern.offcut for pattern in patterns)
    return " ".join((NOTE, *([SHARED_NOTE] if shared else []), *([LABEL_NOTE] if kept else [])))


def stick(
    pattern: Pattern, pieces: Mapping[str, Piece], units: Units, width_pt: float, longest: Length, label: str = ""
) -> Picture:
    """One board: number, bar, pieces by mark and length, offcut open with its label below, waste hatched.

    Args:
        pattern: the board.
        pieces: the quote's pieces by mark.
        units: how lengths are printed.
        width_pt: width of the drawing; the longest board of the profile fills it. [pt]
        longest: that board's length. [Length]
        label: what to write on the offcut.
    """
    scale = (width_pt - NUMBER_PT - 1) / (float(longest) or 1.0)
    parts = parts_of(pattern, pieces, units, scale)
    rows = _rows_below([*([ON_HAND_BELOW] if pattern.is_offcut else []), *_below(parts, label)], width_pt)
    foot = BELOW_PT * (max((row for row, _, _ in rows), default=-1) + 1)
    drawing = Drawing(width_pt, foot + BAR_PT + 3)
    level = foot + BAR_PT / 2 - TYPE_PT * 0.34
    _string(drawing, 0, level, str(pattern.number), TYPE_PT + 1, is_bold=True)
    _string(drawing, LENGTH_AT_PT, level, length_text(pattern.length, units), TYPE_PT, is_bold=False)
    for part in parts:
        _part(drawing, part, foot)
    for row, left, words in rows:
        _words_below(drawing, row, left, words, foot)
    return Picture(drawing, _told(pattern, parts, units, label))


def _told(pattern: Pattern, parts: Sequence[Part], units: Units, label: str) -> str:
    said = ", ".join(f"{part.words[0]}{' (one cut with the next)' if part.shares_right else ''}" for part in parts)
    on_hand, on_it = f", {ON_HAND}" if pattern.is_offcut else "", f"; write on the offcut: {label}" if label else ""
    return f"Board {pattern.number}, {length_text(pattern.length, units)}{on_hand}: {said}{on_it}"


def parts_of(pattern: Pattern, pieces: Mapping[str, Piece], units: Units, scale: float) -> list[Part]:
    """Pieces in order with the kerf as gaps between them, then offcut, then waste, across the bar. [pt]"""
    found = _found(pattern, pieces)
    shared = [False, *_shared(found), False]
    gap = float(pattern.kerf) / max(len(found), 1) * scale
    at, parts = NUMBER_PT, []
    for place, piece in enumerate(found):
        size = float(piece.long_point) * scale
        mark = one_line(piece.mark)
        words = f"{mark}  {length_text(piece.long_point, units)}", mark
        ends = {"shares_left": shared[place], "shares_right": shared[place + 1]}
        parts.append(Part(at, at + size, words, is_piece=True, **ends))
        at += size + gap
    return [*parts, *_remainders(pattern, units, at, scale)]


def _found(pattern: Pattern, pieces: Mapping[str, Piece]) -> list[Piece]:
    return [pieces[mark] for mark in pattern.pieces if mark in pieces]


def _shared(pieces: Sequence[Piece]) -> list[bool]:
    return [is_one_cut(one.right, two.left) for one, two in pairwise(pieces)]


def _remainders(pattern: Pattern, units: Units, at: float, scale: float) -> Iterator[Part]:
    for name, length in (("offcut", pattern.offcut), ("waste", pattern.waste)):
        size = float(length) * scale
        if size > 0:
            text = length_text(length, units)
            words = (f"{name} {text}", text) if name == "offcut" else (f"waste {text}", "")
            yield Part(at, at + size, words, is_piece=False)
            at += size


def _words_inside(part: Part) -> str:
    """The longest of the part's words that fits within it; empty when none does."""
    fits = (word for word in part.words if width(word, TYPE_PT, bold=part.is_piece) <= part.size - 2 * SLANT_PT)
    return next(fits, "")


def _below(parts: Sequence[Part], label: str) -> Iterator[Below]:
    """Words that fit in no part, and the offcut's label."""
    for part in parts:
        is_offcut = part.words[0].startswith("offcut ")
        if part.words[-1] and not _words_inside(part) and not (is_offcut and label):
            yield Below(part.words[-1], part.middle, part.is_piece)
        if is_offcut and label:
            yield Below(label, part.middle)


def _part(drawing: Drawing, part: Part, foot: float) -> None:
    drawing.add(Polygon(_outline(part, foot + 1), fillColor=white, strokeColor=black, strokeWidth=0.7))
    if part.words[0].startswith("waste"):
        _hatch(drawing, part, foot + 1)
    word = _words_inside(part)
    if not word:
        return
    size = width(word, TYPE_PT, bold=part.is_piece)
    left = part.left + (part.size - size) / 2
    if not part.is_piece:
        corners = _box(left - 1.5, foot + 4, left + size + 1.5, foot + BAR_PT - 2)
        drawing.add(Polygon(corners, fillColor=white, strokeColor=None))
    _string(drawing, left, foot + 1 + BAR_PT / 2 - TYPE_PT * 0.34, word, TYPE_PT, is_bold=part.is_piece)


def _outline(part: Part, bottom: float) -> list[float]:
    """Corners of a part, its shared ends leaning right."""
    slant = min(SLANT_PT, part.size / 4)
    left, right = slant * part.shares_left, slant * part.shares_right
    top = bottom + BAR_PT
    return [part.left - left, bottom, part.right - right, bottom, part.right + right, top, part.left + left, top]


def _box(left: float, bottom: float, right: float, top: float) -> list[float]:
    return [left, bottom, right, bottom, right, top, left, top]


def _hatch(drawing: Drawing, part: Part, bottom: float) -> None:
    for i in range(int(part.size // 5) + 1):
        x = part.left + i * 5
        right = min(x + 6, part.right)
        drawing.add(Line(x, bottom, right, bottom + BAR_PT * (right - x) / 6, strokeWidth=0.35, strokeColor=black))


def _rows_below(words: Sequence[Below], width_pt: float) -> list[tuple[int, float, Below]]:
    """Words in rows under the bar, each under what it belongs to, none over another."""
    ends: list[float] = []
    placed = []
    for one in words:
        text = fitted(one_line(one.text), SMALL_PT, width_pt, bold=one.is_bold)
        size = width(text, SMALL_PT, bold=one.is_bold)
        wanted = one.at - size / 2 if one.is_pointing else one.at
        left = min(max(wanted, 0.0), width_pt - size)
        row = next((i for i, end in enumerate(ends) if end + 4 <= left), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = left + size
        placed.append((row, left, one._replace(text=text)))
    return placed


def _words_below(drawing: Drawing, row: int, left: float, words: Below, foot: float) -> None:
    y = foot - (row + 1) * BELOW_PT + 2.5
    _string(drawing, left, y, words.text, SMALL_PT, is_bold=words.is_bold)
    if words.is_pointing:
        drawing.add(Line(words.at, foot, words.at, y + SMALL_PT * 0.88, strokeWidth=0.4, strokeColor=black))


def _string(drawing: Drawing, x: float, y: float, text: str, size: float, *, is_bold: bool) -> None:
    drawing.add(String(x, y, text, fontName=BOLD if is_bold else REGULAR, fontSize=size))
