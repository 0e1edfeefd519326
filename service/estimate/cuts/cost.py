"""What boards and joints cost, and how far that may be from the least."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.cuts.bound import least_need, lower_bound
from service.estimate.cuts.model import CutGroup, Cutting, Proof
from service.money import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.cuts.job import Proven
    from service.estimate.cuts.model import ProfileBoards
    from service.estimate.cuts.supply import Layout


def cutting_of(layout: Layout, boards: Sequence[ProfileBoards]) -> Cutting:
    """Cost, proven lower bound and gap, for the whole job and group by group.

    Args:
        layout: joints, boards, and what is proven of them.
        boards: the same boards, profile by profile, as they are shown.
    """
    groups = tuple(_group(layout, proven) for proven in layout.proven)
    cost = _total(group.cost for group in groups)
    boards_cost = _total(one.cost for one in boards)
    bound = _total(group.lower_bound for group in groups)
    quick = layout.quick_cents
    return Cutting(
        cost=cost,
        boards_cost=boards_cost,
        joint_cost=cost - boards_cost,
        lower_bound=bound,
        gap=gap_of(cost, bound),
        gap_amount=cost - bound,
        is_proven=cost == bound,
        proof=_proof(layout.proven, cost, bound),
        groups=groups,
        saving_amount=None if quick is None else _money(quick) - cost,
    )


def _group(layout: Layout, proven: Proven) -> CutGroup:
    cost = layout.cents(proven.profiles)
    bound = min(max(proven.cents, _plain_bound(layout, proven.profiles)), cost)
    return CutGroup(proven.profiles, _money(cost), _money(bound), cost == bound)


def _plain_bound(layout: Layout, profiles: Iterable[str]) -> int:
    """What plain arithmetic proves of some profiles. [cents]"""
    job, total = layout.job, 0
    spans = job.loose()
    loose = {span.number for span in spans}
    for profile in profiles:
        pieces = (piece for board in layout.packings[profile].boards for piece in board.pieces)
        whole = [piece.long_point for piece in pieces if piece.is_return or piece.run not in loose]
        mine = [span for span in spans if span.profile == profile]
        shelf = job.shelves[profile]
        total += lower_bound(least_need(mine, whole, shelf, job.kerf), shelf, job.kerf, job.joint_cents)
    return total


def _proof(proven: Iterable[Proven], cost: Decimal, bound: Decimal) -> Proof:
    if cost and not bound:
        return Proof.NONE
    return Proof.EXACT if all(one.is_exact for one in proven) else Proof.SOLVER


def gap_of(cost: Decimal, bound: Decimal) -> Fraction:
    """How far a cost lies above its bound, as a fraction of the bound; of the cost itself above a bound of zero."""
    if cost == bound:
        return Fraction(0)
    return Fraction(cost - bound) / Fraction(bound or cost)


def _money(cents: int) -> Decimal:
    return Decimal(cents).scaleb(-2)


def _total(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, start=ZERO)
