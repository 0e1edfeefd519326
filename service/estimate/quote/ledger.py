"""The ledger of a quote: every step behind every line once, numbered so that operands come before results."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fractions import Fraction

    from service.estimate.figures import Figure, Rule
    from service.estimate.price import Line, Priced
    from service.units import Length


@dataclass(frozen=True, slots=True)
class Step:
    """One figure with its operands as numbers of earlier steps; else as `Figure`."""

    number: int
    what: str
    value: Fraction
    unit: str
    rule: Rule
    of: tuple[int, ...]
    source: str
    multiple: Fraction | None
    places: tuple[Length, ...]
    parts: tuple[Fraction, ...]
    place: int


@dataclass(frozen=True, slots=True)
class LineSteps:
    """Numbers of the steps that a line's quantity and amount are."""

    line: int
    quantity: int
    amount: int


@dataclass(frozen=True, slots=True)
class Ledger:
    """All steps of a quote, those of its lines and options, and that of its total."""

    steps: tuple[Step, ...] = ()
    lines: tuple[LineSteps, ...] = ()
    total: int | None = None


@dataclass(slots=True)
class _Book:
    """Steps as they are written down: the same step of two lines stands there once."""

    steps: list[Step] = field(default_factory=list)
    seen: dict[int, int] = field(default_factory=dict)
    alike: dict[tuple[object, ...], int] = field(default_factory=dict)

    def entered(self, figure: Figure) -> int:
        """Number of a figure's step; its operands are entered first."""
        if id(figure) not in self.seen:
            operands = tuple(self.entered(operand) for operand in figure.of)
            facts = (figure.rule, figure.value, figure.unit, figure.what, operands, figure.source, figure.step,
                     figure.places, figure.parts, figure.place)  # fmt: skip
            if facts not in self.alike:
                self.alike[facts] = len(self.steps) + 1
                self.steps.append(_step(figure, operands, self.alike[facts]))
            self.seen[id(figure)] = self.alike[facts]
        return self.seen[id(figure)]


def ledger_of(priced: Priced) -> Ledger:
    """Every step behind the lines, the options and the total of a quote."""
    book = _Book()
    lines = tuple(_line(line, book) for line in (*priced.lines, *priced.options) if line.story)
    total = book.entered(priced.story) if priced.story else None
    return Ledger(tuple(book.steps), lines, total)


def _line(line: Line, book: _Book) -> LineSteps:
    assert line.story is not None  # noqa: S101 - the caller has looked; the type checker has not
    return LineSteps(line.number, book.entered(line.story.quantity), book.entered(line.story.amount))


def _step(figure: Figure, operands: tuple[int, ...], number: int) -> Step:
    return Step(
        number, figure.what, figure.value, figure.unit, figure.rule, operands, figure.source, figure.step,
        figure.places, figure.parts, figure.place,
    )  # fmt: skip


def behind(steps: dict[int, tuple[int, ...]], roots: tuple[int, ...]) -> tuple[int, ...]:
    """Numbers of all steps that some steps rest on, themselves included, operands first.

    Args:
        steps: operands of each step, by its number; they are smaller than it.
        roots: the steps asked for.
    """
    wanted, waiting = set(roots), list(roots)
    while waiting:
        for operand in steps[waiting.pop()]:
            if operand not in wanted:
                wanted.add(operand)
                waiting.append(operand)
    return tuple(sorted(wanted))
