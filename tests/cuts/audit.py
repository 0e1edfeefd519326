"""An independent checker of cutting plans: what is wrong with one, in words.

Pure functions of what was asked and what was answered. They share no code with the planner and the engine: every
length, count and sum is worked out again from the request. No sentence means that the plan is lawful.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from service.estimate.cuts.model import Proof

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from service.estimate.cuts.model import CutGroup, Cutting, ProfileBoards
    from service.estimate.cuts.request import CutAnswer, CutRequest, RunJoints, RunRow, StockRow
    from service.firm import Stock


@dataclass(frozen=True, slots=True)
class Cut:
    """A sawn piece as the checker sees it: what it belongs to, its profile and its length. [in]"""

    mark: str
    of: str
    profile: str
    length: Fraction


def faults_of(request: CutRequest, answer: CutAnswer) -> list[str]:
    """All that is wrong with the answer to a cutting job."""
    cuts = [Cut(piece.mark, piece.of, piece.profile, piece.length.inches) for piece in answer.pieces]
    kerf, trim = request.kerf.inches, request.end_trim.inches
    return [
        *_run_faults(request, answer),
        *_piece_faults(request, answer, cuts),
        *stagger_faults(_joints_on_walls(request, answer), request.stagger.inches),
        *board_faults(answer.boards, cuts, lambda marks: kerf * (len(marks) - 1), trim),
        *count_faults(answer.boards, request.stock),
        *cost_faults(answer.cutting, answer.boards, _joints_by_profile(request, answer), request.joint_cost),
        *proof_faults(answer.cutting, [boards.profile for boards in answer.boards]),
        *(["the currency is not the one asked for"] if answer.currency != request.currency else []),
    ]


def _run_faults(request: CutRequest, answer: CutAnswer) -> Iterator[str]:
    if [run.id for run in answer.runs] != [run.id for run in request.runs]:
        yield "the runs are not those of the request in its order"
        return
    for run, made in zip(request.runs, answer.runs, strict=True):
        at = [joint.inches for joint in made.joints]
        if any(later <= earlier for earlier, later in pairwise(at)):
            yield f"run {run.id}: joints do not rise"
        for joint in made.joints:
            if joint not in run.backing or not 0 < joint.inches < run.length.inches:
                yield f"run {run.id}: joint at {joint.inches} is not on backing"
        if at and not request.splice_short_runs and fits_unlimited(run.length.inches, run.profile, request):
            yield f"run {run.id}: spliced though it fits a board"
        if at and min(piece_lengths(run, made, request)) < request.shortest_piece.inches:
            yield f"run {run.id}: a piece is shorter than the shortest"


def fits_unlimited(length: Fraction, profile: str, request: CutRequest) -> bool:
    """True when a board of which there is no end holds a piece of this length."""
    return any(
        length + request.end_trim.inches <= row.length.inches
        for row in request.stock
        if row.profile == profile and row.available is None
    )


def piece_lengths(run: RunRow, made: RunJoints, request: CutRequest) -> list[Fraction]:
    """Lengths of a run's pieces from left to right: what they span and half an overlap for each joint. [in]"""
    marks = [Fraction(0), *(joint.inches for joint in made.joints), run.length.inches]
    half = request.scarf_overlap.inches / 2
    last = len(marks) - 2
    return [end - start + half * ((place > 0) + (place < last)) for place, (start, end) in enumerate(pairwise(marks))]


def _piece_faults(request: CutRequest, answer: CutAnswer, cuts: Sequence[Cut]) -> Iterator[str]:
    """Every run is covered end to end by its pieces, every piece asked for is there, and nothing else."""
    wanted = []
    for run, made in zip(request.runs, answer.runs, strict=False):
        lengths = enumerate(piece_lengths(run, made, request), 1)
        wanted += [Cut(f"{run.id}/{number}", run.id, run.profile, length) for number, length in lengths]
    for row in request.pieces:
        numbers = range(1, row.quantity + 1)
        wanted += [Cut(f"{row.id}/{number}", row.id, row.profile, row.length.inches) for number in numbers]
    missing, surplus = Counter(wanted) - Counter(cuts), Counter(cuts) - Counter(wanted)
    yield from (f"piece {cut.mark} of {cut.length} is wanted and not cut" for cut in missing)
    yield from (f"piece {cut.mark} of {cut.length} is cut and not wanted" for cut in surplus)


def _joints_on_walls(request: CutRequest, answer: CutAnswer) -> list[tuple[str, str, Fraction]]:
    return [
        (run.wall, run.id, run.start.inches + joint.inches)
        for run, made in zip(request.runs, answer.runs, strict=False)
        for joint in made.joints
    ]


def stagger_faults(joints: Iterable[tuple[object, object, Fraction]], stagger: Fraction) -> Iterator[str]:
    """Joints nearer than the stagger: each joint is (its wall, its run or layer, where it is on the wall). [in]"""
    for (wall, one, here), (same, other, there) in combinations(joints, 2):
        if wall == same and one != other and abs(here - there) < stagger:
            yield f"wall {wall}: joints of {one} and {other} are only {abs(here - there)} apart"


def board_faults(
    boards: Iterable[ProfileBoards],
    cuts: Sequence[Cut],
    sawn: Callable[[Sequence[str]], Fraction],
    end_trim: Fraction,
) -> Iterator[str]:
    """Boards that hold too much, parts that do not add up, pieces on no board or on several.

    Args:
        boards: of all profiles.
        cuts: all pieces.
        sawn: what the cuts between neighbors take, of the marks in cutting order. [in]
        end_trim: what a board loses at both ends together. [in]
    """
    by_mark = {cut.mark: cut for cut in cuts}
    if len(by_mark) != len(cuts):
        yield "marks are not unique"
    seen: Counter[str] = Counter()
    for of in boards:
        seen.update(mark for pattern in of.patterns for mark in pattern.pieces)
        if [pattern.number for pattern in of.patterns] != list(range(1, len(of.patterns) + 1)):
            yield f"{of.profile}: boards are not numbered from 1"
        yield from _pattern_faults(of, by_mark, sawn, end_trim)
    for mark in by_mark.keys() | seen.keys():
        if seen[mark] != 1:
            yield f"piece {mark} is on {seen[mark]} boards"
    yield from (f"piece {mark} is on a board and is none" for mark in seen.keys() - by_mark.keys())


def _pattern_faults(
    of: ProfileBoards, by_mark: Mapping[str, Cut], sawn: Callable[[Sequence[str]], Fraction], end_trim: Fraction
) -> Iterator[str]:
    for pattern in of.patterns:
        name = f"{of.profile}, board {pattern.number}"
        pieces = [by_mark[mark] for mark in pattern.pieces if mark in by_mark]
        if not pieces or any(piece.profile != of.profile for piece in pieces):
            yield f"{name}: empty, or cut into pieces of another profile"
            continue
        total, lost = sum(piece.length for piece in pieces), sawn(pattern.pieces)
        if total + lost + end_trim > pattern.length.inches:
            yield f"{name}: {total + lost + end_trim} does not fit in {pattern.length.inches}"
        parts = total + sum(part.inches for part in (pattern.kerf, pattern.offcut, pattern.waste))
        if parts != pattern.length.inches:
            yield f"{name}: pieces, kerf, offcut and waste do not make up its length"
        if pattern.kerf.inches < lost or pattern.offcut.inches < 0 or pattern.waste.inches < end_trim:
            yield f"{name}: kerf, offcut or waste is too small"


def count_faults(boards: Iterable[ProfileBoards], stock: Sequence[StockRow | Stock]) -> Iterator[str]:
    """Boards bought that are not on the list, or oftener than there are, or not the ones that are cut."""
    for of in boards:
        rows = [row for row in stock if row.profile == of.profile]
        bought: Counter[Fraction] = Counter()
        for purchase in of.purchases:
            key = purchase.length, purchase.unit_price, purchase.is_offcut
            alike = [row.available for row in rows if (row.length, row.price, row.is_offcut) == key]
            bought[purchase.length.inches] += purchase.count
            if not alike or (None not in alike and purchase.count > sum(count or 0 for count in alike)):
                yield f"{of.profile}: {purchase.count} boards of {purchase.length.inches} cannot be had"
            if purchase.count < 1 or purchase.amount != purchase.unit_price * purchase.count:
                yield f"{of.profile}: boards of {purchase.length.inches} are priced wrong"
        if bought != Counter(pattern.length.inches for pattern in of.patterns):
            yield f"{of.profile}: boards bought are not the boards cut"


def _joints_by_profile(request: CutRequest, answer: CutAnswer) -> Counter[str]:
    counts: Counter[str] = Counter()
    for run, made in zip(request.runs, answer.runs, strict=False):
        counts[run.profile] += len(made.joints)
    return counts


def cost_faults(
    cutting: Cutting, boards: Sequence[ProfileBoards], joints: Mapping[str, int], joint_cost: Decimal
) -> Iterator[str]:
    """Sums that do not add up. `joints`: how many each profile has; `joint_cost` of one. [money]"""
    for of in boards:
        if of.cost != sum(purchase.amount for purchase in of.purchases):
            yield f"{of.profile}: the cost is not that of its boards"
        if of.joints != joints.get(of.profile, 0):
            yield f"{of.profile}: {of.joints} joints are told"
    if cutting.boards_cost != sum(of.cost for of in boards):
        yield "the boards' cost is not the sum of the profiles'"
    if cutting.joint_cost != sum(joints.values()) * joint_cost:
        yield "the joints' cost is not that of the joints made"
    if cutting.cost != cutting.boards_cost + cutting.joint_cost:
        yield "boards and joints do not add up to the cost"
    costs = {of.profile: of.cost + joints.get(of.profile, 0) * joint_cost for of in boards}
    for group in cutting.groups:
        if group.cost != sum(costs.get(profile, Decimal(0)) for profile in group.profiles):
            yield f"group {group.profiles}: the cost is not that of its profiles"


def proof_faults(cutting: Cutting, profiles: Sequence[str]) -> Iterator[str]:
    """A bound above the cost, a gap that is not their difference, a proof that is none, groups that do not match."""
    for part in (cutting, *cutting.groups):
        yield from _bound_faults(part)
    if cutting.gap_amount != cutting.cost - cutting.lower_bound:
        yield "the gap as money is not cost less bound"
    if cutting.gap != _gap_of(cutting):
        yield "the gap is not the share of the bound"
    if cutting.is_proven and cutting.proof is Proof.NONE:
        yield "proven, and nothing vouches for it"
    if sorted(profile for group in cutting.groups for profile in group.profiles) != sorted(profiles):
        yield "groups do not hold every profile once"
    if sum(group.lower_bound for group in cutting.groups) != cutting.lower_bound:
        yield "the groups' bounds do not add up"


def _bound_faults(part: Cutting | CutGroup) -> Iterator[str]:
    if not 0 <= part.lower_bound <= part.cost:
        yield f"the bound {part.lower_bound} is below zero or above the cost {part.cost}"
    if part.is_proven != (part.lower_bound == part.cost):
        yield "proven is told where bound and cost differ, or not told where they meet"


def _gap_of(cutting: Cutting) -> Fraction:
    difference = Fraction(cutting.cost) - Fraction(cutting.lower_bound)
    return difference / Fraction(cutting.lower_bound or cutting.cost) if difference else Fraction(0)
