"""Sawn pieces: every run cut at its joints, and the small returns that close an end."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import count
from typing import TYPE_CHECKING

from service.estimate.cuts.model import Piece
from service.estimate.cuts.order import returned_ends
from service.estimate.cuts.scarf import left_scarf, right_scarf, scarf_overlap
from service.estimate.takeoff.hand import EDGES_OF, flat_hand, nested_hand
from service.estimate.takeoff.model import End, Joint, Side, short_point
from service.estimate.takeoff.saw import RIGHT_ANGLE_DEG, lay_of, settings
from service.survey import CornerKind
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from service.estimate.cuts.model import Splice
    from service.estimate.takeoff.model import Run


@dataclass(frozen=True, slots=True)
class _Limit:
    """One end of a piece: where it reaches to, how much the cut sets it back, and how it is cut."""

    at: Length
    setback: Length
    end: End


def pieces_of(
    runs: Iterable[Run], splices: Mapping[int, Sequence[Splice]], scarf_angle_deg: float
) -> tuple[Piece, ...]:
    """Pieces of all runs, run after run from left to right, each with a mark of its own.

    Args:
        runs: in room order.
        splices: joints of the runs that have some, by run number.
        scarf_angle_deg: saw setting of a scarf, from square. [deg]
    """
    marks: defaultdict[int, Iterator[int]] = defaultdict(lambda: count(1))
    return tuple(
        _marked(cut, run, next(marks[run.room]))
        for run in runs
        for cut in _run_pieces(run, splices.get(run.number, ()), scarf_angle_deg)
    )


@dataclass(frozen=True, slots=True)
class _Cut:
    """A piece before it has a mark."""

    start: Length
    long_point: Length
    short_point: Length
    left: End
    right: End
    left_setback: Length = ZERO
    right_setback: Length = ZERO
    is_return: bool = False


def _marked(cut: _Cut, run: Run, number: int) -> Piece:
    return Piece(
        mark=f"{run.room}-{number:02d}",
        run=run.number,
        room=run.room,
        room_name=run.room_name,
        wall=run.wall,
        assembly=run.assembly,
        layer=run.layer.number,
        position=run.position,
        profile=run.profile.name,
        long_point=cut.long_point,
        short_point=cut.short_point,
        start=cut.start,
        left=cut.left,
        right=cut.right,
        is_return=cut.is_return,
        left_setback=cut.left_setback,
        right_setback=cut.right_setback,
    )


def _run_pieces(run: Run, splices: Sequence[Splice], scarf_angle_deg: float) -> Iterator[_Cut]:
    left, right = returned_ends(run)
    if left:
        mitered, deep = _return_end(run, run.left, Side.RIGHT), return_length(run)
        yield _Cut(run.cut_start, deep, ZERO, _dead_end(), mitered, right_setback=run.left_setback, is_return=True)
    yield from _whole(run) if not splices else _parts(run, splices, scarf_angle_deg)
    if right:
        mitered, deep = _return_end(run, run.right, Side.LEFT), return_length(run)
        yield _Cut(run.cut_end, deep, ZERO, mitered, _dead_end(), left_setback=run.right_setback, is_return=True)


def _whole(run: Run) -> Iterator[_Cut]:
    long_point, short = run.cut_length.snapped(), run.cut_short.snapped()
    yield _Cut(run.cut_start, long_point, short, run.left, run.right, run.left_setback, run.right_setback)


def _parts(run: Run, splices: Sequence[Splice], scarf_angle_deg: float) -> Iterator[_Cut]:
    limits = _limits(run, splices, scarf_angle_deg)
    for left, right in zip(limits[::2], limits[1::2], strict=True):
        yield _between(left, right)


def _limits(run: Run, splices: Sequence[Splice], scarf_angle_deg: float) -> list[_Limit]:
    overlap, lay = scarf_overlap(run.profile.thickness, scarf_angle_deg), lay_of(run.position)
    limits = [_Limit(run.cut_start, run.left_setback, run.left)]
    for splice in splices:
        limits.append(_Limit(splice.at + overlap / 2, overlap, right_scarf(scarf_angle_deg, lay)))
        limits.append(_Limit(splice.at - overlap / 2, overlap, left_scarf(scarf_angle_deg, lay)))
    return [*limits, _Limit(run.cut_end, run.right_setback, run.right)]


def _between(left: _Limit, right: _Limit) -> _Cut:
    long_point = right.at - left.at
    long_edges = left.end.long_edge, right.end.long_edge
    short = short_point(long_point, (left.setback, right.setback), long_edges)
    return _Cut(left.at, long_point.snapped(), short.snapped(), left.end, right.end, left.setback, right.setback)


def return_length(run: Run) -> Length:
    """Long point of a return piece: as deep as the layer stands out from what it dies on. [Length]

    The layer behind takes the place of the wall where there is one. The piece is mitered at 45° across
    this whole depth, so its short edge comes to a point.

    Source: plane geometry.
    """
    stands_on_layer = run.near > ZERO or run.over_wall_layer is not None
    return (run.far - run.near if stands_on_layer else run.far).snapped()


def _return_end(run: Run, end: End, side: Side) -> End:
    """The mitered end of a return: the mirror of the run's own end, an outside 90."""
    lay = lay_of(run.position)
    saw = settings(lay, RIGHT_ANGLE_DEG, run.profile.spring_angle_deg)
    return End(
        Joint.RETURN,
        corner_deg=RIGHT_ANGLE_DEG,
        miter_deg=saw.miter_deg,
        bevel_deg=saw.bevel_deg,
        nested_miter_deg=saw.nested_miter_deg,
        long_edge=end.long_edge,
        corner=CornerKind.OUTSIDE,
        hand=flat_hand(EDGES_OF[lay], side, end.long_edge, saw.miter_deg, saw.bevel_deg),
        nested_hand=nested_hand(lay, side, end.long_edge, saw.nested_miter_deg),
    )


def _dead_end() -> End:
    return End(Joint.SQUARE, miter_deg=0.0, bevel_deg=0.0)
