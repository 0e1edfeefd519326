"""What only the whole job document shows: names that repeat, names that refer to nothing, members that contradict."""

from __future__ import annotations

from typing import TYPE_CHECKING

from schemas.names import Names, tell_duplicates, tell_unknown
from schemas.records import Row, rows
from schemas.text import folded, shown
from service.problems import Code, pointer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.problems import Problems

ALL = "all"


def is_all(name: str) -> bool:
    """True for the word that stands for every room or every wall."""
    return folded(name) == ALL


def check_document(record: Row, problems: Problems) -> None:
    """Every fault that needs more than one member, over what could be read of the document."""
    rooms = rows(record, "rooms")
    room_names = Names.of(rooms, "name")
    wall_names = [Names.of(rows(room, "walls"), "name") for room in rooms]
    tell_duplicates(room_names, Code.ROOM_DUPLICATE, "/rooms", "name", problems)
    for number, (room, walls) in enumerate(zip(rooms, wall_names, strict=True)):
        if number in room_names.duplicates and not room.get("walls"):
            continue
        _check_room(pointer("rooms", number), room, walls, problems)
    trim = rows(record, "trim")
    for number, order in enumerate(trim):
        _check_order(pointer("trim", number), order, room_names, wall_names, problems)
    _check_repeated_trim(trim, room_names, wall_names, problems)
    for number, extra in enumerate(rows(record, "extras")):
        if "room" in extra:
            tell_unknown(extra["room"], room_names, Code.ROOM_UNKNOWN, f"/extras/{number}/room", "room", problems)


def _check_room(place: str, room: Row, walls: Names, problems: Problems) -> None:
    _check_reserved(place, room, "room", problems)
    if "walls" not in room or not room["walls"]:
        _tell_no_walls(place, room, problems)
        return
    tell_duplicates(walls, Code.WALL_DUPLICATE, f"{place}/walls", "name", problems)
    for number, wall in enumerate(room["walls"]):
        _check_reserved(f"{place}/walls/{number}", wall, "wall", problems)
        _check_studs(f"{place}/walls/{number}/studs", wall.get("studs", {}), problems)
    _check_joists(f"{place}/joists", room.get("joists", {}), walls, problems)
    for number, opening in enumerate(rows(room, "openings")):
        _check_opening(f"{place}/openings/{number}", opening, walls, problems)


def _tell_no_walls(place: str, room: Row, problems: Problems) -> None:
    told = any(problem.pointer == place or problem.pointer.startswith(f"{place}/walls") for problem in problems)
    if not told:
        problems.error(
            Code.ROOM_WITHOUT_WALLS, f"{place}/walls", "The room has no walls.",
            help="List its walls left to right on tab Walls, or take the room off tab Rooms.",
            found=shown(room.get("name", "")),
        )  # fmt: skip


def _check_reserved(place: str, row: Row, what: str, problems: Problems) -> None:
    if is_all(row.get("name", "")):
        problems.error(
            Code.TEXT_NOT_UNDERSTOOD, f"{place}/name", f"`all` stands for every {what}.",
            help=f"Give the {what} a name of its own.", found=shown(row["name"]),
        )  # fmt: skip


def _check_studs(place: str, studs: Row, problems: Problems) -> None:
    if "at" in studs and "first" in studs:
        problems.error(
            Code.VALUES_CONTRADICT, f"{place}/at", "Studs are told twice: by the first and by a list.",
            help="Keep either the first stud with its spacing or the list.",
        )  # fmt: skip


def _check_joists(place: str, joists: Row, walls: Names, problems: Problems) -> None:
    if "parallel_to" in joists:
        wall = joists["parallel_to"]
        tell_unknown(wall, walls, Code.WALL_UNKNOWN, f"{place}/parallel_to", "wall in this room", problems)
    for given, lacking in (("parallel_to", "first"), ("first", "parallel_to")):
        if given in joists and lacking not in joists and not any(p.pointer == f"{place}/{lacking}" for p in problems):
            problems.warning(
                Code.VALUE_MISSING, f"{place}/{lacking}", "Where the joists are is not known without it.",
                help="Type the wall that the joists run along and the distance from it to the first joist's center.",
            )  # fmt: skip


def _check_opening(place: str, opening: Row, walls: Names, problems: Problems) -> None:
    if "wall" in opening:
        tell_unknown(opening["wall"], walls, Code.WALL_UNKNOWN, f"{place}/wall", "wall in this room", problems)


def _check_order(place: str, order: Row, room_names: Names, wall_names: list[Names], problems: Problems) -> None:
    room = order.get("room")
    if room is None:
        return
    listed = [(n, name) for n, name in enumerate(order.get("walls", ())) if not is_all(name)]
    if is_all(room):
        _check_walls_anywhere(place, listed, room_names, wall_names, problems)
        return
    tell_unknown(room, room_names, Code.ROOM_UNKNOWN, f"{place}/room", "room", problems)
    if room in room_names:
        walls = wall_names[room_names.position(room)]
        for _, name in listed:
            tell_unknown(name, walls, Code.WALL_UNKNOWN, f"{place}/walls", f"wall in room {shown(room)}", problems)


def _check_walls_anywhere(
    place: str, listed: list[tuple[int, str]], room_names: Names, wall_names: list[Names], problems: Problems
) -> None:
    every = Names([name for names in wall_names for name in names])
    for _, name in listed:
        if name not in every:
            if all(names.is_complete and len(names) for names in wall_names):
                problems.error(
                    Code.WALL_UNKNOWN,
                    f"{place}/walls",
                    "No room has such a wall.",
                    help=every.hint(name),
                    found=shown(name),
                )
            continue
        without = [room for room in room_names if name not in wall_names[room_names.position(room)]]
        if without:
            problems.warning(
                Code.WALL_UNKNOWN, f"{place}/walls", f"Rooms without such a wall get none: {', '.join(without[:12])}.",
                help="Order trim room by room where walls have different names.", found=shown(name),
            )  # fmt: skip


def _check_repeated_trim(trim: list[Row], room_names: Names, wall_names: list[Names], problems: Problems) -> None:
    seen: dict[tuple[str, int, int], int] = {}
    for number, order in enumerate(trim):
        repeats = []
        for room, wall in _placements(order, room_names, wall_names):
            key = (folded(order["assembly"]), room, wall)
            if key in seen:
                repeats.append((seen[key], f"{wall_names[room].at(wall)} of {room_names.at(room)}"))
            else:
                seen[key] = number
        if repeats:
            _tell_repeat(number, order["assembly"], repeats, problems)


def _placements(order: Row, room_names: Names, wall_names: list[Names]) -> Iterator[tuple[int, int]]:
    if not {"assembly", "room", "walls"} <= order.keys():
        return
    for room in room_names:
        if not is_all(order["room"]) and folded(order["room"]) != folded(room):
            continue
        walls = wall_names[room_names.position(room)]
        every = any(is_all(name) for name in order["walls"])
        for name in walls if every else order["walls"]:
            if name in walls:
                yield room_names.position(room), walls.position(name)


def _tell_repeat(number: int, assembly: str, repeats: list[tuple[int, str]], problems: Problems) -> None:
    earlier, wall = repeats[0]
    row = "this row" if earlier == number else f"row {earlier + 1} of this list"
    more = f" and {len(repeats) - 1} more" if len(repeats) > 1 else ""
    problems.error(
        Code.TRIM_DUPLICATE, f"/trim/{number}/assembly", f"Wall {wall}{more} already has it by {row}.",
        help="Keep one row for an assembly on a wall.", found=shown(assembly),
    )  # fmt: skip
