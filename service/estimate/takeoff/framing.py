"""Studs and joists: where wood stands behind a wall and above a ceiling."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.rooms.walk import unit_vector
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.rooms import RoomShape
    from service.estimate.rooms.model import Point
    from service.survey import Opening, Studs, Wall

HALF_TURN_DEG = 180.0


def stud_centers(studs: Studs, length: Length) -> tuple[Length, ...]:
    """Stud centers of the measured layout on a wall: the list, or first + k·spacing for every whole k.

    Args:
        studs: as measured; nothing known gives nothing.
        length: the wall's length. [Length]

    Returns:
        Centers from the wall's left end, in order. [Length]
    """
    if studs.at:
        return tuple(sorted(set(studs.at)))
    if studs.first is None:
        return ()
    spacing = studs.spacing
    least = -(studs.first.inches // spacing.inches)
    most = (length - studs.first).inches // spacing.inches
    return tuple(studs.first + spacing * k for k in range(int(least), int(most) + 1))


def framed_ends(wall: Wall, openings: tuple[Opening, ...], inset: Length) -> tuple[Length, ...]:
    """Studs that every framed wall has whatever its layout: at both ends and outside each opening's jambs.

    They take nails and blocks, no splices.

    Source: common practice of wall framing.

    Args:
        wall: the wall.
        openings: openings in it.
        inset: from a wall end or jamb face to such a stud's center. [Length]
    """
    jambs = [x for o in openings for x in (o.from_left - inset, o.from_left + o.width + inset)]
    centers = {inset, wall.length - inset, *jambs}
    return tuple(sorted(center for center in centers if 0 <= center.inches <= wall.length.inches))


@dataclass(frozen=True, slots=True)
class JoistField:
    """Joists over a room: lines at `first` + k·`spacing` from one wall's face, all parallel to it.

    Attributes:
        origin: a point of that wall's face. [in]
        along: direction of the joists in plan.
        across: direction in which the distances count, into the room.
        first, spacing: centers. [in]
    """

    origin: Point
    along: Point
    across: Point
    first: float
    spacing: float

    @classmethod
    def over(cls, shape: RoomShape) -> JoistField | None:
        """The joists of a room, None where the sheet does not tell."""
        joists = shape.room.joists
        if joists is None:
            return None
        place = next(i for i, wall in enumerate(shape.room.walls) if wall.name == joists.parallel_to)
        along = unit_vector(shape.headings_deg[place])
        return cls(
            shape.points[place], along, into_room(along), float(joists.first), float(joists.spacing)
        )  # fmt: skip

    def distance(self, point: Point) -> float:
        """How far a point lies from the wall that the joists are measured from. [in]"""
        return (point[0] - self.origin[0]) * self.across[0] + (point[1] - self.origin[1]) * self.across[1]

    def centers_between(self, one: float, other: float) -> Iterator[float]:
        """Distances of the joists between two distances, ends included, in order. [in]"""
        low, high = min(one, other), max(one, other)
        for k in range(math.ceil(_noise_free((low - self.first) / self.spacing)), math.floor(
            _noise_free((high - self.first) / self.spacing)
        ) + 1):  # fmt: skip
            yield self.first + k * self.spacing


def _noise_free(value: float) -> float:
    nearest = round(value)
    return float(nearest) if abs(value - nearest) < 1e-9 else value  # noqa: PLR2004 - rounding noise of floats


def into_room(along: Point) -> Point:
    """Direction from a wall into the room: to the right of the walk."""
    return along[1], -along[0]


def offset_point(shape: RoomShape, wall: int, along: float, offset: float) -> Point:
    """Plan position of a point `along` a wall from its left end and `offset` into the room. [in]"""
    x, y = shape.points[wall]
    direction = unit_vector(shape.headings_deg[wall])
    inward = into_room(direction)
    return x + along * direction[0] + offset * inward[0], y + along * direction[1] + offset * inward[1]


def runs_along(field: JoistField, heading_deg: float, within_deg: float) -> bool:
    """True when a wall lies within so many degrees of the joists' direction."""
    joists_deg = math.degrees(math.atan2(field.along[1], field.along[0]))
    return abs(math.remainder(heading_deg - joists_deg, HALF_TURN_DEG)) <= within_deg


def joist_crossings(
    shape: RoomShape, wall: int, field: JoistField, offset: Length, stretch: tuple[Length, Length]
) -> tuple[Length, ...]:
    """Where the line at an offset along a wall crosses joists.

    Source: plane geometry.

    Args:
        shape, wall: the room and the wall's position in it.
        field: its joists, not parallel to the wall.
        offset: of the line from the wall's face. [Length]
        stretch: from where to where along the wall. [Length, Length]

    Returns:
        Wall coordinates in order, to 1/64". [Length]
    """
    start, end = stretch
    begin = field.distance(offset_point(shape, wall, float(start), float(offset)))
    finish = field.distance(offset_point(shape, wall, float(end), float(offset)))
    if begin == finish:
        return ()
    scale = float(end - start) / (finish - begin)
    crossings = (start + Length.measured((d - begin) * scale) for d in field.centers_between(begin, finish))
    return tuple(sorted(crossing.snapped() for crossing in crossings))


def joist_under_edge(
    shape: RoomShape, wall: int, field: JoistField, band: tuple[Length, Length], rules: tuple[Length, Length]
) -> bool:
    """True when a joist runs under a layer along its whole length.

    Args:
        shape, wall: the room and the wall's position in it, along the joists.
        field: its joists.
        band: offsets of the layer's edges from the wall's face. [Length, Length]
        rules: width of a joist's edge, and how much of it must lie under the layer. [Length, Length]
    """
    half, needed = float(rules[0]) / 2, float(rules[1])
    near, far = float(band[0]), float(band[1])
    middle = float(shape.room.walls[wall].length) / 2
    begin = field.distance(offset_point(shape, wall, middle, near - half))
    finish = field.distance(offset_point(shape, wall, middle, far + half))
    reach = abs(finish - begin)
    for d in field.centers_between(begin, finish):
        center = near - half + abs(d - begin) / reach * (far - near + 2 * half)
        overlap = min(center + half, far) - max(center - half, near)
        if overlap >= needed - 1e-9:
            return True
    return False


def joist_lines(shape: RoomShape) -> tuple[tuple[Point, Point], ...]:
    """Joists of a room as plan lines, clipped to its walls (an island has none to clip to).

    Returns:
        Start and end of each visible stretch. [in]
    """
    field = JoistField.over(shape)
    if field is None or shape.is_island:
        return ()
    outline = shape.points[:-1] if shape.points[0] == shape.points[-1] else shape.points
    distances = [field.distance(point) for point in outline]
    lines = []
    for d in field.centers_between(min(distances) + 1e-6, max(distances) - 1e-6):
        cuts = sorted(_crossed(outline, field, d))
        lines += [
            (_on_joist(field, d, one), _on_joist(field, d, other))
            for one, other in zip(cuts[::2], cuts[1::2], strict=False)
        ]
    return tuple(lines)


def _crossed(outline: tuple[Point, ...], field: JoistField, distance: float) -> Iterator[float]:
    for one, other in zip(outline, (*outline[1:], outline[0]), strict=True):
        here, there = field.distance(one) - distance, field.distance(other) - distance
        if (here < 0) != (there < 0):
            share = here / (here - there)
            x, y = one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])
            yield (x - field.origin[0]) * field.along[0] + (y - field.origin[1]) * field.along[1]


def _on_joist(field: JoistField, distance: float, along: float) -> Point:
    return (
        field.origin[0] + distance * field.across[0] + along * field.along[0],
        field.origin[1] + distance * field.across[1] + along * field.along[1],
    )
