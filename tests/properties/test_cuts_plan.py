"""What holds of every cutting plan, whatever the job."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import combinations, pairwise

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.estimate.cuts.plan import cut_plan
from service.estimate.takeoff.model import Joint
from service.firm import Position
from service.problems import Problems
from service.units import ZERO, Length
from tests.cuts.examples import (
    IN,
    INSIDE,
    JOINT_COST,
    OUTSIDE,
    RETURN,
    SQUARE,
    by_the_foot,
    price_list,
    profile,
    run,
    stock,
)

GRID = 64
CEILING_LINE = (Position.CEILING, Position.WALL, Position.CROWN)
FLOOR_LINE = (Position.BASE, Position.CAP, Position.SHOE)
ENDS = st.sampled_from([(SQUARE, 0), (INSIDE, "11/2"), (OUTSIDE, "11/2"), (RETURN, "11/2")])
PROFILES = {name: profile(name, thick) for name, thick in (("board", "3/4"), ("crown", "5/8"), ("base", "9/16"))}
NAME_OF = dict(zip((*CEILING_LINE, *FLOOR_LINE), ("board", "board", "crown", "base", "base", "base"), strict=True))


@st.composite
def walls(draw, number, room, wall):
    """Some layers along one wall."""
    length = Fraction(draw(st.integers(30 * GRID, 420 * GRID)), GRID)
    first = draw(st.integers(1, 15))
    runs = []
    for layer, position in enumerate(draw(st.sampled_from([CEILING_LINE, FLOOR_LINE, CEILING_LINE[:2]])), 1):
        (left, left_set), (right, right_set) = draw(ENDS), draw(ENDS)
        studs = draw(st.sampled_from([tuple(range(first, int(length), 16)), (), (first + 40, first + 90)]))
        runs.append(
            run(
                number + layer, length, room=room, wall=wall, layer=layer, position=position,
                of=PROFILES[NAME_OF[position]], studs=studs, left=left, right=right, setbacks=(left_set, right_set),
            )
        )  # fmt: skip
    return runs


@st.composite
def jobs(draw):
    """Runs of one or two rooms, and a price list with limited lengths and offcuts."""
    runs = []
    for place in range(draw(st.integers(1, 4))):
        runs += draw(walls(10 * place, 1 + place // 2, "AB"[place % 2]))
    rows = []
    for name in PROFILES:
        rows += by_the_foot(*draw(st.sampled_from([(12,), (8, 16), (10, 12, 14)])), of=name)
        rows.append(stock(draw(st.integers(2, 15)), "0.00", of=name, available=draw(st.integers(0, 2)), is_offcut=True))
        rows.append(stock(20, "11.50", of=name, available=draw(st.integers(0, 1))))
    firm = {
        "kerf": IN(draw(st.sampled_from(["0", "1/8", "3/32"]))),
        "end_trim": IN(draw(st.sampled_from(["0", "1", "1/2"]))),
        "joint_stagger": IN(draw(st.sampled_from([0, 16, 24]))),
        "scarf_angle_deg": draw(st.sampled_from([45.0, 30.0, 22.5])),
    }
    return runs, price_list(*rows, solver_seconds=Decimal(0), **firm)


def plan_of(job):
    """The plan of a job that has one; others are passed over, and too many of them fail the test."""
    runs, prices = job
    found = Problems()
    plan = cut_plan(tuple(runs), prices, JOINT_COST, found)
    assert (plan is None) == found.has_errors
    assume(plan is not None)
    return plan


ALL = settings(max_examples=12, deadline=None)


@ALL
@given(jobs())
def test_every_piece_is_on_exactly_one_board(job):
    """No piece is forgotten, none cut twice; each says the board it is on; marks are unique."""
    plan = plan_of(job)
    on_boards = [
        (mark, boards.profile, pattern.number)
        for boards in plan.boards
        for pattern in boards.patterns
        for mark in pattern.pieces
    ]
    assert sorted(on_boards) == sorted((piece.mark, piece.profile, piece.board) for piece in plan.pieces)
    assert len({piece.mark for piece in plan.pieces}) == len(plan.pieces)


@ALL
@given(jobs())
def test_board_is_pieces_kerf_offcut_and_waste(job):
    """The parts of each board add up to it exactly, with room for every cut; offcuts are long enough to keep."""
    plan = plan_of(job)
    firm = job[1].settings
    pieces = {piece.mark: piece for piece in plan.pieces}
    for boards in plan.boards:
        for pattern in boards.patterns:
            cut = [pieces[mark] for mark in pattern.pieces]
            whole = sum((piece.long_point for piece in cut), start=ZERO)
            assert whole + pattern.kerf + pattern.offcut + pattern.waste == pattern.length
            assert pattern.offcut == ZERO or pattern.offcut >= firm.shortest_offcut_to_keep
            assert pattern.waste >= firm.end_trim
            assert float(pattern.kerf) >= sum(slanted(a, b, firm.kerf) for a, b in pairwise(cut)) - 1e-9


def slanted(one, other, kerf):
    """The wider of the two cuts where neighbors meet."""
    return max(
        float(kerf) / math.cos(math.radians(end.miter_deg or 0)) / math.cos(math.radians(end.bevel_deg or 0))
        for end in (one.right, other.left)
    )


@ALL
@given(jobs())
def test_pieces_make_up_their_run(job):
    """Long points less overlaps are the run's length: to the grid at 45°, else within the snapping of each piece."""
    plan = plan_of(job)
    runs, prices = job
    angle = prices.settings.scarf_angle_deg
    for one in runs:
        pieces = [piece for piece in plan.pieces if piece.run == one.number and not piece.is_return]
        overlap = float(one.profile.thickness) * math.tan(math.radians(angle))
        total = sum(float(piece.long_point) for piece in pieces) - overlap * (len(pieces) - 1)
        assert abs(total - float(one.cut_length)) <= len(pieces) / 128 + 1e-9
        assert pieces[0].left == one.left
        assert pieces[-1].right == one.right


@ALL
@given(jobs())
def test_pieces_of_spliced_runs_are_lawful(job):
    """Spliced pieces are not shorter than the firm's shortest; both sides of a joint are scarfed and lap."""
    plan = plan_of(job)
    for one in job[0]:
        pieces = [piece for piece in plan.pieces if piece.run == one.number and not piece.is_return]
        if len(pieces) > 1:
            assert min(piece.long_point for piece in pieces) >= job[1].settings.shortest_piece
        for left, right in pairwise(pieces):
            assert left.right.joint is right.left.joint is Joint.SCARF
            assert left.right.long_edge is not right.left.long_edge


@ALL
@given(jobs())
def test_joints_are_staggered_and_backed(job):
    """Joints of stacked layers differ by the stagger; each lands on backing or has its glue plate."""
    plan = plan_of(job)
    runs, prices = job
    by_number = {one.number: one for one in runs}
    for splice in plan.splices:
        one = by_number[splice.run]
        assert splice.on_glue_plate or splice.at in one.splice_at
        if splice.on_glue_plate:
            assert ((splice.at - one.cut_start) / IN(8)).denominator == 1
    for splice, other in combinations(plan.splices, 2):
        a, b = by_number[splice.run], by_number[other.run]
        if (a.room, a.wall) == (b.room, b.wall) and a.layer.number != b.layer.number:
            assert abs(splice.at - other.at) >= prices.settings.joint_stagger


@ALL
@given(jobs())
def test_limited_lengths_are_not_overdrawn(job):
    """No length is bought oftener than there are boards of it; purchases are the patterns, priced."""
    plan = plan_of(job)
    for boards in plan.boards:
        lengths = Counter[Length]()
        for purchase in boards.purchases:
            lengths[purchase.length] += purchase.count
            assert purchase.amount == purchase.unit_price * purchase.count
        assert lengths == Counter(pattern.length for pattern in boards.patterns)
        assert boards.cost == sum(purchase.amount for purchase in boards.purchases)
        for row in job[1].stock:
            if row.profile == boards.profile and row.available is not None:
                taken = sum(
                    purchase.count
                    for purchase in boards.purchases
                    if (purchase.length, purchase.unit_price, purchase.is_offcut)
                    == (row.length, row.price, row.is_offcut)
                )
                assert taken <= row.available


@ALL
@given(jobs())
def test_bound_does_not_pass_the_cost(job):
    """The bound never lies above the cost, and `proven` means that they meet."""
    plan = plan_of(job)
    for group in (plan.cutting, *plan.cutting.groups):
        assert group.lower_bound <= group.cost
        assert group.is_proven == (group.lower_bound == group.cost)


@ALL
@given(jobs(), st.randoms(use_true_random=False))
def test_order_of_the_runs_does_not_matter(job, random):
    """Runs handed in another order give the same plan; other numbers for them give the same cost."""
    runs, prices = job
    plan = plan_of(job)
    shuffled = list(runs)
    random.shuffle(shuffled)
    again = plan_of((shuffled, prices))
    assert again == plan
    renumbered = [replace(one, number=number) for number, one in enumerate(shuffled, 1)]
    other = plan_of((renumbered, prices))
    assert other.cutting == plan.cutting


@ALL
@given(jobs())
def test_mirrored_whole_runs_cost_the_same(job):
    """A job whose runs all fit a board costs the same when every wall is mirrored and the saw takes nothing."""
    runs, prices = job
    prices = replace(prices, settings=replace(prices.settings, kerf=ZERO))
    whole = [one for one in runs if one.cut_length <= IN(119)]
    plan = plan_of((whole, prices))
    other = plan_of(([mirrored(one) for one in whole], prices))
    assert other.cutting == plan.cutting


def mirrored(one):
    """A run seen from behind the wall."""
    setbacks = {"left_setback": one.right_setback, "right_setback": one.left_setback}
    return replace(one, left=one.right, right=one.left, **setbacks)
