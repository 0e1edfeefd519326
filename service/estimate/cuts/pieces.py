"""Sawn pieces: every run cut at its joints, and the small returns that close an end."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from itertools import count, pairwise
from typing import TYPE_CHECKING

from service.estimate.cuts.measured import half_overlap, part_of_run, return_figure
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
    from service.estimate.figures import Figure
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
    measured: Figure | None = None


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
        measured=cut.measured,
    )


def _run_pieces(run: Run, splices: Sequence[Splice], scarf_angle_deg: float) -> Iterator[_Cut]:
    left, right = returned_ends(run)
    if left:
        yield _return(
            run, run.cut_start, (_dead_end(), _return_end(run, run.left, Side.RIGHT)), (ZERO, run.left_setback)
        )
    yield from _whole(run) if not splices else _parts(run, splices, scarf_angle_deg)
    if right:
        yield _return(
            run, run.cut_end, (_return_end(run, run.right, Side.LEFT), _dead_end()), (run.right_setback, ZERO)
        )


def _return(run: Run, at: Length, ends: tuple[End, End], setbacks: tuple[Length, Length]) -> _Cut:
    measured = return_figure(run, stands_on_layer=_stands_on_layer(run))
    return _Cut(at, return_length(run), ZERO, *ends, *setbacks, is_return=True, measured=measured)


def _whole(run: Run) -> Iterator[_Cut]:
    long_point, short = run.cut_length.snapped(), run.cut_short.snapped()
    setbacks = run.left_setback, run.right_setback
    yield _Cut(run.cut_start, long_point, short, run.left, run.right, *setbacks, measured=run.cut_figure)


def _parts(run: Run, splices: Sequence[Splice], scarf_angle_deg: float) -> Iterator[_Cut]:
    limits = _limits(run, splices, scarf_angle_deg)
    half = half_overlap(run, scarf_overlap(run.profile.thickness, scarf_angle_deg), scarf_angle_deg)
    bounds = pairwise((None, *splices, None))
    for left, right, joints in zip(limits[::2], limits[1::2], bounds, strict=True):
        yield replace(_between(left, right), measured=part_of_run(run, *joints, half))


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
    return (run.far - run.near if _stands_on_layer(run) else run.far).snapped()


def _stands_on_layer(run: Run) -> bool:
    return run.near > ZERO or run.over_wall_layer is not None


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
