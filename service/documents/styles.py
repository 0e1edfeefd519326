"""Type, colors and paper of the documents."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from reportlab.lib.colors import Color, HexColor, black
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import inch
from reportlab.platypus import CondPageBreak

from service.documents.fonts import BOLD, REGULAR, markup
from service.documents.tagging import Said

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from service.estimate.quote.model import FirmCard

ACCENT: Final[Color] = HexColor(0x1F4B5B)
GREY: Final[Color] = HexColor(0x55595C)
RULE: Final[Color] = HexColor(0xB9C0C4)
TINT: Final[Color] = HexColor(0xEEF2F3)
INK: Final[Color] = black

HEADING_ROOM_PT: Final = 92.0
QUOTE_MARGIN: Final = 0.75 * inch
FIELD_MARGIN: Final = 0.55 * inch
FIELD_BINDING: Final = 0.75 * inch


def paper_size(firm: FirmCard) -> tuple[float, float]:
    """Letter or A4, as the firm prints. [pt, pt]"""
    return A4 if firm.paper.strip().upper() == "A4" else LETTER


def _style(name: str, size: float, leading: float, **more: Any) -> ParagraphStyle:  # noqa: ANN401 - the toolkit's own open signature
    return ParagraphStyle(
        name, fontName=REGULAR, bulletFontName=REGULAR, fontSize=size, leading=leading, splitLongWords=1, **more
    )


BODY: Final = _style("body", 9.5, 13)
LEAD: Final = _style("lead", 11.5, 16)
FACT: Final = _style("fact", 11.5, 18, spaceBefore=3)
SMALL: Final = _style("small", 8, 10.5, textColor=GREY)
FINE: Final = _style("fine", 8, 10.5)
RIGHT: Final = _style("right", 9.5, 13, alignment=TA_RIGHT)
SMALL_RIGHT: Final = _style("small right", 8, 10.5, textColor=GREY, alignment=TA_RIGHT)
TITLE: Final = _style("title", 21, 25, textColor=ACCENT)
SECTION: Final = ParagraphStyle(
    "section",
    fontName=BOLD,
    bulletFontName=BOLD,
    fontSize=12,
    leading=15,
    spaceBefore=14,
    spaceAfter=5,
    textColor=ACCENT,
)
SUBSECTION: Final = ParagraphStyle(
    "subsection", fontName=BOLD, bulletFontName=BOLD, fontSize=10, leading=13, spaceBefore=7, spaceAfter=3
)
ITEM: Final = _style("item", 9.5, 13, leftIndent=11, bulletIndent=1, spaceAfter=2)

FIELD_TITLE: Final = ParagraphStyle("field title", fontName=BOLD, bulletFontName=BOLD, fontSize=17, leading=21)
FIELD_SECTION: Final = ParagraphStyle(
    "field section", fontName=BOLD, bulletFontName=BOLD, fontSize=12, leading=15, spaceBefore=11, spaceAfter=4
)
FIELD_BODY: Final = _style("field body", 10, 13)
FIELD_NOTE: Final = _style("field note", 8.5, 11)
FIGURE: Final = _style("figure", 11, 13)
FIGURE_BOLD: Final = ParagraphStyle(
    "figure bold", fontName=BOLD, bulletFontName=BOLD, fontSize=11, leading=13, splitLongWords=1
)
HEADING_CELL: Final = ParagraphStyle("heading cell", fontName=BOLD, bulletFontName=BOLD, fontSize=8.5, leading=10.5)


def said(text: str, style: ParagraphStyle = BODY) -> Said:
    """A paragraph of user text, escaped."""
    return Said(markup(text), style)


def marked(ready_markup: str, style: ParagraphStyle = BODY) -> Said:
    """A paragraph of markup made by this package, user text in it already escaped."""
    return Said(ready_markup, style)


def heading(text: str, style: ParagraphStyle = SECTION, room_pt: float = HEADING_ROOM_PT) -> list[Flowable]:
    """A heading that goes to the next page rather than stand at a page's foot without what it heads."""
    return [CondPageBreak(room_pt), Said(markup(text), style)]


def bullet(text: str, style: ParagraphStyle = ITEM) -> Said:
    """A list item of user text."""
    return Said(markup(text), style, bulletText="–")
