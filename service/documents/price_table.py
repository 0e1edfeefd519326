"""The price table of the quote, and the options beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.documents.fonts import markup
from service.documents.prices import Row, Section, closing_rows, option_rows, sections
from service.documents.styles import ACCENT, BODY, INK, RIGHT, RULE, SMALL, SMALL_RIGHT, TINT, heading, marked, said
from service.documents.tables import HEADED, Command, table
from service.documents.words import document_word, figures, money

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reportlab.platypus import Flowable, Paragraph

    from service.estimate.quote.model import Quote

AMOUNT_PT = 80.0
QUANTITY_PT = 74.0
EDGES: tuple[Command, ...] = (("LEFTPADDING", (0, 0), (0, -1), 4), ("RIGHTPADDING", (-1, 0), (-1, -1), 4))
Cells = tuple["Sequence[Paragraph] | Paragraph | str", "Paragraph | str", "Paragraph | str"]


def price_table(quote: Quote, width_pt: float) -> list[Flowable]:
    """Heading and table: sections with their rows and subtotals, then the sums down to the total."""
    cells: list[Cells] = [_heading(quote.currency)]
    commands: list[Command] = [*HEADED, *EDGES]
    for section in sections(quote):
        _add_section(section, cells, commands)
    _add_sums(quote, cells, commands)
    widths = (width_pt - QUANTITY_PT - AMOUNT_PT, QUANTITY_PT, AMOUNT_PT)
    return [*heading("Price by room"), table(cells, widths, *commands, headed=True)]


def options_table(quote: Quote, width_pt: float) -> list[Flowable]:
    """Options apart from the price, or nothing."""
    rows = option_rows(quote)
    if not rows:
        return []
    cells = [_heading(quote.currency), *(_row_cells(row) for row in rows)]
    widths = (width_pt - QUANTITY_PT - AMOUNT_PT, QUANTITY_PT, AMOUNT_PT)
    note = f"Not in the total of this {document_word(quote).lower()}; prices before sales tax."
    ruled = ("LINEBELOW", (0, 1), (-1, -1), 0.35, RULE)
    return [*heading("Options"), said(note, SMALL), table(cells, widths, *HEADED, *EDGES, ruled, headed=True)]


def _heading(currency: str) -> Cells:
    return said("Work", SMALL), said("Quantity", SMALL_RIGHT), said(f"Amount, {currency}", SMALL_RIGHT)


def _right(text: str, *, is_bold: bool = False) -> Paragraph:
    return marked(f"<b>{markup(text)}</b>", RIGHT) if is_bold else said(text, RIGHT)


def _row_cells(row: Row) -> Cells:
    words = [said(row.title), *([said(row.detail, SMALL)] if row.detail else [])]
    return words, _right(row.quantity), _right(figures(row.amount))


def _add_section(section: Section, cells: list[Cells], commands: list[Command]) -> None:
    first = len(cells)
    scope = f'  <font size="8.5" color="#55595C">{markup(section.scope)}</font>' if section.scope else ""
    cells.append((marked(f"<b>{markup(section.title)}</b>{scope}", BODY), "", ""))
    cells.extend(_row_cells(row) for row in section.rows)
    cells.append(
        (
            "",
            marked('<font size="8" color="#55595C">Subtotal</font>', RIGHT),
            _right(figures(section.subtotal), is_bold=True),
        )
    )
    last = len(cells) - 1
    commands += [
        ("SPAN", (0, first), (-1, first)),
        ("BACKGROUND", (0, first), (-1, first), TINT),
        ("LINEBELOW", (0, first + 1), (-1, last - 1), 0.35, RULE),
        ("BOTTOMPADDING", (0, last), (-1, last), 7),
        ("NOSPLIT", (0, first), (-1, first + 1)),
        ("NOSPLIT", (0, last - 1), (-1, last)),
    ]


def _add_sums(quote: Quote, cells: list[Cells], commands: list[Command]) -> None:
    totals, currency = quote.totals, quote.currency
    first = len(cells)
    cells.extend((said(row.title), "", _right(figures(row.amount))) for row in closing_rows(quote))
    cells.append((said("Price before tax"), "", _right(figures(totals.price_before_tax))))
    if totals.sales_tax or totals.taxable:
        words = f"Sales tax on {money(totals.taxable, currency)}"
        cells.append((said(words), "", _right(figures(totals.sales_tax))))
    total = f'<font size="12">{markup(money(totals.total, currency))}</font>'
    cells.append((marked('<b><font size="12">Total</font></b>', BODY), "", marked(f"<b>{total}</b>", RIGHT)))
    last = len(cells) - 1
    commands += [
        ("LINEABOVE", (0, first), (-1, first), 0.9, ACCENT),
        ("RIGHTPADDING", (1, last), (1, last), 4),
        ("LINEABOVE", (0, last), (-1, last), 0.9, INK),
        ("LINEBELOW", (0, last), (-1, last), 0.9, INK),
        ("TOPPADDING", (0, last), (-1, last), 4),
        ("BOTTOMPADDING", (0, last), (-1, last), 6),
        ("SPAN", (1, last), (2, last)),
        ("NOSPLIT", (0, first), (-1, last)),
    ]
    cells[last] = (cells[last][0], cells[last][2], "")
