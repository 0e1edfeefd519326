"""Joints against an exhaustive search over every set of positions."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, pairwise, product

from hypothesis import given, settings
from hypothesis import strategies as st

from service.estimate.cuts.courses import Joinery, Stretch, course, fewest
from service.estimate.cuts.stagger import staggered
from service.firm import Position
from tests.cuts.examples import IN, joints, planned, price_list, run, stock

LIMIT, SHORTEST, STAGGER, HALF = 100, 20, 24, Fraction(3, 8)
POSITIONS = (Position.CEILING, Position.WALL, Position.CROWN)


def is_lawful(one, at):
    """Every piece is between the shortest and the longest."""
    return all(SHORTEST <= piece <= LIMIT for piece in lengths_of(one, at))


def lengths_of(one, at):
    """Pieces of a run cut at these joints."""
    marks = [one.cut_start.inches, *at, one.cut_end.inches]
    last = len(marks) - 2
    return [
        later - earlier + (HALF if place else 0) + (HALF if place < last else 0)
        for place, (earlier, later) in enumerate(pairwise(marks))
    ]


def every_plan(one):
    """All lawful choices of one or more joints of a run."""
    positions = [at.inches for at in one.splice_at]
    return [at for count in range(1, len(positions) + 1) for at in combinations(positions, count) if is_lawful(one, at)]


def are_apart(plans):
    """Joints of different layers keep the stagger."""
    return all(abs(a - b) >= STAGGER for one, other in combinations(plans, 2) for a in one for b in other)


def best_of(runs):
    """Fewest joints in all; then layer by layer the fewest, and the longest first pieces."""
    choices = [plans for plans in product(*(every_plan(one) for one in runs)) if are_apart(plans)]
    return min(
        choices,
        key=lambda plans: (
            sum(len(at) for at in plans),
            [len(at) for at in plans],
            [[-x for x in at] for at in plans],
        ),
        default=None,
    )


@st.composite
def stacks(draw, most):
    """Up to three layers on one wall, each with a few positions for joints."""
    layers = draw(st.integers(1, most))
    return [
        run(
            number,
            draw(st.integers(101, 260)),
            start=draw(st.integers(0, 6)),
            layer=number,
            position=POSITIONS[number - 1],
            studs=tuple(sorted(draw(st.sets(st.integers(1, 255), min_size=1, max_size=7)))),
        )
        for number in range(1, layers + 1)
    ]


def courses_of(runs):
    """Courses of runs through all their positions; corners do not matter here."""
    joinery = Joinery(IN(HALF), IN(SHORTEST), IN(LIMIT))
    return [
        course(Stretch(one.number, one.layer.number, one.cut_start, one.cut_end), one.splice_at, joinery)
        for one in runs
    ]


@settings(max_examples=250, deadline=None)
@given(stacks(3))
def test_stack_is_the_best_there_is(runs):
    """Numbers and positions of joints are those of the exhaustive search, and none are found where it finds none."""
    best = best_of(runs)
    courses = courses_of(runs)
    if any(fewest(one) is None for one in courses):
        assert best is None
        return
    found = staggered(courses, IN(STAGGER), 1_000)
    assert (found and [[x.inches for x in at] for at in found]) == (best and [list(at) for at in best])


@settings(max_examples=150, deadline=None)
@given(stacks(1))
def test_fewest_joints_of_one_run(runs):
    """The least number of joints is that of the exhaustive search."""
    (one,) = runs
    counts = [len(at) for at in every_plan(one)]
    assert fewest(courses_of(runs)[0]) == min(counts, default=None)


@settings(max_examples=100, deadline=None)
@given(stacks(1))
def test_plan_of_one_run_is_on_backing_where_it_can_be(runs):
    """The whole stage takes one of the exhaustive search's plans, or glue plates where that finds none on backing."""
    (one,) = runs
    prices = price_list(stock(Fraction(LIMIT, 12), "9.00"), shortest_piece=IN(SHORTEST), joint_stagger=IN(0))
    best = best_of(runs)
    plan = planned(runs, prices)
    if best is None:
        assert all(splice.on_glue_plate for splice in plan.splices)
    else:
        assert tuple(at.inches for at in joints(plan)) in every_plan(one)
        assert not any(splice.on_glue_plate for splice in plan.splices)
    assert [piece.long_point.inches for piece in plan.pieces] == lengths_of(one, [at.inches for at in joints(plan)])
