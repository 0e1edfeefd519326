"""Other ways to the same boards: first fit decreasing, a direct integer program, constraint programming."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from service.estimate.cuts.engine.work import Work


def first_fit(work: Work) -> list[Column]:
    """First fit decreasing: open the board that is cheapest by the inch; at the end change each for the cheapest that holds it."""
    opened = _opened(
        work, sorted(range(len(work.holds)), key=lambda s: (work.cents[s] / work.holds[s], -work.holds[s]))
    )
    return list(_shrunk(work, opened))


def _opened(work: Work, preference: Sequence[int]) -> list[tuple[int, int, dict[int, int]]]:
    """Boards as they are opened: stock, what is left of it, and how often each item is on it."""
    boards: list[list[int]] = []
    loads: list[dict[int, int]] = []
    left = list(work.limits)
    for item in sorted(range(len(work.sizes)), key=lambda i: -work.sizes[i]):
        size = work.sizes[item]
        first = 0
        for _ in range(work.demands[item]):
            place = next((b for b in range(first, len(boards)) if boards[b][1] >= size), len(boards))
            first = place
            if place == len(boards):
                stock = _next_board(work, size, preference, left)
                boards.append([stock, work.holds[stock]])
                loads.append({})
            boards[place][1] -= size
            loads[place][item] = loads[place].get(item, 0) + 1
    return [(stock, rest, load) for (stock, rest), load in zip(boards, loads, strict=True)]


def _next_board(work: Work, size: int, preference: Sequence[int], left: list[int | None]) -> int:
    stock = next(s for s in preference if work.holds[s] >= size and left[s] != 0)
    count = left[stock]
    left[stock] = None if count is None else count - 1
    return stock


def _shrunk(work: Work, opened: Sequence[tuple[int, int, dict[int, int]]]) -> Iterator[Column]:
    for stock, rest, load in opened:
        used = work.holds[stock] - rest
        fits = (s for s in range(len(work.holds)) if work.holds[s] >= used and (s == stock or work.limits[s] is None))
        yield Column(min(fits, key=lambda s: (work.cents[s], s)), tuple(sorted(load.items())))
