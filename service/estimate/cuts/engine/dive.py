"""Dives: whole plans from the linear program, by fixing patterns and generating more for what is left."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.master import SLACK

if TYPE_CHECKING:
    from service.estimate.cuts.engine.master import Master
    from service.estimate.cuts.engine.work import Column

MOST_STEPS = 120
NEARLY = 0.9
ROUNDS = 3


def dived(master: Master, *, one_by_one: bool) -> list[Column] | None:
    """A plan of whole boards, None where the dive ends without one.

    Args:
        master: converged; its patterns grow, its bounds are put back.
        one_by_one: raise one pattern at a time, instead of all that are nearly whole.
    """
    bound = master.bound
    fixed: dict[int, int] = {}
    try:
        return _plan(master, fixed, one_by_one=one_by_one)
    finally:
        for pattern in fixed:
            master.hold(pattern, 0)
        master.bound = bound


def _plan(master: Master, fixed: dict[int, int], *, one_by_one: bool) -> list[Column] | None:
    for step in range(MOST_STEPS):
        optimum = master.converge(ROUNDS)
        if optimum is None or master.uncut(optimum):
            return None
        usage = master.usage(optimum)
        raised = _raised(usage, fixed, one_by_one=one_by_one and step > 0)
        if not raised:
            return [master.patterns[i] for i, value in enumerate(usage) for _ in range(round(value))]
        for pattern, count in raised.items():
            fixed[pattern] = count
            master.hold(pattern, count)
    return None


def _raised(usage: list[float], fixed: dict[int, int], *, one_by_one: bool) -> dict[int, int]:
    """Patterns to fix next and how often: all whole parts, and what is nearly whole or the largest fraction."""
    fractions = {i: value - math.floor(value) for i, value in enumerate(usage) if not _is_whole(value)}
    if not fractions:
        return {}
    raised = {
        i: math.floor(value + SLACK) for i, value in enumerate(usage) if math.floor(value + SLACK) > fixed.get(i, 0)
    }
    nearly = [] if one_by_one else [i for i, rest in fractions.items() if rest >= NEARLY]
    if raised and not nearly:
        return raised
    for i in nearly or [max(fractions, key=lambda i: (fractions[i], -i))]:
        raised[i] = math.ceil(usage[i])
    return raised


def _is_whole(value: float) -> bool:
    return abs(value - round(value)) < SLACK
