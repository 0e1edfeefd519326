"""Boards as the quote shows them: what each is cut into, what is left, what is bought."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.cuts.boards import pieces_length
from service.estimate.cuts.kerf import kerf_at, kerf_between
from service.estimate.cuts.model import Pattern, ProfileBoards, Purchase
from service.estimate.cuts.nesting import nested_between, rearranged
from service.money import ZERO as NO_MONEY
from service.units import SNAP, ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from decimal import Decimal

    from service.estimate.cuts.boards import Board, Packing
    from service.estimate.cuts.model import Piece


def boards_of(profile: str, packing: Packing, kerf: Length, keep: Length, joints: int) -> ProfileBoards:
    """Every board of one profile in buying order, what they cost, and how many splices stand between their pieces.

    Args:
        profile: its name.
        packing: boards with their pieces, in any order.
        kerf: width of a square cut. [Length]
        keep: the shortest offcut that is kept. [Length]
        joints: splices among the pieces.
    """
    purchases = _purchases(packing)
    return ProfileBoards(
        profile=profile,
        purchases=purchases,
        patterns=tuple(pattern(number, board, kerf, keep) for number, board in _numbered(packing)),
        cost=sum((purchase.amount for purchase in purchases), start=NO_MONEY),
        joints=joints,
    )


def in_buying_order(boards: Iterable[Board]) -> tuple[Board, ...]:
    """Boards as the order list has them: longest first, bought ones before offcuts on hand, like boards together."""
    return tuple(sorted(boards, key=_buying_place))


def _buying_place(board: Board) -> tuple[Fraction, bool, Decimal, list[Fraction]]:
    choice = board.choice
    return -choice.length.inches, choice.is_offcut, choice.price, sorted(-one.long_point.inches for one in board.pieces)


def _numbered(packing: Packing) -> Iterator[tuple[int, Board]]:
    return enumerate(in_buying_order(packing.boards), start=1)


def pattern(number: int, board: Board, kerf: Length, keep: Length) -> Pattern:
    """One board with its pieces in the order that leaves the most: length = pieces + kerf + offcut + waste, exactly.

    All cuts of the board together are snapped once, up to the next 1/64", so that nothing left over is
    promised twice. What is shorter than the firm keeps is waste, and so is the end trim. What parallel neighbors
    share is told beside, snapped down, and promised to nobody: an offcut listed too long would be a board too short
    in the next job, so its length holds even where the shared cuts are not made as one.
    """
    board = replace(board, pieces=rearranged(board.pieces, kerf, board.choice.usable))
    room = board.choice.usable - pieces_length(board.pieces)
    sawn = min(_snapped_up(_all_cuts(board, kerf)), room)
    rest = room - sawn
    offcut = rest if rest >= keep else ZERO
    return Pattern(
        number=number,
        length=board.choice.length,
        pieces=tuple(piece.mark for piece in board.pieces),
        kerf=sawn,
        offcut=offcut,
        waste=board.choice.length - board.choice.usable + rest - offcut,
        nested=_snapped_down(nested_between(board.pieces)),
        is_offcut=board.choice.is_offcut,
    )


def _all_cuts(board: Board, kerf: Length) -> Length:
    between = kerf_between(board.pieces, kerf)
    is_full = board.choice.usable == pieces_length(board.pieces) + between
    return between if is_full else between + kerf_at(board.pieces[-1].right, kerf)


def _snapped_up(length: Length) -> Length:
    return Length(Fraction(math.ceil(length.inches * SNAP), SNAP))


def _snapped_down(length: Length) -> Length:
    return Length(Fraction(math.floor(length.inches * SNAP), SNAP))


def _purchases(packing: Packing) -> tuple[Purchase, ...]:
    counts = Counter(board.choice for board in packing.boards)
    rows = sorted(counts.items(), key=lambda row: (-row[0].length.inches, row[0].is_offcut, row[0].price))
    return tuple(
        Purchase(choice.length, count, choice.price, choice.price * count, choice.is_offcut) for choice, count in rows
    )


def with_boards(pieces: Iterable[Piece], packings: Mapping[str, Packing]) -> tuple[Piece, ...]:
    """The pieces, each with the number of the board of its profile that it is cut from."""
    number_of = {
        piece.mark: number
        for packing in packings.values()
        for number, board in _numbered(packing)
        for piece in board.pieces
    }
    return tuple(replace(piece, board=number_of[piece.mark]) for piece in pieces)
