"""Which layers each Trim row puts on which wall."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.takeoff.seats import HANGING_ORDER, Ordered
from service.firm import Position
from service.problems import Code

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from service.firm import Assembly, PriceList
    from service.problems import Problems
    from service.survey import Room, TrimOrder

RoomOrders = dict[str, dict[Position, Ordered]]


def known_orders(trim: Sequence[TrimOrder], price_list: PriceList, problems: Problems) -> tuple[TrimOrder, ...]:
    """Orders whose assembly is on the price list; the others are faults."""
    known = []
    for order in trim:
        if order.assembly in price_list.assemblies:
            known.append(order)
        else:
            names = ", ".join(sorted(price_list.assemblies))
            problems.error(
                Code.ASSEMBLY_UNKNOWN,
                f"{order.pointer}/assembly",
                f"The price list {price_list.name} has no such assembly.",
                help=f"Type one of: {names}.",
                found=order.assembly,
            )
    return tuple(known)


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
        taken = wall.setdefault(item.layer.position, item)
        if taken is not item:
            problems.error(
                Code.LAYERS_COLLIDE,
                f"{order.pointer}/assembly",
                f"Wall {name} already has a {item.layer.position} layer from {taken.assembly}.",
                help="Take one of the two assemblies off this wall.",
                found=order.assembly,
            )
        if item.layer.position is Position.RAIL and order.height is None:
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


def unpriced_told(
    trim: Sequence[TrimOrder], rooms: Sequence[Room], assemblies: Mapping[str, Assembly], problems: Problems
) -> None:
    """Say what stands on the sheet and is not priced yet, so that nothing is silently left out."""
    for order in trim:
        around = [layer.position for layer in assemblies[order.assembly].layers if layer.position not in HANGING_ORDER]
        if around:
            _unpriced(f"{order.pointer}/assembly", f"{order.assembly} ({', '.join(around)})", problems)
    for room in rooms:
        for opening in room.openings:
            if opening.casing:
                _unpriced(f"{opening.pointer}/casing", f"{opening.casing} around the {opening.kind}", problems)
        for feature in room.ceiling:
            _unpriced(f"{feature.pointer}/feature", f"the {feature.feature} in {room.name}", problems)


def _unpriced(pointer: str, what: str, problems: Problems) -> None:
    problems.warning(
        Code.NOT_YET_PRICED,
        pointer,
        f"Not in this price: {what}.",
        help="Add it as a row of the Extras tab until it is estimated here.",
    )
