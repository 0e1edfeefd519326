"""Which layers each Trim row puts on which wall."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.takeoff.seats import HANGING_ORDER, Ordered
from service.firm import Position
from service.nearest import MOST_GUESSED, nearest
from service.problems import Code

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from service.firm import Assembly, PriceList
    from service.problems import Problems
    from service.survey import Room, TrimOrder

RoomOrders = dict[str, dict[Position, Ordered]]


def known_orders(trim: Sequence[TrimOrder], price_list: PriceList, problems: Problems) -> tuple[TrimOrder, ...]:
    """Orders whose assembly is on the price list; the others are faults."""
    return tuple(
        order for order in trim if assembly_is_known(f"{order.pointer}/assembly", order.assembly, price_list, problems)
    )


def assembly_is_known(pointer: str, name: str, price_list: PriceList, problems: Problems) -> bool:
    """Whether the price list has an assembly; if not, that is a fault at the pointer, with the list to choose from."""
    if name in price_list.assemblies:
        return True
    near = nearest(name, price_list.assemblies) if len(problems) < MOST_GUESSED else None
    names = ", ".join(sorted(price_list.assemblies))
    problems.error(
        Code.ASSEMBLY_UNKNOWN,
        pointer,
        f"The price list {price_list.name} has no such assembly.",
        help=(f"Did you mean “{near}”? " if near else "") + f"Type one of: {names}.",
        found=name,
    )
    return False


def orders_of(room: Room, trim: Sequence[TrimOrder], price_list: PriceList, problems: Problems) -> RoomOrders:
    """Layers ordered for each wall of a room, by wall name and position.

    Two layers at one position of one wall are a fault; so is a rail without a height.
    """
    ordered: RoomOrders = {wall.name: {} for wall in room.walls}
    for order in trim:
        if order.room not in {None, room.name}:
            continue
        for wall in order.walls if order.walls is not None else tuple(ordered):
            _put(ordered[wall], order, wall, price_list, problems)
    return ordered


def _put(wall: dict[Position, Ordered], order: TrimOrder, name: str, price_list: PriceList, problems: Problems) -> None:
    for item in _layers(price_list.assemblies[order.assembly], order, price_list):
        if item.layer.position is Position.RAIL and order.height is None:
            _height_missing(order, problems)
            continue
        taken = wall.setdefault(item.layer.position, item)
        if taken is not item:
            problems.error(
                Code.LAYERS_COLLIDE,
                f"{order.pointer}/assembly",
                f"Wall {name} already has a {item.layer.position} layer from {taken.assembly}.",
                help="Take one of the two assemblies off this wall.",
                found=order.assembly,
            )


def _height_missing(order: TrimOrder, problems: Problems) -> None:
    problems.error(
        Code.VALUE_MISSING,
        f"{order.pointer}/height",
        "A rail needs its height above the finished floor.",
        help="Type the height of the rail's top edge, such as 36.",
    )


def _layers(assembly: Assembly, order: TrimOrder, price_list: PriceList) -> Iterator[Ordered]:
    runs = [layer for layer in assembly.layers if layer.position in HANGING_ORDER]
    for place, layer in enumerate(runs):
        yield Ordered(order, assembly.name, layer, price_list.profiles[layer.profile], is_first=place == 0)


def misplaced_told(trim: Sequence[TrimOrder], assemblies: Mapping[str, Assembly], problems: Problems) -> None:
    """Refuse Trim rows whose assembly goes around openings: they would price nothing."""
    for order in trim:
        around = [layer.position for layer in assemblies[order.assembly].layers if layer.position not in HANGING_ORDER]
        if around:
            problems.error(
                Code.TRIM_ON_NOTHING,
                f"{order.pointer}/assembly",
                f"{order.assembly} has layers that go around openings ({', '.join(around)}), not along a wall.",
                help="Type it in the Casing column of each opening instead.",
                found=order.assembly,
            )


def casings_known(rooms: Sequence[Room], price_list: PriceList, problems: Problems) -> None:
    """Refuse openings whose casing is not on the price list."""
    for room in rooms:
        for opening in room.openings:
            if opening.casing:
                assembly_is_known(f"{opening.pointer}/casing", opening.casing, price_list, problems)
