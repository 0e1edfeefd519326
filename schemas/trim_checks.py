"""Tab Trim against the rooms and walls: names that refer to nothing, assemblies that stand on a wall twice."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING

from schemas.names import tell_unknown
from schemas.text import folded, shown
from service.problems import Code, pointer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from schemas.names import Names
    from schemas.records import Row
    from service.problems import Problems

ALL = "all"
MOST_PLACES = 20_000
MOST_NAMED = 12


def is_all(name: str) -> bool:
    """True for the word that stands for every room or every wall."""
    return folded(name) == ALL


class Places:
    """Rooms and walls that trim may be ordered for, by position on the sheet."""

    __slots__ = ("by_wall", "rooms", "walls")

    def __init__(self, rooms: Names, walls: list[Names]) -> None:
        """Index the walls of all rooms by name."""
        self.rooms = rooms
        self.walls = walls
        self.by_wall: dict[str, list[tuple[int, int]]] = {}
        for room, names in enumerate(walls):
            for name in names:
                self.by_wall.setdefault(folded(name), []).append((room, names.position(name)))

    @property
    def is_complete(self) -> bool:
        """False when some wall or its name was refused, so that an unknown wall may be that one."""
        return all(names.is_complete and len(names) for names in self.walls)

    def ordered(self, order: Row) -> Iterator[tuple[int, int]]:
        """Room and wall of each place that an order dresses."""
        every_wall = any(is_all(name) for name in order["walls"])
        if is_all(order["room"]):
            for name in self.by_wall if every_wall else map(folded, order["walls"]):
                yield from self.by_wall.get(name, ())
        elif order["room"] in self.rooms:
            room = self.rooms.position(order["room"])
            for name in self.walls[room] if every_wall else order["walls"]:
                if name in self.walls[room]:
                    yield room, self.walls[room].position(name)

    def title(self, room: int, wall: int) -> str:
        """A wall with its room, for people."""
        return f"{self.walls[room].at(wall)} of {self.rooms.at(room)}"


def check_trim(trim: list[Row], places: Places, problems: Problems) -> None:
    """Every fault of the tab that the rooms show."""
    for number, order in enumerate(trim):
        if "room" in order:
            _check_order(pointer("trim", number), order, places, problems)
    _check_repeats(trim, places, problems)


def _check_order(place: str, order: Row, places: Places, problems: Problems) -> None:
    room, listed = order["room"], [name for name in order.get("walls", ()) if not is_all(name)]
    if is_all(room):
        for name in listed:
            _check_wall_anywhere(f"{place}/walls", name, places, problems)
        return
    tell_unknown(room, places.rooms, Code.ROOM_UNKNOWN, f"{place}/room", "room", problems)
    if room in places.rooms:
        walls = places.walls[places.rooms.position(room)]
        for name in listed:
            tell_unknown(name, walls, Code.WALL_UNKNOWN, f"{place}/walls", f"wall in room {shown(room)}", problems)


def _check_wall_anywhere(place: str, name: str, places: Places, problems: Problems) -> None:
    having = {room for room, _ in places.by_wall.get(folded(name), ())}
    if not having and places.is_complete:
        problems.error(
            Code.WALL_UNKNOWN, place, "No room has such a wall.", help="Type the name of a wall on tab Walls.",
            found=shown(name),
        )  # fmt: skip
    elif having and len(having) < len(places.rooms):
        lacking = (room for room in places.rooms if places.rooms.position(room) not in having)
        problems.warning(
            Code.WALL_UNKNOWN, place, f"Rooms without such a wall get none: {', '.join(islice(lacking, MOST_NAMED))}.",
            help="Order trim room by room where walls have different names.", found=shown(name),
        )  # fmt: skip


def _check_repeats(trim: list[Row], places: Places, problems: Problems) -> None:
    seen: dict[tuple[str, int, int], int] = {}
    for number, order in enumerate(trim):
        if not {"assembly", "room", "walls"} <= order.keys():
            continue
        repeats = _repeats(number, order, places, seen)
        if len(seen) > MOST_PLACES:
            problems.error(
                Code.NUMBER_OUT_OF_RANGE, "/trim", f"The rows dress more than {MOST_PLACES:,} walls.",
                help="Split the job.",
            )  # fmt: skip
            return
        if repeats:
            _tell_repeats(number, order["assembly"], repeats, places, problems)


Repeat = tuple[int, int, int]


def _repeats(number: int, order: Row, places: Places, seen: dict[tuple[str, int, int], int]) -> list[Repeat]:
    """Places that an earlier order (or this one before) dressed with the same assembly: that order, room, wall."""
    assembly, repeats = folded(order["assembly"]), []
    for room, wall in islice(places.ordered(order), MOST_PLACES + 1):
        key = (assembly, room, wall)
        if key in seen:
            repeats.append((seen[key], room, wall))
        else:
            seen[key] = number
    return repeats


def _tell_repeats(number: int, assembly: str, repeats: list[Repeat], places: Places, problems: Problems) -> None:
    earlier, room, wall = repeats[0]
    row = "this row" if earlier == number else f"row {earlier + 1} of this list"
    more = f" and {len(repeats) - 1} more" if len(repeats) > 1 else ""
    problems.error(
        Code.TRIM_DUPLICATE, f"/trim/{number}/assembly", f"Wall {places.title(room, wall)}{more} already has it by {row}.",
        help="Keep one row for an assembly on a wall.", found=shown(assembly),
    )  # fmt: skip
