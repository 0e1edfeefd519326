"""A cutting job by itself: the same planner, without rooms.

Pieces are cut as long as they are asked for, every cut takes one kerf, and joints fall on the backing that the request
names; no rule of corners, no glue plates.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING, cast

from service.estimate.cuts.cost import cutting_of
from service.estimate.cuts.courses import Joinery, Stretch, course, fewest
from service.estimate.cuts.engine.work import effort_of
from service.estimate.cuts.job import Job
from service.estimate.cuts.patterns import boards_of
from service.estimate.cuts.request import CutAnswer, RunJoints, SawnPiece
from service.estimate.cuts.shelf import Choice, Shelf
from service.estimate.cuts.spans import Span
from service.estimate.cuts.supply import laid_out
from service.estimate.takeoff.model import End, Joint
from service.problems import Code, Problems
from service.units import ZERO, Length, Units

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from service.estimate.cuts.courses import Course
    from service.estimate.cuts.request import CutRequest, PieceRow, RunRow
    from service.estimate.cuts.splices import Joined
    from service.estimate.cuts.supply import Layout

SQUARE = End(Joint.SQUARE, miter_deg=0.0, bevel_deg=0.0)


@dataclass(frozen=True, slots=True)
class Cut:
    """One square piece: `run` the index of its run, negative for a given piece's."""

    mark: str
    run: int
    of: str
    profile: str
    long_point: Length
    left: End = SQUARE
    right: End = SQUARE
    is_return: bool = False
    left_setback: Length = ZERO
    right_setback: Length = ZERO


def direct_plan(request: CutRequest, problems: Problems) -> CutAnswer | None:
    """Joints and boards of a cutting job at the least cost that could be found.

    Args:
        request: boards, runs and pieces.
        problems: takes stock-missing and piece-cannot-be-cut.

    Returns:
        The plan; None when a run or a piece of it cannot be cut or stocked.
    """
    shelves = _shelves(request)
    if not _is_stocked(request, shelves, problems):
        return None
    layout = laid_out(_job(request, shelves), effort_of(request.seconds))
    _tell(layout, request, problems)
    return None if not layout.is_plan else _answer(layout, request)


def _shelves(request: CutRequest) -> dict[str, Shelf]:
    rows: dict[str, list[Choice]] = {}
    for row in request.stock:
        choice = Choice(row.length, row.length - request.end_trim, row.price, row.available, row.is_offcut)
        if choice.usable > ZERO and choice.available != 0:
            rows.setdefault(row.profile, []).append(choice)
    return {
        profile: Shelf(profile, tuple(sorted(set(some), key=lambda choice: (-choice.length.inches, choice.price))))
        for profile, some in rows.items()
    }


def _is_stocked(request: CutRequest, shelves: Mapping[str, Shelf], problems: Problems) -> bool:
    """Tell profiles without a board, and given pieces longer than any."""
    faults = Problems()
    for place, run in enumerate(request.runs):
        if run.profile not in shelves:
            _tell_missing(f"/runs/{place}", run.profile, faults)
    for place, piece in enumerate(request.pieces):
        shelf = shelves.get(piece.profile)
        if shelf is None:
            _tell_missing(f"/pieces/{place}", piece.profile, faults)
        elif piece.length > shelf.longest:
            _tell_too_long(f"/pieces/{place}", piece, shelf.longest, faults)
    problems.extend(faults)
    return not faults.has_errors


def _job(request: CutRequest, shelves: Mapping[str, Shelf]) -> Job:
    return Job(
        spans=tuple(_span(number, row, request) for number, row in enumerate(request.runs)),
        shelves=shelves,
        pieces=partial(_pieces, request),
        kerf=request.kerf,
        keep=ZERO,
        stagger=request.stagger,
        joint_cents=int(request.joint_cost * 100),
        splice_short_runs=request.splice_short_runs,
    )


def _span(number: int, row: RunRow, request: CutRequest) -> Span:
    kerf = request.kerf.inches
    return Span(
        number=number,
        profile=row.profile,
        stack=row.wall,
        length=row.length,
        overlap=request.scarf_overlap,
        cuts=(kerf, kerf),
        scarfs=(kerf, kerf),
        courses=partial(_courses, number, row, request),
    )


def _courses(number: int, row: RunRow, request: CutRequest, limit: Length) -> Iterator[Course]:
    joinery = Joinery(request.scarf_overlap / 2, request.shortest_piece, limit, is_snapped=False)
    stretch = Stretch(number, number, row.start, row.start + row.length)
    one = course(stretch, (row.start + position for position in row.backing), joinery)
    if fewest(one) is not None:
        yield one


def _pieces(request: CutRequest, joints: Mapping[int, Joined]) -> tuple[Cut, ...]:
    runs = (cut for number, row in enumerate(request.runs) for cut in _of_run(request, number, row, joints.get(number)))
    given = (
        Cut(f"{row.id}/{copy}", -1, row.id, row.profile, row.length)
        for row in request.pieces
        for copy in range(1, row.quantity + 1)
    )
    return (*runs, *given)


def _of_run(request: CutRequest, number: int, row: RunRow, joined: Joined | None) -> Iterator[Cut]:
    half = request.scarf_overlap / 2
    stops = [row.start, *(joined.at if joined else ()), row.start + row.length]
    last = len(stops) - 2
    for place, (start, stop) in enumerate(pairwise(stops)):
        length = stop - start + half * ((place > 0) + (place < last))
        yield Cut(f"{row.id}/{place + 1}", number, row.id, row.profile, length)


def _answer(layout: Layout, request: CutRequest) -> CutAnswer:
    joints, counts = layout.spliced.joints, layout.joints_by_profile
    boards = tuple(
        boards_of(profile, packing, request.kerf, layout.job.keep, counts[profile])
        for profile, packing in layout.packings.items()
    )
    return CutAnswer(
        currency=request.currency,
        cutting=cutting_of(layout, boards),
        runs=tuple(
            RunJoints(row.id, tuple(at - row.start for at in joints[number].at) if number in joints else ())
            for number, row in enumerate(request.runs)
        ),
        boards=boards,
        pieces=tuple(SawnPiece(cut.mark, cut.of, cut.profile, cut.long_point) for cut in _pieces(request, joints)),
    )


def _tell(layout: Layout, request: CutRequest, problems: Problems) -> None:
    for span in layout.spliced.without_plan:
        _tell_no_joints(span, request, layout.limits[span.number], problems)
    for stack in layout.spliced.without_stagger:
        _tell_no_stagger(stack, request, problems)
    places = {row.id: f"/pieces/{place}" for place, row in enumerate(request.pieces)}
    for cut in layout.unplaced:
        _tell_unplaced(cast("Cut", cut), request, places, problems)


def _tell_missing(pointer: str, profile: str, problems: Problems) -> None:
    problems.error(
        Code.STOCK_MISSING,
        pointer,
        f"The stock has no length of {profile} to cut from.",
        help="Add a stock row for the profile, longer than the end trim.",
        found=profile,
    )


def _tell_too_long(pointer: str, piece: PieceRow, longest: Length, problems: Problems) -> None:
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        pointer,
        f"{piece.id} is {_inches(piece.length)} long, and a board holds {_inches(longest)} at most.",
        help="Offer a longer stock length of this profile.",
        found=_inches(piece.length),
    )


def _tell_no_joints(span: Span, request: CutRequest, limit: Length, problems: Problems) -> None:
    row = request.runs[span.number]
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        f"/runs/{span.number}",
        f"Run {row.id} on wall {row.wall} is {_inches(row.length)} long; no joints on its backing divide it into pieces "
        f"from {_inches(request.shortest_piece)} to {_inches(limit)}, the most that a board of {row.profile} holds.",
        help="Offer a longer stock length, name more backing, or allow a shorter piece.",
        found=_inches(row.length),
    )


def _tell_no_stagger(stack: Sequence[Span], request: CutRequest, problems: Problems) -> None:
    rows = [request.runs[span.number] for span in stack]
    names = ", ".join(f"{row.id} ({_inches(row.length)})" for row in rows)
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        f"/runs/{stack[0].number}",
        f"Wall {rows[0].wall}: no arrangement of joints was found that keeps those of runs {names} "
        f"{_inches(request.stagger)} apart.",
        help="Offer longer stock lengths, name more backing, or set a smaller stagger.",
    )


def _tell_unplaced(cut: Cut, request: CutRequest, places: Mapping[str, str], problems: Problems) -> None:
    pointer = f"/runs/{cut.run}" if cut.run >= 0 else places[cut.of]
    wall = f" on wall {request.runs[cut.run].wall}" if cut.run >= 0 else ""
    problems.error(
        Code.STOCK_MISSING,
        pointer,
        f"{cut.of}{wall}: no board of {cut.profile} is left for a piece of {_inches(cut.long_point)}.",
        help="Raise `available`, or offer a length without a limit.",
        found=_inches(cut.long_point),
    )


def _inches(length: Length) -> str:
    return length.text(Units.IMPERIAL)
