"""Cutting jobs whose least cost is known because they were made from their answer."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from random import Random

import pytest

from service.estimate.cuts.direct import direct_plan
from service.problems import Problems
from tests.cuts.audit import faults_of
from tests.cuts.cut_requests import pieces, request, run, stock

LENGTH = 192


def answered(job):
    """The plan of a job that must have a lawful one."""
    problems = Problems()
    answer = direct_plan(job, problems)
    assert answer is not None, [problem.line() for problem in problems]
    assert faults_of(job, answer) == []
    return answer


def falkenauer(boards, seed):
    """Lengths of which three at a time fill a board of 1000.

    Source: E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2 (1996) 5-30,
    class "triplet": first item 380-490, second from 250 to half of the rest, third the rest. (from memory)
    """
    random = Random(seed)  # noqa: S311 - chance for tests, no secret
    for _ in range(boards):
        first = random.randint(380, 490)
        second = random.randint(250, (1000 - first) // 2)
        yield from (first, second, 1000 - first - second)


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("kerf", [0, "1/8"])
def test_triplets(seed, kerf):
    """60 pieces, no shorter than a quarter of a board and filling 20 of them to the end, cost 20 boards, proven.

    With a kerf every piece gives up two thirds of it, so that three pieces and two kerfs fill a board.
    """
    lost = Fraction(kerf) * 2 / 3
    fixed = [pieces(f"p{n}", length - lost) for n, length in enumerate(falkenauer(20, seed))]
    cutting = answered(request([stock(1000, "1.00")], fixed=fixed, kerf=kerf)).cutting
    assert (cutting.cost, cutting.lower_bound, cutting.is_proven) == (20, 20, True)


@pytest.mark.parametrize(
    ("count", "length", "feet", "boards"),
    [(2, 54, (8, 10), {120: 1}), (2, 36, (8, 10), {96: 1}), (4, 28, (8, 10), {120: 1}), (9, 36, (8, 10), {120: 3})],
)
def test_stock_choice(count, length, feet, boards):
    """Equal pieces come from the stock length that a worked example chooses, at one price a foot, kerf zero.

    Source: U.S. Army Engineer School, subcourse EN0069A, lesson 4, pp 4-5 and 4-6 (public domain).
    """
    rows = [stock(12 * one, f"{one}.00") for one in feet]
    (board,) = answered(request(rows, fixed=[pieces("p", length, count)])).boards
    assert {purchase.length.inches: purchase.count for purchase in board.purchases} == boards


class Laid:
    """Boards cut into two or three and laid end to end into runs, so that what they cost is the least there is.

    Every board is used up: its pieces and the kerfs between them fill it. The long pieces, each more than half of a
    board, are joined in twos or threes to runs which no fewer pieces can cover; the short ones stay pieces.

    Why nothing is cheaper: N boards give N·(L + k), kerf k included, and J joints of overlap o ask for
    Σ lengths + J·o + k·(pieces and runs + J). Fewer than the J that the runs take at least cannot be; with J or more
    this is at least what the boards laid here give, all of it, so no plan has fewer boards, or fewer joints.
    """

    def __init__(self, seed, parts, kerf=Fraction(1, 8), overlap=Fraction(3, 4)):
        """Lay as many runs of so many parts; positions that lead astray stand among the true ones."""
        self.random = Random(seed)  # noqa: S311 - chance for tests, no secret
        self.kerf, self.overlap, self.parts = kerf, overlap, parts
        self.boards, self.joints, self.runs, self.fixed = 0, 0, [], []
        for number in range(6 if parts == 2 else 4):
            self._lay(number)

    def _lay(self, number):
        longs = [self._cut() for _ in range(self.parts)]
        at, true = Fraction(0), []
        for place, length in enumerate(longs):
            at += length - self.overlap / 2 * ((place > 0) + (place < self.parts - 1))
            true.append(at)
        astray = {Fraction(16 * k + number, 1) for k in range(1, int(at / 16))}
        self.runs.append(run(f"r{number}", at, sorted({*true[:-1], *astray}), wall=f"W{number}"))
        self.joints += self.parts - 1

    def _cut(self):
        """The long piece of one more board, the rest of which is one or two pieces."""
        self.boards += 1
        low = Fraction(LENGTH) * (self.parts - 1) / self.parts + self.overlap
        long = Fraction(self.random.randint(int(low * 8) + 8, LENGTH * 8 - 160), 8)
        rest = LENGTH - long - self.kerf
        if rest > 50:
            half = Fraction(self.random.randint(10 * 8, int(rest) * 8 // 2), 8)
            self.fixed.append(pieces(f"p{len(self.fixed)}", half))
            rest -= half + self.kerf
        self.fixed.append(pieces(f"p{len(self.fixed)}", rest))
        return long

    def request(self):
        """The job; a second length, no cheaper by the foot, is no help."""
        rows = [stock(LENGTH, "16.00"), stock(96, "9.00")]
        return request(rows, self.runs, self.fixed, kerf=self.kerf, scarf_overlap=self.overlap, shortest_piece=24)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("parts", [2, 3])
def test_boards_laid_end_to_end(seed, parts):
    """Runs and pieces made from full boards cost these boards and the joints between them, proven to the cent."""
    laid = Laid(seed, parts)
    assert all(one.length.inches > (parts - 1) * LENGTH - (parts - 2) * laid.overlap for one in laid.runs)
    cutting = answered(laid.request()).cutting
    assert cutting.boards_cost == 16 * laid.boards
    assert cutting.joint_cost == 6 * laid.joints
    assert (cutting.lower_bound, cutting.is_proven) == (cutting.cost, True)


def test_stacked_runs_share_the_only_good_positions():
    """Two layers of one wall, each two boards long, joined where both would like it but a stagger apart.

    Either run is covered by two boards when joined at 100 or at 92 from its left end; both at one place is not
    allowed, a stagger of 8 apart is. With 9 apart, one of the two is joined at 60 and takes a dearer board.
    """

    def job(stagger):
        layers = [run(name, 192, (92, 100, 60), wall="A", of=name) for name in ("base", "shoe")]
        rows = [
            stock(length, price, of=name)
            for name in ("base", "shoe")
            for length, price in ((100, "8.00"), (132, "11.00"))
        ]
        return request(rows, layers, stagger=stagger, joint_cost="1.00")

    assert answered(job(8)).cutting.cost == Decimal("34.00")
    assert answered(job(9)).cutting.cost == Decimal("37.00")


def test_the_one_long_board_serves_one_run():
    """Of two runs alike one takes the only long board and one joint, the other three short boards and two joints.

    200 in. is 75 + 125, the 125 from the board of 130, or 75 + 65 + 60 from boards of 80: 18.00 + 6.00 and
    24.00 + 12.00.
    """
    runs = [run(name, 200, (75, 140), wall=name) for name in ("A", "B")]
    cutting = answered(request([stock(80, "8.00"), stock(130, "10.00", available=1)], runs)).cutting
    assert (cutting.cost, cutting.is_proven) == (Decimal("60.00"), True)
