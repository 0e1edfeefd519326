"""Openings and what goes around them, worded for the plan, the cut list and the price table."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

from service.documents.fonts import NBSP
from service.documents.words import count_text, length_text, list_text, size_text
from service.survey import OpeningKind

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.quote.model import OpeningCard, RoomCard, RunCard
    from service.units import Units

BOTH_SIDES = 2
COUNTED = {
    OpeningKind.DOOR: ("door", "doors"),
    OpeningKind.WINDOW: ("window", "windows"),
    OpeningKind.CASED_OPENING: ("cased opening", "cased openings"),
    OpeningKind.CABINET: ("cabinet", "cabinets"),
    OpeningKind.FIREPLACE: ("fireplace", "fireplaces"),
}
_NUMBERED = re.compile(r"(.*?)(\d+)")


def opening_names(room: RoomCard) -> tuple[str, ...]:
    """`door 1`, `window 1`, `door 2`: each opening by its kind and its place among that kind in the room."""
    met: Counter[OpeningKind] = Counter()
    names = []
    for opening in room.openings:
        met[opening.kind] += 1
        names.append(f"{opening.kind.value}{NBSP}{met[opening.kind]}")
    return tuple(names)


def runs_around(room: RoomCard, place: int) -> list[RunCard]:
    """Members around the opening at a place, counted from 1, in the order in which they are made."""
    return [run for run in room.runs if run.opening == place]


def member_words(run: RunCard, room: RoomCard) -> str:
    """`door 1, left leg`, with the side where the opening is cased on both; empty for a layer along a wall."""
    name = opening_of(run, room)
    return f"{name}, {run.member.value}{_side(run, room)}" if name else ""


def opening_of(run: RunCard, room: RoomCard) -> str:
    """Name of the opening that a member goes around; empty for a layer along a wall."""
    names = opening_names(room)
    return names[run.opening - 1] if run.opening and run.opening <= len(names) else ""


def _side(run: RunCard, room: RoomCard) -> str:
    beyond = any(item.side == BOTH_SIDES for item in room.runs if item.opening == run.opening)
    return f", side{NBSP}{run.side}" if beyond else ""


def marks_text(marks: Sequence[str]) -> str:
    """`4-31…4-33` for marks that follow each other, all of them otherwise."""
    if len(marks) > 1 and _follow(marks):
        return f"{marks[0]}…{marks[-1]}"
    return ", ".join(marks)


def _follow(marks: Sequence[str]) -> bool:
    parts = [_NUMBERED.fullmatch(mark) for mark in marks]
    found = [(part[1], int(part[2])) for part in parts if part]
    head, first = found[0] if found else ("", 0)
    return found == [(head, first + i) for i in range(len(marks))]


def casing_text(opening: OpeningCard) -> str:
    """`Window casing with stool, stool and apron`; `none` for an opening without casing."""
    if not opening.casing:
        return "none"
    style = f", {opening.style.value}" if opening.style else ""
    sides = ", both sides" if opening.sides == BOTH_SIDES else ", one side"
    return f"{opening.casing}{style}{sides}"


def opening_size(opening: OpeningCard, units: Units) -> str:
    """`36″ × 6′ 10″, sill 24″`."""
    sill = f", sill{NBSP}{size_text(opening.sill_height, units)}" if opening.sill_height else ""
    return f"{size_text(opening.width, units)} × {length_text(opening.height, units)}{sill}"


def cased_words(openings: Iterable[OpeningCard]) -> str:
    """`5 doors and 4 windows, 2 of them on both sides`: those with a casing, by kind; empty when there are none."""
    cased = [opening for opening in openings if opening.casing]
    counts = Counter(opening.kind for opening in cased)
    both = sum(opening.sides == BOTH_SIDES for opening in cased)
    words = list_text([count_text(counts[kind], *COUNTED[kind]) for kind in COUNTED if counts[kind]])
    return f"{words}{_on_both(both, len(cased))}"


def _on_both(both: int, count: int) -> str:
    if not both:
        return ""
    return " on both sides" if both == count else f", {both} of them on both sides"


def casings_by_assembly(room: RoomCard) -> list[str]:
    """`Casing around 2 doors and 1 window`, a phrase for each assembly that goes around openings of the room."""
    names = dict.fromkeys(opening.casing for opening in room.openings if opening.casing)
    return [f"{name} around {cased_words(o for o in room.openings if o.casing == name)}" for name in names]
