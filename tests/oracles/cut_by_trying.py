"""Slow and obvious: every lawful set of joints of every run, and for each every way to fill boards.

Nothing is left out but what cannot be cheaper than the plan at hand, by the price of the cheapest inch there is.
All lengths are whole numbers of one unit, a kerf included in boards and pieces alike.
"""

from __future__ import annotations

import math
from collections import defaultdict
from fractions import Fraction
from functools import cache
from itertools import combinations, pairwise, product


def least_cents(request):
    """Least cost of boards and joints in cents; None when there is no plan."""
    return Trying(request).least_cents()


def unit_of(request):
    """Units an inch in which every length of a job is a whole number."""
    lengths = [request.kerf, request.end_trim, request.scarf_overlap / 2, request.stagger, request.shortest_piece]
    lengths += [row.length for row in (*request.stock, *request.runs, *request.pieces)]
    lengths += [at for run in request.runs for at in (run.start, *run.backing)]
    return math.lcm(*(length.inches.denominator for length in lengths))


class Trying:
    """A job in whole numbers."""

    def __init__(self, request):
        """Take the request's lengths in units, its prices in cents."""
        self.request = request
        self.unit = unit_of(request)
        self.kerf, self.half = self.units(request.kerf), self.units(request.scarf_overlap / 2)
        self.joint_cents = int(request.joint_cost * 100)
        names = {row.profile for row in (*request.stock, *request.runs, *request.pieces)}
        self.shelves = {name: Shelf(self._boards(name)) for name in names}

    def units(self, length):
        """A length in whole units."""
        return int(length.inches * self.unit)

    def _boards(self, profile):
        """(Cents, what it holds and a kerf, how many or None) of each board."""
        rows = [row for row in self.request.stock if row.profile == profile and row.available != 0]
        trim = self.request.end_trim
        return [(int(row.price * 100), self.units(row.length - trim) + self.kerf, row.available) for row in rows]

    def least_cents(self):
        """Least cost; choices of joints that cannot be cheaper than the best are passed over."""
        best = None
        for floor, sizes, joints in sorted((self._floor(chosen) for chosen in self.every_choice()), key=lambda c: c[0]):
            if best is not None and floor >= best:
                break
            boards = [self.shelves[name].least(some) for name, some in sizes.items()]
            if None not in boards and (best is None or joints + sum(boards) < best):
                best = joints + sum(boards)
        return best

    def _floor(self, chosen):
        """A cost that these joints do not go below, all pieces by profile, and the joints' cost."""
        sizes = defaultdict(list)
        for row in self.request.pieces:
            sizes[row.profile] += [self.units(row.length) + self.kerf] * row.quantity
        for run, at in zip(self.request.runs, chosen, strict=True):
            sizes[run.profile] += [length + self.kerf for length in self.lengths_of(run, at)]
        joints = sum(len(at) for at in chosen) * self.joint_cents
        return joints + sum(self.shelves[name].floor(some) for name, some in sizes.items()), sizes, joints

    def every_choice(self):
        """A set of joints for every run, joints of different runs of a wall a stagger apart."""
        runs, stagger = self.request.runs, self.units(self.request.stagger)
        walls = [(run.wall, self.units(run.start)) for run in runs]
        for chosen in product(*(self.sets_of(run) for run in runs)):
            placed = [
                (wall, [start + at for at in joints]) for (wall, start), joints in zip(walls, chosen, strict=True)
            ]
            if all(_are_apart(one, other, stagger) for one, other in combinations(placed, 2)):
                yield chosen

    def sets_of(self, run):
        """Every lawful set of joints of one run, the empty one where it may stay whole."""
        length = self.units(run.length)
        boards = self.shelves[run.profile].boards
        fits = any(length + self.kerf <= holds and available is None for _, holds, available in boards)
        inside = sorted({self.units(at) for at in run.backing if 0 < self.units(at) < length})
        most = len(inside) if self.request.splice_short_runs or not fits else 0
        every = (at for count in range(most + 1) for at in combinations(inside, count))
        return [at for at in every if self._is_lawful(run, at)]

    def _is_lawful(self, run, at):
        lengths = self.lengths_of(run, at)
        is_long_enough = not at or min(lengths) >= self.units(self.request.shortest_piece)
        return is_long_enough and max(lengths) + self.kerf <= self.shelves[run.profile].deepest

    def lengths_of(self, run, at):
        """Pieces of a run joined at these positions, half an overlap longer at every joint."""
        marks = [0, *at, self.units(run.length)]
        return [
            end - start + self.half * ((place > 0) + (place < len(at)))
            for place, (start, end) in enumerate(pairwise(marks))
        ]


def _are_apart(one, other, stagger):
    return one[0] != other[0] or all(abs(here - there) >= stagger for here in one[1] for there in other[1])


class Shelf:
    """Boards of one profile, the cheapest first."""

    def __init__(self, boards):
        """Take (cents, what it holds, how many or None) of each board."""
        self.boards = sorted(boards, key=lambda board: (board[0], -board[1]))
        self.deepest = max((holds for _, holds, _ in boards), default=0)
        self.rate = min((Fraction(cents, holds) for cents, holds, _ in boards if holds > 0), default=Fraction(0))
        self._best = cache(self._filled)

    def floor(self, sizes):
        """No boards for these pieces cost less. [cents]"""
        return math.ceil(sum(sizes) * self.rate)

    def least(self, sizes):
        """The least that boards for these pieces cost; None when there are too few. [cents]"""
        return self._best(tuple(sorted(sizes, reverse=True)), tuple(limit for _, _, limit in self.boards))

    def _filled(self, sizes, left):
        """Fill one board with the largest piece and every choice of others, and so on with the rest."""
        if not sizes:
            return 0
        costs = []
        for rest, used in _choices(sizes, self.deepest):
            for place, (cents, holds, _) in enumerate(self.boards):
                is_full = used <= holds and (not rest or used + rest[-1] > holds)  # else it may take one more
                if is_full and left[place] != 0:
                    fewer = tuple(n - 1 if at == place and n is not None else n for at, n in enumerate(left))
                    more = self._best(rest, fewer)
                    costs += [] if more is None else [cents + more]
                    if left[place] is None:
                        break  # boards that follow are dearer
        return min(costs, default=None)


@cache
def _choices(sizes, holds):
    """What is left and what is used for every choice of sizes that goes on a board with the first of them."""
    taken = [((0,), sizes[0])] if sizes[0] <= holds else []
    for place, size in enumerate(sizes[1:], 1):
        taken += [((*picks, place), used + size) for picks, used in taken if used + size <= holds]
    every = ((tuple(size for place, size in enumerate(sizes) if place not in picks), used) for picks, used in taken)
    return tuple(dict.fromkeys(every))
