"""What the signs of a plan mean, in rows under it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Circle, Line, String
from reportlab.lib.colors import black

from service.documents.fonts import BOLD, REGULAR, fitted, width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

TYPE_PT = 8.0
ROW_PT = 12.0
SIGN_PT = 20.0
GAP_PT = 14.0

Shape = Line | Circle | String


@dataclass(frozen=True, slots=True)
class Entry:
    """A sign and what it means."""

    sign: str
    text: str


def legend_height(entries: Sequence[Entry], room_pt: float) -> float:
    """Height of the rows that the entries take. [pt]"""
    rows = max((row for row, _, _ in _placed(entries, room_pt)), default=-1) + 1
    return rows * ROW_PT + 4.0 if rows else 0.0


def lay_legend(entries: Sequence[Entry], room_pt: float, height_pt: float) -> Iterator[Shape]:
    """Shapes of the legend, from the top of a strip of the given height downward."""
    for row, left, entry in _placed(entries, room_pt):
        middle = height_pt - 4.0 - (row + 0.5) * ROW_PT
        yield from _sign(entry.sign, left, middle)
        text = fitted(entry.text, TYPE_PT, room_pt - SIGN_PT - 4)
        yield String(left + SIGN_PT + 4, middle - TYPE_PT * 0.34, text, fontName=REGULAR, fontSize=TYPE_PT)


def _placed(entries: Sequence[Entry], room_pt: float) -> Iterator[tuple[int, float, Entry]]:
    row, left = 0, 0.0
    for entry in entries:
        needed = SIGN_PT + 4 + width(entry.text, TYPE_PT)
        if left and left + needed > room_pt:
            row, left = row + 1, 0.0
        yield row, left, entry
        left += needed + GAP_PT


def _line(left: float, y: float, right: float, top: float, weight: float) -> Line:
    return Line(left, y, right, top, strokeWidth=weight, strokeColor=black)


def _sign(sign: str, left: float, y: float) -> Iterator[Shape]:
    right, middle = left + SIGN_PT, left + SIGN_PT / 2
    match sign:
        case "lanes":
            yield _line(left, y - 3, right, y - 3, 2.4)
            yield _line(left, y + 1, right, y + 1, 0.7)
            yield _line(left, y + 4, right, y + 4, 0.7)
        case "mark":
            yield String(middle, y - TYPE_PT * 0.34, "00", fontName=BOLD, fontSize=TYPE_PT, textAnchor="middle")
        case "splice":
            yield _line(left, y, right, y, 0.7)
            yield _line(middle - 3, y - 4, middle + 3, y + 4, 1.2)
        case "plate":
            yield _line(left, y, right, y, 0.7)
            yield _line(middle - 4.5, y - 4, middle + 1.5, y + 4, 1.2)
            yield _line(middle - 1.5, y - 4, middle + 4.5, y + 4, 1.2)
        case "stud":
            yield _line(left, y - 2, right, y - 2, 2.4)
            yield _line(middle, y - 1, middle, y + 4, 0.9)
        case "joist":
            dashed = _line(left, y, right, y, 0.45)
            dashed.strokeDashArray = [5, 3]
            yield dashed
        case "nail":
            yield _line(left, y, right, y, 0.7)
            yield Circle(middle, y, 1.5, fillColor=black, strokeColor=None)
        case "along":
            yield _line(left, y, right, y, 1.8)
        case _:
            yield _line(left, y, right, y, 0.7)
            for i in range(4):
                yield _line(left + 2 + i * 4, y - 3, left + 8 + i * 4, y + 3, 0.4)
