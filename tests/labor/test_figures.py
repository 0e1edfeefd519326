"""Every hour and every cent of wages follows, step by step, from what the sheet and the lists hold."""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.estimate.figures import Rule, added, counted, given, times
from service.trade.book import shipped_book
from tests.labor.examples import D, labor, occupied, prices, rows, tall
from tests.labor.recomputed import again, steps, wrong_steps
from tests.materials.examples import IN, centers, crown, run
from tests.pipeline.estimates import sample_price_list, sample_quote
from tests.pipeline.test_samples import GOOD


@pytest.mark.parametrize("name", GOOD)
def test_every_step_of_every_sample_follows(name):
    """Of every row of every sample, each step recomputes from its own operands and the last one is what is priced."""
    labor_rows = sample_quote(name).labor
    assert len(labor_rows) > 10
    for row in labor_rows:
        assert wrong_steps(row.amount_figure) == []
        assert row.hours_figure in set(steps(row.amount_figure))
        assert row.hours_figure.value == Fraction(row.hours)
        assert row.amount_figure.value == Fraction(row.amount)


@pytest.mark.parametrize("name", GOOD)
def test_what_is_given_stands_at_its_source(name):
    """Rates, wages, factors, crew and trade-book entries in the steps equal the price list's and the trade book's."""
    listed, book, seen = sample_price_list(), shipped_book(), set()
    for row in sample_quote(name).labor:
        for step in steps(row.amount_figure):
            kind, _, place = step.source.partition(":")
            parts = place.split("/")
            if kind == "list" and parts[0] == "labor":
                assert step.value == Fraction(listed.labor[parts[1]].hours_per_unit)
            elif kind == "list" and parts[0] == "wages":
                assert step.value == Fraction(listed.wages[parts[1]])
            elif kind == "list" and parts[0] == "conditions":
                assert step.value == Fraction(listed.conditions[int(parts[1])].factor)
            elif kind == "trade":
                assert step.value == Fraction(book.value(place))
            seen.add(parts[0] if kind == "list" else kind)
    assert {"labor", "wages"} <= seen


def test_hours_tell_rate_and_factors_in_order():
    """8 ft under two factors: quantity, rate, height, occupied are the operands of the hours before rounding."""
    found = labor(
        run(length=96, at=centers(16, 80)),
        price_list=prices(tall("90", None, "1.2"), occupied("1.1")),
        is_occupied=True,
    )
    (row,) = rows(found, "hang-ceiling")
    (exact,) = row.hours_figure.of
    assert exact.rule is Rule.PRODUCT
    assert [part.value for part in exact.of] == [8, Fraction("0.1"), Fraction("1.2"), Fraction("1.1")]
    assert [part.source for part in exact.of[1:]] == [
        "list:labor/hang-ceiling/hours_per_unit", "list:conditions/0/factor", "list:conditions/1/factor",
    ]  # fmt: skip


def test_crew_days_tell_their_steps():
    """Crew days are hours on site over 2 people and 6.5 h, rounded up to a tenth, trips left out."""
    found = labor(run(at=centers(16, 144)))
    assert wrong_steps(found.days_figure) == []
    (exact,) = found.days_figure.of
    hours, day = exact.of
    assert hours.value == sum(Fraction(row.hours) for row in found.rows if row.task != "trip")
    assert [part.source for part in day.of] == ["list:firm/crew_size", "list:firm/productive_hours_a_day"]
    assert Fraction(found.crew_days) == found.days_figure.value


def test_joints_are_counted_where_they_stand():
    """A run of 160 in mitered at both ends is a count of two, at 0 and at 160 in."""
    (row,) = rows(labor(run(at=centers(16, 144))), "cut-miter")
    counts = [step for step in steps(row.hours_figure) if step.rule is Rule.COUNT]
    assert [step.places for step in counts] == [(IN(0), IN(160))]


@pytest.mark.parametrize(("start", "length", "parts"), [(0, 160, 1), (-5, 170, 1), (40, 60, 1)])
def test_covered_wall_is_told_by_stretches(start, length, parts):
    """What a run covers of its wall of 160 in is one stretch, cut off at the wall's ends, each step following."""
    one = run(length=length, start=IN(start), cut_start=IN(start))
    (row,) = rows(labor(one), "layout")
    (covered,) = [step for step in steps(row.hours_figure) if step.what == "length of wall A that is trimmed"]
    assert len(covered.of) == parts
    assert covered.value == min(start + length, 160) - max(start, 0)
    assert wrong_steps(row.hours_figure) == []


def test_a_wrong_step_is_found():
    """The check itself finds a step that does not follow: 2 × 3 told as 7."""
    two, three = given("two", 2, "each", "geometry:two"), given("three", 3, "each", "geometry:three")
    right = times("six", "each", two, three)
    assert wrong_steps(right) == []
    wrong = type(right)("seven", Fraction(7), "each", Rule.PRODUCT, (two, three))
    assert len(wrong_steps(added("sum", "each", wrong, two))) == 1
    assert again(counted("places", (IN(1), IN(2)))) == 2


def test_blocks_nails_and_holes_are_those_of_the_fastening():
    """Blocks, nails and holes of a crown are the fastening's own figures: 11, 66 and 44."""
    found = labor(crown())
    for task, count in (("block", 11), ("nailing", 66), ("fill", 44)):
        (row,) = rows(found, task)
        assert row.quantity == D(count)
        assert wrong_steps(row.amount_figure) == []
