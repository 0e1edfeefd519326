"""Dives: whole plans from the linear program, by fixing patterns and generating more for what is left.

All whole parts are fixed at once, then the pattern with the largest fraction, and so on for what is left. Where a
dive comes to nothing, its first choices are barred one by one (limited discrepancy search; Sadykov, Vanderbeck,
Pessoa, Tahiri and Uchoa, INFORMS Journal on Computing 31 (2019) 251-267, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from service.estimate.cuts.engine.program import SLACK

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from service.estimate.cuts.engine.program import Left, Program
    from service.estimate.cuts.engine.work import Column

ROUNDS = 3, 40


@dataclass(slots=True)
class Diver:
    """A series of dives.

    Attributes:
        program: its patterns grow; what it asks for is put back.
        is_hopeless: True for a cost, in cents, that no plan of interest reaches.
        steps: how many programs may still be solved.
    """

    program: Program
    is_hopeless: Callable[[float], bool]
    steps: int

    def plan(self, left: Left, depth: int, barred: int) -> list[Column] | None:
        """Boards for what is left, at a cost that is not hopeless; None where no dive finds any.

        Args:
            left: what to cut.
            depth: down to which choice others are tried.
            barred: how many choices may be barred on one way down.
        """
        before = self.program.left
        try:
            return self._below(left, 0, (), (depth, barred))
        finally:
            self.program.ask(before)

    def _below(self, left: Left, spent: int, barred: tuple[int, ...], more: tuple[int, int]) -> list[Column] | None:
        """Boards for what is left after so many cents, with some patterns barred."""
        done: list[Column] = []
        while any(left.demands):
            usage = self._usage(left, spent, barred)
            if usage is None:
                return None
            columns, choice = self._chosen(usage)
            if choice is not None and min(more) > 0:
                pattern = self.program.patterns[choice]
                rest = self._below(
                    left.without(pattern, 1), spent + self._cost(columns), barred, (more[0] - 1, more[1])
                )
                if rest is not None:
                    return [*done, pattern, *rest]
                barred, more = (*barred, choice), (more[0], more[1] - 1)
                continue
            for column in columns:
                left = left.without(column, 1)
            spent += self._cost(columns)
            done += columns
        return done

    def _cost(self, columns: Sequence[Column]) -> int:
        return self.program.work.cost(list(columns))

    def _usage(self, left: Left, spent: int, barred: tuple[int, ...]) -> NDArray[np.float64] | None:
        """How often each pattern is used for what is left; None where that is hopeless."""
        self.steps -= 1
        if self.steps < 0:
            return None
        self.program.ask(left, barred)
        optimum = self.program.improve(ROUNDS, lambda cents: not self.is_hopeless(spent + cents))
        if optimum is None or self.program.uncut(optimum) or self.is_hopeless(spent + optimum.objective):
            return None
        return self.program.usage(optimum)

    def _chosen(self, usage: NDArray[np.float64]) -> tuple[list[Column], int | None]:
        """All whole parts, or else the pattern with the largest fraction, and its index."""
        whole = np.floor(usage + SLACK)
        patterns = self.program.patterns
        if whole.any():
            return [patterns[i] for i in np.flatnonzero(whole) for _ in range(int(whole[i]))], None
        choice = int(np.argmax(usage))
        return [patterns[choice]], choice
