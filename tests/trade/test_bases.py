"""A basis names what a quantity rests on and nothing else: entries are changed one by one and the samples estimated anew.

Oracle: the slow obvious way. Whatever moves must name the entry that was changed; what names an entry must move with it.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from service.estimate.figures import added, given, times, trade_entries
from service.estimate.pipeline import estimated
from service.survey import FinishOrder
from service.trade.book import TradeBook, shipped_book
from tests.pipeline.estimates import HEADING, sample_price_list, sample_survey

BOOK = shipped_book()
SAMPLES = ("metric", "rectangle", "bay", "l_shaped")
QUICK = SAMPLES[:3]
NOT_OF_A_QUOTE = ("calibration.",)
CHOICES = {
    "fastening.block-clearance": "thinner blocks may still take the same nail",
    "fastening.block-from-end": "studs may stand near every end already",
    "fastening.count-agreement": "counts that agree do so within any share",
    "fastening.finish-8d-per-lb": "no such nail is sold by the pound",
    "fastening.penetration-diameters": "a nail sold is longer than it needs to be",
    "fastening.penetration-least": "a nail sold is longer than it needs to be",
    "fastening.steel-weight": "the printed count agrees with any steel",
    "fastening.wide-above": "no board is near the limit",
    "framing.joist-overlap-least": "no joist is near the edge",
    "framing.joist-width": "no joist is near the edge",
    "framing.parallel-within": "walls are square to the joists",
    "framing.top-plate-depth": "wall boards cover the plate at any depth",
    "joints.cope-high": "corners are square or far from it",
    "joints.cope-low": "corners are square or far from it",
    "joints.edge-grid": "the best joints may lie on both grids",
    "joints.glue-plate-spacing": "as many plates, elsewhere",
    "labor.longest-idle": "no wait is near it",
    "labor.longest-plan": "no sample is so long",
    "labor.overnight": "nothing dries so long",
    "labor.shortest-stay": "no day ends so near",
}
FOLLOWS_FROM_ALL = {"trip", "set-up"}  # days are filled by the hours of all other rows, which name their own entries


@cache
def quote_with(sample, key=None, value=None):
    """A sample estimated with one entry changed; None where the sheet is refused so."""
    book = (
        BOOK
        if key is None
        else TradeBook({e.key: e for e in BOOK} | {key: replace(BOOK[key], value=value)}, BOOK.sources)
    )
    return estimated(sample_survey(sample), sample_price_list(), book, HEADING)[0]


def measured(quote):
    """What each supply, task in a room and profile comes to."""
    found = {("supply", row.code): [row.need, row.packages, row.rest, row.amount] for row in quote.supplies}
    found |= {("boards", row.profile): [row.cost] for row in quote.boards}
    hours = defaultdict(list)
    for row in quote.labor:
        hours["labor", row.task, row.room].append((row.quantity, row.hours))
    return found | {key: [sum(part) for part in zip(*rows, strict=True)] for key, rows in hours.items()}


def named(quote, key):
    """Those of them whose basis names the entry."""
    entry = f"trade:{key}"
    found = {("supply", row.code) for row in quote.supplies if entry in row.basis}
    found |= {("labor", row.task, row.room) for row in quote.labor if entry in row.basis}
    return found | {("boards", line.code) for line in quote.lines if entry in line.basis and line.kind == "material"}


def moved(one, other):
    """What comes to something else in two quotes."""
    before, after = measured(one), measured(other)
    return {key for key in before.keys() | after.keys() if before.get(key) != after.get(key)}


def other_values(key):
    """The ends of an entry's range, farthest first; twice the value of a law, which has no range."""
    entry = BOOK[key]
    ends = sorted({entry.low, entry.high} - {entry.value}, key=lambda end: -abs(end - entry.value))
    return ends or [entry.value * 2]


NAMED = {entry.key: [name for name in SAMPLES if named(quote_with(name), entry.key)] for entry in BOOK}
KEYS = [key for key in NAMED if not key.startswith(NOT_OF_A_QUOTE)]


@pytest.mark.parametrize("key", [key for key in KEYS if NAMED[key]])
def test_what_moves_names_the_entry_and_what_names_it_moves(key):
    """A changed entry moves nothing that does not name it, and something that does."""
    sample = NAMED[key][0]
    plain, does_move = quote_with(sample), False
    for value in other_values(key):
        changed = quote_with(sample, key, value)
        if changed is None:
            continue
        by = named(plain, key) | named(changed, key)
        through = {item for item in moved(plain, changed) if item[1] not in FOLLOWS_FROM_ALL}
        assert through <= by, (value, sorted(through - by, key=str))
        does_move = does_move or bool(moved(plain, changed) & by)
        if does_move:
            break
    assert does_move or key in CHOICES


@pytest.mark.parametrize("key", [key for key in KEYS if not NAMED[key]])
def test_an_entry_that_no_basis_names_moves_nothing(key):
    """No line's quantity and no price follows from an entry that stands in no basis; it may only refuse or warn."""
    value = other_values(key)[0]
    for sample in QUICK:
        plain, changed = quote_with(sample), quote_with(sample, key, value)
        assert changed is None or (changed.lines, changed.totals) == (plain.lines, plain.totals)


def test_entries_behind_a_figure_are_named_once():
    """Entries are found through all steps, each once, the nearest to the result first; other sources are no entries."""
    share = given("waste", Fraction(1, 10), "share", "trade:waste.nails")
    each = given("nails at each", 2, "each", "trade:fastening.nails-per-stud")
    studs = given("studs", 7, "each", "sheet:/rooms/0/walls/0/studs/at")
    nails = times("nails", "each", studs, each)
    need = added(
        "with waste", "each", nails, times("waste of nails", "each", nails, share), times("more", "each", share)
    )
    assert trade_entries(need) == ("trade:fastening.nails-per-stud", "trade:waste.nails")
    assert trade_entries(studs) == ()


def test_coats_that_the_sheet_orders_are_not_the_books():
    """Paint in the book's coats names them; with Coats on every Trim row the sheet decides, and the book is not named."""
    survey = sample_survey("rectangle")
    for coats, is_named in ((None, True), (1, False)):
        trim = tuple(replace(order, finish=FinishOrder.PAINT, coats=coats) for order in survey.trim)
        quote = estimated(replace(survey, trim=trim), sample_price_list(), BOOK, HEADING)[0]
        bases = [row.basis for row in quote.supplies if row.kind == "paint"]
        bases += [row.basis for row in quote.labor if row.task == "paint"]
        assert len(bases) >= 2
        assert [("trade:finish.paint-coats" in basis) for basis in bases] == [is_named] * len(bases)


def test_every_choice_is_still_one():
    """No entry stays excused that is gone from the book."""
    assert set(CHOICES) <= set(NAMED)
