"""The plan of a room, drawn once and used in both documents and as a picture of its own.

Everything on it reads in black and white: walls heavy, trim as lines set apart beside them, openings as gaps,
studs as ticks, joists dashed, nailing points as dots, stretches without wood hatched.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from reportlab.graphics.shapes import Drawing, Group, String

from service.documents.fonts import BOLD, fitted, one_line
from service.documents.legend import lay_legend, legend_height
from service.documents.plan_geometry import scene
from service.documents.plan_labels import Label
from service.documents.plan_look import is_island, legend_entries, levels, positions
from service.documents.plan_page import PlanPage, opening_labels
from service.documents.tagging import Picture
from service.documents.words import length_text

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from service.documents.labels import Placed
    from service.documents.plan_look import Look
    from service.estimate.cuts.model import Piece
    from service.estimate.quote.model import RoomCard
    from service.units import Units

MOST_NAME_PT = 70.0
CAPTION_PT = 16.0
FEW_LEADERS = 3
WORTHWHILE = 1.1


@dataclass(frozen=True, slots=True)
class Plan:
    """A drawn plan.

    Attributes:
        drawing: the drawing, legend and caption in it.
        frame: left, bottom, right, top of the part that holds the room and its labels. [pt]
        labels: where each label stands.
        unplaced: texts that found no room on it.
        scale: points of the drawing for one inch of the house.
        alt: the plan in words.
    """

    drawing: Drawing
    frame: tuple[float, float, float, float]
    labels: tuple[Placed, ...]
    unplaced: tuple[str, ...]
    scale: float
    alt: str

    @property
    def picture(self) -> Picture:
        """The drawing as a part of a page, with its words."""
        return Picture(self.drawing, self.alt)

    @property
    def is_crowded(self) -> bool:
        """True when labels had to move away from what they name, or found no room."""
        return bool(self.unplaced) or sum(label.leader is not None for label in self.labels) > FEW_LEADERS


def plan(
    room: RoomCard,
    pieces: Mapping[str, Piece],
    units: Units,
    look: Look,
    *,
    width_pt: float,
    most_height_pt: float,
    caption: str = "",
) -> Plan:
    """Plan of one room with its legend.

    Args:
        room: the room.
        pieces: the quote's pieces by mark.
        units: how lengths are printed.
        look: for the customer, or for the field.
        width_pt, most_height_pt: the room it may take. [pt]
        caption: stands above it.
    """
    labels = {f"wall {i}": _wall_label(room, i, units, look) for i in range(len(room.walls))}
    labels |= opening_labels(room, look, units)
    entries = legend_entries(room, look, units)
    footer, header = legend_height(entries, width_pt), CAPTION_PT if caption else 0.0
    margin = _margin(room, look, labels, width_pt)
    sheet = scene(room, width=width_pt, most_height=most_height_pt - footer - header, margin=margin)
    page = PlanPage(room, sheet, look, units, labels)
    page.draw(pieces)
    drawing = Drawing(width_pt, math.ceil(sheet.height + footer + header))
    body = Group(*page.shapes)
    body.translate(0, footer)
    drawing.add(body)
    for shape in lay_legend(entries, width_pt, footer):
        drawing.add(shape)
    if caption:
        drawing.add(String(0, drawing.height - CAPTION_PT + 3, caption, fontName=BOLD, fontSize=look.type_pt + 1))
    words = alternative(room, units, caption)
    unplaced = tuple(page.labels[key].text for key in page.layout.unplaced)
    return Plan(drawing, page.layout.frame, tuple(page.layout.placed), unplaced, sheet.scale, words)


def plans_by_level(
    room: RoomCard,
    pieces: Mapping[str, Piece],
    units: Units,
    look: Look,
    *,
    width_pt: float,
    most_height_pt: float,
    tallest_pt: float,
) -> list[Plan]:
    """One plan, or one at the ceiling and one at floor and walls where one would be crowded.

    Args:
        room, pieces, units, look: as for `plan`.
        width_pt: width of each. [pt]
        most_height_pt: height they share. [pt]
        tallest_pt: height that one of them may have when it is too crowded otherwise. [pt]
    """
    parts = levels(room)
    drawn = []
    for caption, part in parts:
        drawer = partial(plan, part, pieces, units, look, width_pt=width_pt, caption=caption)
        small = drawer(most_height_pt=most_height_pt / len(parts))
        tall = drawer(most_height_pt=tallest_pt) if small.is_crowded else small
        drawn.append(tall if tall.scale > small.scale * WORTHWHILE else small)
    return drawn


def stacked(plans: Sequence[Plan]) -> Drawing:
    """Plans under each other as one drawing."""
    whole = Drawing(max(item.drawing.width for item in plans), sum(item.drawing.height for item in plans))
    top = whole.height
    for item in plans:
        top -= item.drawing.height
        part = Group(*item.drawing.contents)
        part.translate(0, top)
        whole.add(part)
    return whole


def alternative(room: RoomCard, units: Units, caption: str = "") -> str:
    """The plan in words: which room, and each wall with its length and the corner at its right-hand end."""
    walls = ", ".join(f"{wall.name} {length_text(wall.length, units)}, {wall.corner} corner" for wall in room.walls)
    return one_line(
        f"Plan of {room.name}{f', {caption.lower()}' if caption else ''}. Walls from left to right: {walls}."
    )


def _margin(room: RoomCard, look: Look, labels: Mapping[str, Label], width_pt: float) -> tuple[float, float]:
    """Free space beside and above the room: for its labels, and for the trim of an island, which is outside. [pt]"""
    widest = min(max((label.width for label in labels.values()), default=0.0), width_pt / 4)
    lanes = look.lane_pt * (len(positions(room)) + 0.5) if is_island(room) else 0.0
    return widest + 18 + lanes, look.type_pt * 2.6 + 14 + lanes


def _wall_label(room: RoomCard, index: int, units: Units, look: Look) -> Label:
    wall = room.walls[index]
    name = fitted(one_line(wall.name), look.type_pt, MOST_NAME_PT, bold=True)
    return Label(length_text(wall.length, units), name, look.type_pt)
