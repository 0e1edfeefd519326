"""Which boards to buy: the program over the number of boards of each length alone.

The cost depends on these numbers y alone. With prices π of the items and what a board s is worth at these, Vₛ, every
plan has

    Σ Vₛ·yₛ ≥ Σ πᵢ·dᵢ

(the cuts of J. F. Benders, Numerische Mathematik 4 (1962) 238-252, from memory). Beside each yₛ stands zₖ, the number
of boards at least as long as the k-th: to split its range decides more than to split that of one length.
"""

from __future__ import annotations

import math
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from service.estimate.cuts.engine.listing import Limits, listed
from service.estimate.cuts.engine.program import SLACK
from service.estimate.cuts.engine.solver import LinearProgram

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from service.estimate.cuts.engine.listing import Floats, Points
    from service.estimate.cuts.engine.program import Proof
    from service.estimate.cuts.engine.work import Work

BITS = 60
DEAR = 1_000
MOST_CUTS = 10
TOLERANCE = 1e-9


class Box(NamedTuple):
    """Lowest and highest values of y, then of z."""

    least: tuple[int, ...]
    most: tuple[int, ...]

    def halves(self, place: int, count: int) -> Iterator[Box]:
        """The part where one of them is at most so much, and the rest."""
        if count >= self.least[place]:
            yield Box(self.least, (*self.most[:place], min(count, self.most[place]), *self.most[place + 1 :]))
        if count < self.most[place]:
            yield Box((*self.least[:place], max(count + 1, self.least[place]), *self.least[place + 1 :]), self.most)


class Choice(NamedTuple):
    """The cheapest values of y and z in a box, and the part of the box where something below the limit may lie."""

    values: list[float]
    bound: int
    box: Box


class _Cut(NamedTuple):
    need: int
    worth: list[int]
    norm: int


class Choices:
    """Linear program over y and z, and exact bounds from its prices."""

    def __init__(self, work: Work, most: Sequence[int]) -> None:
        """Start with nothing ruled out.

        Args:
            work: of one profile.
            most: the largest number of each board that is of interest.
        """
        self.boards = len(most)
        self.proofs: list[Proof] = []
        self._demands = work.demands
        self._order = sorted(range(self.boards), key=lambda stock: (-work.holds[stock], stock))
        sums = accumulate(most[stock] for stock in self._order)
        self.box = Box((0,) * (2 * self.boards), (*most, *sums))
        self._cents = [*work.cents, *(0 for _ in most)]
        self._cuts: list[_Cut] = []
        self._worth, self._needs = np.zeros((0, self.boards)), np.zeros(0)
        self._lp = LinearProgram((), ())
        dear = DEAR * (max(work.cents) + 1) * (sum(work.demands) + 1)
        self._lp.add_all([*map(float, self._cents), float(dear)], [()] * (2 * self.boards + 1))
        for place, stock in enumerate(self._order):
            self._lp.add_row(0.0, self._sum_row(place, stock), 0.0)

    def _sum_row(self, place: int, stock: int) -> list[float]:
        """The row that says that a sum is the one before it and the number of one more board."""
        row = [0.0] * (2 * self.boards + 1)
        row[stock], row[self.boards + place] = 1.0, -1.0
        if place:
            row[self.boards + place - 1] = 1.0
        return row

    def with_fewer(self, boards: int) -> Box:
        """The part where there are fewer boards than so many."""
        return Box(self.box.least, (*self.box.most[:-1], boards - 1))

    def add(self, proof: Proof) -> None:
        """Rule out what these prices prove impossible."""
        need = sum(price * demand for price, demand in zip(proof.prices, self._demands, strict=True))
        norm = max(*proof.worth, 1)
        self.proofs.append(proof)
        self._cuts.append(_Cut(need, proof.worth, norm))
        self._worth = np.vstack((self._worth, np.array(proof.worth, dtype=np.float64) / norm))
        self._needs = np.append(self._needs, max(need, 1) / norm)
        self._lp.add_row(need / norm, [*(value / norm for value in proof.worth), *(0.0 for _ in proof.worth), 1.0])

    def rules_out(self, point: Sequence[int]) -> bool:
        """True when some prices prove that so many boards of each length cannot do; exact."""
        return any(
            cut.need > sum(value * count for value, count in zip(cut.worth, point, strict=True)) for cut in self._cuts
        )

    def listed(self, box: Box, low: int, high: int) -> Points | None:
        """All numbers of boards in a box that cost so much and are not ruled out, the cheapest first, a row each.

        None where there are too many to look at.

        Args:
            box: where to look.
            low: at least. [cents]
            high: at most. [cents]
        """
        agreed = self._agreed(box)
        if agreed is None:
            return np.zeros((0, self.boards), dtype=np.int64)
        rates, slack = self._rates(high)
        limits = Limits(
            np.vstack((rates, np.ones(self.boards))),
            np.append(slack, float(agreed.most[-1])),
            np.array(self._cents[: self.boards], dtype=np.int64), low, high,
        )  # fmt: skip
        found = listed(agreed.least[: self.boards], agreed.most[: self.boards], limits)
        return None if found is None else self.allowed(found)

    def _rates(self, high: int) -> tuple[Floats, Floats]:
        """The tightest cuts as Σ rate·y ≤ slack where the cost is at most so much: a row each. [cents]"""
        worth, needs, cents = self._worth, self._needs, np.array(self._cents[: self.boards])
        ratio = (worth[:, cents > 0] / cents[cents > 0]).max(axis=1, initial=0.0)
        rows = np.flatnonzero(ratio > 0)
        slack = high - needs[rows] / ratio[rows]
        tightest = np.argsort(slack, kind="stable")[:MOST_CUTS]
        rates = cents - worth[rows[tightest]] / ratio[rows[tightest], None]
        return rates, slack[tightest] + TOLERANCE * (high + 1)

    def allowed(self, points: Points) -> Points:
        """Those of some numbers of boards that are not ruled out beyond doubt, the cheapest and the least tight first."""
        margin = ((points @ self._worth.T) / self._needs - 1.0).min(axis=1, initial=np.inf)
        kept, margin = points[margin >= -TOLERANCE], margin[margin >= -TOLERANCE]
        order = np.lexsort((-margin, kept @ np.array(self._cents[: self.boards])))
        return np.asarray(kept[order], dtype=np.int64)

    def cheapest(self, box: Box, limit: int) -> Choice | None:
        """The cheapest values in a box, whole or not; None where all plans in it are proven to cost more than a limit.

        Args:
            box: where to look.
            limit: the highest cost of interest. [cents]
        """
        agreed = self._agreed(box)
        if agreed is None:
            return None
        self._lp.bound_columns(*agreed)
        optimum = self._lp.optimum()
        if optimum is None:
            return Choice([float(low) for low in agreed.least], 0, agreed)
        total, gains = self._priced(optimum.prices.tolist())
        total += sum([gain * (low if gain > 0 else high) for gain, low, high in zip(gains, *agreed, strict=True)])
        room = (limit << BITS) - total
        if room < 0:
            return None
        ends = [_tightened(gain, low, high, room) for gain, low, high in zip(gains, *agreed, strict=True)]
        return Choice(optimum.values[:-1].tolist(), -(-total >> BITS), Box(*zip(*ends, strict=True)))

    def _agreed(self, box: Box) -> Box | None:
        """The part of a box where y and z can agree; None where there is none."""
        least, most = list(box.least), list(box.most)
        before = None
        for place, stock in enumerate(self._order, self.boards):
            low, high = (least[before], most[before]) if before is not None else (0, 0)
            least[place] = max(least[place], low + least[stock])
            most[place] = min(most[place], high + most[stock])
            before = place
        for place, stock in zip(range(2 * self.boards - 1, self.boards - 1, -1), self._order[::-1], strict=True):
            low, high = (least[place - 1], most[place - 1]) if place > self.boards else (0, 0)
            least[stock] = max(least[stock], least[place] - high)
            most[stock] = min(most[stock], most[place] - low)
            if least[stock] > most[stock] or least[place] > most[place]:
                return None
            if place > self.boards:
                least[place - 1] = max(low, least[place] - most[stock])
                most[place - 1] = min(high, most[place] - least[stock])
        return Box(tuple(least), tuple(most))

    def _priced(self, prices: list[float]) -> tuple[int, list[int]]:
        """What the rows are worth at some prices, and what each column costs more than it is worth. [2^-BITS cents]"""
        total, gains = 0, [cents << BITS for cents in self._cents]
        for place, price in enumerate(prices[: self.boards]):
            share = int(price * (1 << BITS))
            gains[self._order[place]] -= share
            gains[self.boards + place] += share
            if place:
                gains[self.boards + place - 1] -= share
        for price, cut in zip(prices[self.boards :], self._cuts, strict=True):
            if price > 0:
                share = int(price * (1 << BITS)) // cut.norm
                total += share * cut.need
                for stock, value in enumerate(cut.worth):
                    gains[stock] -= share * value
        return total, gains


def _tightened(gain: int, low: int, high: int, room: int) -> tuple[int, int]:
    """Ends of a range where a column may cost no more than so much above the least."""
    if gain > 0:
        return low, min(high, low + room // gain)
    return (max(low, high - room // -gain), high) if gain < 0 else (low, high)


def split_at(choice: Choice, boards: int) -> tuple[int, int] | None:
    """Where to split the box of a choice: a sum before a single length, nearest to a half; None where all are whole."""
    values = choice.values
    places = [place for place, value in enumerate(values) if abs(value - round(value)) > SLACK]
    if not places:
        return None
    place = max(places, key=lambda at: (at >= boards, -abs(values[at] - math.floor(values[at]) - 0.5), -at))
    return place, math.floor(values[place])
