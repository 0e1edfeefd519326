"""Invented rooms, profiles and prices for tests; no such firm, house or price list exists."""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from service.estimate.rooms import RoomRules, RoomShape, shaped_rooms
from service.estimate.takeoff.rules import TakeoffRules
from service.estimate.takeoff.runs import taken_off
from service.firm import (
    AdhesiveUse,
    Assembly,
    FirmSettings,
    Layer,
    Position,
    PriceList,
    Profile,
    ProfitMethod,
    SalesTaxOn,
    Shape,
)
from service.problems import Problems
from service.survey import (
    CornerKind,
    InsideJoint,
    Joists,
    Opening,
    OpeningKind,
    OutsideJoint,
    Room,
    Studs,
    TrimOrder,
    Wall,
)
from service.trade.book import shipped_book
from service.units import Length, Units, parsed_length

if TYPE_CHECKING:
    from service.estimate.takeoff.model import Run

BOOK = shipped_book()
ROOM_RULES = RoomRules.of(BOOK)
TAKEOFF_RULES = TakeoffRules.of(BOOK)

SETTINGS = FirmSettings(
    name="Tern & Tenon Trim (invented)",
    currency="USD",
    units=Units.IMPERIAL,
    time_zone="America/Chicago",
    valid_for_days=30,
    burden_share=Decimal("0.3"),
    overhead_share=Decimal("0.15"),
    profit_method=ProfitMethod.MARKUP,
    profit_rate=Decimal("0.1"),
    contingency_share=Decimal("0.05"),
    material_tax_rate=Decimal(0),
    sales_tax_rate=Decimal(0),
    sales_tax_on=SalesTaxOn.NOTHING,
    crew_size=2,
    productive_hours_a_day=Decimal("6.5"),
    kerf=Length.of("1/8"),
    end_trim=Length.of("1/2"),
    shortest_piece=Length.of(24),
    shortest_offcut_to_keep=Length.of(24),
    joint_stagger=Length.of(16),
    scarf_angle_deg=45.0,
    inside_joint=InsideJoint.COPE,
    casing_reveal=Length.of("3/16"),
)


def inches(text: str) -> Length:
    """A length in trade text."""
    return parsed_length(text, Units.IMPERIAL)


def profile(name: str, shape: Shape, width: str, thickness: str, spring: float | None = None) -> Profile:
    """A profile of invented make."""
    return Profile(name, f"invented {name}", shape, inches(width), inches(thickness), spring)


PROFILES = {
    item.name: item
    for item in (
        profile("board 5", Shape.FLAT, "5 1/2", "3/4"),
        profile("board 7", Shape.FLAT, "7 1/4", "3/4"),
        profile("board 7 thin", Shape.FLAT, "7 1/4", "1/2"),
        profile("crown 4", Shape.SPRUNG, "4 5/8", "5/8", 38.0),
        profile("crown 3", Shape.SPRUNG, "3 1/2", "5/8", 45.0),
        profile("base 5", Shape.MOLDED, "5 1/4", "9/16"),
        profile("cap 1", Shape.MOLDED, "1 1/8", "11/16"),
        profile("shoe", Shape.MOLDED, "3/4", "1/2"),
        profile("rail 3", Shape.MOLDED, "3", "3/4"),
        profile("casing 3", Shape.MOLDED, "3 1/4", "11/16"),
        profile("stool 3", Shape.FLAT, "3 1/2", "3/4"),
        profile("apron 2", Shape.MOLDED, "2 1/2", "1/2"),
        profile("plinth 3", Shape.FLAT, "3 1/2", "1"),
        profile("base flat", Shape.FLAT, "5 1/2", "3/4"),
    )
}


def assembly(name: str, *layers: tuple[Position, str], joint: InsideJoint | None = None) -> Assembly:
    """An assembly of layers in order."""
    return Assembly(
        name,
        tuple(
            Layer(number, position, profile_name, inside_joint=joint, adhesive=AdhesiveUse.BEAD)
            for number, (position, profile_name) in enumerate(layers, 1)
        ),
    )


def butted(item: Assembly) -> Assembly:
    """The assembly with its head casing butted on the legs."""
    return replace(item, layers=tuple(replace(layer, outside_joint=OutsideJoint.BUTT) for layer in item.layers))


STOOLED = ((Position.CASING, "casing 3"), (Position.STOOL, "stool 3"), (Position.APRON, "apron 2"))
BUILT_UP = ((Position.CEILING, "board 5"), (Position.WALL, "board 7"), (Position.CROWN, "crown 4"))
ASSEMBLIES = {
    item.name: item
    for item in (
        assembly("built-up", *BUILT_UP),
        assembly("built-up mitered", *BUILT_UP, joint=InsideJoint.MITER),
        assembly(
            "built-up thin",
            (Position.CEILING, "board 5"),
            (Position.WALL, "board 7 thin"),
            (Position.CROWN, "crown 4"),
            joint=InsideJoint.MITER,
        ),
        assembly("crown alone", (Position.CROWN, "crown 4")),
        assembly("crown alone mitered", (Position.CROWN, "crown 4"), joint=InsideJoint.MITER),
        assembly("small crown", (Position.CROWN, "crown 3")),
        assembly("ceiling board", (Position.CEILING, "board 5")),
        assembly("wall board", (Position.WALL, "board 7")),
        assembly("base", (Position.BASE, "base 5")),
        assembly("base cap shoe", (Position.BASE, "base 5"), (Position.CAP, "cap 1"), (Position.SHOE, "shoe")),
        assembly("cap only", (Position.CAP, "cap 1")),
        assembly("rail", (Position.RAIL, "rail 3")),
        assembly("casing", (Position.CASING, "casing 3")),
        assembly("casing on plinths", (Position.CASING, "casing 3"), (Position.PLINTH, "plinth 3")),
        assembly("stool casing", *STOOLED),
        assembly("stool without apron", *STOOLED[:2]),
        butted(assembly("butted casing", (Position.CASING, "casing 3"))),
        butted(assembly("butted stool casing", *STOOLED)),
        butted(assembly("ceiling board butted", (Position.CEILING, "board 5"))),
        assembly("base flat", (Position.BASE, "base flat")),
        assembly("too big", (Position.CEILING, "shoe"), (Position.CROWN, "crown 4")),
    )
}

PRICE_LIST = PriceList(
    settings=SETTINGS,
    wages={},
    payments=(),
    profiles=PROFILES,
    stock=(),
    assemblies=ASSEMBLIES,
    supplies={},
    labor={},
)


def wall(
    name: str,
    length: str,
    corner: str = "inside",
    angle: float = 90.0,
    *,
    first: str | None = "8",
    pointer: str = "",
    **more: object,
) -> Wall:
    """A wall of a test room, studs at 8" and every 16"."""
    studs = Studs(inches(first) if first else None, Length.of(16))
    return Wall(pointer or f"/walls/{name}", name, inches(length), CornerKind(corner), angle, studs, **more)


def room(*walls: Wall, name: str = "Parlor", height: str = "8'", **more: object) -> Room:
    """A test room with half-inch coverings."""
    return Room("/rooms/0", name, inches(height), inches("1/2"), inches("1/2"), walls, **more)


def joists(parallel_to: str, first: str, spacing: str = "16") -> Joists:
    """Joists of a test room."""
    return Joists(parallel_to, inches(first), inches(spacing))


def opening(on: str, kind: str, from_left: str, width: str, height: str, **more: object) -> Opening:
    """An opening of a test room."""
    return Opening(
        "/rooms/0/openings/0", on, OpeningKind(kind), inches(from_left), inches(width), inches(height), **more
    )


def order(name: str, walls: tuple[str, ...] | None = None, **more: object) -> TrimOrder:
    """A Trim row for every room."""
    return TrimOrder(f"/trim/{name}", None, walls, name, **more)


def rectangle(width: str = "12'", depth: str = "14'", **more: object) -> Room:
    """A plain rectangle: A and C are `width` long, B and D `depth`."""
    return room(wall("A", width), wall("B", depth), wall("C", width), wall("D", depth), **more)


def l_shape(**more: object) -> Room:
    """An L: six walls, one outside corner after wall C."""
    return room(
        wall("A", "20'"),
        wall("B", "10'"),
        wall("C", "8'", "outside"),
        wall("D", "6'"),
        wall("E", "12'"),
        wall("F", "16'"),
        **more,
    )


def bay(**more: object) -> Room:
    """A room with a three-sided bay between walls A and E: 135° readings, outside, inside, inside, outside."""
    slant = Length.measured(math.hypot(24.0, 24.0)).snapped()
    return room(
        wall("A", "4'", "outside", 135.0),
        _cut(wall("B", "24", "inside", 135.0), slant),
        wall("C", "4'", "inside", 135.0),
        _cut(wall("D", "24", "outside", 135.0), slant),
        wall("E", "4'"),
        wall("F", "10'"),
        wall("G", "16'"),
        wall("H", "10'"),
        **more,
    )


def t_shape(**more: object) -> Room:
    """A T: eight walls, an outside corner on each side of the stem."""
    return room(
        wall("A", "18'"), wall("B", "8'"), wall("C", "6'", "outside"), wall("D", "7'"),
        wall("E", "5'"), wall("F", "7'", "outside"), wall("G", "7'"), wall("H", "8'"), **more,
    )  # fmt: skip


def u_shape(**more: object) -> Room:
    """A U: eight walls, two outside corners about a court."""
    return room(
        wall("A", "6'"), wall("B", "5'", "outside"), wall("C", "7'", "outside"), wall("D", "4'"),
        wall("E", "5'"), wall("F", "13'"), wall("G", "18'"), wall("H", "14'"), **more,
    )  # fmt: skip


def octagon(**more: object) -> Room:
    """Eight walls of five feet, every corner 135°."""
    return room(*(wall(name, "5'", angle=135.0) for name in "ABCDEFGH"), **more)


def cut_corner(**more: object) -> Room:
    """A ten-foot square with one corner cut at 45°."""
    slant = Length.measured(math.hypot(30.0, 30.0)).snapped()
    walls = (wall("A", "90", angle=135.0), _cut(wall("B", "1", angle=135.0), slant), wall("C", "90"))
    return room(*walls, wall("D", "10'"), wall("E", "10'"), **more)


def chimney_breast(**more: object) -> Room:
    """A rectangle with a breast 4' wide and 14" deep: two outside corners close together."""
    return room(
        wall("A", "5'"), wall("B", "14", "outside"), wall("C", "4'", "outside"), wall("D", "14"),
        wall("E", "5'"), wall("F", "12'"), wall("G", "14'"), wall("H", "12'"), **more,
    )  # fmt: skip


def column(side: str = "16", **more: object) -> Room:
    """A wrapped column: four outside corners, walked the other way round."""
    return room(*(wall(name, side, "outside") for name in "ABCD"), **more)


def half_wall(**more: object) -> Room:
    """Part of an open plan: three walls, then a half wall that ends free in the room."""
    return room(wall("A", "9'"), wall("B", "13'"), wall("C", "12'"), wall("D", "4'", "open"), **more)


ROOMS = {
    item.__name__: item
    for item in (rectangle, l_shape, t_shape, u_shape, bay, octagon, cut_corner, chimney_breast, column)
}


def _cut(item: Wall, length: Length) -> Wall:
    return Wall(item.pointer, item.name, length, item.corner, item.angle_deg, item.studs)


def shape(item: Room, problems: Problems | None = None) -> RoomShape:
    """The room in plan."""
    return shaped_rooms((item,), Units.IMPERIAL, ROOM_RULES, problems if problems is not None else Problems())[0]


def runs_in(
    item: Room,
    *orders: TrimOrder,
    problems: Problems | None = None,
    firm: FirmSettings = SETTINGS,
    profiles: tuple[Profile, ...] = (),
) -> tuple[Run, ...]:
    """Runs of the orders in one room; without a collector any error fails the test. `profiles` replace those of their name."""
    found = problems if problems is not None else Problems()
    more = {item.name: item for item in profiles}
    price_list = replace(PRICE_LIST, settings=firm, profiles=PROFILES | more)
    runs = taken_off((shape(item, found),), orders, price_list, TAKEOFF_RULES, found)
    if problems is None:
        assert not found.has_errors, [problem.line() for problem in found.errors]
    return runs


def run_of(runs: tuple[Run, ...], wall_name: str, position: Position) -> Run:
    """The one run of a position on a wall."""
    (found,) = (run for run in runs if run.wall == wall_name and run.position is position)
    return found
