"""What becomes of the boards: offcuts to label and keep, and how much of each profile is waste. No prices."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.documents.boxes import tick_box
from service.documents.fonts import markup
from service.documents.order import LEAST_ROW_PT, listed
from service.documents.styles import FIELD_NOTE, FIELD_SECTION, FIGURE, FIGURE_BOLD, HEADING_CELL, heading, marked, said
from service.documents.tables import GRID, MIDDLE, table
from service.documents.words import length_text, part_text
from service.estimate.quote.offcuts import offcut_label, source_name

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reportlab.platypus import Flowable

    from service.estimate.cuts.model import Pattern, ProfileBoards
    from service.estimate.quote.model import Quote
    from service.units import Length, Units

PROFILE_PT = 96.0
LABEL_NOTE = "Measure each before it goes on the rack; where a cut was shared it may be longer than its label."


def label_of(profile: str, pattern: Pattern, quote: Quote) -> str | None:
    """What to write on the offcut of one board; None where it leaves none to keep."""
    return offcut_label(profile, pattern, source_name(quote), quote.units)


def offcuts_to_keep(quote: Quote, width_pt: float) -> list[Flowable]:
    """Every offcut worth keeping with the label to write on it, and a box to tick at the rack, or nothing."""
    rows: list[Sequence[Flowable | str]] = [
        (
            tick_box(),
            said(boards.profile, FIGURE_BOLD),
            said(length_text(pattern.offcut, quote.units), FIGURE),
            said(str(pattern.number), FIGURE),
            said(label, FIGURE),
        )
        for boards in quote.boards
        for pattern in boards.patterns
        if (label := label_of(boards.profile, pattern, quote))
    ]
    if not rows:
        return []
    names = ("racked", "profile", "at least", "board", "label")
    told = listed(names, rows, (0.18, 0.2, 0.09, 0.53), width_pt)
    return [*heading("Offcuts to keep", FIELD_SECTION), said(LABEL_NOTE, FIELD_NOTE), told]


def use_of_boards(quote: Quote, width_pt: float) -> list[Flowable]:
    """Per profile what the boards become, as lengths and as shares of them, or nothing."""
    rows = [_use(boards, quote.units) for boards in quote.boards if boards.patterns]
    if not rows:
        return []
    names = ("profile", "boards cut up", "in pieces", "saw cuts", "offcuts kept", "waste")
    rest = (width_pt - PROFILE_PT) / (len(names) - 1)
    cells: list[list[Flowable | str]] = [[said(name, HEADING_CELL) for name in names], *rows]
    heights: list[float | None] = [None, *[LEAST_ROW_PT] * len(rows)]
    widths = (PROFILE_PT, *[rest] * (len(names) - 1))
    told = table(cells, widths, *GRID, *MIDDLE, headed=True, heights=heights)
    return [*heading("What the boards become", FIELD_SECTION), told]


def _use(boards: ProfileBoards, units: Units) -> list[Flowable | str]:
    usage = boards.usage
    parts = (usage.pieces, usage.kerf, usage.offcuts, usage.waste)
    whole = said(length_text(usage.boards, units), FIGURE)
    return [said(boards.profile, FIGURE_BOLD), whole, *(_part(part, usage.boards, units) for part in parts)]


def _part(part: Length, whole: Length, units: Units) -> Flowable:
    if not part:
        return said("–", FIGURE)
    return marked(f"{markup(length_text(part, units))}<br/>{markup(part_text(part, whole))}", FIGURE)
