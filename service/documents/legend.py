"""What the signs of a plan mean, in rows under it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Circle, Line, String
from reportlab.lib.colors import black

from service.documents.fonts import BOLD, REGULAR, fitted, width

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

TYPE_PT = 8.0
ROW_PT = 12.0
SIGN_PT = 20.0
GAP_PT = 14.0
DOT = " · "

Shape = Line | Circle | String


@dataclass(frozen=True, slots=True)
class Entry:
    """A sign and what it means."""

    sign: str
    text: str


def wrapped(entries: Sequence[Entry], room_pt: float) -> list[Entry]:
    """Entries as they fit a row: one that is too long goes on under a blank sign, broken at its dots."""
    found = []
    for entry in entries:
        sign, text = entry.sign, ""
        for part in entry.text.split(DOT):
            longer = f"{text}{DOT}{part}" if text else part
            if text and SIGN_PT + 4 + width(f"{longer}{DOT}", TYPE_PT) > room_pt:
                found.append(Entry(sign, text + DOT.rstrip()))
                sign, longer = "", part
            text = longer
        found.append(Entry(sign, text))
    return found


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
    for entry in wrapped(entries, room_pt):
        needed = SIGN_PT + 4 + width(entry.text, TYPE_PT)
        if left and (left + needed > room_pt or not entry.sign):
            row, left = row + 1, 0.0
        yield row, left, entry
        left += needed + GAP_PT


def _line(left: float, y: float, right: float, top: float, weight: float) -> Line:
    return Line(left, y, right, top, strokeWidth=weight, strokeColor=black)


def _sign(sign: str, left: float, y: float) -> Iterator[Shape]:
    right, middle = left + SIGN_PT, left + SIGN_PT / 2
    drawers: dict[str, Callable[[], Iterator[Shape]]] = {
        "lanes": lambda: _lanes(left, right, y),
        "mark": lambda: iter([_mark(middle, y)]),
        "splice": lambda: _slashes(left, right, y, (0.0,)),
        "plate": lambda: _slashes(left, right, y, (-1.5, 1.5)),
        "stud": lambda: iter([_line(left, y - 2, right, y - 2, 2.4), _line(middle, y - 1, middle, y + 4, 0.9)]),
        "joist": lambda: iter([_dashed(left, right, y)]),
        "nail": lambda: iter([_line(left, y, right, y, 0.7), _dot(middle, y, 1.5)]),
        "along": lambda: iter([_line(left, y, right, y, 1.8)]),
        "casing": lambda: _casing(left, right, y),
        "ceiling": lambda: iter([_ring(middle, y), _dot(middle, y, 1.0)]),
        "hatch": lambda: _hatched(left, right, y),
    }
    yield from drawers.get(sign, lambda: iter(()))()


def _lanes(left: float, right: float, y: float) -> Iterator[Shape]:
    for up, weight in ((-3, 2.4), (1, 0.7), (4, 0.7)):
        yield _line(left, y + up, right, y + up, weight)


def _mark(middle: float, y: float) -> String:
    return String(middle, y - TYPE_PT * 0.34, "00", fontName=BOLD, fontSize=TYPE_PT, textAnchor="middle")


def _slashes(left: float, right: float, y: float, asides: Sequence[float]) -> Iterator[Shape]:
    yield _line(left, y, right, y, 0.7)
    for aside in asides:
        middle = (left + right) / 2 + aside
        yield _line(middle - 3, y - 4, middle + 3, y + 4, 1.2)


def _dashed(left: float, right: float, y: float) -> Line:
    dashed = _line(left, y, right, y, 0.45)
    dashed.strokeDashArray = [5, 3]
    return dashed


def _hatched(left: float, right: float, y: float) -> Iterator[Shape]:
    yield _line(left, y, right, y, 0.7)
    for i in range(4):
        yield _line(left + 2 + i * 4, y - 3, left + 8 + i * 4, y + 3, 0.4)


def _casing(left: float, right: float, y: float) -> Iterator[Shape]:
    for start, end in ((left, left + 5), (right - 5, right)):
        yield _line(start, y - 2, end, y - 2, 2.4)
        yield _line(start + 1, y + 1, end - 1, y + 1, 3.0)


def _ring(middle: float, y: float) -> Circle:
    return Circle(middle, y, 4.0, fillColor=None, strokeColor=black, strokeWidth=0.8)


def _dot(middle: float, y: float, radius: float) -> Circle:
    return Circle(middle, y, radius, fillColor=black, strokeColor=None)
