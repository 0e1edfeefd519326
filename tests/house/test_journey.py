"""The wall that DEVELOPERS.md follows from cell to printed row still gives the numbers printed there."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from schemas.job import survey_from
from schemas.price_list import price_list_from
from service.estimate.pipeline import estimated
from service.estimate.quote.model import Heading, Status
from service.sheets.reader import read_price_list, read_room_sheet
from service.trade.book import shipped_book

CREATED, VALID = datetime(2026, 3, 2, 15, 0, tzinfo=UTC), date(2026, 4, 1)


@pytest.fixture(scope="module")
def reading(root):
    """The L-shaped sample as the reader has it."""
    return read_room_sheet((root / "sample_sheets" / "l_shaped.xlsx").read_bytes())


@pytest.fixture(scope="module")
def quote(root, reading):
    """The L-shaped sample, priced with the sample price list."""
    survey, _ = survey_from(reading.document)
    listed = read_price_list((root / "sample_sheets" / "price_list.xlsx").read_bytes())
    price_list, _ = price_list_from(listed.document, name="standard", version=1)
    assert survey
    assert price_list
    made, _ = estimated(survey, price_list, shipped_book(), Heading("", None, 1, Status.DRAFT, CREATED, VALID))
    return made


@pytest.fixture(scope="module")
def journey(root):
    """What DEVELOPERS.md tells, on one line."""
    text = (root / "DEVELOPERS.md").read_text("utf-8")
    return " ".join(text.partition("## Floors")[0].replace(">", " ").split())


def test_cell_is_where_the_journey_begins(reading, journey):
    """The wall's length stands in the cell named, as the text quoted."""
    assert str(reading.cells["/rooms/0/walls/1/length"]) == "Walls!C3"
    assert f"`{reading.document['rooms'][0]['walls'][1]['length']}`" in journey


def test_piece_has_the_lengths_and_settings_told(quote, journey):
    """Mark, long point, short point and saw settings are those of the quote's piece."""
    piece = next(piece for piece in quote.pieces if piece.wall == "B" and piece.position == "crown")
    assert (float(piece.long_point), float(piece.short_point)) == (108.75, 105.90625)
    settings = piece.left.miter_deg, piece.left.bevel_deg, piece.left.nested_miter_deg
    assert settings == (31.62, 33.86, 45.0)
    for told in (f"**{piece.mark}**", '**108¾"**', '105 29/32"', "miter 31.62°, bevel 33.86°; nested: 45°", "108.75″"):
        assert told in journey


def test_board_adds_up_as_told(quote, journey):
    """The board that carries the piece holds pieces, kerf and waste of the lengths told, and nothing is lost."""
    board = next(pattern for each in quote.boards for pattern in each.patterns if "1-20" in pattern.pieces)
    lengths = {piece.mark: piece.long_point.snapped().inches for piece in quote.pieces}
    cut = sum(lengths[mark] for mark in board.pieces)
    assert cut + board.kerf.inches + board.waste.inches + board.offcut.inches == board.length.inches
    assert (float(cut), float(board.kerf), float(board.waste)) == (187.34375, 0.3125, 4.34375)
    assert all(told in journey for told in ('187 11/32"', '5/16"', '4 11/32"', '192" in all'))


def test_price_is_the_one_told(quote, journey):
    """The crown's line and the totals are those printed."""
    line = next(line for line in quote.lines if line.code == "CR-458")
    assert (line.quantity, line.cost, line.amount) == (Decimal("75.83"), Decimal("250.00"), Decimal("364.62"))
    totals = quote.totals
    assert f"{totals.price_before_tax:,} before tax; {totals.sales_tax} of tax" in journey
    assert f"{totals.total:,}" in journey
