"""Records of the cutting stage."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal
    from fractions import Fraction

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
    has `is_return` set and stands at the end it closes.
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

    length = pieces' long points + kerf + offcut + waste; the end trim counts as waste.
    """

    number: int
    length: Length
    pieces: tuple[str, ...]
    kerf: Length
    offcut: Length
    waste: Length


@dataclass(frozen=True, slots=True)
class ProfileBoards:
    """All boards of one profile. `joints`: splices among its pieces."""

    profile: str
    purchases: tuple[Purchase, ...]
    patterns: tuple[Pattern, ...]
    cost: Decimal
    joints: int


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
