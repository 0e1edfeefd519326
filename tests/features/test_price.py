"""Features in a whole quote by the sample price list; house and prices are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.estimate.pipeline import estimated
from service.problems import Code
from service.survey import BoxRating, FeatureKind, TrimOrder
from service.trade.book import shipped_book
from service.units import Length
from tests.features.ceilings import FAN, LIGHT, MEDALLION, feature, room
from tests.pipeline.estimates import HEADING, quote_of, sample_price_list, survey_of

BASE = (TrimOrder("/trim/0", None, None, "Base and shoe"),)
ITEMS = {FAN: "fan-52", LIGHT: "light-flush", MEDALLION: "medallion-24"}


def priced(*features):
    """A quote for base in a room of 12 × 14 ft with these on its ceiling."""
    return quote_of(survey_of(room(*features), trim=BASE))


def on_the_list(kind: FeatureKind, place: int = 0, **more: object):
    """A feature whose item is on the sample price list."""
    return feature(kind, place, **{"item": ITEMS[kind], **more})


def test_nothing_is_left_unpriced():
    """Fan, light and medallion are lines of the quote: the item, and the hours in and out; nothing is not yet priced."""
    swap = [on_the_list(kind, place, remove_existing=True) for place, kind in enumerate(FeatureKind)]
    quote = priced(*swap)
    codes = {line.code for line in quote.lines}
    assert {*ITEMS.values(), *(f"{kind}-{way}" for kind in FeatureKind for way in ("in", "out"))} <= codes
    assert Code.NOT_YET_PRICED not in {problem.code for problem in quote.warnings}


def test_cost_of_an_item_is_its_price():
    """The line of a fan costs what the price list asks (189.00 in the sample), before overhead and profit."""
    (line,) = (line for line in priced(on_the_list(FAN)).lines if line.code == "fan-52")
    assert line.cost == sample_price_list().supplies["fan-52"].price


def test_hours_of_a_swap_are_the_list_s():
    """A fan in and out takes the sample's hours: at 8 ft and with normal access no condition is in force."""
    rows = {row.task: row for row in priced(on_the_list(FAN, remove_existing=True)).labor}
    rates = sample_price_list().labor
    for task in ("fan-in", "fan-out"):
        assert rows[task].hours == rates[task].hours_per_unit
        assert rows[task].room == 1


@pytest.mark.parametrize(("member", "value"), [("hangs_down", Length.of(30)), ("box_rated_for_fan", BoxRating.NO)])
def test_unsafe_fan_refuses_the_sheet(member, value):
    """A fan whose blades hang too low, or on a box not made for it, is not priced."""
    survey = survey_of(room(on_the_list(FAN, **{member: value})), trim=BASE)
    quote, problems = estimated(survey, sample_price_list(), shipped_book(), HEADING)
    assert quote is None
    assert [problem.pointer for problem in problems if problem.is_error] == [f"/rooms/0/ceiling/0/{member}"]


LISTS = st.lists(
    st.tuples(st.sampled_from(list(FeatureKind)), st.booleans(), st.booleans(), st.integers(12, 40)), max_size=4
)


@given(LISTS, st.integers(0, 4))
@settings(max_examples=12, deadline=None)
def test_features_never_lower_a_total(rows, kept):
    """Whatever hangs on a ceiling, one thing more never makes the job cheaper."""
    features = [
        on_the_list(
            kind, place, remove_existing=removed, diameter=Length.of(size), **({} if listed else {"item": ""})
        )
        for place, (kind, removed, listed, size) in enumerate(rows)
    ]  # fmt: skip
    fewer, all_of_them = priced(*features[:kept]), priced(*features)
    assert fewer.totals.total <= all_of_them.totals.total


def test_total_rises_by_the_item_at_least():
    """With no discount and no minimum in the way, a medallion adds more than its own price of 64.00."""
    plain, dressed = (quote.totals.price_before_tax for quote in (priced(), priced(on_the_list(MEDALLION))))
    assert dressed - plain > Decimal(64)


def test_room_of_a_feature_alone_is_priced():
    """A second room where only a light is hung has its hours in its own name."""
    hall = replace(room(on_the_list(LIGHT)), name="Hall", pointer="/rooms/1")
    trim = (replace(BASE[0], room="Parlor"),)
    quote = quote_of(survey_of(room(), hall, trim=trim))
    assert [row.task for row in quote.labor if row.room_name == "Hall"] == ["set-up", "light-in", "clean-up"]
