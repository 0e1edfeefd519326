"""Workbooks opened and saved by LibreOffice, straight or by way of its own format, keep what the reader needs."""

from __future__ import annotations

import io
from pathlib import Path

import openpyxl
import pypdf
import pytest
from openpyxl.utils import get_column_letter, range_boundaries

from schemas.job import survey_from
from schemas.price_list import price_list_from
from schemas.quote import quote_document
from service.sheets.layout import LISTS_TAB
from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.opening import opened
from service.sheets.reader import read_price_list, read_room_sheet
from service.sheets.template import price_list_template, room_sheet_template
from service.units import Units
from tests.pipeline.estimates import quote_of, sample_price_list
from tests.sheets.office_program import converted
from tests.sheets.plain_xml import cell_formats, column_formats, guides, names, sheet_parts, states, without
from tests.sheets.workbooks import saved

SAMPLES = Path(__file__).resolve().parents[2] / "sample_sheets"
WAYS = ("straight", "by ods")
ROOM_SHEETS = {"imperial": "l_shaped", "metric": "metric"}
TABS = {"imperial": ROOM_SHEET, "metric": ROOM_SHEET, "prices": PRICE_LIST}


def typed_into(template, sample):
    """The template with a sample's rows typed below its example rows, by a script as a person would."""
    book = openpyxl.load_workbook(io.BytesIO(template))
    source = openpyxl.load_workbook(SAMPLES / f"{sample}.xlsx")
    for sheet in (sheet for sheet in source if sheet.title != LISTS_TAB):
        below = len(ROOM_SHEET.tab(sheet.title).example_rows(Units.IMPERIAL)) if sheet.title != "Job" else 0
        for row in sheet.iter_rows(min_row=2):
            for cell in (cell for cell in row if cell.value is not None):
                book[sheet.title].cell(cell.row + below, cell.column, cell.value)
    return saved(book)


@pytest.fixture(scope="module")
def before():
    """Workbooks as they went out: two filled room sheets and the sample price list."""
    return {
        "imperial": typed_into(room_sheet_template(Units.IMPERIAL), "l_shaped"),
        "metric": typed_into(room_sheet_template(Units.METRIC), "metric"),
        "prices": (SAMPLES / "price_list.xlsx").read_bytes(),
    }


@pytest.fixture(scope="module")
def after(before, tmp_path_factory):
    """The same after each round trip: way, name → bytes. All programs' work is done in three runs."""
    folder = tmp_path_factory.mktemp("trips")
    files = [folder / f"{name}.xlsx" for name in before]
    for file in files:
        file.write_bytes(before[file.stem])
    straight = converted(folder, files, "xlsx")
    own = converted(folder, files, "ods")
    back = converted(folder / "ods", list(own.values()), "xlsx")
    ways = dict(zip(WAYS, (straight, back), strict=True))
    return {way: {name: file.read_bytes() for name, file in found.items()} for way, found in ways.items()}


def quoted(data):
    """Quote JSON of a room sheet by the sample price list, with fixed ids and times."""
    reading = read_room_sheet(data)
    assert reading.problems == ()
    survey, problems = survey_from(reading.document)
    assert survey is not None, [problem.line() for problem in problems]
    return quote_document(quote_of(survey), office=True)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", ROOM_SHEETS)
def test_the_quote_is_the_same(before, after, way, name):
    """The filled template gives the sample's own quote, before and after; the example rows are still skipped."""
    sample = (SAMPLES / f"{ROOM_SHEETS[name]}.xlsx").read_bytes()
    wanted = quoted(sample)
    first, last = quoted(before[name]), quoted(after[way][name])
    assert (len(wanted["rooms"]), wanted["totals"]["total"]) == (len(last["rooms"]), last["totals"]["total"])
    assert first == last


@pytest.mark.parametrize("way", WAYS)
def test_the_price_list_is_the_same(before, after, way):
    """A price list's document comes back member for member, and makes the same records."""
    first, last = read_price_list(before["prices"]), read_price_list(after[way]["prices"])
    assert last.problems == ()
    assert last.document == first.document
    records, _ = price_list_from(last.document, name="standard", version=1)
    assert records == sample_price_list()


def guided(data, tab):
    """Validation of each column's second row (or each item), by column number."""
    found = {}
    for guide in guides(sheet_parts(data)[tab.name]):
        for area in guide["areas"]:
            left, top, right, bottom = range_boundaries(area)
            for number in range(1, len(tab.columns) + 1):
                row, column = (number + 1, 2) if tab.is_items else (40, number)
                if top <= row <= bottom and left <= column <= right:
                    found[number] = guide
    return found


KEPT = (
    "type",
    "errorStyle",
    "prompt",
    "promptTitle",
    "error",
    "errorTitle",
    "showErrorMessage",
    "showInputMessage",
    "source",
)
DEFAULTS = {"type": "none", "errorStyle": "stop", "error": "", "errorTitle": ""}


def told(guide):
    """What a validation says and does, where programs leave out what goes without saying."""
    values = {key: guide.get(key, DEFAULTS.get(key)) for key in KEPT}
    shown = {
        key: "1" if values[key] in {"1", "true"} else values[key] for key in ("showErrorMessage", "showInputMessage")
    }
    return values | shown | {"source": guide["source"] if values["type"] == "list" else ""}


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", TABS)
def test_dropdowns_alerts_and_prompts_are_kept(before, after, way, name):
    """By plain XML: below the typed rows every column still has its list, its alert and its prompt."""
    for tab in TABS[name].tabs:
        first, last = guided(before[name], tab), guided(after[way][name], tab)
        assert first.keys() == last.keys() == set(range(1, len(tab.columns) + 1)), tab.name
        for number, column in enumerate(tab.columns, start=1):
            assert told(last[number]) == told(first[number]), (tab.name, column.heading)
            assert told(last[number])["showErrorMessage"] == "1"


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", TABS)
def test_length_columns_stay_text(after, way, name):
    """By plain XML: stored cells and whole columns of lengths keep the format Text (`@`)."""
    sheets = sheet_parts(after[way][name])
    for tab in TABS[name].tabs:
        stored, columns = (look(after[way][name], sheets[tab.name]) for look in (cell_formats, column_formats))
        for number, column in enumerate(tab.columns, start=1):
            if column.kind.is_length and tab.is_items:
                assert stored[f"B{number + 1}"] == "@", column.heading
            elif column.kind.is_length:
                letter = get_column_letter(number)
                found = {
                    form
                    for address, form in stored.items()
                    if address.rstrip("0123456789") == letter and address != f"{letter}1"
                }
                assert found <= {"@"}, (tab.name, column.heading)
                assert columns[number] == "@", (tab.name, column.heading)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", TABS)
def test_the_layout_version_and_the_lists_are_kept(before, after, way, name):
    """The version is found by the property and, without it, by the name; the tab of lists is still hidden."""
    data = after[way][name]
    assert (opened(data).version or "").removesuffix(".0") == "1"
    assert opened(without(data, "docProps/custom.xml")).version == "1"
    assert names(data) == names(before[name])
    assert states(data)[LISTS_TAB] == "hidden"


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", TABS)
def test_printing_is_kept(after, way, name):
    """Tables still print across the page, one page wide, with their headings on every page."""
    book = openpyxl.load_workbook(io.BytesIO(after[way][name]))
    for tab in TABS[name].tabs:
        sheet = book[tab.name]
        assert sheet.page_setup.orientation == ("portrait" if tab.is_items else "landscape")
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.print_title_rows == "$1:$1"


def test_templates_print_on_one_page_a_tab(tmp_path):
    """Every tab of a blank room sheet is one page, and what its headings and examples say stands on it whole."""
    file = tmp_path / "blank.xlsx"
    file.write_bytes(room_sheet_template(Units.IMPERIAL))
    pages = [page.extract_text() for page in pypdf.PdfReader(converted(tmp_path, [file], "pdf")["blank"]).pages]
    assert len(pages) == len(ROOM_SHEET.tabs)
    for tab, text in zip(ROOM_SHEET.tabs, pages, strict=True):
        words = " ".join(text.split())
        missing = [
            column.heading for column in tab.columns if not all(word in words for word in column.heading.split())
        ]
        assert missing == [], tab.name
        shown = {value for row in tab.example_rows(Units.IMPERIAL) for value in row.values()} - {"35"}
        assert [value for value in shown if value not in words] == [], tab.name


def test_an_untouched_template_stays_empty(tmp_path):
    """Saved as it came, a blank room sheet or price list holds nothing: the example rows are still known as such."""
    blanks = {f"{units}": room_sheet_template(units) for units in Units} | {"list": price_list_template()}
    files = [tmp_path / f"{name}.xlsx" for name in blanks]
    for file in files:
        file.write_bytes(blanks[file.stem])
    back = {name: file.read_bytes() for name, file in converted(tmp_path, files, "xlsx").items()}
    for units in Units:
        reading = read_room_sheet(back[str(units)])
        assert reading.problems == ()
        assert reading.document == {"layout": 1, "job": {"units": str(units)}, "rooms": [], "trim": [], "extras": []}
    assert read_price_list(back["list"]).problems == ()
