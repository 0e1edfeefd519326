"""Cased openings of an invented room, taken off for real; every price and profile is invented."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from service.estimate.takeoff.runs import taken_off
from service.firm import Assembly, Layer, Position, Shape
from service.problems import Problems
from service.survey import Framing, OutsideJoint, WindowStyle
from service.units import Length
from tests import invented
from tests.materials import examples as made

if TYPE_CHECKING:
    from service.estimate.materials.model import Materials
    from service.estimate.takeoff.model import Run
    from service.survey import Opening, Room

IN = Length.of
PROFILES = invented.PROFILES | {
    item.name: item
    for item in (
        invented.profile("stool", Shape.FLAT, "3 1/2", "3/4"),
        invented.profile("apron", Shape.MOLDED, "2 1/4", "11/16"),
        invented.profile("plinth", Shape.FLAT, "3 3/4", "1"),
    )
}
CASING = Layer(1, Position.CASING, "casing 3", caulked_edges=2)
ASSEMBLIES = invented.ASSEMBLIES | {
    item.name: item
    for item in (
        Assembly("casing", (CASING,)),
        Assembly("butted casing", (replace(CASING, outside_joint=OutsideJoint.BUTT),)),
        Assembly("casing with a nail", (replace(CASING, nail="nail-2.5"),)),
        Assembly("casing on plinths", (CASING, Layer(2, Position.PLINTH, "plinth"))),
        Assembly("stool", (CASING, Layer(2, Position.STOOL, "stool"), Layer(3, Position.APRON, "apron"))),
    )
}
PRICES = replace(
    invented.PRICE_LIST,
    profiles=PROFILES,
    assemblies=ASSEMBLIES,
    settings=replace(invented.SETTINGS, stool_horn=IN("3/4"), default_finish="paint"),
    supplies={item.code: item for item in made.SUPPLIES},
)


def door(width: str = "32", casing: str = "casing", sides: int = 1, height: str = "80") -> Opening:
    """A door 2 ft 8 in × 6 ft 8 in unless said, 3 ft from the left end of wall A."""
    return invented.opening("A", "door", "36", width, height, casing=casing, sides=sides)


def window(style: WindowStyle, casing: str, sides: int = 1) -> Opening:
    """A window 36 in wide from 30 in to 72 in above the floor on wall A."""
    return invented.opening(
        "A", "window", "36", "36", "72", sill_height=IN(30), casing=casing, style=style, sides=sides
    )  # fmt: skip


def room(*openings: Opening, length: str = "14'", framing: Framing = Framing.WOOD) -> Room:
    """A room with these openings in wall A."""
    walls = [invented.wall(name, size) for name, size in (("A", length), ("B", "12'"), ("C", length), ("D", "12'"))]
    walls[0] = replace(walls[0], framing=framing)
    numbered = tuple(
        replace(item, pointer=f"/rooms/0/openings/{place}") for place, item in enumerate(openings)
    )  # fmt: skip
    return invented.room(*walls, openings=numbered)


def runs_of(of: Room, *orders: str) -> tuple[Run, ...]:
    """Runs of a room, its openings' and those of some assemblies on all walls."""
    found = Problems()
    trim = tuple(invented.order(name) for name in orders)
    runs = taken_off((invented.shape(of),), trim, PRICES, invented.TAKEOFF_RULES, found)
    assert not found.has_errors, [problem.line() for problem in found.errors]
    return runs


def materials_of(of: Room, *orders: str) -> Materials:
    """Materials of a room."""
    return made.materials(*runs_of(of, *orders), prices=PRICES, place=of)


def nails_of(of: Room) -> dict[str, int]:
    """All nails around a room's openings, by supply."""
    counts: dict[str, int] = {}
    for fastening in materials_of(of).fastening:
        for code, count in fastening.nails.items():
            counts[code] = counts.get(code, 0) + count
    return counts
