"""A room sheet of our own invention, filled as badly as a sheet can be: thirty faults, no two alike."""

from __future__ import annotations

import io
from datetime import date

import openpyxl

from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.template import filled_book
from service.units import Units
from tests.sheets.workbooks import saved

ROWS: dict[str, list[dict[str, str]]] = {
    "Job": [
        {
            "Job name": "Two rooms", "Customer": "Ottilie Marsh", "Site address": "3 Nowhere Row (invented)",
            "Measured on": "2025-04-14", "Units": "imperial", "Year built": "1994", "Occupied": "no", "Discount": "5%",
        }
    ],
    "Rooms": [
        {"Room": "Kitchen", "Ceiling height": "8' 1\"", "Wall covering": "3/8", "Joists parallel to": "B",
         "First joist": '4"', "Joist spacing": '16"', "Ceiling shape": "flat", "Access": "normal"},
        {"Room": "Hall", "Ceiling height": "8' 1\"", "Joists parallel to": "A", "First joist": '6"', "Ceiling finish": "smooth"},
    ],
    "Walls": [
        {"Room": room, "Wall": wall, "Length": length, "Corner": "inside", "Angle": "90", "First stud": '14 1/2"',
         "Stud spacing": '16"', "Framing": "wood"}
        for room, lengths in (("Kitchen", ("12' 6\"", "10'", "12' 6\"", "10'")), ("Hall", ("9'", "4' 6\"", "9'", "4' 6\"")))
        for wall, length in zip("ABCD", lengths, strict=True)
    ],
    "Openings": [
        {"Room": "Kitchen", "Wall": "A", "Opening": "door", "From left": "3'", "Width": '32"', "Height": '80"'},
        {"Room": "Hall", "Wall": "C", "Opening": "window", "From left": "2'", "Width": '30"', "Height": '40"', "Sill height": '36"'},
    ],
    "Trim": [
        {"Room": "Kitchen", "Walls": "all", "Assembly": "Three-piece crown", "Inside joint": "cope", "Finish": "paint", "Coats": "2"},
        {"Room": "Hall", "Walls": "A;C", "Assembly": "Plain crown", "Ends": "return", "Remove existing": "no"},
    ],
    "Ceiling": [
        {"Room": "Kitchen", "Feature": "light", "Item": "Ceiling light by others", "Weight": "4", "Hangs down": '10"',
         "Box rated for fan": "no"},
    ],
    "Extras": [{"Description": "Move furniture", "Quantity": "1", "Unit": "each", "Unit price": "50.00", "Kind": "allowance"}],
}  # fmt: skip

MISTAKES: dict[str, object] = {
    "Customer": None,
    "Site address": "#REF!",
    "Measured on": "14/31/2025",
    "Year built": "nineteen sixty",
    "Occupied": "perhaps",
    "Discount": "130%",
    "Rooms!B2": True,
    "Rooms!C2": date(2025, 3, 8),
    "Rooms!E2": "Z",
    "Rooms!F2": "four inches",
    "Rooms!H2": "vaultd",
    "Rooms!J2": "by rope",
    "Walls!C2": "twelve feet",
    "Walls!D2": "insde",
    "Walls!E3": "square",
    "Walls!F3": "=12+2.5",
    "Walls!C4": "12' 14\"",
    "Walls!B4": "B",
    "Walls!E5": "200",
    "Walls!C7": "-4' 6\"",
    "Walls!I6": "cheese",
    "Walls!A9": "Hal",
    "Openings!B2": "Q",
    "Openings!C3": "portal",
    "Trim!C2": "Three-peice crown",
    "Trim!D2": "dovetail",
    "Trim!I2": "two",
    "Ceiling!B2": "chandelier",
    "Ceiling!E2": "heavy",
    "Extras!E2": "12.345",
    "Extras!F2": "bribe",
}
"""By cell, or by item of the tab Job, what is typed in place of the right value."""


def right_sheet() -> bytes:
    """The sheet as it should have been filled."""
    return filled_book(ROOM_SHEET, Units.IMPERIAL, ROWS)


def bad_sheet() -> bytes:
    """The same sheet with every mistake in it."""
    book = openpyxl.load_workbook(io.BytesIO(right_sheet()))
    items = {str(row[0].value).removesuffix(" *"): row[1].coordinate for row in book["Job"].iter_rows()}
    for place, value in MISTAKES.items():
        tab, _, address = place.rpartition("!")
        cell = book[tab or "Job"][address if tab else items[place]]
        cell.value = value
        if isinstance(value, date):
            cell.number_format = "m/d/yyyy"
    return saved(book)
