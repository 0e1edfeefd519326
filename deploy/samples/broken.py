"""A room sheet with more than thirty faults, to try the checks on."""

from __future__ import annotations

import io
from datetime import date

import openpyxl

from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.packing import packed
from service.sheets.template import filled_book
from service.units import Units

Row = dict[str, str]
KITCHEN = "Kitchen"


def rows() -> dict[str, list[Row]]:
    """What is typed as text; the customer is missing."""
    return {
        "Job": [
            {
                "Job name": "Try the checks", "Site address": "3 Nowhere Row, Upper Marlbeck (invented)",
                "Measured on": "14/31/2025", "Units": "imperial", "Year built": "nineteen sixty", "Discount": "130%",
            }
        ],
        "Rooms": [
            {"Room": KITCHEN, "Ceiling height": "8'", "Joists parallel to": "Z", "First joist": '14"'},
            {"Room": "kitchen", "Ceiling height": "8'", "Ceiling shape": "vaulted"},
            {"Room": "Hall", "Access": "by rope"},
        ],
        "Walls": [
            {"Room": KITCHEN, "Wall": "A", "Length": "twelve feet", "Corner": "inside", "First stud": '15 1/4"'},
            {"Room": KITCHEN, "Wall": "B", "Length": "-5'", "Corner": "insde"},
            {"Room": KITCHEN, "Wall": "C", "Length": "10' 12'", "Corner": "inside", "Angle": "square"},
            {"Room": KITCHEN, "Wall": "C", "Length": "12'", "Corner": "inside", "Angle": "200"},
            {"Room": "Kichen", "Wall": "E", "Length": "9' 2\"", "Corner": "inside"},
            {"Room": "Hall", "Wall": "A", "Corner": "inside"},
            {"Room": "Hall", "Wall": "B", "Length": "10'", "Corner": "inside", "Studs at": '14";20"'},
            {"Room": "Hall", "Wall": "C", "Length": "4'", "Corner": "inside", "Studs at": '16";80"'},
            {"Room": "Hall", "Wall": "D", "Length": "10'", "Corner": "inside", "Framing": "cheese"},
        ],
        "Openings": [
            {"Room": "Hall", "Wall": "B", "Opening": "door", "From left": "9'", "Width": '32"', "Height": '80"'},
            {"Room": "Hall", "Wall": "D", "Opening": "portal", "From left": "1'", "Width": '32"', "Height": '80"'},
            {"Room": "Hall", "Wall": "Q", "Opening": "window", "From left": "1'", "Width": '32"', "Height": '80"'},
        ],
        "Trim": [
            {"Room": "Hall", "Walls": "all", "Assembly": "Plain crown", "Inside joint": "dovetail"},
            {"Room": "Hall", "Walls": "A;B", "Assembly": "Plain crown", "Coats": "two"},
            {"Room": "Hall", "Walls": "X;Y", "Assembly": "Base and shoe", "Remove existing": "maybe"},
            {"Room": "Attic", "Walls": "all", "Assembly": "Base and shoe"},
        ],
        "Ceiling": [{"Room": "Hall", "Feature": "chandelier", "Box rated for fan": "perhaps", "Weight": "heavy"}],
        "Extras": [
            {"Description": "Mystery", "Quantity": "some", "Unit": "each", "Unit price": "12.345", "Kind": "bribe"}
        ],
    }  # fmt: skip


def workbook() -> bytes:
    """Bytes of the broken sheet: the rows above, then what only a spreadsheet program can spoil."""
    book = openpyxl.load_workbook(io.BytesIO(filled_book(ROOM_SHEET, Units.IMPERIAL, rows())))
    rooms, walls, openings = book["Rooms"], book["Walls"], book["Openings"]
    rooms["B4"] = date(2025, 3, 8)
    rooms["B4"].number_format = "m/d/yyyy"
    rooms["D2"] = True
    walls["F3"] = "#REF!"
    walls["F5"] = "=12+3.25"
    walls["I7"] = "wood"
    walls.merge_cells("I7:I8")
    walls["L1"], walls["L2"] = "Color", "green"
    walls.row_dimensions[9].hidden = True
    openings["D5"] = "#DIV/0!"
    book["Job"]["A20"], book["Job"]["B20"] = "Custmer", "Nobody"
    book.create_sheet("Scribbles")["A1"] = "not read"
    return packed(book, "Broken room sheet")
