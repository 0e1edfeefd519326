"""How much a plan tells, and in which order trim lines stand beside a wall."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from service.documents.features import feature_on_plan
from service.documents.legend import Entry
from service.estimate.takeoff.model import Member
from service.firm import Position
from service.survey import CornerKind

if TYPE_CHECKING:
    from service.estimate.quote.model import RoomCard
    from service.units import Units

CEILING_LINE = (Position.WALL, Position.CEILING, Position.CROWN)
LANES = (*CEILING_LINE, Position.RAIL, Position.BASE, Position.CAP, Position.SHOE)
LAYER_WORDS = {
    Position.WALL: "wall board",
    Position.CEILING: "ceiling board",
    Position.CROWN: "crown",
    Position.RAIL: "rail",
    Position.BASE: "base",
    Position.CAP: "base cap",
    Position.SHOE: "shoe",
    Position.CASING: "casing",
    Position.STOOL: "stool",
    Position.APRON: "apron",
    Position.PLINTH: "plinth",
}
MOST_LANES = 3


@dataclass(frozen=True, slots=True)
class Look:
    """How much a plan tells, and in what type. [pt]

    Attributes:
        shows_work: marks, framing and splices are drawn.
        type_pt: type of the wall labels; others are a point smaller.
        lane_pt: distance from one trim line to the next where there is room.
    """

    shows_work: bool
    type_pt: float
    lane_pt: float


CUSTOMER = Look(shows_work=False, type_pt=8.0, lane_pt=3.2)
FIELD = Look(shows_work=True, type_pt=9.0, lane_pt=13.0)


def positions(room: RoomCard) -> list[Position]:
    """Positions of the room's layers along walls, from the wall inward."""
    present = {run.position for run in room.runs if run.is_along_wall}
    return [position for position in LANES if position in present]


def levels(room: RoomCard) -> list[tuple[str, RoomCard]]:
    """The room once, or twice where its trim would crowd one plan: at the ceiling, and at the floor and walls."""
    found = positions(room)
    high = [position for position in found if position in CEILING_LINE]
    if len(found) <= MOST_LANES or not high or len(high) == len(found):
        return [("", room)]
    upper = tuple(run for run in room.runs if run.position in CEILING_LINE)
    lower = tuple(run for run in room.runs if run.position not in CEILING_LINE)
    return [
        ("At the ceiling", replace(room, runs=upper)),
        ("At floor and walls", replace(room, runs=lower, joists=(), features=())),
    ]


def is_island(room: RoomCard) -> bool:
    """True where every corner is an outside one: the walls are walked round, and the room is outside of them."""
    return bool(room.walls) and all(wall.corner is CornerKind.OUTSIDE for wall in room.walls)


def legend_entries(room: RoomCard, look: Look, units: Units) -> list[Entry]:
    """Signs that the plan of this room uses, and what hangs on its ceiling."""
    return [*_signs(room, look), *(Entry("ceiling", feature_on_plan(item, units)) for item in room.features)]


def _signs(room: RoomCard, look: Look) -> list[Entry]:
    lanes = " · ".join(LAYER_WORDS[position] for position in positions(room))
    entries = [Entry("lanes", f"trim, set apart for reading; from the wall inward: {lanes}")] if lanes else []
    entries += [Entry("casing", "casing")] if any(run.member is Member.HEAD for run in room.runs) else []
    if not look.shows_work:
        return entries
    runs = [run for run in room.runs if run.is_along_wall]
    joints = [joint for run in runs for joint in run.joints]
    conditions = (
        (any(run.pieces for run in room.runs), "mark", "piece mark"),
        (any(not joint.on_glue_plate for joint in joints), "splice", "splice"),
        (any(joint.on_glue_plate for joint in joints), "plate", "splice on a glue plate"),
        (any(wall.studs_at for wall in room.walls), "stud", "stud"),
        (bool(room.joists), "joist", "joist"),
        (any(run.backed_at for run in runs), "nail", "wood to nail to"),
        (any(run.backed_all_along for run in runs), "along", "wood all along"),
        (any(run.unbacked_stretches for run in runs), "hatch", "no wood found"),
    )
    return entries + [Entry(sign, text) for holds, sign, text in conditions if holds]
