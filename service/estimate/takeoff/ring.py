"""In which order copes and butts go round a room: who runs through at each corner."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from service.survey import OpeningKind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.survey import Room


class Meeting(StrEnum):
    """What happens to a position at a wall's right-hand corner."""

    MITER = "miter"
    COPE = "cope"
    BUTT = "butt"
    ALONE = "alone"


RINGED = frozenset({Meeting.COPE, Meeting.BUTT})


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of one position.

    Attributes:
        meeting: how the two walls' layers meet there.
        left_runs_through: the wall left of the corner is square and goes in first; the one right of it
            is coped or butted to it.
    """

    meeting: Meeting
    left_runs_through: bool = True


def first_wall(room: Room) -> int:
    """Position of the wall whose piece goes up first: the longest without a door; names settle ties.

    Source: common practice (the eye rests on the long wall; its ends are covered by the others).
    """
    with_door = {opening.wall for opening in room.openings if opening.kind is OpeningKind.DOOR}
    walls = list(enumerate(room.walls))
    free = [item for item in walls if item[1].name not in with_door] or walls
    return min(free, key=lambda item: (-item[1].length.inches, item[1].name))[0]


def ring_order(meetings: Sequence[Meeting], start: int) -> tuple[Corner, ...]:
    """Who runs through at each wall's right-hand corner.

    Going clockwise each piece is coped (butted) at its left end to the one already up and square at its
    right. Where every corner is coped the first wall is square at both ends and the last coped at both;
    a corner that is not coped breaks the ring, and the order starts after it.

    Source: common practice, NAVEDTRA 14044 ch. 6 (molded work coped inside).

    Args:
        meetings: one a wall, for its right-hand corner.
        start: position of the first wall in a whole ring.
    """
    whole = len(meetings) > 1 and all(meeting in RINGED for meeting in meetings)
    last = (start - 1) % len(meetings)
    return tuple(
        Corner(meeting, left_runs_through=not (whole and place == last)) for place, meeting in enumerate(meetings)
    )
