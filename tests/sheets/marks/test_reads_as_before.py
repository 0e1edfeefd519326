"""A marked copy that is sent again has the same faults, and marking it again changes nothing."""

from __future__ import annotations

import io
from datetime import date

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.sheets.marks import marked
from tests.sheets.marks.examples import SHEETS, as_read, faults, parts, sample, sample_faults
from tests.sheets.workbooks import saved

NONSENSE = st.one_of(
    st.sampled_from(
        [
            "twelve", '9\' 14"', "10' 12'", "-5'", "", " ", '"', 'a"b"c', "it's", "=1+1", "&<>", "_x000D_", "line\nline",
            "\N{GRINNING FACE}", "x" * 300, "TRUE", "no-break\N{NO-BREAK SPACE}", "Sheet check",
        ]
    ),
    st.integers(-10, 10**6), st.floats(-1e6, 1e6), st.booleans(), st.dates(date(1990, 1, 1), date(2030, 1, 1)), st.none(),
    st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=20),
)  # fmt: skip
TABS = ("Job", "Rooms", "Walls", "Openings", "Trim", "Ceiling", "Extras")
PLACES = st.tuples(st.sampled_from(TABS), st.integers(1, 6), st.integers(2, 8))
SLOWLY = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@pytest.mark.parametrize("name", SHEETS)
def test_samples_read_as_before(name):
    """The copy of every sample is read to the same document, cells and faults, and so is the copy of the copy."""
    found = sample_faults(name)
    once = marked(sample(name), found)
    assert as_read(once) == as_read(sample(name))
    assert as_read(marked(once, found)) == as_read(sample(name))


@pytest.mark.parametrize("name", ["broken.xlsx", "rectangle.xlsx"])
def test_the_whole_check_finds_the_same(name):
    """Every step after the reader finds the same faults and remarks in the copy, to the last word."""
    found = faults(sample(name))
    assert faults(marked(sample(name), found)) == found


@pytest.mark.parametrize("name", SHEETS)
def test_marking_twice_is_marking_once(name):
    """Marking a copy with the same faults gives the copy, byte for byte: nothing of ours piles up."""
    found = sample_faults(name)
    once = marked(sample(name), found)
    assert marked(once, found) == once


@SLOWLY
@given(cells=st.dictionaries(PLACES, NONSENSE, min_size=1, max_size=12))
def test_broken_sheets_read_as_before(cells):
    """Nonsense in random cells: the copy has the original's faults, twice over, and a plain reader opens it."""
    book = openpyxl.load_workbook(io.BytesIO(sample("broken.xlsx")))
    for (tab, column, row), value in cells.items():
        if type(book[tab].cell(row, column)).__name__ == "Cell":
            book[tab].cell(row, column).value = value
    data = saved(book)
    found = faults(data)
    once = marked(data, found)
    assert as_read(once) == as_read(data)
    assert marked(once, found) == once
    assert len(openpyxl.load_workbook(io.BytesIO(once)).worksheets) == len(book.worksheets) + 1


def test_mended_cells_lose_their_marks():
    """After half of the faults are mended, a second marking leaves neither color nor note on the mended cells."""
    book = openpyxl.load_workbook(io.BytesIO(marked(sample("broken.xlsx"), sample_faults("broken.xlsx"))))
    assert "C2" in formats(book["Walls"])
    book["Walls"]["C2"] = "12'"
    data = saved(book)
    again = openpyxl.load_workbook(io.BytesIO(marked(data, faults(data))))
    assert "C2" not in formats(again["Walls"])
    assert again["Walls"]["C2"].comment is None
    assert again["Walls"]["C3"].comment is not None
    assert "C3" in formats(again["Walls"])


def formats(sheet):
    """Cells of an openpyxl sheet that have a conditional format."""
    return {str(area.sqref) for area in sheet.conditional_formatting}


def test_a_sound_sheet_says_so():
    """A sheet without faults comes back with the tab alone, which says that nothing was found."""
    copy = marked(sample("bay.xlsx"), ())
    sheet = openpyxl.load_workbook(io.BytesIO(copy))["Faults found"]
    assert sheet["A2"].value == "No faults were found."
    changed = {name for name, part in parts(copy).items() if parts(sample("bay.xlsx")).get(name) != part}
    assert not any(name.startswith("xl/worksheets/sheet") and "Check" not in name for name in changed)


@pytest.mark.parametrize("name", ["broken.xlsx", "metric.xlsx"])
def test_libreoffice_keeps_what_is_marked(name, converted):
    """Opened and saved by LibreOffice, the copy is read like the original after the same, and can be marked again."""
    before = as_read(converted(sample(name), "xlsx"))
    copy = converted(marked(sample(name), sample_faults(name)), "xlsx")
    assert as_read(copy) == before
    after = faults(copy)
    again = marked(copy, after)
    assert as_read(again) == before
    assert marked(again, after) == again
    assert tab_count(again) == tab_count(copy)


def tab_count(data):
    """Tabs of a workbook."""
    return len(openpyxl.load_workbook(io.BytesIO(data)).worksheets)
