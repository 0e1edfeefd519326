"""Warnings of the estimate that matter on site; those about money and paper stay in the office."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.problems import Code

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.quote.model import Quote, RoomCard
    from service.problems import Problem

ON_SITE = frozenset({
    Code.BACKING_UNKNOWN, Code.BACKING_NOT_WOOD, Code.PROFILES_DO_NOT_MEET, Code.SAW_LIMIT_PASSED,
    Code.JOINT_NEAR_CORNER, Code.JOINT_ON_GLUE_PLATE, Code.PIECE_SHORT, Code.MITER_MAY_OPEN, Code.NAIL_MAY_REACH_CABLE,
    Code.OVERHEAD_ON_ADHESIVE_ALONE, Code.HOLDING_LOW, Code.HOLDING_NOT_CHECKED, Code.FAN_BLADES_TOO_LOW,
    Code.FAN_BOX_NOT_RATED, Code.FAN_NEAR_WALL, Code.WEIGHT_ON_BOX, Code.FEATURE_ITEM_MISSING,
    Code.FEATURE_SIZE_UNUSUAL, Code.CROWN_INTERRUPTED, Code.ROOM_DOES_NOT_CLOSE, Code.CORNER_ANGLES_DO_NOT_ADD_UP, Code.LAYERS_COLLIDE,
    Code.NOT_YET_PRICED,
})  # fmt: skip


def on_site(room: RoomCard, quote: Quote) -> list[str]:
    """Remarks about one room: those whose pointer lies in it, each once."""
    return list(dict.fromkeys(_words(problem) for problem in _site_problems(quote) if _room_of(problem) == room.number))


def about_the_job(quote: Quote) -> list[str]:
    """Remarks that name no room of their own, each once."""
    numbers = {room.number for room in quote.rooms}
    found = (problem for problem in _site_problems(quote) if _room_of(problem) not in numbers)
    return list(dict.fromkeys(_words(problem) for problem in found))


def _site_problems(quote: Quote) -> Iterator[Problem]:
    return (problem for problem in quote.warnings if problem.code in ON_SITE)


def _words(problem: Problem) -> str:
    """What the crew reads; how the office mends what is not yet priced is not for them."""
    return problem.detail if problem.code is Code.NOT_YET_PRICED else f"{problem.detail} {problem.help}".strip()


def _room_of(problem: Problem) -> int | None:
    """Number of the room that a pointer such as `/rooms/0/walls/2` lies in; None elsewhere."""
    parts = problem.pointer.split("/")
    inside = len(parts) > 2 and parts[1] == "rooms" and parts[2].isascii() and parts[2].isdecimal()  # noqa: PLR2004 - "", "rooms", number
    return int(parts[2]) + 1 if inside else None
