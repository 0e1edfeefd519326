"""Steps of a quote worked out anew from their operands: plain arithmetic that shares nothing with the program."""

from __future__ import annotations

import math
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction
from functools import cache
from typing import Any

CLOSE = Decimal("1e-9")


def recomputed(step: dict[str, Any], steps: dict[int, dict[str, Any]]) -> Decimal:
    """What a step's rule makes of its operands; a given figure is what it says."""
    values = [Decimal(steps[number]["value"]) for number in step["of"]]
    rule = step["rule"]
    if rule in {"sum", "difference", "product", "quotient", "largest", "smallest"}:
        return _plain(rule, values)
    if rule in {"rounded up", "rounded half up"}:
        return _rounded(rule, values[0], Decimal(step["multiple"]))
    if rule in {"setback", "projection", "tangent"}:
        return _trigonometric(rule, [float(value) for value in values])
    return _told(step, values, steps)


def _told(step: dict[str, Any], values: list[Decimal], steps: dict[int, dict[str, Any]]) -> Decimal:
    """What a count, a total, a share or a given figure tells of itself."""
    match step["rule"]:
        case "part by largest remainder":
            shares = tuple(Decimal(part) for part in steps[step["of"][1]]["parts"])
            assert shares[step["place"]] == values[2], "the weight told is not the line's own"
            return _dealt(values[0], shares)[step["place"]]
        case "count":
            return Decimal(len(step["at_in"]))
        case "total of all lines":
            return sum((Decimal(part) for part in step["parts"]), Decimal(0))
        case _:
            assert step["rule"] == "given"
            return Decimal(step["value"])


def _plain(rule: str, values: list[Decimal]) -> Decimal:
    first, rest = (values[0], values[1:]) if values else (Decimal(0), [])
    if rule == "sum":
        return sum(values, Decimal(0))
    if rule == "difference":
        return first - sum(rest, Decimal(0))
    if rule == "product":
        return math.prod(values, start=Decimal(1))
    if rule == "quotient":
        return first / rest[0]
    return max(values) if rule == "largest" else min(values)


def _rounded(rule: str, value: Decimal, multiple: Decimal) -> Decimal:
    steps = value / multiple
    if rule == "rounded up":
        nearest = steps.to_integral_value()
        whole = nearest if abs(steps - nearest) < CLOSE else steps.to_integral_value(ROUND_CEILING)
        return whole * multiple
    # lengths go half up, amounts half away from zero: alike above zero, and a half below zero is none in any sample
    sign = -1 if steps < 0 else 1
    return sign * int(abs(steps) + Decimal("0.5")) * multiple


def _trigonometric(rule: str, values: list[float]) -> Decimal:
    angle = math.radians(values[-1])
    if rule == "setback":
        own, other = values[:2]
        return Decimal((own * math.cos(angle) + other) / math.sin(angle))
    return Decimal(values[0] * (math.sin(angle) if rule == "projection" else math.tan(angle)))


@cache
def _dealt(total: Decimal, shares: tuple[Decimal, ...]) -> list[Decimal]:
    """Whole cents dealt out card by card: each in turn to whom most is still owed (largest remainder)."""
    cents, whole = int(total * 100), sum(Fraction(share) for share in shares)
    owed = [cents * Fraction(share) / whole for share in shares]
    dealt = [int(amount) for amount in owed]
    for _ in range(cents - sum(dealt)):
        lucky = max(range(len(owed)), key=lambda place: (owed[place] - dealt[place], -place))
        dealt[lucky] += 1
    return [Decimal(amount) / 100 for amount in dealt]
