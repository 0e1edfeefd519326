"""Comma-separated lists: RFC 4180, sums, and texts that no spreadsheet runs as a formula."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from decimal import Decimal

import pytest

from service.documents import cut_list_csv, lines_csv, order_list_csv


def read(text):
    """Rows as a reader of RFC 4180 sees them, the byte order mark taken off as programs do."""
    assert text.encode("utf-8").startswith(b"\xef\xbb\xbf")
    return list(csv.DictReader(io.StringIO(text.encode("utf-8").decode("utf-8-sig"), newline="")))


def test_lines_end_in_cr_lf(quote):
    """RFC 4180 section 2, rule 1."""
    for text in (lines_csv(quote, office=True), cut_list_csv(quote), order_list_csv(quote)):
        assert text.endswith("\r\n")
        assert text.count("\n") == text.count("\r\n")


def test_line_amounts_add_up_to_the_price_before_tax(quote):
    """A discount is a number below zero, an option is not among the lines."""
    rows = read(lines_csv(quote, office=False))
    assert sum(Decimal(row["amount"]) for row in rows) == quote.totals.price_before_tax
    assert [row["amount"] for row in rows if row["kind"] == "discount"] == ["-60.00"]
    assert "option" not in {row["kind"] for row in rows}


def test_costs_are_the_offices(quote):
    """Without office there is no column of cost or basis."""
    office, others = read(lines_csv(quote, office=True)), read(lines_csv(quote, office=False))
    assert {"cost", "basis"} <= set(office[0])
    assert not {"cost", "basis"} & set(others[0])
    assert office[0]["cost"] == "10.00"


def test_every_piece_is_a_row_with_both_ends(quote):
    """Marks, lengths and settings as on the field sheet, degrees as numbers."""
    rows = {row["mark"]: row for row in read(cut_list_csv(quote))}
    assert set(rows) == {piece.mark for piece in quote.pieces}
    first = rows["1-03"]
    assert (first["wall"], first["position"], first["long_point_in"]) == ("A", "crown", "94")
    assert (first["left_joint"], first["left_miter_deg"], first["left_bevel_deg"]) == ("miter", "31.62", "33.86")
    assert (first["right_joint"], first["right_nested_miter_deg"]) == ("scarf", "")


def test_pieces_tell_their_place_on_the_board_and_what_it_leaves(quote):
    """Places count up from 1 in cutting order; the last piece of a board alone has its offcut, told as on the rack."""
    rows = {row["mark"]: row for row in read(cut_list_csv(quote))}
    kept = 0
    for boards in quote.boards:
        for pattern in boards.patterns:
            here = [rows[mark] for mark in pattern.pieces]
            assert [row["place_on_board"] for row in here] == [str(place) for place in range(1, len(here) + 1)]
            assert {row["offcut_label"] for row in here[:-1]} <= {""}
            last = here[-1]
            assert (Decimal(last["offcut_in"] or 0), bool(last["offcut_label"])) == (
                pattern.offcut.decimal(), bool(pattern.offcut),
            )  # fmt: skip
            kept += bool(pattern.offcut)
    labels = [row["offcut_label"] for row in rows.values() if row["offcut_label"]]
    assert len(set(labels)) == len(labels) == kept > 0


def test_order_list_counts_every_board_and_package(quote):
    """As many boards as there are patterns; supplies with package, need and rest."""
    rows = read(order_list_csv(quote))
    boards = sum(int(row["count"]) for row in rows if row["kind"] == "board")
    assert boards == sum(len(item.patterns) for item in quote.boards)
    (nails,) = [row for row in rows if row["code"] == "N-2"]
    assert (nails["count"], nails["package_size"], nails["unit"], nails["need"]) == ("1", "1000", "each", "410")
    assert not any("18.40" in value for row in rows for value in row.values())


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_texts_that_a_spreadsheet_would_run_are_quoted(make_quote, quote, start):
    """Cells that begin like a formula get an apostrophe; quotes, commas and line breaks survive."""
    text = f'{start}cmd|"x", y\nz'
    lines = (replace(quote.lines[0], description=text), *quote.lines[1:])
    row = read(lines_csv(make_quote(lines=lines), office=False))[0]
    assert row["description"] == f"'{text}"


def test_ordinary_text_is_left_alone(make_quote, quote):
    """A hyphen or an equals sign inside a text is no formula."""
    lines = (replace(quote.lines[0], description="4-5/8 = crown"), *quote.lines[1:])
    assert read(lines_csv(make_quote(lines=lines), office=False))[0]["description"] == "4-5/8 = crown"
