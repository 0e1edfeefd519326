"""What only the whole job document shows: names that repeat, names that refer to nothing, members that contradict."""

from __future__ import annotations

from typing import TYPE_CHECKING

from schemas.names import Names, tell_duplicates, tell_unknown
from schemas.records import Row, rows
from schemas.text import shown
from schemas.trim_checks import Places, check_trim, is_all
from service.problems import Code, pointer

if TYPE_CHECKING:
    from service.problems import Problems


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
    check_trim(rows(record, "trim"), Places(room_names, wall_names), problems)
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
