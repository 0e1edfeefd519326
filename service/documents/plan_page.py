"""One plan being drawn: lines first, then labels where they are free."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Circle, Group, Line, Polygon
from reportlab.lib.colors import black, white

from service.documents.fonts import NBSP, one_line
from service.documents.labels import Layout, Wish, figure, segment
from service.documents.openings import marks_text, opening_names, runs_around
from service.documents.plan_labels import (
    Label,
    about_corner,
    along_lane,
    drawn,
    outside_opening,
    outside_wall,
)  # fmt: skip
from service.documents.plan_look import positions
from service.documents.words import degrees, size_text
from service.estimate.takeoff.model import Member
from service.survey import OpeningKind
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from service.documents.labels import Placed, Point
    from service.documents.plan_geometry import Scene, WallOnSheet
    from service.documents.plan_look import Look
    from service.estimate.cuts.model import Piece
    from service.estimate.quote.model import JointCard, OpeningCard, RoomCard, RunCard, WallCard
    from service.units import Units

SQUARE_DEG = 90.0
ANGLE_TOLERANCE_DEG = 0.05
CORNER_REACH = Length.of(1)
GAPS = frozenset(OpeningKind) - {OpeningKind.CABINET}
WALL_PT = 2.4
CASING_PT = 3.6
TIGHT_PT = 8.0
HATCH_STEP_PT = 4.0
LEAST_PITCH = 0.45
Shape = Line | Polygon | Circle | Group


class PlanPage:
    """Shapes of one plan in painting order, and the layout that keeps its labels apart."""

    def __init__(self, room: RoomCard, sheet: Scene, look: Look, units: Units, labels: dict[str, Label]) -> None:
        """Start with the labels of the walls, which set the margins of the sheet."""
        self.room, self.sheet, self.look, self.units = room, sheet, look, units
        self.labels = labels
        self.shapes: list[Shape] = []
        self.walls = {wall.card.name: wall for wall in sheet.walls}
        self.positions = positions(room)
        self.first = look.type_pt if look.shows_work else look.lane_pt
        fits = (sheet.narrowest_depth * 0.9 - self.first) / max(len(self.positions) - 0.5, 1)
        self.pitch = min(look.lane_pt, max(fits, look.lane_pt * LEAST_PITCH))
        self.clear_of_wall = 8.0 if look.shows_work else 6.0
        hard = [segment(wall.start, wall.end, 1.6) for wall in sheet.walls]
        self.layout = Layout((1.0, 1.0, sheet.width - 1.0, sheet.height - 1.0), hard)

    def draw(self, pieces: Mapping[str, Piece]) -> None:
        """Draw everything; labels that matter most, and marks that fit in one place alone, are placed first."""
        if self.look.shows_work:
            for joist in self.room.joists:
                self._line(self.sheet.point(joist.start), self.sheet.point(joist.end), 0.45, (5, 3))
        for wall in self.sheet.walls:
            self._wall(wall)
        marks = [wish for run in self.room.runs for wish in self._run(run, pieces)]
        for wish in marks:
            if not wish.places:
                self._kept_free(wish.anchor)
        tight = [wish for wish in marks if wish.places and _spread(wish) < TIGHT_PT]
        free = [wish for wish in marks if wish not in tight]
        for wish in (*tight, *self._opening_wishes(), *self._wall_wishes(), *self._angle_wishes(), *free):
            self.layout.put(wish)
        for placed in self.layout.placed:
            self._label(placed)

    def _kept_free(self, anchor: Point) -> None:
        """No label stands over the place that a leader will have to start from."""
        x, y = anchor
        self.layout.hard.add(segment((x - 1.0, y), (x + 1.0, y)))

    def _line(self, start: Point, end: Point, weight: float, dash: Sequence[float] = ()) -> None:
        line = Line(*start, *end, strokeWidth=weight, strokeColor=black)
        if dash:
            line.strokeDashArray = list(dash)
        self.shapes.append(line)

    def _wall(self, wall: WallOnSheet) -> None:
        gaps = [item for item in self.room.openings if item.wall == wall.card.name and item.kind in GAPS]
        for start, end in solid(wall, gaps):
            self._line(wall.beside(start), wall.beside(end), WALL_PT)
        for place, opening in enumerate(self.room.openings, 1):
            if opening.wall == wall.card.name:
                self._opening(wall, opening)
                for run in runs_around(self.room, place):
                    self._casing(wall, opening, run)
        for stud in standing_studs(wall.card, gaps) if self.look.shows_work else ():
            tick = wall.at(stud, -1.2), wall.at(stud, -5.5)
            self._line(*tick, 0.9)
            self.layout.soft.add(segment(*tick))

    def _opening(self, wall: WallOnSheet, opening: OpeningCard) -> None:
        """Jambs across the wall, and the gap: two lines a window, none a cased opening, one any other.

        A cabinet is no gap: it stands before the wall.
        """
        left, right = opening.from_left, opening.from_left + opening.width
        if opening.kind not in GAPS:
            front = [wall.at(left), wall.at(left, self.first * 0.6), wall.at(right, self.first * 0.6), wall.at(right)]
            for start, end in pairwise(front):
                self._line(start, end, 0.5)
            return
        for jamb in (left, right):
            self._line(wall.at(jamb, WALL_PT), wall.at(jamb, -WALL_PT), 1.0)
        offsets = {OpeningKind.WINDOW: (1.2, -1.2), OpeningKind.CASED_OPENING: ()}.get(opening.kind, (0.0,))
        for offset in offsets:
            self._line(wall.at(left, offset), wall.at(right, offset), 0.5)

    def _casing(self, wall: WallOnSheet, opening: OpeningCard, run: RunCard) -> None:
        """A head's two ends beside the jambs, in the room or behind the wall; a stool's whole length as a line."""
        near, far = (WALL_PT / 2, CASING_PT) if run.side == 1 else (-WALL_PT / 2, -CASING_PT)
        if run.member is Member.STOOL:
            head = next(item for item in self.room.runs if item.opening == run.opening and item.member is Member.HEAD)
            horn = (run.length - head.length) / 2
            self._line(wall.at(run.start - horn, far), wall.at(run.start + head.length + horn, far), 0.7)
        elif run.member is Member.HEAD:
            right = opening.from_left + opening.width
            for start, end in ((run.start, opening.from_left), (right, run.start + run.length)):
                corners = (wall.at(start, near), wall.at(end, near), wall.at(end, far), wall.at(start, far))
                self.shapes.append(Polygon([value for corner in corners for value in corner], fillColor=black))
                self.layout.soft.add(figure(corners))

    def _run(self, run: RunCard, pieces: Mapping[str, Piece]) -> Iterator[Wish]:
        """The run's line beside its wall; answers what its pieces' marks would like."""
        wall = self.walls.get(run.wall)
        if wall is None or not run.is_along_wall:
            return
        offset = self.first + self.pitch * self.positions.index(run.position)
        lane = wall.lane(offset, run.start, run.start + run.length, run.far + CORNER_REACH)
        if lane:
            weight = 1.8 if self.look.shows_work and run.backed_all_along else 0.7
            self._line(wall.beside(lane[0], offset), wall.beside(lane[1], offset), weight)
        if self.look.shows_work:
            if lane:
                self._framing(wall, run, offset, lane)
            yield from self._mark_wishes(wall, run, offset, lane or (0.0, wall.size), pieces)

    def _framing(self, wall: WallOnSheet, run: RunCard, offset: float, lane: tuple[float, float]) -> None:
        for stretch in run.unbacked_stretches:
            span = max(wall.distance(stretch.start), lane[0]), min(wall.distance(stretch.end), lane[1])
            self._hatch(wall, offset, span)
        for at in run.backed_at:
            if lane[0] <= wall.distance(at) <= lane[1]:
                x, y = wall.at(at, offset)
                self.shapes.append(Circle(x, y, 1.5, fillColor=black, strokeColor=None))
                self.layout.soft.add(figure(((x - 1.8, y - 1.8), (x + 1.8, y + 1.8), (x + 1.8, y - 1.8))))
        for joint in run.joints:
            self._joint(wall, joint, offset, lane)

    def _joint(self, wall: WallOnSheet, joint: JointCard, offset: float, lane: tuple[float, float]) -> None:
        """A slash across the line, two where the splice sits on a glue plate."""
        place = min(max(wall.distance(joint.at), lane[0]), lane[1])
        for aside in (-1.5, 1.5) if joint.on_glue_plate else (0.0,):
            slash = wall.beside(place + aside - 3, offset - 4), wall.beside(place + aside + 3, offset + 4)
            self._line(*slash, 1.2)
            self.layout.soft.add(segment(*slash))

    def _hatch(self, wall: WallOnSheet, offset: float, span: tuple[float, float]) -> None:
        half = min(3.0, self.pitch * 0.3)
        start, end = span
        for i in range(int(max(end - start, 0.0) // HATCH_STEP_PT) + 1):
            place = start + half + i * HATCH_STEP_PT
            if place + half <= end + 1:
                self._line(wall.beside(place - half, offset - half), wall.beside(place + half, offset + half), 0.4)

    def _mark_wishes(
        self, wall: WallOnSheet, run: RunCard, offset: float, lane: tuple[float, float], pieces: Mapping[str, Piece]
    ) -> Iterator[Wish]:
        for piece in (pieces[mark] for mark in run.pieces if mark in pieces):
            key = f"piece {piece.mark}"
            label = self.labels[key] = Label(one_line(piece.mark), size=self.look.type_pt, is_bold=True)
            ends = wall.distance(piece.start), wall.distance(piece.start + piece.long_point)
            start, end = (min(max(place, lane[0]), lane[1]) for place in ends)
            anchor = wall.beside((start + end) / 2, offset)
            places = tuple(along_lane(wall, (start, end), offset, label))
            yield Wish(key, label.width + 2, label.height, anchor, places)

    def _wall_wishes(self) -> Iterator[Wish]:
        """Short walls first: they have the fewest places."""
        for i in sorted(range(len(self.sheet.walls)), key=lambda i: (self.sheet.walls[i].size, i)):
            wall, label = self.sheet.walls[i], self.labels[f"wall {i}"]
            places = tuple(outside_wall(wall, label, self.clear_of_wall))
            yield Wish(f"wall {i}", label.width, label.height, wall.beside(wall.size / 2), places)

    def _opening_wishes(self) -> Iterator[Wish]:
        for i, opening in enumerate(self.room.openings):
            wall = self.walls.get(opening.wall)
            if wall is None:
                continue
            label = self.labels[f"opening {i}"]
            middle = wall.at(opening.from_left + opening.width / 2)
            places = tuple(outside_opening(wall, middle, label, self.clear_of_wall))
            yield Wish(f"opening {i}", label.width, label.height, middle, places)

    def _angle_wishes(self) -> Iterator[Wish]:
        for i, wall in enumerate(self.sheet.walls):
            reading = wall.card.corner_deg
            if reading is None or abs(reading - SQUARE_DEG) < ANGLE_TOLERANCE_DEG or wall.right_deg is None:
                continue
            label = self.labels[f"angle {i}"] = Label(degrees(reading), size=self.look.type_pt - 1)
            following = self.sheet.walls[(i + 1) % len(self.sheet.walls)]
            places = tuple(about_corner(wall, following, label))
            yield Wish(f"angle {i}", label.width, label.height, wall.end, places)

    def _label(self, placed: Placed) -> None:
        label = self.labels[placed.key]
        if placed.leader:
            self._line(*placed.leader, 0.4)
        corners = [value for corner in placed.corners for value in corner]
        self.shapes.append(Polygon(corners, fillColor=white, strokeColor=None))
        self.shapes.append(drawn(label, placed))


def _spread(wish: Wish) -> float:
    """How far apart the places are that a label would like. [pt]"""
    return max(math.dist((wish.places[0].x, wish.places[0].y), (place.x, place.y)) for place in wish.places)


def opening_labels(room: RoomCard, look: Look, units: Units) -> dict[str, Label]:
    """Kind and width of each opening; for the field numbered, with the marks of what goes around it."""
    names = opening_names(room) if look.shows_work else tuple(opening.kind.value for opening in room.openings)
    labels = {}
    for i, (name, opening) in enumerate(zip(names, room.openings, strict=True)):
        marks = [mark for run in runs_around(room, i + 1) for mark in run.pieces] if look.shows_work else []
        text = f"{name}{NBSP}{size_text(opening.width, units)}"
        labels[f"opening {i}"] = Label(text, size=look.type_pt - 1, below=one_line(marks_text(marks)))
    return labels


def standing_studs(wall: WallCard, gaps: Sequence[OpeningCard]) -> list[Length]:
    """Stud centers that no opening takes the place of."""
    return [at for at in wall.studs_at if not any(gap.from_left < at < gap.from_left + gap.width for gap in gaps)]


def solid(wall: WallOnSheet, openings: Sequence[OpeningCard]) -> Iterator[tuple[float, float]]:
    """Stretches of the drawn wall between its openings. [pt]"""
    at = 0.0
    for opening in sorted(openings, key=lambda item: item.from_left):
        left = wall.distance(opening.from_left)
        if left > at:
            yield at, left
        at = max(at, wall.distance(opening.from_left + opening.width))
    if at < wall.size:
        yield at, wall.size
