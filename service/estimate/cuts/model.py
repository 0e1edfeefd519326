"""Records of the cutting stage."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import INCH, Figure, given
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable
    from decimal import Decimal

    from service.estimate.takeoff.model import End
    from service.firm import Position
    from service.units import Length


class Proof(StrEnum):
    """Who vouches for a lower bound."""

    EXACT = "exact"
    SOLVER = "solver"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Splice:
    """A scarf joint of a run, at `at` from the wall's left end; on a glue plate where no backing is."""

    run: int
    at: Length
    on_glue_plate: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """One sawn length.

    `mark` is unique in a quote; `run` the number of its run; `start` its leftmost point from the wall's
    left end; `board` the number, from 1, of the board of its profile that it is cut from. A return piece
    has `is_return` set and stands at the end it closes. `left_setback`, `right_setback`: long point less
    short point at that end. `measured`: how the long point was worked out, None for a piece that no run is behind.
    """

    mark: str
    run: int
    room: int
    room_name: str
    wall: str
    assembly: str
    layer: int
    position: Position
    profile: str
    long_point: Length
    short_point: Length
    start: Length
    left: End
    right: End
    board: int = 0
    is_return: bool = False
    left_setback: Length = ZERO
    right_setback: Length = ZERO
    measured: Figure | None = field(default=None, compare=False)

    @property
    def long_figure(self) -> Figure:
        """How the long point was worked out. [Length]"""
        return self.measured or given(f"piece {self.mark}", self.long_point, INCH, "plan:pieces")


@dataclass(frozen=True, slots=True)
class Purchase:
    """So many boards of one length; offcuts on hand stand here too, at their own price."""

    length: Length
    count: int
    unit_price: Decimal
    amount: Decimal
    is_offcut: bool = False


@dataclass(frozen=True, slots=True)
class Pattern:
    """One board: its pieces in cutting order and what is left.

    length = pieces' long points + kerf + offcut + waste; the end trim counts as waste. This holds however the cuts are
    made. `nested` is what parallel ends lying together free beyond it: where each such pair is parted by one cut, what
    is left of the board comes out longer by as much. `is_offcut`: the board is an offcut on hand.
    """

    number: int
    length: Length
    pieces: tuple[str, ...]
    kerf: Length
    offcut: Length
    waste: Length
    nested: Length = ZERO
    is_offcut: bool = False


@dataclass(frozen=True, slots=True)
class Usage:
    """What became of the boards of one profile; boards = pieces + kerf + offcuts + waste.

    Attributes:
        boards: all that were cut up, offcuts on hand among them. [Length]
        pieces: long point to long point. [Length]
        kerf: turned to dust. [Length]
        offcuts: kept. [Length]
        waste: end trim and remainders too short to keep. [Length]
    """

    boards: Length
    pieces: Length
    kerf: Length
    offcuts: Length
    waste: Length

    def share_of(self, part: Length) -> Fraction:
        """A part of the boards as a fraction of them; 0 of nothing."""
        return part / self.boards if self.boards else Fraction(0)

    @property
    def pieces_share(self) -> Fraction:
        """In pieces."""
        return self.share_of(self.pieces)

    @property
    def kerf_share(self) -> Fraction:
        """Turned to dust."""
        return self.share_of(self.kerf)

    @property
    def offcuts_share(self) -> Fraction:
        """Kept."""
        return self.share_of(self.offcuts)

    @property
    def waste_share(self) -> Fraction:
        """Not worth keeping."""
        return self.share_of(self.waste)


@dataclass(frozen=True, slots=True)
class ProfileBoards:
    """All boards of one profile. `joints`: splices among its pieces."""

    profile: str
    purchases: tuple[Purchase, ...]
    patterns: tuple[Pattern, ...]
    cost: Decimal
    joints: int

    @property
    def usage(self) -> Usage:
        """What became of the boards, from their lengths as told, to 1/64". [Length]"""
        boards = _together(pattern.length for pattern in self.patterns)
        kerf = _together(pattern.kerf for pattern in self.patterns)
        offcuts = _together(pattern.offcut for pattern in self.patterns)
        waste = _together(pattern.waste for pattern in self.patterns)
        return Usage(boards, boards - kerf - offcuts - waste, kerf, offcuts, waste)


def _together(lengths: Iterable[Length]) -> Length:
    return sum((length.snapped() for length in lengths), start=ZERO)


@dataclass(frozen=True, slots=True)
class CutGroup:
    """Profiles planned together: cost, proven lower bound, whether they meet."""

    profiles: tuple[str, ...]
    cost: Decimal
    lower_bound: Decimal
    is_proven: bool


@dataclass(frozen=True, slots=True)
class Cutting:
    """What the boards and joints cost and how far that may be from the least; gap = (cost - bound)/bound.

    `saving_amount` is what they cost less than boards cut at full length, joined at the last position before their
    end and dealt out by first fit; None where that way finds no plan.
    """

    cost: Decimal
    boards_cost: Decimal
    joint_cost: Decimal
    lower_bound: Decimal
    gap: Fraction
    gap_amount: Decimal
    is_proven: bool
    proof: Proof
    groups: tuple[CutGroup, ...]
    saving_amount: Decimal | None = None


@dataclass(frozen=True, slots=True)
class CutPlan:
    """Result of the cutting stage."""

    pieces: tuple[Piece, ...]
    boards: tuple[ProfileBoards, ...]
    splices: tuple[Splice, ...]
    cutting: Cutting
