"""Runs that may be joined, as the planner sees them, and the courses that the takeoff's runs offer."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from service.estimate.cuts.courses import Joinery, Stretch, course, fewest
from service.estimate.cuts.kerf import kerf_at
from service.estimate.cuts.scarf import left_scarf, right_scarf, scarf_overlap
from service.estimate.takeoff.model import Joint
from service.firm import Position
from service.survey import CornerKind
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterator, Sequence
    from fractions import Fraction

    from service.estimate.cuts.courses import Course
    from service.estimate.takeoff.model import End, Run
    from service.firm import FirmSettings
    from service.units import Length

    Cuts = tuple[Fraction, Fraction]

ZONE_OF = {
    Position.CEILING: "ceiling line",
    Position.WALL: "ceiling line",
    Position.CROWN: "ceiling line",
    Position.BASE: "floor line",
    Position.CAP: "floor line",
    Position.SHOE: "floor line",
}


@dataclass(frozen=True, slots=True)
class Span:
    """A run that may be joined.

    Attributes:
        number: of the run.
        profile: what it is cut from.
        stack: joints of runs with one stack keep a stagger where their layers differ.
        length: as one piece. [Length]
        overlap: what a joint adds to its two pieces together. [Length]
        cuts: widths of the cuts at its left and right end. [in]
        scarfs: widths of the cuts at the left and right end of a piece at a joint. [in]
        courses: of pieces no longer than a limit, the most wanted first; each has some plan by itself.
    """

    number: int
    profile: str
    stack: Hashable
    length: Length
    overlap: Length
    cuts: Cuts
    scarfs: Cuts
    courses: Callable[[Length], Iterator[Course]]


def span_of(run: Run, settings: FirmSettings) -> Span:
    """A run along a wall as a span.

    Args:
        run: of the takeoff.
        settings: kerf, shortest piece, stagger and scarf angle are read.
    """
    scarfs = left_scarf(settings.scarf_angle_deg), right_scarf(settings.scarf_angle_deg)
    return Span(
        number=run.number,
        profile=run.profile.name,
        stack=stack_of(run),
        length=run.cut_length.snapped(),
        overlap=scarf_overlap(run.profile.thickness, settings.scarf_angle_deg),
        cuts=_cuts((run.left, run.right), settings.kerf),
        scarfs=_cuts(scarfs, settings.kerf),
        courses=partial(courses_of, run, settings=settings),
    )


def _cuts(ends: tuple[End, End], kerf: Length) -> Cuts:
    return kerf_at(ends[0], kerf).inches, kerf_at(ends[1], kerf).inches


def stack_of(run: Run) -> tuple[int, str, str, int]:
    """Runs whose joints must keep apart: one wall's layers along the ceiling, or along the floor; others alone."""
    zone = ZONE_OF.get(run.position)
    return (run.room, run.wall, zone, 0) if zone else (run.room, run.wall, "", run.number)


def courses_of(run: Run, limit: Length, settings: FirmSettings) -> Iterator[Course]:
    """Courses of a run that has some plan by itself, the most wanted first.

    On backing and clear of the corners; on backing; on glue plates clear of the corners; on glue plates.

    Args:
        run: a run too long for one board.
        limit: the longest piece that a board holds. [Length]
        settings: shortest piece, stagger and scarf angle are read.
    """
    stretch = Stretch(run.number, (run.assembly, run.layer.number), run.cut_start, run.cut_end)
    half = scarf_overlap(run.profile.thickness, settings.scarf_angle_deg) / 2
    joinery = Joinery(half, settings.shortest_piece, limit)
    for on_plates in (False, True):
        positions = run.plate_at if on_plates else run.splice_at
        for at in (clear_of_corners(run, positions, settings.joint_stagger), positions):
            one = course(stretch, at, joinery, on_plates=on_plates)
            if fewest(one) is not None:
                yield one


def clear_of_corners(run: Run, at: Sequence[Length], stagger: Length) -> tuple[Length, ...]:
    """Positions not nearer than the stagger to the corners that the run ends at. [Length]"""
    left, right = corners(run)
    return tuple(position for position in at if left + stagger <= position <= right - stagger)


def corners(run: Run) -> tuple[Length, Length]:
    """Wall coordinates of a run's two corners; past an outside corner the run goes on by its setback. [Length]"""
    left = run.cut_start + _past_corner(run.left, run.left_setback)
    right = run.cut_end - _past_corner(run.right, run.right_setback)
    return left, right


def _past_corner(end: End, setback: Length) -> Length:
    return setback if end.corner is CornerKind.OUTSIDE and end.joint is not Joint.RETURN else ZERO
