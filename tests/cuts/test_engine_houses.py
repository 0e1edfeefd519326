"""The cutting engine on work as large as a house's: too large to try everything."""

from __future__ import annotations

from random import Random

import pytest

from service.estimate.cuts.engine.least import _Search, least
from service.estimate.cuts.engine.work import Effort, effort_of
from tests.cuts.works import one_board_each, triplets, work_of


def house(seed, pieces=70, offcuts=0):
    """Pieces in sixteenths and six board lengths at prices that jump, some offcuts on hand for nothing."""
    random = Random(seed)  # noqa: S311 - chance for tests, no secret
    lengths = [random.randint(20 * 16, 150 * 16) for _ in range(pieces)]
    items = {length: lengths.count(length) for length in lengths}
    boards = [(feet * 192 - 8, round(feet * 170 * random.uniform(0.95, 1.05)), None) for feet in (8, 10, 12, 14, 16)]
    return work_of(items, boards + [(random.randint(40, 120) * 16, 0, 1) for _ in range(offcuts)])


def bin_packing(seed):
    """Items of a fifth to a half of one board: few fill it without loss."""
    random = Random(seed)  # noqa: S311 - chance for tests, no secret
    sizes = [random.randint(180, 520) for _ in range(45)]
    return work_of({size: sizes.count(size) for size in sizes}, [(1_000, 100, None)])


WORKS = [
    *(house(seed) for seed in range(4)),
    *(house(seed, offcuts=5) for seed in range(4, 8)),
    *(house(seed, pieces=25, offcuts=3) for seed in range(8, 14)),
    *(bin_packing(seed) for seed in range(6)),
    triplets(30, 1),
]


@pytest.mark.parametrize("work", WORKS)
def test_plan_is_sound_and_near_its_bound(work):
    """Every board holds its pieces, nothing is overdrawn, and the cost lies within a tenth of a percent or one board."""
    answer = least(work, one_board_each(work), Effort())
    assert work.is_plan(list(answer.boards))
    assert answer.bound <= answer.cost == work.cost(list(answer.boards))
    assert answer.cost - answer.bound <= max(answer.bound // 1_000, min(cents for cents in work.cents if cents))


@pytest.mark.parametrize("seconds", [0, 1, 5, 600])
def test_more_effort_never_costs_more_nor_proves_less(seconds):
    """Whatever is granted, the bound of one effort lies below the cost of any other."""
    work = house(3, offcuts=4)
    answer, usual = least(work, one_board_each(work), effort_of(seconds)), least(work, one_board_each(work), Effort())
    assert max(answer.bound, usual.bound) <= min(answer.cost, usual.cost)


@pytest.mark.parametrize("seed", range(6))
def test_listing_alone_finds_the_least(seed):
    """All patterns that anything cheaper could use, and the integer program over them, end at the cost of the search."""
    random = Random(seed)  # noqa: S311 - chance for tests, no secret
    items = dict.fromkeys(random.sample(range(300, 900), 12), 1)
    work = work_of(items, [(1_000, 90, None), (1_500, 140, 2)])
    search = _Search(work, Effort(patterns=50_000), one_board_each(work))
    search.generate()
    search.finish()
    usual = least(work, one_board_each(work), Effort())
    assert usual.bound <= search.cost
    assert search.bound == search.cost == usual.cost
