"""Bought boards drawn to scale, each with its pieces in sawing order and what is left."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Drawing, Line, Polygon, Rect, String
from reportlab.lib.colors import black, white

from service.documents.fonts import BOLD, REGULAR, one_line, width
from service.documents.tagging import Picture
from service.documents.words import length_text

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from service.estimate.cuts.model import Pattern, Piece
    from service.units import Length, Units

BAR_PT = 17.0
TYPE_PT = 10.0
SMALL_PT = 8.0
NUMBER_PT = 74.0
BELOW_PT = 12.0


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of a bar: where it lies, and what it is called at full length and in short. [pt]"""

    left: float
    right: float
    words: tuple[str, ...]
    is_piece: bool

    @property
    def size(self) -> float:
        """How long it is drawn. [pt]"""
        return self.right - self.left


def stick(pattern: Pattern, pieces: Mapping[str, Piece], units: Units, width_pt: float, longest: Length) -> Picture:
    """One board: number, bar, pieces by mark and length, offcut open, waste hatched.

    Args:
        pattern: the board.
        pieces: the quote's pieces by mark.
        units: how lengths are printed.
        width_pt: width of the drawing; the longest board of the profile fills it. [pt]
        longest: that board's length. [Length]
    """
    scale = (width_pt - NUMBER_PT - 1) / (float(longest) or 1.0)
    parts = parts_of(pattern, pieces, units, scale)
    outside = [part for part in parts if part.words and not _words_inside(part)]
    rows = _rows_below(outside, width_pt)
    drawn = max((row for row, _, _ in rows), default=-1) + 1
    foot = drawn * BELOW_PT
    drawing = Drawing(width_pt, foot + BAR_PT + 3)
    _string(drawing, 0, foot + BAR_PT / 2 - TYPE_PT * 0.34, str(pattern.number), TYPE_PT + 1, is_bold=True)
    _string(drawing, 22, foot + BAR_PT / 2 - TYPE_PT * 0.34, length_text(pattern.length, units), TYPE_PT, is_bold=False)
    for part in parts:
        _part(drawing, part, foot)
    for row, left, part in rows:
        y = foot - (row + 1) * BELOW_PT
        _string(drawing, left, y + 2.5, part.words[-1], SMALL_PT, is_bold=part.is_piece)
        middle = (part.left + part.right) / 2
        drawing.add(Line(middle, foot, middle, y + 2.5 + SMALL_PT * 0.75, strokeWidth=0.4, strokeColor=black))
    told = ", ".join(part.words[0] for part in parts)
    return Picture(drawing, f"Board {pattern.number}, {length_text(pattern.length, units)}: {told}")


def parts_of(pattern: Pattern, pieces: Mapping[str, Piece], units: Units, scale: float) -> list[Part]:
    """Pieces in order with the kerf as gaps between them, then offcut, then waste, across the bar. [pt]"""
    found = [pieces[mark] for mark in pattern.pieces if mark in pieces]
    gap = float(pattern.kerf) / max(len(found), 1) * scale
    at, parts = NUMBER_PT, []
    for piece in found:
        size = float(piece.long_point) * scale
        mark = one_line(piece.mark)
        parts.append(Part(at, at + size, (f"{mark}  {length_text(piece.long_point, units)}", mark), is_piece=True))
        at += size + gap
    for name, length in (("offcut", pattern.offcut), ("waste", pattern.waste)):
        size = float(length) * scale
        if size > 0:
            text = length_text(length, units)
            words = (f"{name} {text}", text) if name == "offcut" else (f"waste {text}", "")
            parts.append(Part(at, at + size, words, is_piece=False))
            at += size
    return parts


def _words_inside(part: Part) -> str:
    """The longest of the part's words that fits within it; empty when none does."""
    fits = (word for word in part.words if width(word, TYPE_PT, bold=part.is_piece) <= part.size - 5)
    return next(fits, "")


def _part(drawing: Drawing, part: Part, foot: float) -> None:
    bar = Rect(part.left, foot + 1, part.size, BAR_PT)
    bar.fillColor, bar.strokeColor, bar.strokeWidth = white, black, 0.7
    drawing.add(bar)
    if part.words and part.words[0].startswith("waste"):
        _hatch(drawing, part, foot + 1)
    word = _words_inside(part)
    if not word:
        return
    size = width(word, TYPE_PT, bold=part.is_piece)
    left = part.left + (part.size - size) / 2
    if not part.is_piece:
        box = (
            left - 1.5,
            foot + 4,
            left + size + 1.5,
            foot + 4,
            left + size + 1.5,
            foot + BAR_PT - 2,
            left - 1.5,
            foot + BAR_PT - 2,
        )
        drawing.add(Polygon(list(box), fillColor=white, strokeColor=None))
    _string(drawing, left, foot + 1 + BAR_PT / 2 - TYPE_PT * 0.34, word, TYPE_PT, is_bold=part.is_piece)


def _hatch(drawing: Drawing, part: Part, bottom: float) -> None:
    for i in range(int(part.size // 5) + 1):
        x = part.left + i * 5
        right = min(x + 6, part.right)
        drawing.add(Line(x, bottom, right, bottom + BAR_PT * (right - x) / 6, strokeWidth=0.35, strokeColor=black))


def _rows_below(parts: Sequence[Part], width_pt: float) -> list[tuple[int, float, Part]]:
    """Words that fit in no part, in rows under the bar, each under its part, none over another."""
    ends: list[float] = []
    placed = []
    for part in parts:
        if not part.words[-1]:
            continue
        size = width(part.words[-1], SMALL_PT, bold=part.is_piece)
        left = min(max((part.left + part.right - size) / 2, 0.0), width_pt - size)
        row = next((i for i, end in enumerate(ends) if end + 4 <= left), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = left + size
        placed.append((row, left, part))
    return placed


def _string(drawing: Drawing, x: float, y: float, text: str, size: float, *, is_bold: bool) -> None:
    drawing.add(String(x, y, text, fontName=BOLD if is_bold else REGULAR, fontSize=size))
