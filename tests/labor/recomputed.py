"""Figures worked out again, each step by itself, by rules written down here a second time."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.figures import Figure


def steps(figure: Figure) -> Iterator[Figure]:
    """A figure and all it is made of, each once."""
    waiting, seen = [figure], set()
    while waiting:
        one = waiting.pop()
        if id(one) not in seen:
            seen.add(id(one))
            yield one
            waiting += one.of


RULES = {
    "given": lambda figure, _: figure.value,
    "count": lambda figure, _: Fraction(len(figure.places)),
    "sum": lambda _, values: sum(values, Fraction(0)),
    "difference": lambda _, values: values[0] - sum(values[1:]),
    "product": lambda _, values: Fraction(math.prod(values)),
    "quotient": lambda _, values: values[0] / values[1],
    "largest": lambda _, values: max(values),
    "smallest": lambda _, values: min(values),
    "rounded up": lambda figure, values: -((-values[0]) // figure.step) * figure.step,
    "rounded half up": lambda figure, values: (values[0] / figure.step * 2 + 1) // 2 * figure.step,
    "setback": lambda _, values: setback(*values),
    "projection": lambda _, values: Fraction(float(values[0]) * math.sin(math.radians(values[1]))),
    "tangent": lambda _, values: Fraction(float(values[0]) * math.tan(math.radians(values[1]))),
}
TRIGONOMETRIC = {"setback", "projection", "tangent"}


def setback(own: Fraction, other: Fraction, angle: Fraction) -> Fraction:
    """How far two edges at these offsets, on walls at this angle, meet from the walls' corner."""
    turn = math.radians(angle)
    return Fraction((float(own) * math.cos(turn) + float(other)) / math.sin(turn))


def again(figure: Figure) -> Fraction:
    """Value of one step from the values it was made of; a given figure is its own."""
    return RULES[figure.rule.value](figure, [part.value for part in figure.of])


def wrong_steps(figure: Figure) -> list[str]:
    """Steps that do not follow from what they are made of, beyond a billionth where sines are in them."""
    return [
        f"{step.what}: {step.value} by {step.rule} of {[part.value for part in step.of]}"
        for step in steps(figure)
        if abs(again(step) - step.value) > (Fraction(1, 10**9) if step.rule.value in TRIGONOMETRIC else 0)
    ]
