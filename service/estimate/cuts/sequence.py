"""Pieces of a board put in the order that costs least, where the cost lies between neighbors."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

MOST_STATES = 3_000
MOST_THINGS = 200

Steps = tuple[Fraction, tuple[int, ...]]


def least_sequence(
    counts: tuple[int, ...], between: Sequence[Sequence[Fraction]], last: Sequence[Fraction]
) -> tuple[int, ...] | None:
    """Kinds of things in the order of least cost, by dynamic programming over how many of each are left.

    Equal costs take the lower kind first. None where there are too many ways to look at them all.

    Args:
        counts: how many of each kind.
        between: cost of the second kind right after the first. [any unit]
        last: cost of a kind at the end. [the same]
    """
    if sum(counts) > MOST_THINGS or math.prod(count + 1 for count in counts) > MOST_STATES:
        return None
    known: dict[tuple[tuple[int, ...], int], Steps] = {}

    def rest(left: tuple[int, ...], before: int) -> Steps:
        if not any(left):
            return last[before], ()
        if (left, before) not in known:
            known[left, before] = min(follow(left, before, kind) for kind, count in enumerate(left) if count)
        return known[left, before]

    def follow(left: tuple[int, ...], before: int, kind: int) -> Steps:
        more, order = rest((*left[:kind], left[kind] - 1, *left[kind + 1 :]), kind)
        return (between[before][kind] if before >= 0 else Fraction(0)) + more, (kind, *order)

    return rest(counts, -1)[1] if any(counts) else ()
