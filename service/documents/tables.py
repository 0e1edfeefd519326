"""Tables with the house's type in every cell."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportlab.platypus import Table

from service.documents.fonts import REGULAR
from service.documents.styles import ACCENT, INK, RULE
from service.documents.tagging import data_table, layout_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reportlab.platypus import Flowable

Command = tuple[Any, ...]
FRESH_PAGE_PT = 520.0

PLAIN: tuple[Command, ...] = (
    ("FONT", (0, 0), (-1, -1), REGULAR, 9.5),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 1.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
)
HEADED: tuple[Command, ...] = (
    ("LINEBELOW", (0, 0), (-1, 0), 0.9, ACCENT),
    ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
)
MIDDLE: tuple[Command, ...] = (("VALIGN", (0, 1), (-1, -1), "MIDDLE"),)
RULED: tuple[Command, ...] = (("LINEBELOW", (0, 1), (-1, -1), 0.35, RULE),)
GRID: tuple[Command, ...] = (
    ("GRID", (0, 0), (-1, -1), 0.5, INK),
    ("LINEBELOW", (0, 0), (-1, 0), 1.1, INK),
    ("LEFTPADDING", (0, 0), (-1, -1), 3),
    ("RIGHTPADDING", (0, 0), (-1, -1), 3),
    ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
)


class WholeRows(Table):
    """A table that splits over pages between rows, and within one only when that row is taller than a page."""

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803 - the toolkit's names
        """Parts before and after the page's end."""
        self.splitInRow = 0
        parts = super().split(availWidth, availHeight)
        if parts or availHeight < FRESH_PAGE_PT:
            return parts
        self.splitInRow = 1
        return super().split(availWidth, availHeight)


def table(
    rows: Sequence[Sequence[Any]],
    widths: Sequence[float],
    *commands: Command,
    headed: bool = False,
    heights: Sequence[float | None] | None = None,
    is_layout: bool = False,
) -> Table:
    """A table whose rows may split over pages when one is taller than a page; a heading row is repeated.

    Args:
        rows: cells, paragraphs for anything a person wrote.
        widths: of the columns. [pt]
        commands: style beyond the plain one.
        headed: the first row is a heading.
        heights: least heights of rows; None: as tall as its text. [pt]
        is_layout: it only sets things side by side and is not read as a table.
    """
    tags: Any = layout_table if is_layout else data_table
    return WholeRows(
        [list(row) for row in rows],
        colWidths=list(widths),
        minRowHeights=[height or 0 for height in heights] if heights else None,
        repeatRows=1 if headed else 0,
        splitByRow=1,
        hAlign="LEFT",
        renderCB=tags,
        style=[*PLAIN, *commands],
    )
