"""Lines, cut list and order list as comma-separated values.

RFC 4180: fields in double quotes where they need them, lines end in CR LF, the first line names the columns.
The text starts with a byte order mark: without it the spreadsheet programs in a trim firm's office open UTF-8
as their old local code page and print ″ and ½ as rubbish; programs that read UTF-8 skip it.
"""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from typing import TYPE_CHECKING

from service.documents.leftovers import label_of
from service.documents.openings import opening_of
from service.documents.order import descriptions

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.cuts.model import Piece
    from service.estimate.price import Line
    from service.estimate.quote.model import Quote
    from service.estimate.takeoff.model import End
    from service.units import Units

MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
LINE_COLUMNS = (
    "number", "code", "room", "kind", "description", "quantity", "unit", "unit_code", "unit_price", "amount", "currency",
)  # fmt: skip
END_COLUMNS = ("joint", "corner", "corner_deg", "miter_deg", "bevel_deg", "nested_miter_deg", "long_edge")
PIECE_COLUMNS = (
    "mark", "room", "wall", "assembly", "layer", "position", "profile", "long_point", "long_point_in", "short_point_in",
    *(f"left_{name}" for name in END_COLUMNS), *(f"right_{name}" for name in END_COLUMNS), "board", "return",
    "member", "opening", "place_on_board", "offcut_label", "offcut_in",
)  # fmt: skip
ORDER_COLUMNS = ("kind", "code", "description", "length", "length_in", "count", "package_size", "unit", "need", "rest")

Value = str | Decimal | int | float | None


def lines_csv(quote: Quote, office: bool) -> str:
    """The quote's lines, one a row; the amounts add up to the price before tax, so options are left out.

    Args:
        quote: the quote.
        office: adds each line's direct cost and what it rests on.
    """
    columns = (*LINE_COLUMNS, "cost", "basis") if office else LINE_COLUMNS
    return table_csv(columns, (_line(line, quote.currency, office=office) for line in quote.lines))


def _line(line: Line, currency: str, *, office: bool) -> Sequence[Value]:
    told: tuple[Value, ...] = (
        line.number, line.code, line.room, line.kind.value, line.description, line.quantity, line.unit,
        line.unit_code, line.unit_price, line.amount, currency,
    )  # fmt: skip
    return (*told, line.cost, "; ".join(line.basis)) if office else told


def cut_list_csv(quote: Quote) -> str:
    """Pieces, one a row, with each end's settings in degrees and lengths in decimal inches and as people say them.

    Each has its place, from 1, in the cutting order of its board; the last piece of a board that leaves an offcut to
    keep has its label and length.
    """
    places = {
        run.number: (run.member.value, opening_of(run, room) or None) for room in quote.rooms for run in room.runs
    }
    on_boards = _on_boards(quote)
    rows = (
        (
            *_piece(piece, quote.units),
            *places.get(piece.run, (None, None)),
            *on_boards.get(piece.mark, (None, None, None)),
        )
        for piece in quote.pieces
    )
    return table_csv(PIECE_COLUMNS, rows)


def _on_boards(quote: Quote) -> dict[str, tuple[int, str | None, Decimal | None]]:
    """By mark: place on the board; label and length of the offcut that its last piece leaves."""
    found: dict[str, tuple[int, str | None, Decimal | None]] = {}
    for boards in quote.boards:
        for pattern in boards.patterns:
            label = label_of(boards.profile, pattern, quote)
            found |= {mark: (place, None, None) for place, mark in enumerate(pattern.pieces, start=1)}
            if pattern.pieces and label:
                found[pattern.pieces[-1]] = len(pattern.pieces), label, pattern.offcut.decimal()
    return found


def _piece(piece: Piece, units: Units) -> Sequence[Value]:
    return (
        piece.mark, piece.room_name, piece.wall, piece.assembly, piece.layer, piece.position.value, piece.profile,
        piece.long_point.text(units), piece.long_point.decimal(), piece.short_point.decimal(),
        *_end(piece.left), *_end(piece.right), piece.board, "yes" if piece.is_return else "no",
    )  # fmt: skip


def _end(end: End) -> Sequence[Value]:
    return (
        end.joint.value, end.corner.value if end.corner else None, end.corner_deg, end.miter_deg, end.bevel_deg,
        end.nested_miter_deg, end.long_edge.value if end.long_edge else None,
    )  # fmt: skip


def order_list_csv(quote: Quote) -> str:
    """Boards by profile and length, then supplies in whole packages; no prices."""
    words = descriptions(quote)
    boards: Iterable[Sequence[Value]] = (
        (
            "offcut on hand" if item.is_offcut else "board", profile.profile, words.get(profile.profile),
            item.length.text(quote.units), item.length.decimal(), item.count, None, None, None, None,
        )
        for profile in quote.boards
        for item in profile.purchases
    )  # fmt: skip
    supplies: Iterable[Sequence[Value]] = (
        (
            item.kind, item.code, item.description, None, None, item.packages, item.package_size, item.unit, item.need,
            item.rest,
        )
        for item in quote.supplies
    )  # fmt: skip
    return table_csv(ORDER_COLUMNS, (*boards, *supplies))


def table_csv(columns: Sequence[str], rows: Iterable[Sequence[Value]]) -> str:
    """A table with a heading row, texts safe to open in a spreadsheet program."""
    target = io.StringIO(newline="")
    writer = csv.writer(target, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return MARK + target.getvalue()


def _cell(value: Value) -> str:
    """A cell: numbers as numbers, minus sign and all; a text that a spreadsheet would run as a formula starts with '."""
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return f"{value:f}"
    if not isinstance(value, str):
        return f"{value:g}" if isinstance(value, float) else str(value)
    return f"'{value}" if value.startswith(FORMULA_STARTS) else value
