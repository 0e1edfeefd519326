"""The independent checker: it passes a lawful plan made by hand, and names each fault that is put into it."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from functools import cache

import pytest

from service.estimate.cuts.model import CutGroup, Cutting, Pattern, ProfileBoards, Proof, Purchase
from service.estimate.cuts.plan import cut_plan
from service.estimate.cuts.request import CutAnswer, RunJoints, SawnPiece
from service.estimate.labor import joint_cost
from service.estimate.rooms import RoomRules, shaped_rooms
from service.estimate.takeoff.rules import TakeoffRules
from service.estimate.takeoff.runs import taken_off
from service.problems import Problems
from service.trade.book import shipped_book
from service.units import ZERO
from tests.cuts.audit import faults_of
from tests.cuts.audit_quote import plan_faults
from tests.cuts.cut_requests import pieces, request, run, stock
from tests.cuts.examples import IN
from tests.pipeline.estimates import sample_price_list, sample_survey

JOB = request(
    [stock(96, "8.00", available=None), stock(30, "0.00", available=1, is_offcut=True)],
    [run("long", 150, (60, 80)), run("short", 140, (60, 100)), run("whole", 60, (30,), wall="B")],
    [pieces("p", 20, 2)],
    kerf="1/8", end_trim="1/2", scarf_overlap="3/4", shortest_piece=24, stagger=16,
)  # fmt: skip
SAWN = (
    ("long/1", "long", "643/8"),
    ("long/2", "long", "563/8"),
    ("short/1", "short", "483/8"),
    ("short/2", "short", "643/8"),
    ("whole/1", "whole", 60),
    ("p/1", "p", 20),
    ("p/2", "p", 20),
)
BOARDS = (("long/1",), ("long/2", "p/1"), ("short/1", "p/2"), ("short/2",), ("whole/1",))


def board(number, marks):
    """One 96-inch board, its last cut counted and the rest kept."""
    lengths = {mark: IN(length) for mark, _, length in SAWN}
    kerf = IN("1/8") * len(marks)
    rest = IN(96) - IN("1/2") - kerf - sum((lengths[mark] for mark in marks), start=ZERO)
    return Pattern(number, IN(96), marks, kerf, rest, IN("1/2"))


def lawful():
    """Five boards and two joints for the job; that the least may be less is another matter."""
    bought = (Purchase(IN(96), 5, Decimal("8.00"), Decimal("40.00")),)
    patterns = tuple(board(number, marks) for number, marks in enumerate(BOARDS, 1))
    cost, bound = Decimal("52.00"), Decimal("40.00")
    return CutAnswer(
        "USD",
        Cutting(
            cost, Decimal("40.00"), Decimal("12.00"), bound, Fraction(3, 10), Decimal("12.00"),
            is_proven=False, proof=Proof.EXACT, groups=(CutGroup(("board",), cost, bound, is_proven=False),),
        ),
        (RunJoints("long", (IN(80),)), RunJoints("short", (IN(60),)), RunJoints("whole", ())),
        (ProfileBoards("board", bought, patterns, Decimal("40.00"), 2),),
        tuple(SawnPiece(mark, of, "board", IN(length)) for mark, of, length in SAWN),
    )  # fmt: skip


def with_joint(name, *at):
    """The answer with other joints of a run."""
    answer = lawful()
    runs = tuple(RunJoints(name, tuple(map(IN, at))) if one.id == name else one for one in answer.runs)
    return replace(answer, runs=runs)


def with_boards(**changes):
    """The answer with something else said of its boards."""
    answer = lawful()
    return replace(answer, boards=(replace(answer.boards[0], **changes),))


def with_pattern(which, **changes):
    """The answer with something else said of one board."""
    patterns = [replace(one, **changes) if one.number == which else one for one in lawful().boards[0].patterns]
    return with_boards(patterns=tuple(patterns))


def with_sums(**changes):
    """The answer with other sums or bounds."""
    answer = lawful()
    return replace(answer, cutting=replace(answer.cutting, **changes))


def bought(*rows):
    """The answer with other boards bought: (length, how many, price, whether an offcut)."""
    purchases = (Purchase(IN(n), count, Decimal(price), count * Decimal(price), is_) for n, count, price, is_ in rows)
    return with_boards(purchases=tuple(purchases))


def test_lawful_plan_has_no_fault():
    """Nothing is said of a plan in which every length and sum is right."""
    assert faults_of(JOB, lawful()) == []


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        (with_joint("long", 70), "is not on backing"),
        (with_joint("long", 80, 60), "joints do not rise"),
        (with_joint("long", 60), "is wanted and not cut"),
        (with_joint("whole", 30), "spliced though it fits a board"),
        (with_joint("long", 60, 80), "shorter than the shortest"),
        (with_joint("long", 60), "only 0 apart"),
        (replace(lawful(), runs=lawful().runs[::-1]), "not those of the request"),
        (replace(lawful(), pieces=lawful().pieces[:-1]), "piece p/2 of 20 is wanted"),
        (replace(lawful(), pieces=(*lawful().pieces, lawful().pieces[0])), "marks are not unique"),
        (replace(lawful(), currency="EUR"), "currency"),
        (with_pattern(5, pieces=("whole/1", "p/1")), "piece p/1 is on 2 boards"),
        (with_pattern(5, pieces=("whole/1", "long/2")), "does not fit in 96"),
        (with_pattern(5, pieces=("whole/1", "q/1")), "piece q/1 is on a board and is none"),
        (with_pattern(5, offcut=IN(1)), "do not make up its length"),
        (with_pattern(2, kerf=ZERO, waste=IN("5/8")), "kerf, offcut or waste is too small"),
        (with_pattern(1, waste=ZERO, offcut=board(1, BOARDS[0]).offcut + IN("1/2")), "waste is too small"),
        (with_pattern(1, number=7), "not numbered from 1"),
        (with_pattern(1, pieces=()), "empty"),
        (bought((96, 5, "7.00", False)), "cannot be had"),
        (bought((96, 3, "8.00", False), (30, 2, "0.00", True)), "2 boards of 30 cannot be had"),
        (bought((96, 4, "8.00", False)), "boards bought are not the boards cut"),
        (with_boards(purchases=(replace(lawful().boards[0].purchases[0], amount=Decimal(39)),)), "priced wrong"),
        (with_boards(cost=Decimal("41.00")), "the cost is not that of its boards"),
        (with_boards(joints=1), "1 joints are told"),
        (with_sums(boards_cost=Decimal("41.00")), "not the sum of the profiles'"),
        (with_sums(joint_cost=Decimal("6.00")), "not that of the joints made"),
        (with_sums(cost=Decimal("53.00")), "do not add up to the cost"),
        (with_sums(lower_bound=Decimal("53.00")), "above the cost"),
        (with_sums(is_proven=True), "proven is told"),
        (with_sums(gap=Fraction(12, 52)), "share of the bound"),
        (with_sums(gap_amount=Decimal("11.00")), "not cost less bound"),
        (with_sums(groups=()), "groups do not hold every profile"),
        (with_sums(lower_bound=Decimal("39.00")), "groups' bounds do not add up"),
        (with_sums(is_proven=True, proof=Proof.NONE), "nothing vouches"),
        (
            with_sums(groups=(CutGroup(("board",), Decimal("50.00"), Decimal("40.00"), is_proven=False),)),
            "cost is not that of its profiles",
        ),
    ],
    ids=lambda value: value.replace(" ", "-") if isinstance(value, str) else "",
)
def test_fault_is_named(answer, words):
    """A plan with one thing wrong is told of it."""
    assert any(words in fault for fault in faults_of(JOB, answer))


def test_short_run_may_be_spliced_where_that_is_allowed():
    """The firm's permission takes the fault away; the pieces must then match."""
    may = replace(JOB, splice_short_runs=True)
    faults = faults_of(may, with_joint("whole", 30))
    assert not any("spliced though" in fault for fault in faults)
    assert any("whole/2" in fault for fault in faults)


@cache
def sample_plan(name):
    """Runs and cutting plan of a sample sheet by the sample price list."""
    survey, prices, book, problems = sample_survey(name), sample_price_list(), shipped_book(), Problems()
    shapes = shaped_rooms(survey.rooms, survey.job.units, RoomRules.of(book), problems)
    runs = taken_off(shapes, survey.trim, prices, TakeoffRules.of(book), problems)
    plan = cut_plan(runs, prices, joint_cost(prices), problems)
    assert plan is not None, [problem.line() for problem in problems]
    return plan, runs, prices, joint_cost(prices)


@pytest.mark.parametrize("name", ["rectangle", "l_shaped", "bay", "metric"])
def test_samples_are_cut_lawfully(name):
    """The cutting plans of the sample sheets pass the checker (the larger two would take too long here)."""
    assert plan_faults(*sample_plan(name)) == []


def test_fault_in_a_quotes_plan_is_named():
    """A piece, joint, board or sum of a sample's plan that is changed is told."""
    plan, *rest = sample_plan("l_shaped")
    (first, *splices), (one, *others), (some, *more) = plan.splices, plan.pieces, plan.boards
    longer = replace(one, long_point=one.long_point + IN("1/64"))
    moved, plated = replace(first, at=first.at + IN("1/64")), replace(first, on_glue_plate=not first.on_glue_plate)
    packed = replace(some, patterns=(replace(some.patterns[0], length=IN(12)), *some.patterns[1:]))
    changes = {
        "no backing": {"splices": (moved, *splices)},
        "no glue plate": {"splices": (plated, *splices)},
        "does not start": {"pieces": (replace(one, start=one.start + IN(1)), *others)},
        "long, not": {"pieces": (longer, *others)},
        "says board": {"pieces": (replace(one, board=one.board + 1), *others)},
        "is none": {"pieces": (replace(one, mark="none"), *others)},
        "does not fit": {"boards": (packed, *more)},
        "not that of the joints": {"cutting": replace(plan.cutting, joint_cost=plan.cutting.joint_cost + 1)},
        "pieces for": {"splices": tuple(splices)},
    }
    for words, change in changes.items():
        faults = plan_faults(replace(plan, **change), *rest)
        assert any(words in fault for fault in faults), (words, faults)
