"""Whatever stands in the cells, the reader answers with a document and problems."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.problems import Code
from service.sheets.layout import Kind
from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.reader import read_price_list, read_room_sheet
from service.sheets.shown import number_text
from service.sheets.wording import cleaned, folded, heading_key
from tests.sheets.workbooks import room_book, saved

TEXTS = st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=12)
HEADINGS = st.sampled_from(
    [column.heading for layout in (ROOM_SHEET, PRICE_LIST) for tab in layout.tabs for column in tab.columns]
)
CELLS = st.one_of(
    st.none(), st.booleans(), st.integers(-(10**12), 10**12), st.floats(-1e300, 1e300),
    st.dates(date(1900, 3, 1), date(2200, 1, 1)), st.datetimes(datetime(1900, 3, 1), datetime(2200, 1, 1)),  # noqa: DTZ001 - a workbook's dates have no time zone
    st.times(), st.timedeltas(timedelta(0), timedelta(400)), TEXTS, HEADINGS,
    st.sampled_from(["12' 6 1/2\"", "1/2", "=1+1", "#REF!", "Kitchen", "A;B", "all", "_x000D_", "\xa0", "15%"]),
)  # fmt: skip
ROWS = st.lists(st.lists(CELLS, max_size=6), max_size=8)
SLOWLY = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
POSSIBLE = {
    Code.LENGTH_IS_DATE, Code.LENGTH_IS_BOOLEAN, Code.FORMULA_ERROR, Code.FORMULA_WITHOUT_VALUE, Code.HEADING_MISSING,
    Code.HEADING_DUPLICATE, Code.HEADING_UNKNOWN, Code.ITEM_UNKNOWN, Code.ITEM_DUPLICATE, Code.ROOM_UNKNOWN,
    Code.VALUE_MISSING, Code.TAB_MISSING,
}  # fmt: skip


@SLOWLY
@given(job=ROWS, rooms=ROWS, walls=ROWS)
def test_random_cells_never_raise(job, rooms, walls):
    """Random cells under random headings give a document, and problems that each have a cell."""
    reading = read_room_sheet(saved(room_book(Job=job, Rooms=rooms, Walls=walls)))
    assert reading.document is not None
    assert all(problem.cell and problem.detail for problem in reading.problems)
    assert {problem.code for problem in reading.problems} <= POSSIBLE


@SLOWLY
@given(rows=st.lists(st.lists(CELLS, min_size=5, max_size=5), min_size=1, max_size=5))
def test_random_cells_of_a_price_list_never_raise(rows):
    """The same under a price list's headings: each cell becomes text, true, a list, or a problem at its place."""
    stock = [["Profile", "Length", "Price", "Per", "Offcut"], *rows]
    reading = read_price_list(saved(room_book(Job=None, Rooms=None, Walls=None, Trim=None, Stock=stock)))
    assert all(
        isinstance(value, (str, bool)) and name in {"profile", "length", "price", "per", "offcut"}
        for row in reading.document["stock"]
        for name, value in row.items()
    )


@given(st.floats(min_value=-1e9, max_value=1e9))
def test_numbers_keep_their_value_to_a_billionth(value):
    """A number's text is plain decimals, at most nine of them, and as good as the number."""
    text = number_text(value)
    assert "e" not in text
    assert len(text.partition(".")[2]) <= 9
    assert abs(float(text) - value) <= 5.1e-10 + abs(value) * 1e-15


@given(st.text())
def test_cleaning_is_done_once(text):
    """Cleaned and folded texts don't change when cleaned again, unless cleaning laid a new escape bare."""
    once = cleaned(text)
    if "_x" not in once:
        assert cleaned(once) == once
    assert folded(text).strip() == folded(text)


@given(HEADINGS, st.sampled_from(["", " *", " (in)", "  (mm) *", "\xa0*", "\u200b", ":"]))
def test_decorations_of_headings_fall_off(heading, decoration):
    """A heading is found whatever star, unit or invisible character follows it."""
    assert heading_key(heading + decoration) == heading_key(heading)


def test_times_are_told_as_times():
    """A time of day in a length cell is named as a time, not as a date."""
    walls = [["Room", "Wall", "Length", "Corner"], ["Kitchen", "A", time(7, 30), "inside"]]
    (problem,) = read_room_sheet(saved(room_book(Walls=walls))).problems
    assert "time 07:30:00" in problem.detail


def test_kinds_of_length_are_three():
    """Lengths, lists of lengths, and lengths or words: a date is a fault in each."""
    assert [kind for kind in Kind if kind.is_length] == [Kind.LENGTH, Kind.LENGTH_LIST, Kind.LENGTH_OR_WORD]
