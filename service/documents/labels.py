"""Where labels go in a drawing, so that none covers another, a wall or the edge of the sheet.

Every label comes with places it would like, best first. They are tried in turn; when none is free the label
moves out along rings around its anchor and gets a leader line; when even that fails the caller is told.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

Point = tuple[float, float]
RING_STEP_PT = 7.0
RING_COUNT = 44
CLEARANCE_PT = 1.2
SQUARE_PT = 24.0


@dataclass(frozen=True, slots=True)
class Place:
    """A center and a turn, counterclockwise from the x axis."""

    x: float
    y: float
    angle_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Wish:
    """A label to place: its size, the point it belongs to, the places it would like, best first. [pt]"""

    key: str
    width: float
    height: float
    anchor: Point
    places: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """A label placed; `leader` runs from the anchor to the label when it had to move away."""

    key: str
    place: Place
    width: float
    height: float
    leader: tuple[Point, Point] | None = None

    @property
    def corners(self) -> tuple[Point, ...]:
        """The label's rectangle as drawn."""
        return _rectangle(self.place, self.width, self.height)


@dataclass(frozen=True, slots=True)
class Figure:
    """A convex figure (a segment has two points) with its upright bounds, and the axes that they do not settle."""

    points: tuple[Point, ...]
    left: float
    bottom: float
    right: float
    top: float
    axes: tuple[Point, ...]


def figure(points: Sequence[Point]) -> Figure:
    """A convex figure from its corners in order."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    slanted = tuple(axis for axis in _axes(tuple(points)) if axis[0] and axis[1])
    return Figure(tuple(points), min(xs), min(ys), max(xs), max(ys), slanted)


def segment(start: Point, end: Point, half_width: float = 0.0) -> Figure:
    """A line as an obstacle, as wide as it is drawn."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    size = math.hypot(dx, dy)
    if not half_width or not size:
        return figure((start, end))
    nx, ny = -dy / size * half_width, dx / size * half_width
    (ax, ay), (bx, by) = start, end
    return figure(((ax + nx, ay + ny), (bx + nx, by + ny), (bx - nx, by - ny), (ax - nx, ay - ny)))


def meet(one: Figure, other: Figure) -> bool:
    """True when two convex figures share a point (separating axis theorem)."""
    if one.left > other.right or other.left > one.right or one.bottom > other.top or other.bottom > one.top:
        return False
    return not any(_is_apart(one.points, other.points, axis) for axis in (*one.axes, *other.axes))


def _axes(points: tuple[Point, ...]) -> Iterator[Point]:
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1], strict=True):
        if ax != bx or ay != by:
            yield by - ay, ax - bx
            if len(points) == 2:  # noqa: PLR2004 - a segment has its own direction as second axis
                yield bx - ax, by - ay


def _is_apart(one: tuple[Point, ...], other: tuple[Point, ...], axis: Point) -> bool:
    first = [x * axis[0] + y * axis[1] for x, y in one]
    second = [x * axis[0] + y * axis[1] for x, y in other]
    return max(first) < min(second) or max(second) < min(first)


def _rectangle(place: Place, width: float, height: float) -> tuple[Point, ...]:
    cosine, sine = math.cos(math.radians(place.angle_deg)), math.sin(math.radians(place.angle_deg))
    half = ((-width / 2, -height / 2), (width / 2, -height / 2), (width / 2, height / 2), (-width / 2, height / 2))
    return tuple((place.x + x * cosine - y * sine, place.y + x * sine + y * cosine) for x, y in half)


def _box(place: Place, width: float, height: float) -> Figure:
    """A label's rectangle as a figure; an upright one, tried most often, is its own bounds."""
    if place.angle_deg:
        return figure(_rectangle(place, width, height))
    left, right, bottom, top = place.x - width / 2, place.x + width / 2, place.y - height / 2, place.y + height / 2
    return Figure(((left, bottom), (right, bottom), (right, top), (left, top)), left, bottom, right, top, ())


class Obstacles:
    """Figures by the squares of a grid that their bounds touch, so that only near ones are looked at."""

    def __init__(self, figures: Iterable[Figure] = ()) -> None:
        """Start with the figures known."""
        self._squares: dict[tuple[int, int], list[Figure]] = {}
        for item in figures:
            self.add(item)

    def add(self, item: Figure) -> None:
        """Keep one more figure."""
        for square in _squares(item):
            self._squares.setdefault(square, []).append(item)

    def meets(self, box: Figure) -> bool:
        """True when some figure shares a point with the box."""
        return any(meet(box, item) for square in _squares(box) for item in self._squares.get(square, ()))


def _squares(item: Figure) -> Iterator[tuple[int, int]]:
    for column in range(int(item.left // SQUARE_PT), int(item.right // SQUARE_PT) + 1):
        for row in range(int(item.bottom // SQUARE_PT), int(item.top // SQUARE_PT) + 1):
            yield column, row


class Layout:
    """A sheet that fills up with labels.

    Attributes:
        frame: left, bottom, right, top of the drawing. [pt]
        hard: what a label never covers.
        soft: what a label covers only if it must.
        placed, unplaced: labels that found a place, and the keys of those that did not.
    """

    def __init__(self, frame: tuple[float, float, float, float], hard: Iterable[Figure]) -> None:
        """Start with the drawing's own lines."""
        self.frame = frame
        self.hard = Obstacles(hard)
        self.soft = Obstacles()
        self.placed: list[Placed] = []
        self.unplaced: list[str] = []
        self._labels = Obstacles()

    def put(self, wish: Wish) -> None:
        """Place one label, or note that it found no room."""
        found = self._beside(wish) or self._with_leader(wish)
        if found is None:
            self.unplaced.append(wish.key)
            return
        self.placed.append(found)
        box = figure(found.corners)
        self.hard.add(box)
        self._labels.add(box)
        if found.leader:
            self.hard.add(segment(*found.leader))

    def _beside(self, wish: Wish) -> Placed | None:
        for spares_soft in (True, False):
            for place in wish.places:
                if self._is_free(place, wish, spares_soft=spares_soft):
                    return Placed(wish.key, place, wish.width, wish.height)
        return None

    def _with_leader(self, wish: Wish) -> Placed | None:
        for spares_soft in (True, False):
            for place in _rings(wish.anchor):
                if not self._is_free(place, wish, spares_soft=spares_soft):
                    continue
                leader = _leader(wish, place)
                if not self._labels.meets(segment(*leader)):
                    return Placed(wish.key, place, wish.width, wish.height, leader)
        return None

    def _is_free(self, place: Place, wish: Wish, *, spares_soft: bool) -> bool:
        box = _box(place, wish.width + 2 * CLEARANCE_PT, wish.height + 2 * CLEARANCE_PT)
        left, bottom, right, top = self.frame
        if box.left < left or box.bottom < bottom or box.right > right or box.top > top:
            return False
        return not self.hard.meets(box) and not (spares_soft and self.soft.meets(box))


def _rings(anchor: Point) -> Iterator[Place]:
    for ring in range(2, RING_COUNT):
        radius = ring * RING_STEP_PT
        steps = min(48, 6 * ring)
        for step in range(steps):
            turn = 2 * math.pi * step / steps + math.pi / 4
            yield Place(anchor[0] + radius * math.cos(turn), anchor[1] + radius * math.sin(turn))


def _leader(wish: Wish, place: Place) -> tuple[Point, Point]:
    """From the anchor to the nearest point of the upright label box, held off by a hair."""
    half_width, half_height = wish.width / 2 + 0.8, wish.height / 2 + 0.8
    x = min(max(wish.anchor[0], place.x - half_width), place.x + half_width)
    y = min(max(wish.anchor[1], place.y - half_height), place.y + half_height)
    return wish.anchor, (x, y)
