"""The independent checker for the quote's cutting stage: a `CutPlan` held against its runs and price list."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from service.estimate.takeoff.model import Joint
from service.firm import Position
from tests.cuts.audit import Cut, board_faults, cost_faults, count_faults, proof_faults, stagger_faults

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from decimal import Decimal

    from service.estimate.cuts.model import CutPlan, Piece, Splice
    from service.estimate.takeoff.model import End, Run
    from service.firm import FirmSettings, PriceList

GRID = 64
PLATE_SPACING = 8
ROUNDING = Fraction(1, 10**9)  # of a tangent or cosine in binary, in inches
CEILING_LINE = (Position.CEILING, Position.WALL, Position.CROWN)
FLOOR_LINE = (Position.BASE, Position.CAP, Position.SHOE)


def plan_faults(plan: CutPlan, runs: Sequence[Run], prices: PriceList, joint_cost: Decimal) -> list[str]:
    """All that is wrong with the plan of some runs.

    Args:
        plan: the answer.
        runs: all runs of the job.
        prices: stock and the firm's settings.
        joint_cost: labor of one joint. [money]
    """
    firm = prices.settings
    by_number = {run.number: run for run in runs}
    cuts = [Cut(piece.mark, str(piece.run), piece.profile, piece.long_point.inches) for piece in plan.pieces]
    by_mark = {piece.mark: piece for piece in plan.pieces}
    joints = Counter(by_number[splice.run].profile.name for splice in plan.splices)
    stock = [replace(row, price=row.price.quantize(joint_cost)) for row in prices.stock]

    def sawn(marks: Sequence[str]) -> Fraction:
        return sawn_between([by_mark[mark] for mark in marks if mark in by_mark], firm.kerf.inches)

    return [
        *_run_faults(plan, runs, prices),
        *stagger_faults(_joints_on_walls(plan, by_number), firm.joint_stagger.inches),
        *board_faults(plan.boards, cuts, sawn, firm.end_trim.inches),
        *_board_number_faults(plan),
        *count_faults(plan.boards, stock),
        *cost_faults(plan.cutting, plan.boards, joints, joint_cost),
        *proof_faults(plan.cutting, [boards.profile for boards in plan.boards]),
    ]


def sawn_between(pieces: Sequence[Piece], kerf: Fraction) -> Fraction:
    """What the cuts between neighbors of a board take: kerf / (cos miter · cos bevel), the wider of two ends. [in]"""
    total = Fraction(0)
    for one, other in pairwise(pieces):
        total += max(_slanted(one.right, kerf), _slanted(other.left, kerf))
    return total


def _slanted(end: End, kerf: Fraction) -> Fraction:
    angles = [math.radians(angle) for angle in (end.miter_deg, end.bevel_deg) if angle]
    return kerf / Fraction(math.prod(math.cos(angle) for angle in angles)) - ROUNDING if angles else kerf


def _run_faults(plan: CutPlan, runs: Sequence[Run], prices: PriceList) -> Iterator[str]:
    pieces_of: defaultdict[int, list[Piece]] = defaultdict(list)
    for piece in plan.pieces:
        pieces_of[piece.run].append(piece)
    joints_of: defaultdict[int, list[Splice]] = defaultdict(list)
    for splice in plan.splices:
        joints_of[splice.run].append(splice)
    if set(pieces_of) - {run.number for run in runs}:
        yield "pieces of a run that there is not"
    for run in runs:
        pieces, splices = pieces_of[run.number], joints_of[run.number]
        returned = sum(end.joint is Joint.RETURN for end in (run.left, run.right))
        if sum(piece.is_return for piece in pieces) != returned:
            yield f"run {run.number}: not one return for each returned end"
        yield from _joint_faults(run, splices)
        yield from _cover_faults(run, splices, [piece for piece in pieces if not piece.is_return], prices.settings)
        if splices and not prices.settings.splice_short_runs and _fits(run, prices):
            yield f"run {run.number}: spliced though it fits a board"


def _joint_faults(run: Run, splices: Sequence[Splice]) -> Iterator[str]:
    """Each joint lies inside its run on backing, or every 8" from its left end where the plan says glue plate."""
    if splices and not run.is_along_wall:
        yield f"run {run.number}: trim around an opening is spliced"
    for splice in splices:
        from_left = (splice.at - run.cut_start).inches
        is_on_plate = splice.on_glue_plate and from_left % PLATE_SPACING == 0
        if not (is_on_plate or (not splice.on_glue_plate and splice.at in run.splice_at)):
            yield f"run {run.number}: joint at {splice.at.inches} is on no backing and no glue plate"
        if not run.cut_start < splice.at < run.cut_end:
            yield f"run {run.number}: joint at {splice.at.inches} is outside the run"


def _cover_faults(run: Run, splices: Sequence[Splice], pieces: Sequence[Piece], firm: FirmSettings) -> Iterator[str]:
    """Pieces cover the run end to end, each as long as it spans and half an overlap a joint, snapped once."""
    half = overlap_of(run.profile.thickness.inches, firm.scarf_angle_deg) / 2
    marks = [run.cut_start.inches, *(splice.at.inches for splice in splices), run.cut_end.inches]
    if len(pieces) != len(marks) - 1 or sorted(marks) != marks:
        yield f"run {run.number}: {len(pieces)} pieces for {len(splices)} joints"
        return
    for place, (piece, (start, end)) in enumerate(zip(pieces, pairwise(marks), strict=True)):
        before, after = half * (place > 0), half * (place < len(splices))
        if abs(piece.start.inches - (start - before)) > ROUNDING:
            yield f"piece {piece.mark} does not start where it should"
        if abs(piece.long_point.inches - (end - start + before + after)) > Fraction(1, 2 * GRID) + ROUNDING:
            yield f"piece {piece.mark} is {piece.long_point.inches} long, not {end - start + before + after}"
        if piece.long_point.inches * GRID % 1 or piece.profile != run.profile.name:
            yield f"piece {piece.mark} is not on the grid, or of another profile than its run"
        if splices and piece.long_point < firm.shortest_piece:
            yield f"piece {piece.mark} is shorter than the shortest"


def overlap_of(thickness: Fraction, angle_deg: float) -> Fraction:
    """Overlap of a scarf, thickness · tan(angle); at 45° the thickness itself. [in]"""
    return thickness if angle_deg == 45 else thickness * Fraction(math.tan(math.radians(angle_deg)))


def _fits(run: Run, prices: PriceList) -> bool:
    whole = Fraction(math.floor(run.cut_length.inches * GRID + Fraction(1, 2)), GRID)
    return any(
        whole + prices.settings.end_trim.inches <= row.length.inches
        for row in prices.stock
        if row.profile == run.profile.name and row.available is None
    )


def _joints_on_walls(plan: CutPlan, runs: Mapping[int, Run]) -> Iterator[tuple[object, object, Fraction]]:
    """Joints of layers along the ceiling and along the floor; stretches of one layer are no stack."""
    for splice in plan.splices:
        run = runs[splice.run]
        line = next((line for line in (CEILING_LINE, FLOOR_LINE) if run.position in line), None)
        if line:
            yield (run.room, run.wall, line), (run.assembly, run.layer.number), splice.at.inches


def _board_number_faults(plan: CutPlan) -> Iterator[str]:
    on = {mark: pattern.number for boards in plan.boards for pattern in boards.patterns for mark in pattern.pieces}
    for piece in plan.pieces:
        if on.get(piece.mark) != piece.board:
            yield f"piece {piece.mark} says board {piece.board}"
