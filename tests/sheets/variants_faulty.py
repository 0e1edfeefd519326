"""Variants of the base sheet with one fault in each: the one code, at the one cell, and no other error."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from openpyxl.packaging.custom import StringProperty
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from tests.sheets.base_sheet import by_book, by_tab, cell_xml, in_sheet, put, together

if TYPE_CHECKING:
    from tests.sheets.base_sheet import Change


@dataclass(frozen=True)
class Faulty:
    """A change that must give one error; `says`: words of its detail or help."""

    name: str
    change: Change
    code: str
    cell: str
    says: str = ""


def _cell(name: str, place: str, value: object, code: str, says: str = "", form: str = "") -> Faulty:
    return Faulty(name, put(place, value, form), code, place, says)


def _by_hand(name: str, place: str, attributes: str, content: str, code: str, says: str = "") -> Faulty:
    return Faulty(name, cell_xml(place, attributes, content), code, place, says)


def _row(tab: str, number: int, *values: object) -> Change:
    def edit(sheet: Any) -> None:
        for column, value in enumerate(values, 1):
            sheet.cell(number, column).value = value

    return by_tab(tab, edit)


def _without(name: str) -> Change:
    return by_book(lambda book: book.remove(book[name]))


C2 = "Walls!C2"
NOT_A_LENGTH = "length-not-understood"
NOT_A_NUMBER = "number-not-understood"

LENGTH_CELLS: list[Faulty] = [
    *(
        _cell(f"a length typed {text!r}", C2, text, NOT_A_LENGTH, says)
        for text, says in [
            ("twelve feet", "not one length"), ("12' 14\"", "less than 12"), ("12.5' 6\"", "whole feet"), ("21/2", "upper number"), ("3/19", "1/19"),
            ("12' 6\" 12' 6\"", "two lengths"), ("12' 6\" x 10'", "two lengths"), ("12' 6\" × 10'", "two lengths"), ("12 6", "two lengths"),
            ("1,250", "1.250 or as 1250"), ("12,6", "12.6 inches or 12 feet 6 inches"), ("1,250 mm", "1.250 or as 1250"), ("-12'", "negative"),
            ("−12' 6\"", "negative"), ("12 yd", "unit"), ("50%", "share"), ("1/0", "zero"), ("about 12'", "not one length"), ("?", "not one length"),
            ("12' 6\" (check)", "not one length"),
        ]
    ),
    _cell("a formula kept as text", "Walls!C3", "10' 6\"=", NOT_A_LENGTH),
    _by_hand("a formula typed into a text cell", C2, ' t="inlineStr"', "<is><t>=12*12</t></is>", NOT_A_LENGTH, "formula"),
    _cell("a number between two marks", C2, 150.3, "length-between-marks", "150 19/64″ and 150 5/16″"),
    _cell("the same number as text", C2, "150.3", "length-between-marks", '150.3" with its inch mark'),
    _cell("a number a hair beyond the tolerance", C2, 150.4994, "length-between-marks", "150 31/64″ and 150 1/2″"),
    _cell("a list with a figure between two marks", "Walls!H5", "4; 20.3; 36", "length-between-marks", "20 19/64″"),
    _cell("a third of an inch by a formula", "Rooms!B2", 97 + 1 / 3, "length-between-marks", "97 21/64″ and 97 11/32″"),
    _cell("a date", C2, date(2025, 1, 2), "length-is-date", "1/2"),
    _cell("a date, day first", C2, date(2025, 8, 3), "length-is-date", "3/8"),
    _cell("a date of two figures", C2, date(2002, 10, 1), "length-is-date", "10 1/2"),
    _cell("a date and time", C2, datetime(2025, 3, 8, 7, 30), "length-is-date", "3/8"),  # noqa: DTZ001 - a workbook's dates have no time zone
    _cell("a date shown as day and month", C2, date(2025, 1, 2), "length-is-date", "1/2", "d-mmm"),
    _cell("a time of day", C2, time(12, 6), "length-is-date", "time 12:06:00"),
    _cell("a duration", C2, timedelta(hours=30), "length-is-date", "time"),
    Faulty("a date of a 1904 workbook", by_book(lambda book: (book.__setattr__("epoch", CALENDAR_MAC_1904), book["Walls"].__getitem__("C2").__setattr__("value", date(2025, 1, 2)))), "length-is-date", C2, "1/2"),
    _by_hand("an ISO date", C2, ' t="d"', "<v>2025-01-02</v>", "length-is-date", "1/2"),
    _cell("a date in a list", "Walls!H5", date(2025, 4, 20), "length-is-date"),
    Faulty("TRUE", put(C2, value=True), "length-is-boolean", C2),
    Faulty("FALSE", put("Rooms!C2", value=False), "length-is-boolean", "Rooms!C2"),
    _cell("a percent cell", C2, 0.5, NOT_A_LENGTH, "share", "0%"),
    _cell("a share of a length", C2, 1.505, NOT_A_LENGTH, "share", "0.0%"),
    _cell("an unknown unit by the format", C2, 150.5, NOT_A_LENGTH, "unit", '0.0" ell"'),
    _cell("yards by the format", C2, 4.18, NOT_A_LENGTH, "unit", '0.00" yd"'),
    _cell("a currency format", C2, 150.5, NOT_A_LENGTH, "", '"$"#,##0.00'),
    _cell("a negative number", C2, -150.5, NOT_A_LENGTH, "negative"),
    _cell("zero", C2, 0, "number-out-of-range"),
    _cell("a wall of a mile", C2, 63360, "number-out-of-range"),
    _cell("blank", C2, None, "value-missing"),
    _cell("spaces", C2, " \u00a0 ", "value-missing"),
    _cell("an apostrophe alone", C2, "'", "value-missing"),
    _cell("commas in a list", "Walls!H5", "4, 20, 36", NOT_A_LENGTH, "comma"),
    _cell("one comma in a list", "Walls!H5", "4,20", NOT_A_LENGTH, "4.20 or as 4 and 20"),
    _cell("a ceiling of eight inches", "Rooms!B2", "8", "number-out-of-range"),
    _cell("an opening's bad width", "Openings!E2", "wide", NOT_A_LENGTH),
    _cell("a medallion's bad diameter", "Ceiling!D2", "2 feet or so", NOT_A_LENGTH),
]  # fmt: skip

STORED_CELLS: list[Faulty] = [
    _by_hand("a formula never calculated", C2, "", "<f>12*12+6.5</f>", "formula-without-value", "save"),
    _by_hand("a formula with an empty result", C2, "", "<f>B3</f><v></v>", "formula-without-value", "save"),
    _by_hand("a shared formula never calculated", C2, "", '<f t="shared" ref="C2:C3" si="0">150.5</f>', "formula-without-value"),
    _by_hand("a name's formula never calculated", "Walls!B2", "", '<f>"A"</f>', "formula-without-value"),
    _by_hand("notes never calculated", "Rooms!K2", "", '<f>"x"</f>', "formula-without-value"),
    *(
        _by_hand(f"the error {word}", C2, ' t="e"', f"<f>A1</f><v>{word}</v>", "formula-error", word)
        for word in ("#REF!", "#N/A", "#DIV/0!", "#VALUE!", "#NAME?", "#NUM!", "#NULL!")
    ),
    _by_hand("an error in a price", "Extras!E2", ' t="e"', "<f>A1</f><v>#REF!</v>", "formula-error"),
    _by_hand("an error in a word", "Walls!D2", ' t="e"', "<f>A1</f><v>#N/A</v>", "formula-error"),
    _by_hand("an error in the notes", "Rooms!K2", ' t="e"', "<f>A1</f><v>#N/A</v>", "formula-error"),
    *(
        _by_hand(f"a number cell that holds {text!r}", C2, "", f"<v>{text}</v>", NOT_A_NUMBER)
        for text in ("abc", "12,5", "NaN", "INF", "1e999", "9" * 401, "1_000", "0x1F")
    ),
    _by_hand("a truth value that holds maybe", "Job!B10", ' t="b"', "<v>maybe</v>", NOT_A_NUMBER),
    _by_hand("an ISO date that is none", "Job!B7", ' t="d"', "<v>2025-13-45</v>", "date-not-understood"),
]  # fmt: skip

OTHER_CELLS: list[Faulty] = [
    _cell("an angle in words", "Walls!E2", "square", NOT_A_NUMBER),
    _cell("an angle of 190", "Walls!E2", "190", "number-out-of-range"),
    _cell("a negative angle", "Walls!E2", "−90", "number-out-of-range"),
    _cell("an angle that became a date", "Walls!E2", date(2025, 3, 31), NOT_A_NUMBER),
    _cell("an angle as a percent", "Walls!E2", 0.9, NOT_A_NUMBER, "", "0%"),
    Faulty("an angle as a truth value", put("Walls!E2", value=True), NOT_A_NUMBER, "Walls!E2"),
    _cell("an angle with two readings", "Walls!E2", "1,250", NOT_A_NUMBER, "1.250 or as 1250"),
    _cell("a mistyped corner", "Walls!D2", "inisde", "value-not-in-list", "“inside”"),
    _cell("a corner that is no word of ours", "Walls!D2", "convex", "value-not-in-list", "inside"),
    _cell("a mistyped framing", "Walls!I2", "wod", "value-not-in-list", "“wood”"),
    _cell("a mistyped opening", "Openings!C2", "dor", "value-not-in-list", "“door”"),
    _cell("a mistyped shape", "Rooms!H2", "flatt", "value-not-in-list", "“flat”"),
    _cell("a mistyped yes or no", "Job!B10", "maybe", "value-not-in-list", "yes or no"),
    _cell("a yes or no of a formula's number", "Job!B10", 1, "value-not-in-list"),
    _cell("mistyped units", "Job!B8", "imperal", "value-not-in-list", "“imperial”"),
    _cell("units missing", "Job!B8", None, "value-missing"),
    _cell("a customer missing", "Job!B3", None, "value-missing"),
    _cell("a date written with slashes", "Job!B7", "4/14/2025", "date-not-understood", "YYYY-MM-DD"),
    _cell("a date as a bare number", "Job!B7", 45761, "date-not-understood"),
    _cell("a date long ago", "Job!B7", "1025-04-14", "date-not-understood"),
    _cell("a day that is none", "Job!B7", "2025-02-30", "date-not-understood"),
    _cell("a year of two figures", "Job!B9", "94", "number-out-of-range"),
    _cell("a year with a part", "Job!B9", 1994.5, NOT_A_NUMBER),
    _cell("a share above one without its sign", "Job!B12", "5 percent", "share-not-understood"),
    _cell("a share above all", "Job!B12", "130%", "number-out-of-range"),
    _cell("a share with two readings", "Job!B12", "1,250%", "share-not-understood", "1.250 or as 1250"),
    _cell("a discount with two readings", "Job!B12", "1,250", "share-not-understood", "1.250 or as 1250"),
    _cell("a quantity in words", "Extras!C2", "some", NOT_A_NUMBER),
    _cell("a quantity with two readings", "Extras!C2", "1,500", NOT_A_NUMBER, "1.500 or as 1500"),
    _cell("a quantity of none", "Extras!C2", 0, "number-out-of-range"),
    _cell("a price with two readings", "Extras!E2", "1,250", NOT_A_NUMBER, "1.250 or as 1250"),
    _cell("a price of three decimals", "Extras!E2", 35.005, NOT_A_NUMBER, "decimals"),
    _cell("a price with its currency", "Extras!E2", "$35", NOT_A_NUMBER),
    _cell("a price as a percent", "Extras!E2", 0.35, NOT_A_NUMBER, "", "0%"),
    _cell("a negative price", "Extras!E2", -35, "number-out-of-range"),
    _cell("a description missing", "Extras!B2", None, "value-missing"),
    _cell("coats with a part", "Trim!I2", 2.5, NOT_A_NUMBER),
    _cell("a weight in stone", "Ceiling!E2", "1 st", NOT_A_NUMBER),
    _cell("a customer of many letters", "Job!B3", "x" * 200, "text-too-long"),
    _cell("a room name of many letters", "Trim!J2", "x" * 3000, "text-too-long"),
    _cell("a character that no page carries", "Job!B3", "Ott_xFFFE_oline", "text-not-understood"),
]  # fmt: skip

NAMES: list[Faulty] = [
    _cell("a mistyped room of a wall", "Walls!A2", "Dinning room", "room-unknown", "Dining room"),
    _cell("a mistyped room of an opening", "Openings!A2", "Dinng room", "room-unknown", "Dining room"),
    _cell("a mistyped room of trim", "Trim!A2", "Dinning room", "room-unknown", "“Dining room”"),
    _cell("a mistyped room of an extra", "Extras!A2", "Dinning room", "room-unknown", "“Dining room”"),
    _cell("a room that isn't there", "Trim!A4", "Attic", "room-unknown", "Dining room, Hall"),
    _cell("no room", "Walls!A2", None, "value-missing", "room"),
    _cell("an unknown wall of an opening", "Openings!B2", "E", "wall-unknown", "A, B, C, D"),
    _cell("an unknown wall of trim", "Trim!B4", "A;E", "wall-unknown"),
    _cell("an unknown wall of the joists", "Rooms!E2", "Z", "wall-unknown"),
    _cell("a mistyped assembly", "Trim!C2", "Three-peice crown", "assembly-unknown", "“Three-piece crown”"),
    _cell("an assembly with a number too many", "Trim!C4", "Plain crown no. 2", "assembly-unknown", "“Plain crown”"),
    _cell("a mistyped casing", "Openings!H2", "Csing", "assembly-unknown", "“Casing”"),
    _cell("an assembly missing", "Trim!C2", None, "value-missing"),
    _cell("one wall twice", "Walls!B4", "a ", "wall-duplicate"),
    Faulty("one room twice", _row("Rooms", 4, "DINING room", "8'"), "room-duplicate", "Rooms!A4"),
    Faulty("one item twice", _row("Job", 14, "Customer", "B. Other"), "item-duplicate", "Job!A14", "rows 3 and 14"),
    Faulty("one trim twice", _row("Trim", 5, "Hall", "A", "plain CROWN"), "trim-duplicate", "Trim!C5"),
    _cell("a wall called all", "Walls!B4", "ALL", "text-not-understood"),
]  # fmt: skip

SHEETS: list[Faulty] = [
    _cell("a mistyped heading", "Walls!C1", "Lenght", "heading-missing", "Did you mean Length?"),
    _cell("another mistyped heading", "Walls!D1", "Conrer", "heading-missing", "Did you mean Corner?"),
    _cell("a mistyped heading of the trim", "Trim!C1", "Assemby", "heading-missing", "Did you mean Assembly?"),
    Faulty("a heading missing", put("Walls!C1", None), "heading-missing", "Walls!A1", "Length"),
    Faulty("a heading of another language", put("Walls!C1", "Länge"), "heading-missing", "Walls!A1", "Length"),
    _cell("a heading twice", "Walls!J1", "Wall length", "heading-duplicate"),
    Faulty("headings in row 11", by_tab("Walls", lambda sheet: sheet.insert_rows(1, 10)), "heading-missing", "Walls!A1", "first 10 rows"),
    Faulty("a mistyped item", put("Job!A3", "Custmer"), "value-missing", "Job!A3"),
    Faulty("an item missing", by_tab("Job", lambda sheet: sheet.delete_rows(3)), "value-missing", "Job!A13"),
    *(
        Faulty(f"the tab {name} missing", _without(name), "tab-missing", f"{name}!A1")
        for name in ("Job", "Rooms", "Walls", "Trim")
    ),
    Faulty("a mistyped tab", by_tab("Walls", lambda sheet: sheet.__setattr__("title", "Wals")), "tab-missing", "Walls!A1", "Did you mean the tab Wals?"),
    Faulty("two tabs for one", by_book(lambda book: book.create_sheet("Wall").append(["x"])), "tab-unknown", "Wall!A1"),
    Faulty("a later layout", by_book(lambda book: book.custom_doc_props.append(StringProperty(name="Layout version", value="7"))), "layout-unknown", ""),
    Faulty("merged lengths", by_tab("Walls", lambda sheet: sheet.merge_cells("C2:C3")), "merged-cells", C2, "C2:C3"),
    Faulty("merged rooms", by_tab("Walls", lambda sheet: sheet.merge_cells("A2:A5")), "merged-cells", "Walls!A2", "A2:A5"),
    Faulty("merged across", by_tab("Walls", lambda sheet: sheet.merge_cells("C2:D2")), "merged-cells", C2, "C2:D2"),
    Faulty("a merged item", by_tab("Job", lambda sheet: sheet.merge_cells("B3:B4")), "merged-cells", "Job!B3"),
    Faulty("a merged length in XML", in_sheet("Walls", "</sheetData>", '</sheetData><mergeCells count="1"><mergeCell ref="C2:C3"/></mergeCells>'), "merged-cells", C2),
    Faulty("no rows of trim", by_tab("Trim", lambda sheet: sheet.delete_rows(2, 3)), "value-missing", "Trim!A1"),
    Faulty("no walls of a room", by_tab("Walls", lambda sheet: sheet.delete_rows(6, 4)), "room-without-walls", "Rooms!A3"),
]  # fmt: skip

ROOMS: list[Faulty] = [
    Faulty("a wall a foot short", put("Walls!C4", "11' 6 1/2\""), "room-does-not-close", "Walls!A2", "wall C"),
    Faulty("a corner not square", put("Walls!E4", "60"), "corner-angles-do-not-add-up", "Walls!A2", "330"),
    _cell("an opening past its wall", "Openings!D2", "12'", "opening-outside-wall"),
    _cell("a stud past its wall", "Walls!F2", "13'", "stud-outside-wall"),
    _cell("a sloped ceiling", "Rooms!H2", "sloped", "ceiling-not-flat"),
    Faulty("openings that overlap", _row("Openings", 3, "Dining room", "A", "door", "4'", '32"', '80"'), "openings-overlap", "Openings!D3"),
    Faulty("a wall of two faults", together(put(C2, "12' 14\""), put("Walls!C3", None), put("Walls!C3", "10' 6\"")), NOT_A_LENGTH, C2),
]  # fmt: skip

FAULTY = [*LENGTH_CELLS, *STORED_CELLS, *OTHER_CELLS, *NAMES, *SHEETS, *ROOMS]
