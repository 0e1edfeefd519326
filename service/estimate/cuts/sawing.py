"""Pieces and boards as the engine's whole numbers, and the order in which a board is cut.

A cut between neighbors takes the wider of the two ends that meet, so what a board holds depends on the order of its
pieces. Two models of patterns stand on either side of that rule. The loose one charges each piece for one of its
ends alone and rounds in the plan's favor: every lawful plan is one of its plans, so its bound is a bound. The tight
one charges the wider end of each piece and rounds against the plan: sorted by that width its boards always fit. The
loose plan is taken when each of its boards has a lawful order, which is nearly always; else the tight one, and the
bound stays that of the loose model. Where all cuts are alike on a fine enough grid the two are one and exact.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.work import Column, Work, single
from service.estimate.cuts.kerf import kerf_at
from service.estimate.cuts.sequence import least_sequence
from service.units import SNAP

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.cuts.job import Sawable
    from service.estimate.cuts.shelf import Choice, Shelf
    from service.units import Length

MOST_UNITS = 25_000


@dataclass(frozen=True, slots=True)
class Sawn:
    """One model: the engine's work, and which pieces are its items."""

    work: Work
    pieces_of: tuple[tuple[int, ...], ...]

    def column(self, stock: int, places: Iterable[int]) -> Column:
        """The pattern of a board with some pieces, told by their places."""
        item_of = {place: item for item, places in enumerate(self.pieces_of) for place in places}
        counts: defaultdict[int, int] = defaultdict(int)
        for place in places:
            counts[item_of[place]] += 1
        return Column(stock, tuple(sorted(counts.items())))

    def dealt(self, columns: Iterable[Column]) -> list[tuple[int, list[int]]]:
        """Boards with the places of their pieces, dealt out in order."""
        left = [list(reversed(places)) for places in self.pieces_of]
        return [
            (column.stock, [left[item].pop() for item, count in column.counts for _ in range(count)])
            for column in columns
        ]


@dataclass(frozen=True, slots=True)
class Ends:
    """Exact inches of one piece: long point and the widths of the cuts at its ends."""

    length: Fraction
    left: Fraction
    right: Fraction

    @property
    def wider(self) -> Fraction:
        """The wider of the two cuts. [in]"""
        return max(self.left, self.right)


def sawn(pieces: Sequence[Sawable], shelf: Shelf, kerf: Length) -> tuple[Sawn, Sawn]:
    """The loose and the tight model of some pieces of one profile.

    Args:
        pieces: of one profile.
        shelf: what the profile can be had in.
        kerf: width of a square cut. [Length]
    """
    ends = [ends_of(piece, kerf) for piece in pieces]
    usable = [choice.usable.inches for choice in shelf.choices]
    grid = grid_of(ends, usable)
    charged = charged_side(ends)
    most, least = max(charged, default=Fraction(0)), min((one.wider for one in ends), default=Fraction(0))
    loose = _model(
        [math.floor((one.length + side) * grid) for one, side in zip(ends, charged, strict=True)],
        [math.floor((size + most) * grid) for size in usable],
        shelf.choices,
    )
    tight = _model(
        [math.ceil((one.length + one.wider) * grid) for one in ends],
        [math.floor((size + least) * grid) for size in usable],
        shelf.choices,
    )
    return loose, tight


def ends_of(piece: Sawable, kerf: Length) -> Ends:
    """Length of a piece and the cuts at its ends. [in]"""
    return Ends(piece.long_point.inches, kerf_at(piece.left, kerf).inches, kerf_at(piece.right, kerf).inches)


def charged_side(ends: Sequence[Ends]) -> list[Fraction]:
    """The cuts at all left ends or at all right ends, whichever take more together."""
    return max([one.left for one in ends], [one.right for one in ends], key=sum)


def grid_of(ends: Sequence[Ends], usable: Sequence[Fraction]) -> int:
    """Units an inch: exact where that stays small, else 64ths."""
    numbers = [part for one in ends for part in (one.length, one.left, one.right)] + list(usable)
    exact = math.lcm(*(number.denominator for number in numbers))
    return exact if exact * max(usable) <= MOST_UNITS else coarse_grid(max(usable))


def coarse_grid(longest: Fraction) -> int:
    """Units an inch where the exact ones would be too many: 64ths, or fewer for very long boards."""
    return max(1, min(SNAP, int(MOST_UNITS // longest)))


def _model(sizes: Sequence[int], holds: Sequence[int], choices: Sequence[Choice]) -> Sawn:
    places: defaultdict[int, list[int]] = defaultdict(list)
    for place, size in enumerate(sizes):
        places[size].append(place)
    distinct = sorted(places, reverse=True)
    common = math.gcd(*distinct) or 1
    work = single(
        tuple(size // common for size in distinct),
        tuple(len(places[size]) for size in distinct),
        tuple(hold // common for hold in holds),
        tuple(int(choice.price * 100) for choice in choices),
        tuple(choice.available for choice in choices),
    )
    return Sawn(work, tuple(tuple(places[size]) for size in distinct))


def in_cutting_order(pieces: Sequence[Sawable], kerf: Length) -> tuple[Sawable, ...]:
    """Pieces of one board in the order that saws off the least; the longest first among equals.

    Ends cut at like angles come to lie together, since a wide cut is then shared by two of them.
    """
    longest = sorted(pieces, key=lambda piece: -piece.long_point.inches)
    kinds: dict[tuple[Fraction, Fraction], list[Sawable]] = {}
    for piece in longest:
        ends = kerf_at(piece.left, kerf).inches, kerf_at(piece.right, kerf).inches
        kinds.setdefault(ends, []).append(piece)
    if len({width for ends in kinds for width in ends}) == 1:
        return tuple(longest)
    cuts = list(kinds)
    between = [[max(one[1], two[0]) for two in cuts] for one in cuts]
    order = least_sequence(tuple(len(some) for some in kinds.values()), between, [Fraction(0)] * len(cuts))
    if order is None:
        return tuple(
            sorted(longest, key=lambda piece: -max(kerf_at(piece.left, kerf), kerf_at(piece.right, kerf)).inches)
        )
    dealt = {ends: iter(some) for ends, some in kinds.items()}
    return tuple(next(dealt[cuts[kind]]) for kind in order)


def sawn_off(pieces: Sequence[Sawable], kerf: Length) -> Fraction:
    """What pieces and the cuts between them take of a board, in this order. [in]"""
    cuts = sum(max(kerf_at(one.right, kerf).inches, kerf_at(two.left, kerf).inches) for one, two in pairwise(pieces))
    return sum((piece.long_point.inches for piece in pieces), start=Fraction(0)) + cuts
