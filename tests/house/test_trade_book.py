"""Every number of the trade book is somebody's, and within its own range."""

from __future__ import annotations

import ast
import re
import sys
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from service.estimate.calibration import BookingRules, CalibrationRules
from service.estimate.materials.pounds import count_per_lb
from service.estimate.pipeline import estimated
from service.estimate.takeoff.feature_sizes import fan_band
from service.estimate.takeoff.features import features_checked
from service.firm import FinishState, Supply, SupplyKind
from service.problems import Problems
from service.survey import CeilingFeature, FeatureKind, FinishOrder
from service.trade.book import Grade, TradeBook, shipped_book
from tests.invented import inches, rectangle, shape
from tests.pipeline.estimates import HEADING, sample_price_list, sample_survey

BOOK = shipped_book()
ENTRIES = list(BOOK)
SUBJECTS = {entry.key.partition(".")[0] for entry in ENTRIES}
KEY = re.compile(r"^(trade:)?(?P<key>[a-z_]+(-[a-z_]+)*\.[a-z0-9_.-]+)$")


def test_book_is_not_empty():
    """The book ships with entries in several subjects."""
    assert len(ENTRIES) >= 20
    assert len(SUBJECTS) >= 3


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.key)
def test_entry_is_whole(entry):
    """An entry has a known source, a unit, a meaning and a range that holds its value."""
    assert entry.source in BOOK.sources
    assert entry.unit
    assert entry.meaning
    assert entry.low <= entry.value <= entry.high
    assert entry.low < entry.high or entry.grade is Grade.LAW


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.key)
def test_published_number_has_its_place(entry):
    """A published number or a law's names the page, table or section, unless its source says it is from memory."""
    is_printed = entry.grade in {Grade.PUBLISHED, Grade.LAW}
    assert entry.page or not is_printed or not BOOK.sources[entry.source].seen


def test_every_source_is_used():
    """No publication is listed that no entry rests on."""
    assert set(BOOK.sources) == {entry.source for entry in ENTRIES}


def test_every_key_in_the_program_is_in_the_book(shipped_python):
    """A trade-book key written in the estimate stands in the book."""
    written = {
        found["key"]: f"{file}:{node.lineno}"
        for file in shipped_python
        if file.is_in("service/estimate")
        for node in ast.walk(file.tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and (found := KEY.match(node.value))
        if found["key"].partition(".")[0] in SUBJECTS
    }
    assert len(written) >= 10
    assert {key: place for key, place in written.items() if key not in BOOK} == {}


@pytest.fixture(scope="module")
def entries_read() -> frozenset[str]:
    """Entries that a stage of the calculation asks for; the list of assumptions, which only tells them, is no stage.

    Small samples are estimated, one of them with a medallion and bare wood, coated from cans that name no coverage;
    then what no sample has: fans of every size, nails of every printed count by the pound, rates and hours fed back.
    """
    read: set[str] = set()
    with pytest.MonkeyPatch.context() as patch:
        for method in ("value", "__getitem__"):
            patch.setattr(TradeBook, method, _recording(getattr(TradeBook, method), read))
        for name in ("metric", "l_shaped"):
            estimated(sample_survey(name), sample_price_list(), BOOK, HEADING)
        for finish in (FinishOrder.PAINT, FinishOrder.STAIN):
            estimated(_finished(sample_survey("rectangle"), finish), _bare_wood(sample_price_list()), BOOK, HEADING)
        for area in (50, 100, 200, 300):
            fan_band(Decimal(area), BOOK)
        for length in ("2", "2 1/2", "3", "3 1/2"):
            count_per_lb(_nail(length), BOOK)
        features_checked(_hung(), sample_price_list(), BOOK, Problems())
        CalibrationRules.of(BOOK)
        BookingRules.of(BOOK)
    return frozenset(read)


def _recording(method, read: set[str]):
    def recorded(book, key):
        if not sys._getframe(1).f_code.co_filename.endswith("quote/assumptions.py"):
            read.add(key)
        return method(book, key)

    return recorded


def _finished(survey, finish):
    item = next(code for code, supply in sample_price_list().supplies.items() if supply.kind is SupplyKind.MEDALLION)
    disk = CeilingFeature("/rooms/0/ceiling/0", FeatureKind.MEDALLION, item=item, diameter=inches("24"))
    rooms = (replace(survey.rooms[0], ceiling=(disk,)), *survey.rooms[1:])
    trim = tuple(replace(order, finish=finish, coats=None) for order in survey.trim)
    return replace(survey, rooms=rooms, trim=trim)


def _bare_wood(prices):
    profiles = {name: replace(item, finish=FinishState.RAW) for name, item in prices.profiles.items()}
    cans = {
        code: replace(item, coverage_sqft=None, package_unit="gal", package_size=Decimal(1))
        if item.kind in {SupplyKind.PRIMER, SupplyKind.PAINT}
        else item
        for code, item in prices.supplies.items()
    }
    stain = Supply("stain", "Stain, invented", SupplyKind.OTHER, Decimal(1), "gal", Decimal(30))
    return replace(prices, profiles=profiles, supplies=cans | {"stain": stain})


def _nail(length: str) -> Supply:
    price = Decimal(9)
    return Supply("nail", "A nail", SupplyKind.NAIL, Decimal(1), "lb", price, inches(length), inches("1/8"))


def _hung():
    heavy = {
        "weight_lb": Decimal(90),
        "diameter": inches("52"),
        "hangs_down": inches("12"),
        "nearest_wall": inches("60"),
    }
    hung = [CeilingFeature(f"/rooms/0/ceiling/{place}", kind, **heavy) for place, kind in enumerate(FeatureKind)]
    return (shape(rectangle(ceiling=tuple(hung))),)


def test_every_entry_is_read_by_a_stage(entries_read):
    """No entry of the book is there for show: each is asked for by a stage that computes or judges with it."""
    assert {entry.key for entry in ENTRIES} - entries_read == set()


def test_only_entries_of_the_book_are_asked_for(entries_read):
    """What the stages ask for is in the book, and telling an assumption is not reading it."""
    assert entries_read <= {entry.key for entry in ENTRIES}
    told: set[str] = set()
    code = compile("def tell(book): return book.value('waste.nails')", "service/estimate/quote/assumptions.py", "exec")
    scope: dict[str, Any] = {}
    exec(code, scope)  # noqa: S102 - our own two words, to stand where the list of assumptions is made
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(TradeBook, "value", _recording(TradeBook.value, told))
        scope["tell"](BOOK)
    assert told == set()
