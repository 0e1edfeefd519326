"""Labels of a plan: what stands in them, where they would like to stand, how they are drawn."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Group, Rect, String
from reportlab.lib.colors import black, white

from service.documents.fonts import BOLD, REGULAR, width
from service.documents.labels import Place

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.documents.labels import Placed, Point
    from service.documents.plan_geometry import WallOnSheet

NAME_GAP_PT = 3.0
BASELINE = 0.34
LINE = 1.2
ALONG_WALL = (0.5, 0.42, 0.58, 0.34, 0.66, 0.25, 0.75, 0.15, 0.85)


@dataclass(frozen=True, slots=True)
class Label:
    """What stands in a label: a framed name, a text, or both; `below` is a second line, bold."""

    text: str
    name: str = ""
    size: float = 8.0
    is_bold: bool = False
    below: str = ""

    @property
    def width(self) -> float:
        """Printed width. [pt]"""
        name = self.name_width + NAME_GAP_PT if self.name else 0.0
        first = name + width(self.text, self.size, bold=self.is_bold)
        return max(first, width(self.below, self.size, bold=True) if self.below else 0.0)

    @property
    def name_width(self) -> float:
        """Width of the frame around the name. [pt]"""
        return max(width(self.name, self.size, bold=True) + 6.0, self.height)

    @property
    def height(self) -> float:
        """Printed height. [pt]"""
        return self.size * (1.3 if self.name else 1.02) + (self.size * LINE if self.below else 0.0)


def drawn(label: Label, placed: Placed) -> Group:
    """The label in its place."""
    group = Group()
    left, baseline = -label.width / 2, -label.size * BASELINE
    if label.name:
        for shape in _framed_name(label, left, baseline):
            group.add(shape)
        left += label.name_width + NAME_GAP_PT
    if label.below:
        for shape in _two_lines(label, baseline):
            group.add(shape)
    else:
        face = BOLD if label.is_bold else REGULAR
        group.add(String(left, baseline, label.text, fontName=face, fontSize=label.size))
    group.translate(placed.place.x, placed.place.y)
    if placed.place.angle_deg:
        group.rotate(placed.place.angle_deg)
    return group


def _framed_name(label: Label, left: float, baseline: float) -> Iterator[Rect | String]:
    frame = Rect(left, -label.height / 2, label.name_width, label.height, rx=label.height / 2, ry=label.height / 2)
    frame.fillColor, frame.strokeColor, frame.strokeWidth = white, black, 0.8
    yield frame
    middle = left + label.name_width / 2
    yield String(middle, baseline, label.name, fontName=BOLD, fontSize=label.size, textAnchor="middle")


def _two_lines(label: Label, baseline: float) -> Iterator[String]:
    half = label.size * LINE / 2
    for text, face, up in ((label.text, REGULAR, half), (label.below, BOLD, -half)):
        left = -width(text, label.size, bold=face == BOLD) / 2
        yield String(left, baseline + up, text, fontName=face, fontSize=label.size)


def held_off(wall: WallOnSheet, point: Point, label: Label, gap: float) -> Place:
    """Center of an upright label whose nearest side is `gap` from a point of the wall (negative: outside the room)."""
    nx, ny = wall.inward
    reach = abs(nx) * label.width / 2 + abs(ny) * label.height / 2
    distance = gap + math.copysign(reach, gap)
    return Place(point[0] + nx * distance, point[1] + ny * distance)


def outside_wall(wall: WallOnSheet, label: Label, gap: float) -> Iterator[Place]:
    """Places behind a wall, its middle first, then along it, then farther off."""
    for extra in (0.0, 3.0, 10.0, 14.0, 20.0):
        for share in ALONG_WALL:
            yield held_off(wall, wall.beside(wall.size * share), label, -(gap + extra))


def outside_opening(wall: WallOnSheet, middle: Point, label: Label, gap: float) -> Iterator[Place]:
    """Places behind an opening, its middle first, then a little to either side, then farther off."""
    for extra in (0.0, label.height + 1, 2 * label.height + 2):
        for aside in (0.0, 8.0, -8.0, 16.0, -16.0):
            point = middle[0] + wall.along[0] * aside, middle[1] + wall.along[1] * aside
            yield held_off(wall, point, label, -(gap + extra))


def about_corner(wall: WallOnSheet, following: WallOnSheet, label: Label) -> Iterator[Place]:
    """Places on the bisector of a corner, behind it first, then in the room."""
    x, y = wall.inward[0] + following.inward[0], wall.inward[1] + following.inward[1]
    size = math.hypot(x, y) or 1.0
    for side in (-1, 1):
        for further in (3, 9, 16, 26, 40):
            distance = side * (label.height + further) / size
            yield Place(wall.end[0] + x * distance, wall.end[1] + y * distance)


def along_lane(wall: WallOnSheet, span: tuple[float, float], offset: float, label: Label) -> Iterator[Place]:
    """Places on a trim line, turned along it, in the middle of the piece first; none where the label is longer."""
    start, end = span
    slack = end - start - label.width - 6
    for share in ALONG_WALL if slack > 0 else ():
        yield Place(*wall.beside(start + 3 + label.width / 2 + slack * share, offset), wall.text_angle_deg)
