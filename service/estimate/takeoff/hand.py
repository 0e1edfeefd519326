"""The hand of every cut: how the piece lies on the saw, which way table and blade go, which side is kept.

The convention. The operator stands before the saw, facing the fence as one faces a wall; left and right at
the saw are the operator's. The table swings right when its handle goes right: the kerf then runs from the
fence toward the operator and to the right. The blade tilts left: its top leans left. A saw that tilts only
right makes the same cut with the other edge against the fence, the same swing, and the piece on the other
side of the blade (half a turn about the upright axis leaves a swing and turns a tilt round).

Left and right at the wall are as one faces it; a leg's left end is its foot. Lying flat a piece has its back
on the table and its face up. One edge against the fence then leaves its left end at the left: the top edge
(tip the piece back from the wall), the room edge of a ceiling board (its face looked down, so half a turn
about its length put the room edge away from the operator). The other edge turns it end for end.

Derivation. Standing on the table and looking along the fence, a cut end is a line in two views:

- across the thickness the blade, leaning left, leaves the piece on its left longer at the table, that is at
  the back, and the piece on its right longer at the face. So the edge with the long point says which side
  of the blade is kept: the near edges (back, bottom of a crown) left, the far ones (face, top of a crown)
  right. Which edge goes to the fence follows, since the cut end must look to the blade.
- in plan the piece left of a kerf that runs to the operator's right is longer on the operator's side.

A nested crown stands upside down, table for ceiling and fence for wall: half a turn about the line from the
wall into the room, so its bottom edge is against the fence, looking up, and its left end at the operator's
right. A board on edge stands as on its wall, back to the fence, top edge up, left at the left. The blade is
upright in both, so only the view in plan is left.

Source: solid geometry; agrees with the crown tables in compound saw instruction manuals (from memory).
"""

from __future__ import annotations

from typing import NamedTuple

from service.estimate.takeoff.model import Edge, Hand, Member, Side
from service.estimate.takeoff.saw import Lay

NEAR = frozenset({Edge.BACK, Edge.BOTTOM})


class Edges(NamedTuple):
    """The two edges that can lie against the fence, the face up.

    Attributes:
        unturned: against the fence it leaves the piece's left end at the left.
        turned: against the fence it turns the piece end for end.
    """

    unturned: Edge
    turned: Edge


EDGES_OF = {
    Lay.CEILING: Edges(Edge.ROOM, Edge.WALL),
    Lay.WALL: Edges(Edge.TOP, Edge.BOTTOM),
    Lay.SPRUNG: Edges(Edge.TOP, Edge.BOTTOM),
}
INNER_ABOVE = frozenset({Member.RIGHT_LEG, Member.SILL})


def casing_edges(member: Member) -> Edges:
    """Edges of a casing: with its left end at the left, a right leg and a sill have the inner edge away from one.

    Laying a leg down with its foot at the left brings the side that was at its left to the fence: the outer
    one of a left leg, the inner one of a right leg.
    """
    return Edges(Edge.INNER, Edge.OUTER) if member in INNER_ABOVE else Edges(Edge.OUTER, Edge.INNER)


def kept_by_tilt(long_edge: Edge) -> Side:
    """Side of a left-leaning blade on which a piece is kept: left where the back is the longer, else right."""
    return Side.LEFT if long_edge in NEAR else Side.RIGHT


def fence_edge(edges: Edges, end: Side, keep: Side) -> Edge:
    """The edge against the fence that brings this end of the piece to the blade. [Edge]

    A piece kept left of the blade is cut at the end that lies right.
    """
    return edges.unturned if end is keep.opposite else edges.turned


def swing(keep: Side, *, is_long_at_fence: bool) -> Side:
    """Where the handle goes: to the kept side where the edge at the fence is the longer, else away from it."""
    return keep if is_long_at_fence else keep.opposite


def flat_hand(
    edges: Edges, end: Side, long_edge: Edge | None, miter_deg: float | None, bevel_deg: float | None
) -> Hand | None:  # fmt: skip
    """Hand of a piece lying flat, None for a square cut. A cut without tilt leaves the left end at the left.

    Args:
        edges: the edges that can lie against the fence.
        end: which end of the piece is cut.
        long_edge: the edge that carries the long point.
        miter_deg, bevel_deg: settings lying flat. [deg]
    """
    if long_edge is None or not (miter_deg or bevel_deg):
        return None
    keep = kept_by_tilt(long_edge) if bevel_deg else end.opposite
    at_fence = fence_edge(edges, end, keep)
    turn = swing(keep, is_long_at_fence=long_edge is at_fence) if miter_deg else None
    return Hand(turn, Side.LEFT if bevel_deg else None, at_fence, Edge.FACE, keep)


def nested_hand(lay: Lay, end: Side, long_edge: Edge | None, nested_miter_deg: float | None) -> Hand | None:
    """Hand of a crown nested upside down or of a board on edge, None for a square cut or where there is no such way.

    Args:
        lay: how the layer lies.
        end: which end of the piece is cut.
        long_edge: the edge that carries the long point.
        nested_miter_deg: setting against the fence. [deg]
    """
    if long_edge is None or not nested_miter_deg:
        return None
    is_crown = lay is Lay.SPRUNG
    keep = end if is_crown else end.opposite
    turn = swing(keep, is_long_at_fence=long_edge in NEAR)
    return Hand(turn, None, *((Edge.BOTTOM, Edge.BOTTOM) if is_crown else (Edge.BACK, Edge.TOP)), keep)
