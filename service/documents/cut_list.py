"""The cut list of one room: what to saw, how each end is set, and room to write what the tape said."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.documents.boxes import tick_box
from service.documents.fonts import NBSP, markup
from service.documents.plan_look import LAYER_WORDS
from service.documents.styles import FIGURE, FIGURE_BOLD, HEADING_CELL, marked, said
from service.documents.tables import GRID, table
from service.documents.words import EDGE_WORDS, degrees, inch_decimal, joint_text, length_text
from service.estimate.takeoff.model import Joint

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from service.estimate.cuts.model import Piece
    from service.estimate.quote.model import Quote, RoomCard
    from service.estimate.takeoff.model import End

LEAST_ROW_PT = 24.0
TICK_PT = 24.0
MARK_PT = 40.0
LENGTH_PT = 78.0
BOARD_PT = 34.0
MEASURE_PT = 66.0
HEADINGS = ("cut", "fit", "mark", "wall, layer, profile", "long point", "left end", "right end", "board", "re-measured")


def cut_list(room: RoomCard, quote: Quote, width_pt: float) -> Flowable:
    """One row a piece, wall after wall, layer after layer: the order in which they are fitted."""
    pieces = pieces_of(room, quote)
    rest = width_pt - 2 * TICK_PT - MARK_PT - LENGTH_PT - BOARD_PT - MEASURE_PT
    widths = (TICK_PT, TICK_PT, MARK_PT, rest * 0.32, LENGTH_PT, rest * 0.34, rest * 0.34, BOARD_PT, MEASURE_PT)
    cells: list[list[Flowable | str]] = [
        [said(words, HEADING_CELL) for words in HEADINGS],
        *(_row(piece, quote) for piece in pieces),
    ]
    commands = [*GRID, ("TOPPADDING", (0, 1), (1, -1), 5), ("ALIGN", (0, 1), (1, -1), "CENTER")]
    heights: list[float | None] = [None, *[LEAST_ROW_PT] * len(pieces)]
    return table(cells, widths, *commands, headed=True, heights=heights)


def pieces_of(room: RoomCard, quote: Quote) -> list[Piece]:
    """Pieces of a room in the order of its walls and, on each wall, of its runs."""
    order = {wall.name: i for i, wall in enumerate(room.walls)}
    here = [piece for piece in quote.pieces if piece.room == room.number]
    return sorted(here, key=lambda piece: (order.get(piece.wall, len(order)), piece.run, piece.start))


def _row(piece: Piece, quote: Quote) -> list[Flowable | str]:
    kind = f"{LAYER_WORDS[piece.position]}{', return' if piece.is_return else ''}"
    small = f'<font size="8.5">{kind}<br/>{markup(piece.profile)}</font>'
    return [
        tick_box(),
        tick_box(),
        said(piece.mark, FIGURE_BOLD),
        marked(f"<b>{markup(piece.wall)}</b> {small}", FIGURE),
        marked(
            f"<b>{markup(length_text(piece.long_point, quote.units))}</b><br/>{markup(inch_decimal(piece.long_point))}",
            FIGURE,
        ),
        end_cell(piece.left),
        end_cell(piece.right),
        said(str(piece.board) if piece.board else "–", FIGURE),
        "",
    ]


def end_cell(end: End) -> Flowable:
    """Joint and corner; miter and bevel lying flat; miter standing nested; the edge that carries the long point."""
    lines = [f'<font size="8.5">{markup(joint_text(end))}</font>']
    if not is_square(end):
        lines.append(f"<b>{_flat(end)}</b>")
        if end.nested_miter_deg:
            lines.append(f"nested{NBSP}<b>{degrees(end.nested_miter_deg)}</b>")
    if end.long_edge and not is_square(end):
        lines.append(f'<font size="8.5">long on {EDGE_WORDS[end.long_edge]}</font>')
    return marked("<br/>".join(lines), FIGURE)


def is_square(end: End) -> bool:
    """True when the saw stands at zero for this end."""
    return not any((end.miter_deg, end.bevel_deg, end.nested_miter_deg))


def _flat(end: End) -> str:
    return f"{_setting(end.miter_deg)}{NBSP}/{NBSP}{_setting(end.bevel_deg)}"


def _setting(value: float | None) -> str:
    return "–" if value is None else degrees(value)


def how_to_read(quote: Quote) -> str:
    """What the cut list's figures mean, once on every room's page."""
    copes = any(end.joint is Joint.COPE for piece in quote.pieces for end in (piece.left, piece.right))
    nests = any(end.nested_miter_deg for piece in quote.pieces for end in (piece.left, piece.right))
    parts = [
        "Left and right as you face the wall. Bold degrees: miter / bevel with the piece lying flat on the saw table.",
        "Nested: the piece upside down against the fence, the table as ceiling and the fence as wall; its left end is "
        "then at your right." if nests else "",
        "Cope: cut at those settings first, then saw back along the profile line." if copes else "",
        "Lengths are long point to long point, kerf not in them. Measure again before every cut.",
    ]  # fmt: skip
    return " ".join(part for part in parts if part)
