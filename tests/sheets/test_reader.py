"""A workbook as a document: headings, rows, places, and each fault of the reader at its cell."""

from __future__ import annotations

from datetime import date, datetime, time

import pytest
from openpyxl.packaging.custom import IntProperty, StringProperty

from service.problems import Cell, Severity
from service.sheets.reader import read_price_list, read_room_sheet
from tests.sheets.workbooks import ROOMS, TRIM, WALLS, by_hand, found, room_book, saved, sheet_xml


def read(**tabs):
    """Reading of a sound little room sheet with some tabs replaced."""
    return read_room_sheet(saved(room_book(**tabs)))


def walls_of(reading):
    """Walls of the first room."""
    return reading.document["rooms"][0]["walls"]


def test_a_sound_sheet_becomes_the_job_document():
    """Every cell is spelled as text under its member, blank cells are left out, rows go to their room."""
    reading = read()
    assert reading.problems == ()
    assert reading.document == {
        "layout": 1,
        "job": {
            "job_name": "Test job", "customer": "Nobody", "site_address": "Nowhere 1",
            "measured_on": "2025-01-02", "units": "imperial",
        },
        "rooms": [
            {
                "name": "Kitchen", "ceiling_height": "8'",
                "walls": [
                    {"name": "A", "length": "12'", "corner": "inside"},
                    {"name": "B", "length": "10'", "corner": "inside", "angle_deg": "90"},
                    {"name": "C", "length": "12'", "corner": "inside", "angle_deg": "90°"},
                    {"name": "D", "length": "120", "corner": "inside", "angle_deg": "90"},
                ],
            }
        ],
        "trim": [{"room": "all", "walls": "all", "assembly": "Plain crown"}],
    }  # fmt: skip


def test_every_member_a_row_could_have_has_its_cell():
    """Blank cells and rows have cells too, so that a missing value points at the cell to fill."""
    cells = read().cells
    assert cells["/rooms/0/walls/0/angle_deg"] == Cell("Walls", "E2")
    assert cells["/rooms/0/walls/3"] == Cell("Walls", "A5")
    assert cells["/job/customer"] == Cell("Job", "B2")
    assert cells["/job/discount"] == Cell("Job", "A6")
    assert cells[""] == Cell("Job", "A1")


def test_nested_members_go_to_their_objects():
    """Joists and studs become objects, a list with semicolons a list, all of them with their cells."""
    reading = read(
        Rooms=[["Room", "Ceiling height", "Joists parallel to", "First joist"], ["Kitchen", "8'", "A", 14]],
        Walls=[
            ["Room", "Wall", "Length", "Corner", "First stud", "Stud spacing", "Studs at"],
            ["Kitchen", "A", "12'", "inside", '15 1/4"', 16, None],
            ["Kitchen", "B", "12'", "inside", None, None, '14"; 30" ;46"'],
        ],
    )
    assert reading.document["rooms"][0]["joists"] == {"parallel_to": "A", "first": "14"}
    assert [wall.get("studs") for wall in walls_of(reading)] == [
        {"first": '15 1/4"', "spacing": "16"},
        {"at": ['14"', '30"', '46"']},
    ]
    assert reading.cells["/rooms/0/walls/1/studs/at"] == Cell("Walls", "G3")
    assert reading.cells["/rooms/0/joists"] == Cell("Rooms", "C2")


@pytest.mark.parametrize(
    "heading",
    ["Length", "length *", "LENGTH (in)", "Length (mm) *", " Length\xa0", "Len\u200bgth", "Length_x000D_", "\ufeffWall\u00a0 length", "Wall length :"],
)  # fmt: skip
def test_headings_are_found_by_their_words(heading):
    """Case, stars, parentheses, no-break and zero-width spaces and escapes in a heading don't matter."""
    reading = read(Walls=[["Room", "Wall", heading, "Corner"], ["Kitchen", "A", "12'", "inside"]])
    assert reading.problems == ()
    assert walls_of(reading)[0]["length"] == "12'"


def test_british_spellings_are_synonyms():
    """`Moulding` and `mitre` read as `molding` and `miter`; here `Centre` in a synonym-free heading stays unknown."""
    reading = read_price_list(
        saved(room_book(Job=None, Rooms=None, Walls=None, Trim=None, Firm=[["Saw mitre limit", 50], ["Labour burden", "30%"]]))
    )  # fmt: skip
    assert reading.document["firm"] == {"saw_miter_limit": "50", "burden_share": "30%"}


def test_headings_may_stand_lower_and_in_any_order():
    """Headings count within the first ten rows, below titles, in any order; blank rows never end a table."""
    rows = [["Measured by us"], [], ["Corner", None, "Length", "Wall", "Room"]]
    rows += [["inside", None, "12'", "A", "Kitchen"], [], [], ["outside", None, "5'", "B", "kitchen "]]
    assert walls_of(read(Walls=rows)) == [
        {"name": "A", "length": "12'", "corner": "inside"},
        {"name": "B", "length": "5'", "corner": "outside"},
    ]


def test_headings_below_the_tenth_row_are_not_found():
    """Without headings in the first ten rows the tab is refused and what it would have held is explained by it."""
    reading = read(Walls=[*([["x"]] * 10), *WALLS])
    assert ("heading-missing", "error", "Walls!A1") in found(reading)
    assert reading.explains("/rooms/0/walls")


def test_a_missing_required_heading_is_one_fault():
    """A required column that isn't there is told once, and accounts for the missing values below."""
    reading = read(Walls=[["Room", "Wall", "Corner"], ["Kitchen", "A", "inside"], ["Kitchen", "B", "inside"]])
    assert found(reading) == {("heading-missing", "error", "Walls!A1")}
    assert "Length" in reading.problems[0].detail
    assert reading.explains("/rooms/0/walls/1/length")
    assert not reading.explains("/rooms/0/walls/1/corner")


def test_a_missing_column_that_may_be_blank_is_no_fault():
    """Optional columns may be left out."""
    assert read(Rooms=ROOMS).problems == ()


def test_a_heading_twice_is_a_fault_and_the_first_is_read():
    """Two columns read as one, even by a synonym, are a fault at the second."""
    reading = read(Rooms=[["Room", "Ceiling height", "Height"], ["Kitchen", "8'", "9'"]])
    assert found(reading) == {("heading-duplicate", "error", "Rooms!C1")}
    assert reading.document["rooms"][0]["ceiling_height"] == "8'"


def test_unknown_columns_are_told_when_they_hold_data():
    """A column that isn't read is a warning at its heading if anything stands below, and silent otherwise."""
    rows = [["Room", "Ceiling height", "Paint", "Empty", None], ["Kitchen", "8'", "white", None, "stray"]]
    assert found(read(Rooms=rows)) == {
        ("heading-unknown", "warning", "Rooms!C1"),
        ("heading-unknown", "warning", "Rooms!E1"),
    }


@pytest.mark.parametrize("tab", ["Job", "Rooms", "Walls", "Trim"])
def test_a_missing_tab_is_told_alone(tab):
    """Each required tab that isn't there is one fault; nothing else is blamed for it."""
    reading = read(**{tab: None})
    assert found(reading) == {("tab-missing", "error", f"{tab}!A1")}


def test_missing_tabs_explain_what_they_would_have_held():
    """The schema's complaints about members of a missing tab are accounted for."""
    assert read(Walls=None).explains("/rooms/0/walls")
    assert read(Job=None).explains("/job/customer")
    assert not read(Job=None).explains("/rooms/0/walls")


def test_a_price_list_sent_as_a_room_sheet_is_recognized():
    """The fault says what the workbook looks like."""
    names = ("Firm", "Wages", "Payments", "Profiles", "Stock", "Assemblies", "Supplies")
    reading = read(Job=None, Rooms=None, Walls=None, Trim=None, **{name: [["x"]] for name in names})
    assert all("looks like a price list" in problem.help for problem in reading.problems if problem.is_error)


def test_unknown_tabs_are_noted_and_the_list_of_choices_is_not():
    """A tab that isn't read is a note; the template's own hidden lists are none."""
    assert found(read(Scribbles=[["x"]], Lists=[["yes"]])) == {("tab-unknown", "note", "Scribbles!A1")}


def test_two_tabs_for_one_are_a_fault():
    """A second tab that is taken for the same one is refused, the one with the exact name is read."""
    reading = read(Wall=WALLS)
    assert found(reading) == {("tab-unknown", "error", "Wall!A1")}
    assert len(walls_of(reading)) == 4


def test_tabs_are_found_by_synonym_and_case():
    """` walls` is Walls."""
    assert len(walls_of(read(**{"Walls": None, " WALLS": WALLS}))) == 4


def test_the_headings_of_the_job_tab_are_skipped():
    """`Item | Value` is no item; stars and parentheses after an item don't matter."""
    job = [["Item", "Value"], ["Job name *", "x"], ["Units (imperial or metric) *", "imperial"]]
    assert read(Job=job).document["job"] == {"job_name": "x", "units": "imperial"}


def test_items_that_are_unknown_or_twice_are_told():
    """An unknown item is a warning with a guess, a second one an error; a title without a value is silent."""
    reading = read(Job=[["Room sheet of the house"], ["Custmer", "A"], ["Notes", "x"], ["notes", "y"], [None, "stray"]])
    assert found(reading) == {
        ("item-unknown", "warning", "Job!A2"),
        ("item-duplicate", "error", "Job!A4"),
        ("item-unknown", "warning", "Job!A5"),
    }
    assert "Customer" in next(problem.help for problem in reading.problems if problem.found == "Custmer")
    assert reading.document["job"] == {"notes": "x"}


def test_a_third_column_of_items_is_told():
    """What stands beyond column B of the Job tab is not read, and that is said."""
    assert found(read(Job=[["Notes", "x", "y"]])) == {("heading-unknown", "warning", "Job!C1")}


def test_rows_of_no_room_are_told_at_their_cell():
    """A wall of an unknown room is a fault with a guess, a wall of no room a missing value; others stay."""
    reading = read(Walls=[*WALLS, ["Kichen", "E", "2'", "inside"], [None, "F", "2'", "inside"]])
    assert found(reading) == {("room-unknown", "error", "Walls!A6"), ("value-missing", "error", "Walls!A7")}
    assert reading.problems[0].help == "Did you mean Kitchen?"
    assert len(walls_of(reading)) == 4


def test_faults_in_rows_of_no_room_are_still_told():
    """Such a row's own faults are not lost with it."""
    reading = read(Walls=[*WALLS, ["Cellar", "E", True, "inside"]])
    assert found(reading) == {("room-unknown", "error", "Walls!A6"), ("length-is-boolean", "error", "Walls!C6")}


def test_faults_of_no_member_point_past_the_last_one():
    """Their pointer ends in `-` (RFC 6901), so that it is above no member's pointer."""
    reading = read(Walls=[*WALLS, ["Cellar", "E", "2'", "inside"]], Scribbles=[["x"]])
    assert {problem.pointer for problem in reading.problems} == {"/rooms/-/walls/-/room", "/-"}


@pytest.mark.parametrize(
    ("value", "code", "help_word"),
    [
        (date(2024, 1, 2), "length-is-date", "1/2"),
        (datetime(2025, 3, 8), "length-is-date", "3/8"),  # noqa: DTZ001 - a workbook's dates have no time zone
        (datetime(2025, 8, 3), "length-is-date", "3/8"),  # noqa: DTZ001 - the same, day before month
        (datetime(2002, 10, 1), "length-is-date", "10 1/2"),  # noqa: DTZ001 - the same
        (datetime(2025, 10, 20), "length-is-date", "Text"),  # noqa: DTZ001 - the same
        (time(7, 30), "length-is-date", "Text"),
        (True, "length-is-boolean", "12'"),
        (False, "length-is-boolean", "12'"),
        ("#REF!", "formula-error", "formula"),
        ("#N/A", "formula-error", "formula"),
        ("=1+1", "formula-without-value", "save"),
        ('="12\'"', "formula-without-value", "save"),
    ],
)
def test_faults_of_a_length_cell(value, code, help_word):
    """What a spreadsheet made of a length is a fault at its cell that says what to type; the member is left out."""
    reading = read(Walls=[WALLS[0], ["Kitchen", "A", value, "inside"]])
    assert found(reading) == {(code, "error", "Walls!C2")}
    assert help_word in reading.problems[0].help
    assert reading.problems[0].pointer == "/rooms/0/walls/0/length"
    assert "length" not in walls_of(reading)[0]
    assert reading.explains("/rooms/0/walls/0/length")


def test_merged_cells_with_a_value_are_a_fault():
    """A merged range in the data is one fault at its first cell, and accounts for the cells it swallowed."""
    book = room_book()
    book["Walls"].merge_cells("C2:C4")
    reading = read_room_sheet(saved(book))
    assert found(reading) == {("merged-cells", "error", "Walls!C2")}
    assert reading.problems[0].found == "C2:C4"
    assert reading.explains("/rooms/0/walls/2/length")
    assert walls_of(reading)[3]["length"] == "120"


def test_a_merged_title_is_no_fault():
    """Merged cells above the headings don't matter."""
    book = room_book(Rooms=[["Rooms of the house", None], *ROOMS])
    book["Rooms"].merge_cells("A1:B1")
    assert read_room_sheet(saved(book)).problems == ()


def test_hidden_rows_are_read_and_told():
    """Hidden rows count, and a note says so; so do the rows of a hidden tab."""
    book = room_book()
    book["Walls"].row_dimensions[3].hidden = True
    book["Trim"].sheet_state = "hidden"
    reading = read_room_sheet(saved(book))
    assert found(reading) == {("hidden-rows-read", "note", "Walls!A3"), ("hidden-rows-read", "note", "Trim!A2")}
    assert len(walls_of(reading)) == 4


def with_version(value):
    """A sound sheet with the layout version property."""
    book = room_book()
    kind = IntProperty if isinstance(value, int) else StringProperty
    book.custom_doc_props.append(kind(name="Layout version", value=value))
    return read_room_sheet(saved(book))


@pytest.mark.parametrize("value", [1, "1", " 1 "])
def test_layout_version_one_is_read(value):
    """Version 1 is read, as a number or a text."""
    assert with_version(value).problems == ()


@pytest.mark.parametrize("value", [2, 0, "1.5", "new"])
def test_another_layout_version_is_refused(value):
    """Any other version is one fault and no document."""
    reading = with_version(value)
    assert [problem.code for problem in reading.problems] == ["layout-unknown"]
    assert reading.document is None


@pytest.mark.parametrize(
    ("stored", "heading", "value"),
    [
        (12.499999999, "Length", "12.5"),
        (14.0, "Length", "14"),
        (0.1 + 0.025, "Length", "0.125"),
        (100000, "Length", "100000"),
        ("12' 6 1/2\"", "Length", "12' 6 1/2\""),
        ("  12'\xa06\u200b 1/2\" ", "Length", "12' 6 1/2\""),
        ("'1/2", "Length", "1/2"),
        ("line_x000D_\nbreak", "Notes", "line\nbreak"),
        (date(2025, 1, 2), "Notes", "2025-01-02"),
        (True, "Notes", "TRUE"),
        ("e\u0301", "Notes", "\u00e9"),
    ],
)
def test_cells_are_spelled_cleanly(stored, heading, value):
    """Numbers lose binary noise, texts lose what can't be seen; line breaks stay in notes alone."""
    headings = ["Room", "Wall", "Corner", heading, *(["Length"] if heading != "Length" else [])]
    reading = read(Walls=[headings, ["Kitchen", "A", "inside", stored, "1'"][: len(headings)]])
    assert reading.problems == ()
    assert walls_of(reading)[0][heading.lower()] == value


@pytest.mark.parametrize(
    ("value", "number_format", "spelling"),
    [
        (0.15, "0%", "15%"), (0.065, "0.0%", "6.5%"), (0.15, "General", "0.15"), ("15 %", "@", "15 %"),
        (150, '0" %"', "150"), (0.07, "0.00%", "7%"),
    ],
)  # fmt: skip
def test_percent_cells_of_shares_say_so(value, number_format, spelling):
    """A share in a percent-formatted cell keeps its sign; a quoted sign in the format is no percent."""
    book = room_book(Job=[["Discount", value]])
    book["Job"]["B1"].number_format = number_format
    assert read_room_sheet(saved(book)).document["job"]["discount"] == spelling


def test_truth_values_of_yes_or_no():
    """TRUE in a yes-or-no column is true; where yes is one word of several, it is `yes`."""
    reading = read(
        Job=[["Occupied", True]],
        Ceiling=[["Room", "Feature", "Box rated for fan", "Remove existing"], ["Kitchen", "fan", True, False]],
    )
    assert reading.document["job"]["occupied"] is True
    assert reading.document["rooms"][0]["ceiling"] == [
        {"feature": "fan", "box_rated_for_fan": "yes", "remove_existing": False}
    ]


def test_a_formula_that_shows_nothing_is_blank():
    """A formula calculated to an empty text is a blank cell, one never calculated is a fault."""
    headings = "".join(
        f'<c r="{letter}1" t="inlineStr"><is><t>{word}</t></is></c>'
        for letter, word in zip("ABCD", ("Room", "Ceiling height", "Notes", "Access"), strict=True)
    )
    cells = (
        '<c r="A2" t="inlineStr"><is><t>Hall</t></is></c><c r="B2" t="str"><f>"9"</f><v>9</v></c>'
        '<c r="C2" t="str"><f>""</f><v></v></c><c r="D2"><f>1</f></c>'
    )
    data = by_hand(sheet_xml(f'<row r="1">{headings}</row><row r="2">{cells}</row>'), names=("Rooms",))
    reading = read_room_sheet(data)
    assert reading.document["rooms"] == [{"name": "Hall", "ceiling_height": "9"}]
    assert ("formula-without-value", "error", "Rooms!D2") in found(reading)


def test_lists_of_walls():
    """`all` stays a word, in any case; anything else is a list of names."""
    rows = [TRIM[0], ["all", " ALL ", "x"], ["all", "A; c ;", "x"], ["all", "B", "x"], ["all", 3, "x"]]
    assert [order["walls"] for order in read(Trim=rows).document["trim"]] == ["ALL", ["A", "c"], ["B"], ["3"]]


def test_only_errors_and_remarks_of_the_reader_are_there():
    """Values that only a schema can judge pass through as typed."""
    reading = read(Walls=[WALLS[0], ["Kitchen", "A", "twelve feet", "sideways", "square"]])
    assert reading.problems == ()
    assert walls_of(reading) == [{"name": "A", "length": "twelve feet", "corner": "sideways", "angle_deg": "square"}]


def test_all_faults_of_a_sheet_are_collected():
    """Thirty faulty cells are thirty problems, in the order of tabs and rows."""
    rows = [WALLS[0], *(["Kitchen", f"W{n}", date(2024, 1, 2) if n % 2 else True, "inside"] for n in range(30))]
    problems = read(Walls=rows).problems
    assert [str(problem.cell) for problem in problems] == [f"Walls!C{n}" for n in range(2, 32)]
    assert {problem.severity for problem in problems} == {Severity.ERROR}
