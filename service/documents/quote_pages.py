"""The quote as the customer gets it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import KeepTogether, PageBreak, Spacer

from service.documents.page import pdf_bytes, sheet_of
from service.documents.plan_look import CUSTOMER
from service.documents.plans import plan
from service.documents.price_table import options_table, price_table
from service.documents.styles import QUOTE_MARGIN, SECTION, SMALL, SUBSECTION, heading, said
from service.documents.summary import summary
from service.documents.tables import table
from service.documents.terms import foundations, included, notices, safety, signing
from service.documents.words import area_text, document_word, length_text

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reportlab.platypus import Flowable

    from service.estimate.cuts.model import Piece
    from service.estimate.quote.model import Quote, RoomCard

GAP_PT = 18.0
MOST_PLAN_PT = 250.0


def quote_pdf(quote: Quote) -> bytes:
    """The customer's document: summary, price by room, options, plans, terms, acceptance, assumptions.

    Holds amounts that the customer pays and no cost, wage, rate or margin. Its bytes depend on the quote alone.

    Args:
        quote: the quote.

    Returns:
        A PDF on the firm's paper, every typeface embedded.
    """
    sheet = sheet_of(quote, QUOTE_MARGIN)
    width = sheet.width
    story: list[Flowable] = [
        *summary(quote, width),
        *price_table(quote, width),
        *options_table(quote, width),
        *plans(quote, width),
        *included(quote, width),
        *safety(quote),
        *_general_notices(quote),
        *signing(quote, width, sheet.height - 1),
        PageBreak(),
        *foundations(quote),
    ]
    return pdf_bytes(quote, document_word(quote), sheet, story)


def _general_notices(quote: Quote) -> list[Flowable]:
    items = notices(quote, beside_signature=False)
    return [*heading("Notices"), *items] if items else []


def plans(quote: Quote, width_pt: float) -> list[Flowable]:
    """A plan a room: one across the page when there is a single room, else two side by side."""
    pieces = {piece.mark: piece for piece in quote.pieces}
    rooms = quote.rooms
    if not rooms:
        return []
    across = 1 if len(rooms) == 1 else 2
    each = (width_pt - (across - 1) * GAP_PT) / across
    blocks = [_room_plan(room, quote, pieces, each) for room in rooms]
    note = said("Drawn to scale from the measured walls; trim lines are set apart to be seen.", SMALL)
    if across == 1:
        return [KeepTogether([said("Plan", SECTION), note, *blocks[0]])]
    rows = [_pair(blocks[i : i + 2], each, width_pt) for i in range(0, len(blocks), 2)]
    return [KeepTogether([said("Plans", SECTION), note, rows[0]]), *rows[1:]]


def _pair(blocks: list[list[Flowable]], each: float, width_pt: float) -> Flowable:
    cells = [blocks[0], "", blocks[1] if len(blocks) > 1 else ""]
    return KeepTogether([table([cells], (each, width_pt - 2 * each, each), is_layout=True), Spacer(1, 4)])


def _room_plan(room: RoomCard, quote: Quote, pieces: Mapping[str, Piece], width_pt: float) -> list[Flowable]:
    drawn = plan(room, pieces, quote.units, CUSTOMER, width_pt=width_pt, most_height_pt=MOST_PLAN_PT)
    return [said(room.name, SUBSECTION), said(room_facts(room, quote), SMALL), drawn.picture]


def room_facts(room: RoomCard, quote: Quote) -> str:
    """Area, way round the walls, height, in words."""
    parts = [f"around the walls {length_text(room.perimeter, quote.units)}"]
    parts.append(f"ceiling at {length_text(room.ceiling_height, quote.units)}")
    if room.area_sqft is not None:
        about = "about " if room.area_is_approximate else ""
        parts.insert(0, f"{about}{area_text(room.area_sqft, quote.units)}")
    text = " · ".join(parts)
    return text[:1].upper() + text[1:]
