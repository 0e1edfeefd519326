"""What boards and joints cost, and how far that may be from the least."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.cuts.bound import lower_bound
from service.estimate.cuts.model import CutGroup, Cutting, Proof
from service.money import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from service.estimate.cuts.boards import Packing
    from service.estimate.cuts.model import ProfileBoards
    from service.estimate.cuts.shelf import Shelf
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings


def cutting_of(
    boards: Sequence[ProfileBoards],
    runs: Sequence[Run],
    shelves: Mapping[str, Shelf],
    settings: FirmSettings,
    joint_cost: Decimal,
    packings: Mapping[str, Packing],
) -> Cutting:
    """Cost, proven lower bound and gap, for the whole job and profile by profile.

    Args:
        boards: what is bought, profile by profile.
        runs: all runs of the job.
        shelves: what each profile can be had in.
        settings: kerf and scarf angle are read.
        joint_cost: labor of one splice. [money]
        packings: what the engine proved of each profile's pieces.
    """
    groups = tuple(
        _group(
            one,
            [run for run in runs if run.profile.name == one.profile],
            shelves[one.profile],
            settings,
            joint_cost,
            packings[one.profile],
        )
        for one in boards
    )
    boards_cost = _total(one.cost for one in boards)
    cost = _total(group.cost for group in groups)
    bound = _total(group.lower_bound for group in groups)
    return Cutting(
        cost=cost,
        boards_cost=boards_cost,
        joint_cost=cost - boards_cost,
        lower_bound=bound,
        gap=gap_of(cost, bound),
        gap_amount=cost - bound,
        is_proven=cost == bound,
        proof=Proof.EXACT if all(packing.is_exact for packing in packings.values()) else Proof.SOLVER,
        groups=groups,
    )


def _group(
    boards: ProfileBoards,
    runs: Sequence[Run],
    shelf: Shelf,
    settings: FirmSettings,
    joint_cost: Decimal,
    packing: Packing,
) -> CutGroup:
    cost = boards.cost + boards.joints * joint_cost
    bound = lower_bound(runs, shelf, settings, joint_cost)
    if all(run.cut_length.snapped() <= shelf.longest_unlimited for run in runs):
        bound = max(bound, Decimal(packing.bound).scaleb(-2))
    return CutGroup((boards.profile,), cost, bound, cost == bound)


def gap_of(cost: Decimal, bound: Decimal) -> Fraction:
    """How far a cost lies above its bound, as a fraction of the bound; of the cost itself above a bound of zero."""
    if cost == bound:
        return Fraction(0)
    return Fraction(cost - bound) / Fraction(bound or cost)


def _total(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, start=ZERO)
