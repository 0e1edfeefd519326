"""Ends that lie together on a board, so that one cut makes them both and the wedge between them is not lost.

Of two pieces that follow each other the right end of one and the left end of the other are cut along lines
x = r + β·y and x = l + α·y, y across the board, α and β each −t, 0 or +t with t the slope of the cut. The second may
begin where l − r is the kerf and w·max(0, β − α), w the extent of the profile that the cut crosses. Parallel ends
(α = β) alone take less than their long points ask for, by w·t, which is the setback of the end: long point less short
point. A scarf's two halves are always such a pair, and so are an inside and an outside corner of one reading; two
inside ends never are.

Boards are chosen, and offcuts promised, by long points alone. So every board holds its pieces, and every offcut is as
long as its label says, also when the carpenter squares the board between two pieces or cuts in another order. This
order only adds: what is really left is longer by what the pattern calls nested.

Source: plane geometry.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from service.estimate.cuts.kerf import kerf_at, kerf_between
from service.estimate.cuts.sequence import least_sequence
from service.estimate.takeoff.model import OPPOSITE
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from service.estimate.cuts.job import Sawable
    from service.estimate.takeoff.model import End


class _Side(NamedTuple):
    """One end as its neighbor sees it: how it is cut, and how far its short point stands back."""

    end: End
    kerf: Length
    setback: Length


class _Kind(NamedTuple):
    left: _Side
    right: _Side


def is_one_cut(right: End, left: End) -> bool:
    """True when one cut makes the right end of a piece and the left end of the next.

    Both are set alike on the saw and their long points lie on opposite edges: what the blade leaves on its one side is
    the first piece, on its other side the second.

    Args:
        right: right end of the first piece.
        left: left end of the piece that follows it on the board.
    """
    if right.long_edge is None or left.long_edge is not OPPOSITE[right.long_edge]:
        return False
    cut = _settings(right)
    return any(cut) and cut == _settings(left)


def _settings(end: End) -> tuple[float, float]:
    return end.miter_deg or 0.0, end.bevel_deg or 0.0


def nested_between(pieces: Sequence[Sawable]) -> Length:
    """What parallel neighbors free in this order beyond their long points: the setback of each such pair. [Length]"""
    return sum((_shared(_right(one), _left(two)) for one, two in pairwise(pieces)), start=ZERO)


def rearranged(pieces: Sequence[Sawable], kerf: Length, usable: Length) -> tuple[Sawable, ...]:
    """Pieces of one board in the order that leaves the most of it; as they stand where none leaves more.

    Args:
        pieces: in an order in which the board holds them.
        kerf: width of a square cut. [Length]
        usable: what the board holds, long points and the cuts between them. [Length]
    """
    other = _most_left(pieces, kerf)
    long_points = sum((piece.long_point for piece in other), start=ZERO)
    if long_points + kerf_between(other, kerf) > usable or _lost(other, kerf) >= _lost(pieces, kerf):
        return tuple(pieces)
    return other


def _lost(pieces: Sequence[Sawable], kerf: Length) -> Fraction:
    """Cuts between neighbors and the one that frees the remainder, less what is nested. [in]"""
    cuts = kerf_between(pieces, kerf) + kerf_at(pieces[-1].right, kerf)
    return cuts.inches - nested_between(pieces).inches


def _most_left(pieces: Sequence[Sawable], kerf: Length) -> tuple[Sawable, ...]:
    kinds: defaultdict[_Kind, list[Sawable]] = defaultdict(list)
    for piece in sorted(pieces, key=lambda piece: -piece.long_point.inches):
        kinds[_Kind(_left(piece, kerf), _right(piece, kerf))].append(piece)
    if len(kinds) == 1:
        return tuple(pieces)
    ends = tuple(kinds)
    between = [[_parting(one.right, two.left) for two in ends] for one in ends]
    counts = tuple(len(some) for some in kinds.values())
    order = least_sequence(counts, between, [one.right.kerf.inches for one in ends])
    dealt = [iter(some) for some in kinds.values()]
    return tuple(pieces) if order is None else tuple(next(dealt[kind]) for kind in order)


def _parting(right: _Side, left: _Side) -> Fraction:
    """What two neighbors lose between them; below zero where they nest. [in]"""
    return (max(right.kerf, left.kerf) - _shared(right, left)).inches


def _shared(right: _Side, left: _Side) -> Length:
    return min(right.setback, left.setback) if is_one_cut(right.end, left.end) else ZERO


def _left(piece: Sawable, kerf: Length = ZERO) -> _Side:
    return _Side(piece.left, kerf_at(piece.left, kerf), piece.left_setback)


def _right(piece: Sawable, kerf: Length = ZERO) -> _Side:
    return _Side(piece.right, kerf_at(piece.right, kerf), piece.right_setback)
