"""What nails of a run reach, and where its joints may land."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from service.estimate.takeoff.framing import (
    JoistField,
    framed_ends,
    joist_crossings,
    joist_under_edge,
    runs_along,
    stud_centers,
)
from service.estimate.takeoff.measured import joist_layout, stud_layout
from service.estimate.takeoff.model import Backing, Span
from service.firm import Position
from service.survey import Framing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.figures import Figure
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.rules import TakeoffRules
    from service.estimate.takeoff.seats import Seat
    from service.survey import Opening, Wall
    from service.units import Length

CROSSING_ENTRIES = ("framing.parallel-within",)
JOIST_ENTRIES = (*CROSSING_ENTRIES, "framing.joist-width", "framing.joist-overlap-least")
STUD_ENTRIES = ("framing.end-stud",)
PLATE_ENTRIES = ("framing.top-plate-depth",)
UNBACKED_ENTRIES = ("fastening.unbacked-limit",)
WIDTH_ENTRIES = ("fastening.wide-above",)


@dataclass(frozen=True, slots=True)
class WallFraming:
    """One wall of a room with what is known of its framing.

    Attributes:
        shape, place: the room and the wall's position in it.
        centers: stud centers of the measured layout. [Length]
        nailable: the same with the studs at ends and openings. [Length]
        joists: joists over the room, None when not known.
    """

    shape: RoomShape
    place: int
    centers: tuple[Length, ...]
    nailable: tuple[Length, ...]
    joists: JoistField | None

    @classmethod
    def of(cls, shape: RoomShape, place: int, openings: tuple[Opening, ...], rules: TakeoffRules) -> WallFraming:
        """Framing of a wall; behind steel or masonry nothing takes a finish nail."""
        wall = shape.room.walls[place]
        if wall.framing is not Framing.WOOD:
            return cls(shape, place, (), (), JoistField.over(shape))
        centers = stud_centers(wall.studs, wall.length)
        ends = framed_ends(wall, openings, rules.end_stud)
        return cls(shape, place, centers, tuple(sorted({*centers, *ends})), JoistField.over(shape))

    @property
    def wall(self) -> Wall:
        """The wall itself."""
        return self.shape.room.walls[self.place]

    def plate_foot(self, rules: TakeoffRules) -> Length:
        """Lower edge of the top plate above the finished floor: so far down from the ceiling framing."""
        room = self.shape.room
        return room.ceiling_height + room.ceiling_covering - rules.top_plate_depth

    def studs_within(self, stretch: Span) -> tuple[Length, ...]:
        """Studs that take nails in a stretch of the wall."""
        return tuple(x for x in self.nailable if stretch.start <= x <= stretch.end)


def backing_of(seat: Seat, framing: WallFraming, stretch: Span, rules: TakeoffRules) -> Backing:
    """What a layer nails to along a stretch: joists for a ceiling layer, studs and plates for all else."""
    if seat.position is Position.CEILING:
        return _under_joists(seat, framing, stretch, rules)
    is_wood = framing.wall.framing is Framing.WOOD
    at = framing.studs_within(stretch)
    on_plate = is_wood and takes_plate(seat, framing.plate_foot(rules))
    return Backing(
        at=at,
        unbacked=() if on_plate else unbacked_spans(at, stretch, rules.unbacked_limit),
        is_known=framing.wall.studs.is_known or not is_wood,
        is_wood=is_wood,
        on_plate=on_plate,
        layout=stud_layout(framing.wall, rules.end_stud),
        entries=(
            *STUD_ENTRIES,
            *UNBACKED_ENTRIES,
            *(PLATE_ENTRIES if seat.position is Position.WALL and is_wood else ()),
        ),
    )


def _under_joists(seat: Seat, framing: WallFraming, stretch: Span, rules: TakeoffRules) -> Backing:
    joists, shape = framing.joists, framing.shape
    if joists is None:
        return Backing(at=(), unbacked=(stretch,), is_known=False)
    if runs_along(joists, shape.headings_deg[framing.place], rules.parallel_within_deg):
        edge = (rules.joist_width, rules.joist_overlap_least)
        if joist_under_edge(shape, framing.place, joists, seat.offsets, edge):
            return Backing(at=(), is_continuous=True, entries=JOIST_ENTRIES)
        return Backing(at=(), unbacked=(stretch,), entries=JOIST_ENTRIES)
    at = crossings_at(seat.near + (seat.far - seat.near) / 2, framing, stretch)
    unbacked = unbacked_spans(at, stretch, rules.unbacked_limit)
    entries = (*CROSSING_ENTRIES, *UNBACKED_ENTRIES, *WIDTH_ENTRIES)
    return Backing(at=at, unbacked=unbacked, layout=_joists_of(shape), entries=entries)


def crossings_at(offset: Length, framing: WallFraming, stretch: Span) -> tuple[Length, ...]:
    """Joists crossed by the line at an offset from the wall's face."""
    if framing.joists is None:
        return ()
    return joist_crossings(framing.shape, framing.place, framing.joists, offset, (stretch.start, stretch.end))


def top_edge_of(seat: Seat, framing: WallFraming, stretch: Span, rules: TakeoffRules) -> Backing | None:
    """What the top edge of a crown without a ceiling layer reaches: joists crossing its offset, or one along it."""
    joists = framing.joists
    if seat.position is not Position.CROWN or joists is None:
        return None
    if runs_along(joists, framing.shape.headings_deg[framing.place], rules.parallel_within_deg):
        strip = (seat.far - rules.joist_overlap_least, seat.far)
        edge = (rules.joist_width, rules.joist_overlap_least)
        is_along = joist_under_edge(framing.shape, framing.place, joists, strip, edge)
        return Backing(at=(), is_continuous=is_along, entries=JOIST_ENTRIES)
    at = crossings_at(seat.far, framing, stretch)
    return Backing(at=at, layout=_joists_of(framing.shape), entries=CROSSING_ENTRIES)


def _joists_of(shape: RoomShape) -> tuple[Figure, ...]:
    return joist_layout(shape.room.joists, shape.room.pointer)


def takes_plate(seat: Seat, plate_foot: Length) -> bool:
    """True when a plate runs behind the layer all along: the bottom plate at the floor, the top plate up to the ceiling.

    Source: common practice of wall framing; the top plate reaches 3" down from the ceiling framing.

    Args:
        seat: the layer's place.
        plate_foot: lower edge of the top plate above the finished floor. [Length]
    """
    if seat.position in {Position.BASE, Position.SHOE}:
        return True
    return seat.position is Position.WALL and seat.high > plate_foot


def unbacked_spans(at: Sequence[Length], stretch: Span, limit: Length) -> tuple[Span, ...]:
    """Stretches between backed positions, or between one and an end, that are longer than the limit."""
    stops = (stretch.start, *at, stretch.end)
    return tuple(Span(one, other) for one, other in pairwise(stops) if other - one > limit)


def joint_positions(
    seat: Seat, framing: WallFraming, backing: Backing, stretch: Span, edge_grid: Length
) -> tuple[Length, ...]:  # fmt: skip
    """Wall coordinates where a joint of the layer lands on backing.

    Joists for a ceiling layer, measured studs for the others (the studs at ends and openings take no
    splices, nor does a plate); along a continuous joist edge anywhere on a grid.

    Source: trade book `joints.edge-grid`.
    """
    if backing.is_continuous:
        return tuple(at for at in grid_along(stretch, edge_grid) if at < stretch.end)
    found = backing.at if seat.position is Position.CEILING else framing.centers
    return tuple(x for x in found if stretch.start < x < stretch.end)


def grid_along(stretch: Span, step: Length) -> tuple[Length, ...]:
    """Places every `step` from the left end of a stretch, its right end included. [Length]"""
    steps = int(stretch.length / step)
    return tuple(stretch.start + step * k for k in range(1, steps + 1))
