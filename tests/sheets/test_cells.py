"""How a stored number is spelled: as its cell shows it, and on the marks of a tape."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.problems import Code
from service.sheets.fault import Fault
from service.sheets.reader import read_price_list, read_room_sheet
from service.sheets.shown import is_percent, percent_text, words_of
from service.sheets.tape import TOLERANCE, on_tape
from tests.sheets.workbooks import JOB, WALLS, found, room_book, saved

if TYPE_CHECKING:
    from service.sheets.draft import SheetReading


@pytest.mark.parametrize(
    ("number_format", "words"),
    [
        ("General", ("", "")), ("0.00", ("", "")), ("# ?/?", ("", "")), ("# ?/16", ("", "")), ("#,##0.00_);(#,##0.00)", ("", "")),
        ('0.0" mm"', ("", "mm")), ('0.0\\"', ("", '"')), ("0'", ("", "'")), ('0 "cm"', ("", "cm")), ("0\\ \\m", ("", "m")), ('"about "0', ("about", "")),
        ('General" in"', ("", "in")), ('# ?/?"in"', ("", "in")), ('"$"#,##0.00', ("$", "")), ("[$€-407]#,##0.00", ("€", "")), ("[$-409]0.0", ("", "")),
        ("[Red]0.0", ("", "")), ('[>100]0" mm";0" in"', ("", "mm")), ("0.00E+00", ("", "")), ("* 0.0", ("", "")), ("@", ("", "")), ("", ("", "")),
        ('"unclosed', ("", "")), ('0"unclosed', ("", "unclosed")),
    ],
)  # fmt: skip
def test_the_words_of_a_number_format(number_format: str, words: tuple[str, str]) -> None:
    """Quoted, escaped and bare letters around the figures are words; colors, languages, padding, other sections are none.

    Source: ECMA-376 Part 1, 18.8.31 (number formats).
    """
    assert words_of(number_format) == words


@given(st.text(max_size=40))
def test_any_number_format_has_words(number_format: str) -> None:
    """No number format makes the reader fall over."""
    before, after = words_of(number_format)
    assert before.strip() == before
    assert after.strip() == after
    assert is_percent(number_format) in {True, False}


@pytest.mark.parametrize(
    ("number_format", "is_share"),
    [("0%", True), ("0.0%", True), ("0.00%;[Red]-0.00%", True), ('0" %"', False), ("0\\%", False), ("0;0%", False), ("General", False)],
)  # fmt: skip
def test_a_percent_format_is_told_from_a_percent_sign_in_words(number_format: str, *, is_share: bool) -> None:
    """Only a sign that multiplies by a hundred makes a percent cell: not a quoted or escaped one, nor another section's."""
    assert is_percent(number_format) is is_share


@given(st.integers(0, 10**6))
def test_a_share_is_shown_a_hundredfold(thousandths: int) -> None:
    """A percent cell's text is its value times a hundred, whatever the binary noise of the value."""
    assert Fraction(percent_text(thousandths / 1000).removesuffix("%")) == Fraction(thousandths, 10)


@given(st.integers(0, 64 * 2000), st.fractions(-TOLERANCE, TOLERANCE))
def test_noise_within_the_tolerance_snaps(marks: int, noise: Fraction) -> None:
    """A decimal within 1/2000" of a mark is that mark."""
    value = max(Fraction(0), Fraction(marks, 64) + noise)
    text = f"{float(value):.9f}"
    if abs(Fraction(text) - Fraction(marks, 64)) <= TOLERANCE:
        assert Fraction(str(on_tape(text))) == Fraction(marks, 64)


@given(st.integers(0, 2_000_000_000))
def test_a_decimal_is_on_a_mark_or_between_its_neighbors(millionths: int) -> None:
    """Farther from both marks than the tolerance, a decimal is a fault; else it is the nearest mark. Oracle: the definition."""
    value = Fraction(millionths, 10**6)
    made = on_tape(f"{millionths // 10**6}.{millionths % 10**6:06d}")
    below = value % Fraction(1, 64)
    if isinstance(made, Fault):
        assert made.code is Code.LENGTH_BETWEEN_MARKS
        assert TOLERANCE < below < Fraction(1, 64) - TOLERANCE
    else:
        assert abs(Fraction(made) - value) <= TOLERANCE
        assert Fraction(made) * 64 % 1 == 0


def test_both_neighbors_are_named() -> None:
    """The fault of 12.54 names 12 17/32 and 12 35/64, and how to keep it as it is."""
    fault = on_tape("12.54")
    assert isinstance(fault, Fault)
    assert fault.detail == "It lies between two marks of a tape, 12 17/32″ and 12 35/64″."
    assert '12.54"' in fault.help


def rooms_of(reading: SheetReading) -> Any:
    """Rooms of the document that was read."""
    assert reading.document is not None
    return reading.document["rooms"]


def sheet_with(length: object, units: str = "imperial", number_format: str = "") -> bytes:
    """A sound little sheet with one wall's length changed."""
    job = [[item, units if item == "Units" else value] for item, value in JOB]
    book = room_book(Job=job, Walls=[WALLS[0], ["Kitchen", "A", length, "inside"]])
    book["Walls"]["C2"].number_format = number_format or "General"
    return saved(book)


@pytest.mark.parametrize(
    ("length", "units", "spelled"),
    [(150.3, "metric", "150.3"), ('150.3"', "imperial", '150.3"'), ("12.54'", "imperial", "12.54'"), (3822.7000000001, "metric", "3822.7"),
     (150.5, "Imperial ", "150.5"), (150.3, "furlongs", "150.3")],
)  # fmt: skip
def test_only_bare_inches_are_put_on_the_tape(length: object, units: str, spelled: str) -> None:
    """Millimeters, feet and inches with their mark stay as typed; unknown units are the units' own fault."""
    reading = read_room_sheet(sheet_with(length, units))
    assert reading.problems == ()
    assert rooms_of(reading)[0]["walls"][0]["length"] == spelled


def test_sizes_of_a_price_list_are_as_the_maker_says() -> None:
    """A nail of 0.072" shank or a board of 0.6875" is no measured length: decimals of a price list stay."""
    supplies = [["Code", "Shank diameter"], ["nail", 0.072]]
    firm = [["Units", "imperial"], ["Kerf", 0.098]]
    book = room_book(Job=None, Rooms=None, Walls=None, Trim=None, Firm=firm, Supplies=supplies)
    document = read_price_list(saved(book)).document
    assert document is not None
    assert document["supplies"] == [{"code": "nail", "shank_diameter": "0.072"}]
    assert document["firm"] == {"units": "imperial", "kerf": "0.098"}


@pytest.mark.parametrize(
    ("value", "number_format", "spelled"),
    [(3822.7, '0.0" mm"', "3822.7 mm"), (150.5, '0.0\\"', '150.5 "'), (1.5, "0%", "150%"), (12, "[$€-407]0", "€ 12"), (4.18, '0.00" yd"', "4.18 yd")],
)  # fmt: skip
def test_a_length_is_read_as_its_cell_shows_it(value: float, number_format: str, spelled: str) -> None:
    """The words of the number format are part of the length, so that 3822.7 shown as millimeters is never read as inches."""
    reading = read_room_sheet(sheet_with(value, number_format=number_format))
    assert rooms_of(reading)[0]["walls"][0]["length"] == spelled


def test_a_weight_shown_in_kilograms_is_in_kilograms() -> None:
    """A measure in the format of a weight counts; other words beside a number don't."""
    rows = [["Room", "Feature", "Weight"], ["Kitchen", "fan", 9], ["Kitchen", "fan", 9], ["Kitchen", "fan", 9]]
    book = room_book(Ceiling=rows)
    for address, form in (("C2", '0" kg"'), ("C3", '0" approx"'), ("C4", "0")):
        book["Ceiling"][address].number_format = form
    reading = read_room_sheet(saved(book))
    features = rooms_of(reading)[0]["ceiling"]
    assert [feature["weight"] for feature in features] == ["9 kg", "9", "9"]


def test_hidden_columns_are_read_and_told() -> None:
    """A hidden column that holds something is read, and a note says so at its heading; a hidden blank one is silent."""
    book = room_book()
    book["Walls"].column_dimensions["E"].hidden = True
    book["Rooms"].column_dimensions["C"].hidden = True
    reading = read_room_sheet(saved(book))
    assert found(reading) == {("hidden-columns-read", "note", "Walls!E1")}
