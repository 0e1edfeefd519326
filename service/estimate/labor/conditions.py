"""Which conditions are in force on a piece of work."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.firm import ConditionKind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.estimate.labor.work import Work
    from service.firm import Condition
    from service.survey import Room
    from service.units import Length, Units

EVERYTHING = "all"
YES, NO = "yes", "no"


def applies(condition: Condition, work: Work) -> bool:
    """True when the condition names everything, the task or the layer's position."""
    names = {EVERYTHING, work.task}
    if work.position is not None:
        names.add(str(work.position))
    return any(name in names for name in condition.applies_to)


def holds_in(condition: Condition, room: Room, is_occupied: bool) -> bool:
    """True when the condition is in force in a room: From ≤ ceiling height < To, occupied as labeled, access as labeled.

    Args:
        condition: of the price list; a missing limit is none, an occupied one without label means yes.
        room: for its ceiling height and access.
        is_occupied: the job's.
    """
    if condition.kind is ConditionKind.CEILING_HEIGHT:
        return is_within(room.ceiling_height, condition)
    if condition.kind is ConditionKind.OCCUPIED:
        return (condition.label or YES) == (YES if is_occupied else NO)
    return condition.label == room.access


def is_within(height: Length, condition: Condition) -> bool:
    """True when From ≤ height < To."""
    reaches = condition.low is None or condition.low <= height
    return reaches and (condition.high is None or height < condition.high)


def in_force(
    conditions: Iterable[Condition], work: Work, room: Room | None, is_occupied: bool
) -> tuple[Condition, ...]:  # fmt: skip
    """Conditions in force on a piece of work, in the listed order; none on what is done in no room, such as a trip."""
    if room is None:
        return ()
    return tuple(item for item in conditions if applies(item, work) and holds_in(item, room, is_occupied))


def condition_text(condition: Condition, units: Units) -> str:
    """The condition in words: `ceiling height from 9′ 0″ to 10′ 0″`, `occupied`, `access over stairs`."""
    if condition.kind is ConditionKind.CEILING_HEIGHT:
        limits = (("from", condition.low), ("to", condition.high))
        return " ".join(
            [condition.kind, *(f"{word} {limit.text(units)}" for word, limit in limits if limit is not None)]
        )
    if condition.kind is ConditionKind.OCCUPIED:
        return "not occupied" if condition.label == NO else "occupied"
    return f"access {condition.label}"
