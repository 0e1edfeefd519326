"""The field sheet: what the lead carries through the rooms. No prices."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import KeepTogether, PageBreak, Spacer

from service.documents.boxes import tick_box
from service.documents.cut_list import cut_list, how_to_read, pieces_of
from service.documents.fastening_table import fastening
from service.documents.labor_plan import work_by_day
from service.documents.leftovers import label_of, offcuts_to_keep, use_of_boards
from service.documents.order import boards_to_order, supplies_to_order
from service.documents.page import pdf_bytes, sheet_of
from service.documents.plan_look import FIELD, levels
from service.documents.plans import plans_by_level
from service.documents.quote_pages import room_facts
from service.documents.remarks import about_the_job, on_site
from service.documents.room_tables import measured
from service.documents.sticks import stick, sticks_note
from service.documents.styles import (
    FIELD_BINDING,
    FIELD_BODY,
    FIELD_MARGIN,
    FIELD_NOTE,
    FIELD_SECTION,
    FIELD_TITLE,
    FIGURE,
    INK,
    heading,
    marked,
    said,
)  # fmt: skip
from service.documents.tables import table
from service.documents.terms import caution_text
from service.documents.walkthrough import checks
from service.documents.words import count_text, created_on, date_text, identity, part_text, plain

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from reportlab.platypus import Flowable

    from service.documents.tagging import Picture
    from service.estimate.cuts.model import Pattern, Piece, ProfileBoards
    from service.estimate.quote.model import Quote, RoomCard
    from service.units import Length

MOST_PLAN_PT = 330.0
TALLEST_PLAN_PT = 600.0
CUT_LIST_PT = 190.0
TITLE = "Field sheet"


def field_sheet_pdf(quote: Quote) -> bytes:
    """The field lead's document: job, cautions and order list; a room a page with plan and cut list; stick plans.

    Holds no price. Black on white, figures 11 pt, rows tall enough to write in, room for punched holes.

    Args:
        quote: the quote.

    Returns:
        A PDF on the firm's paper, every typeface embedded; the same bytes for the same quote.
    """
    sheet = sheet_of(quote, FIELD_MARGIN, binding=FIELD_BINDING)
    story: list[Flowable] = _cover(quote, sheet.width)
    by_day = work_by_day(quote.labor_plan, sheet.width)
    story += [PageBreak(), *by_day] if by_day else []
    for room in quote.rooms:
        story += [PageBreak(), *_room(room, quote, sheet.width)]
    story += [PageBreak(), *_sticks(quote, sheet.width)] if quote.boards else []
    return pdf_bytes(quote, TITLE, sheet, story)


def _cover(quote: Quote, width_pt: float) -> list[Flowable]:
    job = quote.job
    rows = [
        ("Customer", job.customer), ("Phone", job.customer_phone), ("Site", job.site_address),
        ("Measured", " by ".join(x for x in (date_text(job.measured_on) if job.measured_on else "", job.measured_by) if x)),
        ("Year built", str(job.year_built) if job.year_built else "not known"),
        ("Lived in", "yes" if job.occupied else "no"),
        ("Planned", f"{plain(quote.labor_hours, 1)} hours of work, {plain(quote.crew_days, 1)} crew days"),
        ("Notes", job.notes),
    ]  # fmt: skip
    cells = [(marked(f'<font size="9">{name}</font>', FIGURE), said(text, FIGURE)) for name, text in rows if text]
    replaces = f", replaces revision {quote.revision - 1}" if quote.revision > 1 else ""
    return [
        said(f"{TITLE}: {job.job_name}", FIELD_TITLE),
        said(f"{identity(quote)}{replaces} · {date_text(created_on(quote))} · {quote.firm.name}", FIELD_BODY),
        Spacer(1, 6),
        table(cells, (74, width_pt - 74), is_layout=True),
        *_cautions(quote, width_pt),
        *_job_remarks(quote, width_pt),
        *boards_to_order(quote, width_pt),
        *supplies_to_order(quote, width_pt),
        *offcuts_to_keep(quote, width_pt),
        *use_of_boards(quote, width_pt),
    ]


def _cautions(quote: Quote, width_pt: float) -> list[Flowable]:
    if not quote.cautions:
        return []
    items = [caution_text(caution) for caution in quote.cautions]
    return [*heading("Cautions", FIELD_SECTION), _ticks(items, width_pt)]


def _job_remarks(quote: Quote, width_pt: float) -> list[Flowable]:
    remarks = about_the_job(quote)
    return [*heading("Remarks of the estimate", FIELD_SECTION), _ticks(remarks, width_pt)] if remarks else []


def _ticks(items: Sequence[str], width_pt: float) -> Flowable:
    cells = [(tick_box(), said(item, FIELD_BODY)) for item in items]
    return table(cells, (19, width_pt - 19), is_layout=True)


def _room(room: RoomCard, quote: Quote, width_pt: float) -> list[Flowable]:
    pieces = {piece.mark: piece for piece in quote.pieces}
    height = MOST_PLAN_PT * (1.75 if len(levels(room)) > 1 else 1.0)
    plans = plans_by_level(
        room, pieces, quote.units, FIELD, width_pt=width_pt, most_height_pt=height, tallest_pt=TALLEST_PLAN_PT
    )
    story: list[Flowable] = [
        said(f"{room.number}. {room.name}", FIELD_TITLE),
        said(room_facts(room, quote), FIELD_BODY),
        *(item.picture for item in plans),
    ]
    unplaced = [text for item in plans for text in item.unplaced]
    if unplaced:
        story.append(said(f"No room on the plan for: {', '.join(unplaced)}", FIELD_NOTE))
    story += measured(room, quote, width_pt)
    story += [Spacer(1, 4), said(f"Note: {room.notes}", FIELD_BODY)] if room.notes else []
    if pieces_of(room, quote):
        story += [*heading("Cut list", FIELD_SECTION, CUT_LIST_PT), said(how_to_read(quote), FIELD_NOTE), Spacer(1, 3)]
        story.append(cut_list(room, quote, width_pt))
    story += fastening(room, quote, width_pt)
    walk = [said("Walkthrough", FIELD_SECTION), _ticks([*checks(room, quote), *on_site(room, quote)], width_pt)]
    return [*story, KeepTogether([*walk, Spacer(1, 8), _initials(width_pt)])]


def _initials(width_pt: float) -> Flowable:
    third = width_pt / 3
    cells = [[said(text, FIELD_NOTE) for text in ("Walked by", "Date", "Remarks")]]
    return table(
        cells, (third * 0.7, third * 0.6, third * 1.7), ("LINEABOVE", (0, 0), (-1, -1), 0.6, INK), is_layout=True
    )


def _sticks(quote: Quote, width_pt: float) -> list[Flowable]:
    pieces = {piece.mark: piece for piece in quote.pieces}
    story: list[Flowable] = [said("Stick plans", FIELD_TITLE), said(sticks_note(quote.boards, pieces), FIELD_BODY)]
    for boards in quote.boards:
        story += _profile_sticks(boards, quote, pieces, width_pt)
    return story


def _profile_sticks(
    boards: ProfileBoards, quote: Quote, pieces: Mapping[str, Piece], width_pt: float
) -> list[Flowable]:
    if not boards.patterns:
        return []
    longest = max(pattern.length for pattern in boards.patterns)
    first, *rest = [
        table([[_stick(boards.profile, pattern, quote, pieces, width_pt, longest)]], (width_pt,), is_layout=True)
        for pattern in boards.patterns
    ]
    head = [said(boards.profile, FIELD_SECTION), said(_left_over(boards), FIELD_NOTE), Spacer(1, 4)]
    return [KeepTogether([*head, first]), *rest]


def _stick(
    profile: str, pattern: Pattern, quote: Quote, pieces: Mapping[str, Piece], width_pt: float, longest: Length
) -> Picture:
    return stick(pattern, pieces, quote.units, width_pt, longest, label_of(profile, pattern, quote) or "")


def _left_over(boards: ProfileBoards) -> str:
    """`5 boards; waste 6.2%, offcuts kept 11%`."""
    usage, count = boards.usage, count_text(len(boards.patterns), "board")
    waste, kept = (part_text(part, usage.boards) for part in (usage.waste, usage.offcuts))
    return f"{count}; waste {waste}, offcuts kept {kept}"
