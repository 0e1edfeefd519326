"""What whole boards can cost: sums of their prices."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Coins:
    """Every sum up to a most, as the bits of one number; bit n stands for n steps of `step` cents."""

    step: int
    bits: int

    def at_least(self, cents: Fraction | int) -> int | None:
        """The least sum that is not below a bound; None when all are. [cents]"""
        low = max(math.ceil(cents), 0)
        rest = self.bits >> -(-low // self.step)
        if not rest:
            return None
        return (-(-low // self.step) + (rest & -rest).bit_length() - 1) * self.step


def coins(prices: Sequence[int], limits: Sequence[int | None], most: int) -> Coins:
    """Sums of so many of each price, none above `most`. [cents]

    Args:
        prices: whole cents, not negative.
        limits: how often each may be taken; None: any number of times.
        most: the largest sum of interest.
    """
    step = math.gcd(*prices) or 1
    room = most // step
    mask = (1 << (room + 1)) - 1
    bits = 1
    for price, limit in zip(prices, limits, strict=True):
        size = price // step
        if not size:
            continue
        left = room // size if limit is None else min(limit, room // size)
        lump = 1
        while left > 0:
            lump = min(lump, left)
            bits |= (bits << (lump * size)) & mask
            left -= lump
            lump *= 2
    return Coins(step, bits)
