"""The cut list of one room: what to saw, how each end is set, and room to write what the tape said."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.lib.styles import ParagraphStyle

from service.documents.boxes import tick_box
from service.documents.fonts import NBSP, markup
from service.documents.openings import member_words
from service.documents.plan_look import LAYER_WORDS
from service.documents.styles import FIGURE, FIGURE_BOLD, HEADING_CELL, marked, said
from service.documents.tables import GRID, table
from service.documents.words import (
    EDGE_WORDS,
    degrees,
    inch_decimal,
    joint_text,
    length_text,
    swing_text,
    upright_word,
)
from service.estimate.takeoff.model import Edge, Joint, Member

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from service.estimate.cuts.model import Piece
    from service.estimate.quote.model import Quote, RoomCard
    from service.estimate.takeoff.model import End

LEGS = frozenset({Member.LEFT_LEG, Member.RIGHT_LEG})
LEAST_ROW_PT = 24.0
TICK_PT = 24.0
MARK_PT = 40.0
LENGTH_PT = 78.0
BOARD_PT = 34.0
OTHER_TILT = (
    "The blade leans left; a saw that leans right takes the other edge to the fence, the same miter, and the piece on the "
    "other side of the blade."
)
END_FIGURE = ParagraphStyle("end figure", parent=FIGURE, leading=11.5)
MEASURE_PT = 66.0
HEADINGS = ("cut", "fit", "mark", "wall, layer, profile", "long point", "left end", "right end", "board", "re-measured")


def cut_list(room: RoomCard, quote: Quote, width_pt: float) -> Flowable:
    """One row a piece: openings first, for base and rail end at their casing; then wall after wall, layer after layer."""
    pieces = pieces_of(room, quote)
    places = {run.number: member_words(run, room) for run in room.runs}
    rest = width_pt - 2 * TICK_PT - MARK_PT - LENGTH_PT - BOARD_PT - MEASURE_PT
    widths = (TICK_PT, TICK_PT, MARK_PT, rest * 0.32, LENGTH_PT, rest * 0.34, rest * 0.34, BOARD_PT, MEASURE_PT)
    cells: list[list[Flowable | str]] = [
        [said(words, HEADING_CELL) for words in HEADINGS],
        *(_row(piece, places.get(piece.run, ""), quote) for piece in pieces),
    ]
    commands = [*GRID, ("TOPPADDING", (0, 1), (1, -1), 5), ("ALIGN", (0, 1), (1, -1), "CENTER")]
    heights: list[float | None] = [None, *[LEAST_ROW_PT] * len(pieces)]
    return table(cells, widths, *commands, headed=True, heights=heights)


def pieces_of(room: RoomCard, quote: Quote) -> list[Piece]:
    """Pieces around openings, then those along the walls in the order of the walls and, on each wall, of its runs."""
    order = {wall.name: i for i, wall in enumerate(room.walls)}
    along = {run.number for run in room.runs if run.is_along_wall}
    here = [piece for piece in quote.pieces if piece.room == room.number]
    return sorted(
        here,
        key=lambda piece: (piece.run in along, order.get(piece.wall, len(order)), piece.run, piece.start),
    )


def _row(piece: Piece, place: str, quote: Quote) -> list[Flowable | str]:
    """`place` tells opening and member; it is empty for a layer along a wall."""
    small = f'<font size="8.5">{_what(piece, place)}</font>'
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


def _what(piece: Piece, place: str) -> str:
    """Layer and profile in two lines, or opening, member and profile."""
    profile = markup(piece.profile)
    if not place:
        return f"{LAYER_WORDS[piece.position]}{', return' if piece.is_return else ''}<br/>{profile}"
    opening, _, member = place.partition(", ")
    return f"{markup(opening)},<br/>{markup(member).replace(' ', NBSP)} · {profile}"


def end_cell(end: End) -> Flowable:
    """Joint and corner, the edge with the long point; miter and bevel lying flat, the edge at the fence; the miter upright."""
    lines = [_small(joint_text(end))]
    if end.long_edge and not is_square(end):
        lines.append(_small(f"long on {EDGE_WORDS[end.long_edge]}"))
    if not is_square(end):
        lines.append(f"<b>{_flat(end)}</b>")
        if end.hand:
            lines.append(_small(f"{end.hand.fence_edge} to fence"))
        if end.nested_miter_deg:
            upright = swing_text(end.nested_miter_deg, end.nested_hand)
            lines.append(f'<font size="8.5">{upright_word(end.nested_hand)}</font>{NBSP}<b>{upright}</b>')
    return marked("<br/>".join(lines), END_FIGURE)


def _small(words: str) -> str:
    return f'<font size="8.5">{markup(words)}</font>'


def is_square(end: End) -> bool:
    """True when the saw stands at zero for this end."""
    return not any((end.miter_deg, end.bevel_deg, end.nested_miter_deg))


def _flat(end: End) -> str:
    return f"{swing_text(end.miter_deg, end.hand)}{NBSP}/{NBSP}{_setting(end.bevel_deg)}"


def _setting(value: float | None) -> str:
    return "–" if value is None else degrees(value)


def how_to_read(quote: Quote) -> str:
    """What the cut list's figures mean, once on every room's page."""
    ends = [end for piece in quote.pieces for end in (piece.left, piece.right)]
    hands = [end.hand for end in ends if end.hand]
    turned, tilted = any(hand.fence_edge is Edge.BOTTOM for hand in hands), any(hand.tilt for hand in hands)
    upright = {end.nested_hand.fence_edge for end in ends if end.nested_hand}
    copes = any(end.joint is Joint.COPE for end in ends)
    legs = any(run.member in LEGS for room in quote.rooms for run in room.runs)
    parts = [
        "Left and right as you face the wall.",
        "Bold degrees: miter / bevel, the piece flat on the saw table, face up, the named edge to the fence.",
        "R or L: the saw's handle goes to your right or left.",
        "Bottom to fence: the piece's left end is at your right." if turned else "",
        OTHER_TILT if tilted else "",
        "Nested: the crown upside down, bottom edge up on the fence, the table as ceiling; its left end is at your right."
        if Edge.BOTTOM in upright else "",
        "On edge: back to the fence, top edge up, blade upright." if Edge.BACK in upright else "",
        "Cope: cut at those settings first, then saw back along the profile line." if copes else "",
        "A casing leg's left end is its foot, its right end its head." if legs else "",
        "Lengths are long point to long point, kerf not in them. Measure again before every cut.",
    ]  # fmt: skip
    return " ".join(part for part in parts if part)
