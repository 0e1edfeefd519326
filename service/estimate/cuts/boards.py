"""Which piece comes from which board.

First fit decreasing over several stock lengths gives a plan to begin with; the engine then looks for the cheapest
there is and proves how far it may be from that. All lengths of a profile become whole numbers of one small unit, so
every comparison is exact.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from service.estimate.cuts.engine.least import least
from service.estimate.cuts.engine.work import Effort
from service.estimate.cuts.kerf import kerf_at, kerf_between
from service.estimate.cuts.sawing import in_cutting_order, sawn, sawn_off
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from decimal import Decimal

    from service.estimate.cuts.engine.least import Answer
    from service.estimate.cuts.job import Sawable
    from service.estimate.cuts.sawing import Sawn
    from service.estimate.cuts.shelf import Choice, Shelf
    from service.units import Length


@dataclass(frozen=True, slots=True)
class Board:
    """One board: the length it is bought in, and its pieces in cutting order."""

    choice: Choice
    pieces: tuple[Sawable, ...]


@dataclass(frozen=True, slots=True)
class Packing:
    """Boards of one profile, and pieces that found none.

    `bound` is what these pieces cost at least, in cents, 0 where nothing is proven; `is_exact` is False where it
    rests on the solver's word.
    """

    boards: tuple[Board, ...]
    unplaced: tuple[Sawable, ...]
    bound: int = 0
    is_exact: bool = True

    @property
    def cost(self) -> Decimal | int:
        """Price of all boards. [money]"""
        return sum(board.choice.price for board in self.boards)

    @property
    def cents(self) -> int:
        """The same in cents."""
        return int(self.cost * 100)


class _Item(NamedTuple):
    length: int
    left_kerf: int
    right_kerf: int
    place: int


@dataclass(slots=True, eq=False)
class _Open:
    """A board being filled: `choice` its index on the shelf, `used` pieces and the kerfs between them."""

    choice: int
    items: list[_Item] = field(default_factory=list)
    used: int = 0

    def need(self, item: _Item) -> int:
        """What would be used with one more piece."""
        if not self.items:
            return item.length
        return self.used + max(self.items[-1].right_kerf, item.left_kerf) + item.length

    def put(self, item: _Item) -> None:
        """Cut one more piece from it."""
        self.used = self.need(item)
        self.items.append(item)


@dataclass(frozen=True, slots=True)
class _Bench:
    """A shelf in whole units: what each length holds, costs in cents, and how many there are."""

    holds: tuple[int, ...]
    cents: tuple[int, ...]
    available: tuple[int | None, ...]
    is_offcut: tuple[bool, ...]

    def is_left(self, choice: int, used: Sequence[int]) -> bool:
        """True when there is one more board of a length."""
        limit = self.available[choice]
        return limit is None or used[choice] < limit


def packed(
    pieces: Sequence[Sawable], shelf: Shelf, kerf: Length, keep: Length, effort: Effort | None = None
) -> Packing:
    """Pieces of one profile on the cheapest boards that could be found; ties by fewest boards.

    Args:
        pieces: of one profile, in any order.
        shelf: what the profile can be had in.
        kerf: width of a square cut. [Length]
        keep: the shortest offcut that is kept. [Length]
        effort: how hard to try.
    """
    effort = effort or Effort()
    begun = first_fit(pieces, shelf, kerf, keep)
    loose, tight = sawn(pieces, shelf, kerf)
    answer = _answer(loose, begun, pieces, shelf, effort)
    if answer is None:
        return begun
    best = _better(begun, _packing(answer, loose, pieces, shelf, kerf), kerf, keep)
    if best.cents > answer.bound and tight != loose:
        other = _answer(tight, begun, pieces, shelf, effort)
        best = best if other is None else _better(best, _packing(other, tight, pieces, shelf, kerf), kerf, keep)
    return replace(best, bound=min(answer.bound, best.cents), is_exact=answer.is_exact)


def _answer(model: Sawn, begun: Packing, pieces: Sequence[Sawable], shelf: Shelf, effort: Effort) -> Answer | None:
    place_of = {id(piece): place for place, piece in enumerate(pieces)}
    start = [
        model.column(shelf.choices.index(board.choice), (place_of[id(piece)] for piece in board.pieces))
        for board in begun.boards
    ]
    return least(model.work, start, effort)


def _packing(answer: Answer, model: Sawn, pieces: Sequence[Sawable], shelf: Shelf, kerf: Length) -> Packing | None:
    """Boards of an answer with their pieces in cutting order; None when one of them holds them in no order."""
    boards = []
    for stock, places in model.dealt(answer.boards):
        choice = shelf.choices[stock]
        ordered = in_cutting_order([pieces[place] for place in places], kerf)
        if sawn_off(ordered, kerf) > choice.usable.inches:
            return None
        boards.append(Board(choice, ordered))
    return Packing(tuple(boards), ())


def _better(one: Packing, other: Packing | None, kerf: Length, keep: Length) -> Packing:
    if other is None or _rank(one) < _rank(other):
        return one
    if _rank(other) < _rank(one):
        return other
    return max(one, other, key=lambda plan: _largest_offcut(plan, kerf, keep))


def first_fit(pieces: Sequence[Sawable], shelf: Shelf, kerf: Length, keep: Length) -> Packing:
    """Pieces of one profile on boards, as a quick rule puts them.

    First fit decreasing with each stock length in turn as the one opened first, with and without using
    up offcuts before it; every board is then shrunk to the cheapest length that still holds it. The
    cheapest plan is kept; ties by fewest boards, then by the largest offcut worth keeping.

    Args:
        pieces: of one profile, in any order.
        shelf: what the profile can be had in.
        kerf: width of a square cut. [Length]
        keep: the shortest offcut that is kept. [Length]
    """
    items, bench = _in_units(pieces, shelf, kerf)
    plans = []
    for preference in _preferences(bench):
        opened, unplaced = _first_fit(items, bench, preference)
        _shrink(opened, bench)
        boards = tuple(
            Board(shelf.choices[one.choice], tuple(pieces[item.place] for item in one.items)) for one in opened
        )
        plans.append(Packing(boards, tuple(pieces[item.place] for item in unplaced)))
    least = min(_rank(plan) for plan in plans)
    return max((plan for plan in plans if _rank(plan) == least), key=lambda plan: _largest_offcut(plan, kerf, keep))


def _rank(plan: Packing) -> tuple[int, Decimal | int, int]:
    return len(plan.unplaced), plan.cost, len(plan.boards)


def _largest_offcut(plan: Packing, kerf: Length, keep: Length) -> Length:
    rests = (rest_of(board, kerf) for board in plan.boards)
    return max((rest for rest in rests if rest >= keep), default=ZERO)


def _in_units(pieces: Sequence[Sawable], shelf: Shelf, kerf: Length) -> tuple[list[_Item], _Bench]:
    sizes = [
        (piece.long_point.inches, kerf_at(piece.left, kerf).inches, kerf_at(piece.right, kerf).inches)
        for piece in pieces
    ]
    usable = [choice.usable.inches for choice in shelf.choices]
    scale = math.lcm(*(size.denominator for size in usable), *(part.denominator for size in sizes for part in size))
    items = [
        _Item(int(length * scale), int(left * scale), int(right * scale), place)
        for place, (length, left, right) in enumerate(sizes)
    ]
    bench = _Bench(
        holds=tuple(int(size * scale) for size in usable),
        cents=tuple(int(choice.price * 100) for choice in shelf.choices),
        available=tuple(choice.available for choice in shelf.choices),
        is_offcut=tuple(choice.is_offcut for choice in shelf.choices),
    )
    return sorted(items, key=lambda item: (-item.length, item.left_kerf, item.right_kerf, item.place)), bench


def _preferences(bench: _Bench) -> Iterator[tuple[int, ...]]:
    """Orders in which to open boards: each length first, the others by price an inch; offcuts before all or not."""
    everything = range(len(bench.holds))
    by_price = sorted(everything, key=lambda i: (Fraction(bench.cents[i], bench.holds[i]), -bench.holds[i], i))
    shortest_offcuts = [i for i in sorted(everything, key=lambda i: bench.holds[i]) if bench.is_offcut[i]]
    for main in everything:
        yield _distinct((main, *by_price))
        if shortest_offcuts:
            yield _distinct((*shortest_offcuts, main, *by_price))


def _distinct(order: Iterable[int]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(order))


@dataclass(slots=True)
class _Rack:
    """Boards opened so far. `live`: those that may still hold something; `counts` how many of each length."""

    bench: _Bench
    preference: Sequence[int]
    smallest: int
    counts: list[int]
    opened: list[_Open] = field(default_factory=list)
    live: list[_Open] = field(default_factory=list)

    def takes(self, item: _Item) -> bool:
        """Put a piece on the first board that holds it, a new one if need be; False when there is none."""
        holds = self.bench.holds
        board = next((one for one in self.live if one.need(item) <= holds[one.choice]), None) or self._new_for(item)
        if board is None:
            return False
        board.put(item)
        if board.used + self.smallest > holds[board.choice]:
            self.live.remove(board)
        return True

    def _new_for(self, item: _Item) -> _Open | None:
        bench = self.bench
        fits = (i for i in self.preference if bench.holds[i] >= item.length and bench.is_left(i, self.counts))
        choice = next(fits, None)
        if choice is None:
            return None
        self.counts[choice] += 1
        board = _Open(choice)
        self.opened.append(board)
        self.live.append(board)
        return board


def _first_fit(items: Sequence[_Item], bench: _Bench, preference: Sequence[int]) -> tuple[list[_Open], list[_Item]]:
    rack = _Rack(bench, preference, min(item.length for item in items), [0] * len(bench.holds))
    unplaced = [item for item in items if not rack.takes(item)]
    return rack.opened, unplaced


def _shrink(opened: Sequence[_Open], bench: _Bench) -> None:
    """Change every board for the cheapest length that still holds its pieces, until none gets cheaper."""
    used = [0] * len(bench.holds)
    for board in opened:
        used[board.choice] += 1
    fullest_first = sorted(opened, key=lambda board: -board.used)
    changed = True
    while changed:
        changed = False
        for board in fullest_first:
            best = _cheapest_that_holds(board, bench, used)
            if best != board.choice:
                used[board.choice] -= 1
                used[best] += 1
                changed = changed or bench.cents[best] < bench.cents[board.choice]
                board.choice = best


def _cheapest_that_holds(board: _Open, bench: _Bench, used: Sequence[int]) -> int:
    fits = (
        i for i in range(len(bench.holds))
        if bench.holds[i] >= board.used and (i == board.choice or bench.is_left(i, used))
    )  # fmt: skip
    return min(fits, key=lambda i: (bench.cents[i], -bench.holds[i], i != board.choice, i))


def rest_of(board: Board, kerf: Length) -> Length:
    """What is left of a board after its last piece and the cut that frees it, end trim taken off. [Length]

    Zero where that last cut runs out of the board's end.
    """
    slack = board.choice.usable - pieces_length(board.pieces) - kerf_between(board.pieces, kerf)
    return max(slack - kerf_at(board.pieces[-1].right, kerf), ZERO)


def pieces_length(pieces: Iterable[Sawable]) -> Length:
    """Long points of some pieces together. [Length]"""
    return sum((piece.long_point for piece in pieces), start=ZERO)
