"""Cutting work in whole numbers for tests, and slow obvious answers to it."""

from __future__ import annotations

from functools import cache
from itertools import product
from random import Random

from service.estimate.cuts.engine.work import Column, single


def work_of(items, stocks):
    """Work of one profile: {size: demand}, and (holds, cents, limit) a board."""
    sizes = sorted(items, reverse=True)
    return single(tuple(sizes), tuple(items[size] for size in sizes), *zip(*stocks, strict=True))


def one_board_each(work):
    """A plan to start from: every item on a board of its own, the first that holds it."""
    return [
        Column(next(s for s, holds in enumerate(work.holds) if holds >= work.sizes[item]), ((item, 1),))
        for item, demand in enumerate(work.demands)
        for _ in range(demand)
    ]


def random_work(seed):
    """Some items, and two or three boards, one of them without limit."""
    random = Random(seed)  # noqa: S311 - chance for tests, no secret
    items = {random.randint(3, 20): random.randint(1, 3) for _ in range(random.randint(1, 4))}
    stocks = [(20, random.randint(5, 40), None)]
    stocks += [
        (random.randint(8, 30), random.randint(0, 40), random.choice([None, 1, 2])) for _ in range(random.randint(1, 2))
    ]
    return work_of(items, stocks)


def least_by_trying(work):
    """Least cost over every way to fill one board after the other; None when there is no plan."""
    patterns = [
        counts
        for counts in product(*(range(demand + 1) for demand in work.demands))
        if any(counts) and sum(n * size for n, size in zip(counts, work.sizes, strict=True)) <= max(work.holds)
    ]

    @cache
    def best(left, used):
        if not any(left):
            return 0
        first = next(item for item, count in enumerate(left) if count)
        costs = []
        for counts in patterns:
            if not counts[first] or any(n > have for n, have in zip(counts, left, strict=True)):
                continue
            rest = tuple(have - n for n, have in zip(counts, left, strict=True))
            need = sum(n * size for n, size in zip(counts, work.sizes, strict=True))
            for stock, (holds, cents, limit) in enumerate(zip(work.holds, work.cents, work.limits, strict=True)):
                if need <= holds and (limit is None or used[stock] < limit):
                    now = tuple(n + (s == stock and work.limits[s] is not None) for s, n in enumerate(used))
                    more = best(rest, now)
                    if more is not None:
                        costs.append(cents + more)
        return min(costs, default=None)

    return best(work.demands, (0,) * len(work.holds))


def triplets(boards, seed):
    """Items of which three always fill one board of 1000: the least is n/3 boards by construction.

    Source: E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2 (1996) 5-30,
    class "triplet": first item 380-490, second from 250 to half of the rest, third the rest. (from memory)
    """
    random = Random(seed)  # noqa: S311 - chance for tests, no secret
    items = {}
    for _ in range(boards):
        first = random.randint(380, 490)
        second = random.randint(250, (1000 - first) // 2)
        for size in (first, second, 1000 - first - second):
            items[size] = items.get(size, 0) + 1
    return work_of(items, [(1000, 1, None)])
