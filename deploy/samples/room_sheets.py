"""The sample room sheets: invented customers and houses, each sheet showing something."""

from __future__ import annotations

from samples import ten_rooms
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.template import filled_book
from service.units import Units

Row = dict[str, str]


def workbooks() -> dict[str, bytes]:
    """Bytes by file name."""
    return {
        "rectangle.xlsx": filled_book(ROOM_SHEET, Units.IMPERIAL, rectangle()),
        "l_shaped.xlsx": filled_book(ROOM_SHEET, Units.IMPERIAL, l_shaped()),
        "bay.xlsx": filled_book(ROOM_SHEET, Units.IMPERIAL, bay()),
        "metric.xlsx": filled_book(ROOM_SHEET, Units.METRIC, metric()),
        "open_plan.xlsx": filled_book(ROOM_SHEET, Units.IMPERIAL, open_plan()),
        "ten_rooms.xlsx": filled_book(ROOM_SHEET, Units.IMPERIAL, ten_rooms.rows()),
    }


def _walls(room: str, *walls: tuple[str, ...]) -> list[Row]:
    """Rows of (wall, length, corner, first stud, angle), the last two as far as given."""
    headings = ("Wall", "Length", "Corner", "First stud", "Angle")
    return [{"Room": room, **dict(zip(headings, wall, strict=False))} for wall in walls]


def _job(name: str, customer: str, **items: str) -> list[Row]:
    return [
        {
            "Job name": name, "Customer": customer, "Customer email": "customer@example.org",
            "Site address": "12 Osier Lane, Upper Marlbeck (invented)", "Measured by": "Tamsin Okoro-Hale",
            "Measured on": "2025-04-14", "Units": "imperial", "Price list": "standard",
        }
        | {key.replace("_", " ").capitalize(): value for key, value in items.items()}
    ]  # fmt: skip


def rectangle() -> dict[str, list[Row]]:
    """One plain room, 12' × 14'."""
    return {
        "Job": _job("Dining room crown and base", "Idris Vantongeren", year_built="1994", occupied="no"),
        "Rooms": [
            {"Room": "Dining room", "Ceiling height": "8'", "Joists parallel to": "B", "First joist": '4"', "Joist spacing": '16"'}
        ],
        "Walls": _walls(
            "Dining room",
            ("A", "14'", "inside", '15 1/4"'), ("B", "12'", "inside", '15 1/4"'),
            ("C", "14'", "inside", '15 1/4"'), ("D", "12'", "inside", '15 1/4"'),
        ),
        "Trim": [
            {"Room": "Dining room", "Walls": "all", "Assembly": "Three-piece crown"},
            {"Room": "Dining room", "Walls": "all", "Assembly": "Base and shoe"},
        ],
    }  # fmt: skip


def l_shaped() -> dict[str, list[Row]]:
    """Six walls, one outside corner, joists along A and C with none under the board, a wall to be spliced."""
    room = "Living room"
    return {
        "Job": _job(
            "Living room build-up", "Petra Lindqvist-Amari", year_built="1962", occupied="yes", discount="2%",
            customer_phone="555-0177", notes="Invented house. Dog in the yard; ring first.",
        ),
        "Rooms": [
            {
                "Room": room, "Ceiling height": "8' 10 1/2\"", "Wall covering": '1/2"', "Ceiling covering": '5/8"',
                "Joists parallel to": "A", "First joist": '8"', "Joist spacing": '16"',
                "Ceiling shape": "flat", "Ceiling finish": "smooth", "Access": "normal",
            }
        ],
        "Walls": _walls(
            room,
            ("A", "22' 4 1/2\"", "inside", '15 1/4"'), ("B", "9' 2 1/4\"", "inside", '14 1/2"'),
            ("C", "8' 1 1/2\"", "outside", '12"'), ("D", "6' 3 3/4\"", "inside", '16"'),
            ("E", "14' 3\"", "inside", '15 1/4"'), ("F", "15' 6\"", "inside", '13 3/4"'),
        ),
        "Openings": [
            {"Room": room, "Wall": "F", "Opening": "door", "From left": "3' 4\"", "Width": '32"', "Height": '80"',
             "Casing": "Casing", "Sides": "1"},
            {"Room": room, "Wall": "A", "Opening": "window", "From left": "6' 2\"", "Width": '48"', "Height": '84"',
             "Sill height": '30"', "Casing": "Casing", "Style": "picture frame", "Sides": "1"},
        ],
        "Trim": [
            {"Room": room, "Walls": "all", "Assembly": "Three-piece crown", "Finish": "paint", "Coats": "2"},
            {"Room": room, "Walls": "all", "Assembly": "Base, cap and shoe", "Remove existing": "yes", "Finish": "paint",
             "Coats": "2"},
        ],
        "Extras": [
            {"Room": room, "Description": "Move and cover furniture", "Quantity": "1", "Unit": "each",
             "Unit price": "120.00", "Kind": "labor"},
            {"Room": room, "Description": "Patch old wire holes, up to four", "Quantity": "4", "Unit": "each",
             "Unit price": "35.00", "Kind": "option"},
        ],
    }  # fmt: skip


def bay() -> dict[str, list[Row]]:
    """A bedroom with a bay: two outside and two inside corners that are not square, a chair rail."""
    room = "Front bedroom"
    return {
        "Job": _job("Bedroom with bay", "Oswin Featherby", year_built="1928", occupied="yes"),
        "Rooms": [{"Room": room, "Ceiling height": "9' 2\"", "Wall covering": '3/4"', "Ceiling covering": '3/4"',
                   "Ceiling finish": "plaster", "Joists parallel to": "E", "First joist": '11"'}],
        "Walls": _walls(
            room,
            ("A", '40"', "outside", '12"', "135"), ("B1", '34"', "inside", '10"', "135"),
            ("B2", '60"', "inside", '14"', "135"), ("B3", '34"', "outside", '10"', "135"),
            ("C", '40"', "inside", '12"'), ("D", "13' 2\"", "inside", '15"'),
            ("E", "15' 8 1/16\"", "inside", '13"'), ("F", "13' 2\"", "inside", '15"'),
        ),
        "Trim": [
            {"Room": room, "Walls": "all", "Assembly": "Plain crown", "Inside joint": "miter"},
            {"Room": room, "Walls": "D;E;F", "Assembly": "Chair rail", "Height": '34"', "Ends": "return"},
        ],
    }  # fmt: skip


def metric() -> dict[str, list[Row]]:
    """One room in millimeters, priced from an imperial list."""
    room = "Study"
    return {
        "Job": _job("Study crown", "Marguerite Oyelaran", units="metric", year_built="2006", occupied="no"),
        "Rooms": [{"Room": room, "Ceiling height": "2440", "Wall covering": "12.5", "Ceiling covering": "12.5",
                   "Joists parallel to": "A", "First joist": "300", "Joist spacing": "400"}],
        "Walls": [
            row | {"Stud spacing": "400"}
            for row in _walls(
                room,
                ("A", "4200", "inside", "380"), ("B", "3600", "inside", "380"),
                ("C", "4.2 m", "inside", "380"), ("D", "360 cm", "inside", "380"),
            )
        ],
        "Trim": [
            {"Room": room, "Walls": "all", "Assembly": "Three-piece crown"},
            {"Room": room, "Walls": "all", "Assembly": "Base and shoe"},
        ],
    }  # fmt: skip


def open_plan() -> dict[str, list[Row]]:
    """A great room with three outside corners and an island: a wrapped column, walked the other way round."""
    room, column = "Great room", "Column"
    return {
        "Job": _job("Great room and column", "The Harrow-Dunmore household", year_built="2015", occupied="yes"),
        "Rooms": [
            {"Room": room, "Ceiling height": "10'", "Joists parallel to": "A", "First joist": '16"'},
            {"Room": column, "Ceiling height": "10'", "Notes": "Wrapped column in the middle of the great room."},
        ],
        "Walls": [
            *_walls(
                room,
                ("A", "30'", "inside", '15 1/4"'), ("B", "12'", "inside", '15 1/4"'),
                ("C", "6'", "outside", '15 1/4"'), ("D", "8'", "outside", '15 1/4"'),
                ("E", "6'", "inside", '15 1/4"'), ("F", "4'", "inside", '15 1/4"'),
                ("G", "18'", "outside", '15 1/4"'), ("H", "5'", "inside", '15 1/4"'),
                ("I", "12'", "inside", '15 1/4"'), ("J", "29'", "inside", '15 1/4"'),
            ),
            *_walls(
                column,
                ("N", '16"', "outside"), ("W", '16"', "outside"), ("S", '16"', "outside"), ("E", '16"', "outside"),
            ),
        ],
        "Trim": [
            {"Room": "all", "Walls": "all", "Assembly": "Three-piece crown"},
            {"Room": room, "Walls": "A;B;J", "Assembly": "Base and shoe"},
        ],
    }  # fmt: skip
