"""A cutting job by itself, without rooms: boards to buy, runs to join on backing, pieces of given length."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal

    from service.estimate.cuts.model import Cutting, ProfileBoards
    from service.units import Length


@dataclass(frozen=True, slots=True)
class StockRow:
    """One length that a profile can be had in.

    Attributes:
        profile: its name.
        length: as sold. [Length]
        price: one board, whole cents; 0 for an offcut on hand. [money]
        available: how many there are; None: no limit.
        is_offcut: on hand, from an earlier job.
    """

    profile: str
    length: Length
    price: Decimal
    available: int | None = None
    is_offcut: bool = False


@dataclass(frozen=True, slots=True)
class RunRow:
    """One run, to be cut whole or joined on its backing.

    Attributes:
        id: unique among runs and pieces.
        profile: its name.
        wall: runs of one wall keep their joints a stagger apart.
        start: its left end on the wall. [Length]
        length: from end to end. [Length]
        backing: where a joint may fall, from the run's own left end. [Length]
    """

    id: str
    profile: str
    wall: str
    start: Length
    length: Length
    backing: tuple[Length, ...]


@dataclass(frozen=True, slots=True)
class PieceRow:
    """So many pieces of one given length."""

    id: str
    profile: str
    length: Length
    quantity: int


@dataclass(frozen=True, slots=True)
class CutRequest:
    """A cutting job.

    Attributes:
        currency: ISO 4217 code, for the answer.
        kerf: lost at every cut between two pieces of a board. [Length]
        end_trim: lost of every board, both ends together. [Length]
        scarf_overlap: each joint adds half of it to both of its pieces. [Length]
        shortest_piece: least length of a piece of a spliced run, overlaps included. [Length]
        stagger: least distance between joints of different runs on one wall. [Length]
        joint_cost: of one joint. [money]
        splice_short_runs: whether a run that fits a board may be spliced all the same.
        seconds: how hard to try; None: the default.
        stock: boards to be had.
        runs: runs to be joined or cut whole.
        pieces: pieces of given length.
    """

    currency: str
    kerf: Length
    end_trim: Length
    scarf_overlap: Length
    shortest_piece: Length
    stagger: Length
    joint_cost: Decimal
    splice_short_runs: bool
    stock: tuple[StockRow, ...]
    runs: tuple[RunRow, ...] = ()
    pieces: tuple[PieceRow, ...] = ()
    seconds: Decimal | None = None


@dataclass(frozen=True, slots=True)
class SawnPiece:
    """One piece of the plan: its mark on the boards, the run or piece row it belongs to, and its length."""

    mark: str
    of: str
    profile: str
    length: Length


@dataclass(frozen=True, slots=True)
class RunJoints:
    """Where a run is joined, from its own left end, rising; each is one of its backing positions."""

    id: str
    joints: tuple[Length, ...]


@dataclass(frozen=True, slots=True)
class CutAnswer:
    """A plan: cost and proof, joints of every run in the order of the request, boards profile by profile, pieces."""

    currency: str
    cutting: Cutting
    runs: tuple[RunJoints, ...]
    boards: tuple[ProfileBoards, ...]
    pieces: tuple[SawnPiece, ...]
