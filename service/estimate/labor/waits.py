"""What dries or cures between two steps of the work, in words for the crew."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from service.estimate.labor.model import Wait
from service.estimate.labor.stages import Phase

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from service.estimate.labor.clock import Moment
    from service.estimate.labor.days import RoomWork, Site
    from service.estimate.labor.stages import Edge

BEFORE = {
    Phase.SAND: "before it is sanded", Phase.PRIME: "before priming", Phase.COAT: "before painting",
    Phase.LAST: "before anything is hung there",
}  # fmt: skip
NEXT_COAT = "before the next coat"
ADHESIVE = "adhesive"


def waits_of(rooms: Iterable[RoomWork], propped: Mapping[int, Sequence[str]], site: Site) -> tuple[Wait, ...]:
    """Every wait of the plan, in the order in which they begin.

    Args:
        rooms: with what dries in each; `propped` walls by room whose ceiling boards wait on props.
        site: the finished plan.
    """
    found = [wait for room in rooms for wait in _in_room(room, propped.get(room.room, ()), site)]
    return tuple(sorted(found, key=lambda wait: (wait.from_day, wait.until_day)))


def _in_room(room: RoomWork, walls: Sequence[str], site: Site) -> Iterator[Wait]:
    for edge in room.edges:
        start = site.ended[room.room, edge.before]
        end = site.hours.dry(start, edge.drying.hours)
        hours = Decimal(edge.drying.hours.numerator) / edge.drying.hours.denominator
        text = _words(room.name, edge, walls, hours, until_words(start, end))
        basis = f"trade:{edge.drying.entry}"
        yield Wait(room.room, room.name, edge.drying.what, hours, start.day + 1, end.day + 1, text, basis)


def until_words(start: Moment, end: Moment) -> str:
    """`later the same day`, `day 3` where it is dry in the morning, `later on day 3`."""
    if start.day == end.day:
        return "later the same day"
    return f"later on day {end.day + 1}" if end.hour else f"day {end.day + 1}"


def _words(room: str, edge: Edge, walls: Sequence[str], hours: Decimal, until: str) -> str:
    """`Parlor: let the caulk dry 2 h before painting, until day 2.`"""
    time = f"{hours.normalize():f} h"
    if edge.drying.what == ADHESIVE:
        where = f"wall{'s' if len(walls) > 1 else ''} {', '.join(walls)}"
        return (
            f"{room}: the props under the ceiling boards on {where} stay until {until}, when their adhesive has cured "
            f"{time} or as its maker says; nothing hangs on the boards before."
        )
    return f"{room}: let the {edge.drying.what} dry {time} {_purpose(edge)}, until {until}."


def _purpose(edge: Edge) -> str:
    """What the wait is for."""
    is_coat = edge.before.phase in {Phase.PRIME, Phase.COAT}
    after = edge.after.phase if edge.after else Phase.LAST
    return NEXT_COAT if is_coat and after is not Phase.LAST else BEFORE[after]
