"""What to buy and load: boards by profile and length, supplies in whole packages. No prices."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.documents.boxes import tick_box
from service.documents.styles import FIELD_NOTE, FIELD_SECTION, FIGURE, FIGURE_BOLD, HEADING_CELL, heading, said
from service.documents.tables import GRID, MIDDLE, Command, table
from service.documents.words import length_text, plain

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from reportlab.platypus import Flowable

    from service.estimate.quote.model import Quote, SupplyCard

LEAST_ROW_PT = 22.0
TICK_PT = 36.0


def boards_to_order(quote: Quote, width_pt: float) -> list[Flowable]:
    """Boards of every profile by length, with a box to tick at the truck, or nothing."""
    words = descriptions(quote)
    rows: list[Sequence[Flowable | str]] = [
        (
            tick_box(),
            said("" if i else boards.profile, FIGURE_BOLD),
            said("" if i else words.get(boards.profile, ""), FIELD_NOTE),
            said(length_text(item.length, quote.units) + (" offcut on hand" if item.is_offcut else ""), FIGURE),
            said(str(item.count), FIGURE_BOLD),
        )
        for boards in quote.boards
        for i, item in enumerate(boards.purchases)
    ]
    if not rows:
        return []
    names = ("loaded", "profile", "description", "length", "boards")
    return [*heading("Boards to order", FIELD_SECTION), listed(names, rows, (0.26, 0.42, 0.2, 0.12), width_pt)]


def supplies_to_order(quote: Quote, width_pt: float) -> list[Flowable]:
    """Supplies in whole packages with what the work takes, or nothing."""
    rows: list[Sequence[Flowable | str]] = [
        (
            tick_box(),
            said(item.description, FIGURE_BOLD),
            said(item.code, FIELD_NOTE),
            said(package_text(item), FIGURE),
            said(f"{plain(item.need)} {item.unit}", FIGURE),
        )
        for item in quote.supplies
    ]
    if not rows:
        return []
    names = ("loaded", "supply", "code", "packages", "the work takes")
    return [*heading("Supplies to order", FIELD_SECTION), listed(names, rows, (0.38, 0.18, 0.24, 0.2), width_pt)]


def package_text(item: SupplyCard) -> str:
    """`2 × 1,000 each`, or `3 gal` where a package is one unit."""
    if item.package_size == 1:
        return f"{item.packages} {item.unit}"
    return f"{item.packages} × {plain(item.package_size)} {item.unit}"


def descriptions(quote: Quote) -> Mapping[str, str]:
    """Description of each code on the quote's lines."""
    return {line.code: line.description for line in reversed(quote.lines)}


def listed(
    names: Sequence[str], rows: Sequence[Sequence[Flowable | str]], shares: Sequence[float], width_pt: float
) -> Flowable:
    """A table with boxes to tick in its first column; the others share the rest of the width."""
    rest = width_pt - TICK_PT
    cells = [[said(name, HEADING_CELL) for name in names], *rows]
    boxes: tuple[Command, ...] = (("ALIGN", (0, 1), (0, -1), "CENTER"),)
    heights: list[float | None] = [None, *[LEAST_ROW_PT] * len(rows)]
    widths = (TICK_PT, *(share * rest for share in shares))
    return table(cells, widths, *GRID, *MIDDLE, *boxes, headed=True, heights=heights)
