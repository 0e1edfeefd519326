"""Cells as the guard takes them out agree with what openpyxl, an independent library, reads from the same file."""

from __future__ import annotations

import io
import warnings
from datetime import date, datetime, time, timedelta
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from service.sheets.opening import opened
from service.sheets.wording import folded
from tests.sheets.workbooks import room_book, saved

SAMPLES = sorted((Path(__file__).resolve().parents[2] / "sample_sheets").glob("*.xlsx"))
FORMATS = [
    "General",
    "0.00",
    "0%",
    "# ?/?",
    "m/d/yyyy",
    "h:mm",
    "[h]:mm:ss",
    '0" d"',
    "[Red]0",
    "yyyy-mm-dd hh:mm",
    "@",
]
VALUES = st.one_of(
    st.none(), st.booleans(), st.integers(-(10**14), 10**14), st.floats(-1e15, 1e15), st.just("=1+1"), st.just("#REF!"),
    st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=10), st.dates(date(1901, 1, 1), date(2200, 1, 1)),
    st.datetimes(datetime(1901, 1, 1), datetime(2200, 1, 1)).map(lambda d: d.replace(microsecond=0)),  # noqa: DTZ001 - a workbook's dates have no time zone
    st.times().map(lambda t: t.replace(microsecond=0)), st.timedeltas(timedelta(0), timedelta(400)),
)  # fmt: skip


def by_openpyxl(data):
    """(tab, address) to value and number format of every cell that shows something, as openpyxl reads it."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        book = openpyxl.load_workbook(io.BytesIO(data), data_only=True)
    cells = {
        (sheet.title, cell.coordinate): (cell.value, cell.number_format, cell.data_type == "e")
        for sheet in book.worksheets for row in sheet.iter_rows() for cell in row
    }  # fmt: skip
    return {place: found for place, found in cells.items() if shows(found[0])}


def shows(value):
    """True for a value that is seen."""
    return bool(folded(value)) if isinstance(value, str) else value is not None


def by_us(data):
    """The same as the reader gets it, formulas that were never calculated left out."""
    book = opened(data)
    assert book.problems == ()
    return {
        (sheet.name, found.address): (found.value, found.number_format, found.is_error)
        for sheet in book.sheets for cells in sheet.rows.values() for found in cells.values() if not found.is_uncalculated
    }  # fmt: skip


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.name)
def test_samples_are_read_alike(path):
    """Every cell of every sample workbook has the value, the number format and the kind that openpyxl finds."""
    data = path.read_bytes()
    assert by_us(data) == by_openpyxl(data)
    assert len(by_us(data)) > 20


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.tuples(VALUES, st.sampled_from(FORMATS)), max_size=12), st.booleans())
def test_random_cells_are_read_alike(cells, has_1904_dates):
    """Numbers, texts, truth values, errors, dates and times under any format, in both date systems, are read alike."""
    book = room_book()
    if has_1904_dates:
        book.epoch = CALENDAR_MAC_1904
    sheet = book.create_sheet("Mixed")
    for number, (value, number_format) in enumerate(cells, 1):
        cell = sheet.cell(number, 1 + number % 3)
        cell.value = value
        if not isinstance(value, (date, time, timedelta)):
            cell.number_format = number_format
    data = saved(book)
    assert by_us(data) == by_openpyxl(data)


def test_custom_properties_and_hidden_tabs_are_seen():
    """The layout version and which tabs are hidden come out as written by openpyxl."""
    book = room_book()
    book.custom_doc_props.append(openpyxl.packaging.custom.StringProperty(name="Layout version", value="1"))
    book["Trim"].sheet_state = "hidden"
    seen = opened(saved(book))
    assert seen.version == "1"
    assert {sheet.name for sheet in seen.sheets if sheet.is_hidden} == {"Trim"}
