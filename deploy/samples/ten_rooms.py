"""A whole invented house: ten rooms, every assembly of the sample price list, openings of every kind."""

from __future__ import annotations

Row = dict[str, str]

PARLOR, DINING, CLOSET, HALL, STAIRS = "Front parlor", "Dining room", "Linen closet", "Hall", "Stair hall"
LIVING, KITCHEN, BEDROOM, BATH, STUDY = "Living room", "Kitchen", "Back bedroom", "Bath", "Study"
CASING, BUTTED, ON_BLOCKS, WITH_STOOL = (
    "Casing", "Casing, butted head", "Casing on plinth blocks", "Window casing with stool",
)  # fmt: skip
PICTURE, STOOL = "picture frame", "stool and apron"

ROOM_HEADINGS = ("Room", "Ceiling height", "Joists parallel to", "First joist", "Access", "Notes")
ROOMS = (
    (PARLOR, "9'", "E", '3"', "normal", "Bay on the street side."),
    (DINING, "9'", "G", '3"', "normal", "Old plaster over the breast; no flue behind the trim."),
    (CLOSET, "8'", "A", '6"', "normal", ""),
    (HALL, "8'", "B", '10"', "normal", "Five doors; keep the way to the bath free."),
    (STAIRS, "9'", "B", '12"', "over stairs", "Open at the stair; the trim ends at both newel walls."),
    (LIVING, "9'", "B", '3"', "normal", "Wall A is longer than the longest board."),
    (KITCHEN, "8'", "A", '8"', "built-in", "Cabinets stay; base only where wall shows."),
    (BEDROOM, "8'", "A", '10"', "normal", ""),
    (BATH, "8'", "B", '6"', "over tub", "Tub under the window on wall B."),
    (STUDY, "8' 6\"", "A", '3"', "normal", ""),
)

# wall, length, corner at its right, first stud, angle
INSIDE, OUTSIDE = "inside", "outside"
WALL_HEADINGS = ("Wall", "Length", "Corner", "First stud", "Angle")
WALLS = {
    PARLOR: (
        ("A", "3' 6\"", OUTSIDE, '12"', "135"), ("B1", "3'", INSIDE, '10"', "135"),
        ("B2", "6'", INSIDE, '8"', "135"), ("B3", "3'", OUTSIDE, '10"', "135"),
        ("C", "3' 6\"", INSIDE, '14"'), ("D", "14'", INSIDE, '15 1/4"'),
        ("E", "17' 2 15/16\"", INSIDE, '15 1/4"'), ("F", "14'", INSIDE, '15 1/4"'),
    ),
    DINING: (
        ("A", "4' 2\"", INSIDE, '15 1/4"'), ("B", "1' 6\"", OUTSIDE, '9"'), ("C", "6' 4\"", OUTSIDE, '14"'),
        ("D", "1' 6\"", INSIDE, '9"'), ("E", "4' 2\"", INSIDE, '15 1/4"'), ("F", "14'", INSIDE, '15 1/4"'),
        ("G", "14' 8\"", INSIDE, '15 1/4"'), ("H", "14'", INSIDE, '15 1/4"'),
    ),
    CLOSET: (
        ("A", "6'", INSIDE, '15 1/4"'), ("B", "2' 6\"", INSIDE, '14"'),
        ("C", "6'", INSIDE, '15 1/4"'), ("D", "2' 6\"", INSIDE, '14"'),
    ),
    HALL: (
        ("A", "18'", INSIDE, '12"'), ("B", "4' 2\"", INSIDE, '15 1/4"'),
        ("C", "18'", INSIDE, '12"'), ("D", "4' 2\"", INSIDE, '15 1/4"'),
    ),
    STAIRS: (
        ("A", "9'", INSIDE, '15 1/4"'), ("B", "10' 6\"", INSIDE, '15 1/4"'), ("C", "9'", "open", '15 1/4"'),
    ),
    LIVING: (
        ("A", "20' 6\"", INSIDE, '15 1/4"'), ("B", "9'", INSIDE, '15 1/4"'), ("C", "8'", OUTSIDE, '15 1/4"'),
        ("D", "7'", INSIDE, '15 1/4"'), ("E", "12' 6\"", INSIDE, '15 1/4"'), ("F", "16'", INSIDE, '15 1/4"'),
    ),
    KITCHEN: (
        ("A", "12'", INSIDE, '15 1/4"'), ("B", "11'", INSIDE, '15 1/4"'),
        ("C", "12'", INSIDE, '15 1/4"'), ("D", "11'", INSIDE, '15 1/4"'),
    ),
    BEDROOM: (
        ("A", "14'", INSIDE, '15 1/4"'), ("B", "12'", INSIDE, '15 1/4"'),
        ("C", "14'", INSIDE, '15 1/4"'), ("D", "12'", INSIDE, '15 1/4"'),
    ),
    BATH: (
        ("A", "8'", INSIDE, '15 1/4"'), ("B", "5' 8\"", INSIDE, '10"'),
        ("C", "8'", INSIDE, '15 1/4"'), ("D", "5' 8\"", INSIDE, '15 1/4"'),
    ),
    STUDY: (
        ("A", "12'", INSIDE, '15 1/4"'), ("B", "10'", INSIDE, '15 1/4"'),
        ("C", "12'", INSIDE, '15 1/4"'), ("D", "10'", INSIDE, '15 1/4"'),
    ),
}  # fmt: skip

# wall, opening, from left, width, height, sill height, casing, style, sides
OPENING_HEADINGS = (
    "Wall",
    "Opening",
    "From left",
    "Width",
    "Height",
    "Sill height",
    "Casing",
    "Style",
    "Sides",
    "Notes",
)
OPENINGS = {
    PARLOR: (
        ("B1", "window", '7"', '22"', '82"', '26"', WITH_STOOL, STOOL, "1"),
        ("B2", "window", '12"', '48"', '82"', '26"', WITH_STOOL, STOOL, "1"),
        ("B3", "window", '7"', '22"', '82"', '26"', WITH_STOOL, STOOL, "1"),
        ("E", "cased opening", "5' 6\"", "5'", '84"', "", CASING, "", "2", "To the living room; both sides cased."),
    ),
    DINING: (
        ("C", "fireplace", '18"', '40"', '42"', "", "", "", "", "Surround stays."),
        ("F", "door", "5'", '32"', '80"', "", ON_BLOCKS, "", "1"),
        ("H", "window", "3' 6\"", '36"', '82"', '30"', WITH_STOOL, STOOL, "1"),
        ("H", "window", "8' 6\"", '36"', '82"', '30"', WITH_STOOL, STOOL, "1"),
    ),
    CLOSET: (("C", "door", '22"', '28"', '80"', "", CASING, "", "1"),),
    HALL: (
        ("A", "door", '22"', '30"', '80"', "", BUTTED, "", "1"),
        ("A", "door", "7' 9\"", '30"', '80"', "", BUTTED, "", "1"),
        ("A", "door", "13' 8\"", '30"', '80"', "", BUTTED, "", "1"),
        ("C", "door", "3'", '32"', '80"', "", BUTTED, "", "1"),
        ("C", "door", "11' 8\"", '32"', '80"', "", BUTTED, "", "1"),
    ),
    STAIRS: (("B", "window", "4'", '30"', '84"', '40"', CASING, PICTURE, "1"),),
    LIVING: (
        ("A", "window", "3' 6\"", '60"', '84"', '28"', CASING, PICTURE, "1"),
        ("A", "window", "12'", '60"', '84"', '28"', CASING, PICTURE, "1"),
        ("F", "cased opening", "5' 6\"", "5'", '84"', "", CASING, "", "1", "The other side is the parlor's."),
    ),
    KITCHEN: (
        ("A", "cabinet", '0"', "12'", '84"', "", "", "", "", "Wall and base units."),
        ("B", "cabinet", '0"', "5'", '84"', "", "", "", "", "Refrigerator and pantry."),
        ("C", "window", "4'", '42"', '80"', '42"', CASING, PICTURE, "1"),
        ("D", "door", "3'", '32"', '80"', "", CASING, "", "1"),
        ("D", "cabinet", "9'", '24"', '84"', "", "", "", ""),
    ),
    BEDROOM: (
        ("B", "window", "4'", '48"', '80"', '30"', WITH_STOOL, STOOL, "1"),
        ("D", "door", "2' 6\"", '30"', '80"', "", CASING, "", "1"),
    ),
    BATH: (
        ("A", "cabinet", "5' 6\"", '30"', '22"', "", "", "", "", "End of the tub."),
        ("B", "cabinet", '0"', "5' 8\"", '22"', "", "", "", "", "The tub."),
        ("B", "window", '20"', '28"', '78"', '48"', CASING, PICTURE, "1", "Over the tub."),
        ("C", "cabinet", '0"', '30"', '22"', "", "", "", "", "End of the tub."),
        ("D", "door", '20"', '28"', '80"', "", CASING, "", "1"),
    ),
    STUDY: (
        ("A", "window", "1' 9\"", '36"', '82"', '24"', CASING, PICTURE, "1"),
        ("A", "window", "7' 3\"", '36"', '82"', '24"', CASING, PICTURE, "1"),
        ("C", "door", "4' 6\"", '32"', '80"', "", CASING, "", "1"),
    ),
}  # fmt: skip

# room, walls, assembly, ends, height, remove existing
TRIM_HEADINGS = ("Room", "Walls", "Assembly", "Ends", "Height", "Remove existing")
THREE_PIECE, PLAIN, TALL_BASE, LOW_BASE = "Three-piece crown", "Plain crown", "Base, cap and shoe", "Base and shoe"
TRIM = (
    (PARLOR, "all", THREE_PIECE), (PARLOR, "all", TALL_BASE, "", "", "yes"),
    (DINING, "all", THREE_PIECE), (DINING, "all", TALL_BASE, "", "", "yes"),
    (CLOSET, "all", LOW_BASE),
    (HALL, "all", PLAIN), (HALL, "all", LOW_BASE),
    (STAIRS, "all", PLAIN), (STAIRS, "all", LOW_BASE),
    (LIVING, "all", THREE_PIECE), (LIVING, "all", TALL_BASE),
    (KITCHEN, "all", PLAIN), (KITCHEN, "all", LOW_BASE),
    (BEDROOM, "all", PLAIN), (BEDROOM, "all", LOW_BASE),
    (BATH, "all", LOW_BASE),
    (STUDY, "all", "Ceiling board alone"), (STUDY, "all", "Chair rail", "", '34"'), (STUDY, "all", LOW_BASE),
)  # fmt: skip

CEILING: tuple[Row, ...] = (
    {
        "Room": DINING, "Feature": "medallion", "Item": "medallion-28", "Diameter": '28"', "Weight": "7",
        "Hangs down": '2"', "Nearest wall": "7'", "Notes": "Centered between the breast and wall G.",
    },
    {
        "Room": DINING, "Feature": "light", "Item": "light-five-arm", "Weight": "18", "Hangs down": '30"',
        "Nearest wall": "7'",
    },
    {
        "Room": BEDROOM, "Feature": "medallion", "Item": "medallion-24", "Diameter": '24"', "Weight": "6",
        "Hangs down": '2"', "Nearest wall": "6'",
    },
    {
        "Room": BEDROOM, "Feature": "fan", "Item": "fan-44", "Diameter": '44"', "Weight": "19", "Hangs down": '11"',
        "Remove existing": "yes", "Box rated for fan": "yes", "Nearest wall": "6'",
        "Notes": "Same switch; the old fan goes back to the owner.",
    },
)  # fmt: skip

EXTRAS: tuple[Row, ...] = (
    {
        "Description": "Haul old trim to the dump", "Quantity": "1", "Unit": "each", "Unit price": "140.00",
        "Kind": "labor",
    },
    {
        "Room": STUDY, "Description": "Second coat on the study walls", "Quantity": "1", "Unit": "each",
        "Unit price": "260.00", "Kind": "option",
    },
)  # fmt: skip


def rows() -> dict[str, list[Row]]:
    """Rows of every tab of the ten-room house."""
    job = {
        "Job name": "Ten rooms on Plover Hill", "Customer": "Ansel and Ruta Winterbourne",
        "Customer email": "customer@example.org", "Customer phone": "555-0166",
        "Site address": "1 Plover Hill, Upper Marlbeck (invented)", "Measured by": "Tamsin Okoro-Hale",
        "Measured on": "2025-05-06", "Units": "imperial", "Year built": "1996", "Occupied": "no",
        "Price list": "standard", "Notes": "Invented house; no such rooms, people or street.",
    }  # fmt: skip
    return {
        "Job": [job],
        "Rooms": [_filled(ROOM_HEADINGS, room) for room in ROOMS],
        "Walls": [{"Room": room, **_filled(WALL_HEADINGS, wall)} for room, walls in WALLS.items() for wall in walls],
        "Openings": [
            {"Room": room, **_filled(OPENING_HEADINGS, opening)}
            for room, openings in OPENINGS.items()
            for opening in openings
        ],
        "Trim": [_filled(TRIM_HEADINGS, order) for order in TRIM],
        "Ceiling": list(CEILING),
        "Extras": list(EXTRAS),
    }


def _filled(headings: tuple[str, ...], values: tuple[str, ...]) -> Row:
    """A row of the values given; blank ones stay out of it."""
    return {heading: value for heading, value in zip(headings, values, strict=False) if value}
