"""The room sheet, layout version 1, as data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.sheets.layout import Column, Kind, Layout, Tab
from service.survey import (
    Access,
    BoxRating,
    CeilingFinish,
    CeilingShape,
    CornerKind,
    ExtraKind,
    FeatureKind,
    FinishOrder,
    Framing,
    InsideJoint,
    OpenEnd,
    OpeningKind,
    WindowStyle,
)
from service.units import Units

if TYPE_CHECKING:
    from enum import StrEnum


def _words(choices: type[StrEnum]) -> tuple[str, ...]:
    return tuple(str(choice) for choice in choices)


_YES_NO = ("yes", "no")
_NOTES = Column("Notes", Kind.PROSE, synonyms=("Note", "Remarks", "Comments"), width=30)
_ROOM = Column(
    "Room", required=True, synonyms=("Room name",), width=18, prompt="A room of the Rooms tab.", example="Example room"
)


def _yes_no(heading: str, *synonyms: str, prompt: str = "") -> Column:
    return Column(heading, Kind.YES_NO, synonyms=synonyms, choices=_YES_NO, prompt=prompt)


JOB = Tab(
    "Job", "job", required=True, is_items=True,
    columns=(
        Column("Job name", required=True, synonyms=("Job", "Project", "Project name")),
        Column("Customer", required=True, synonyms=("Customer name", "Client")),
        Column("Customer email", synonyms=("Email", "Customer e-mail")),
        Column("Customer phone", synonyms=("Phone",)),
        Column("Site address", required=True, synonyms=("Address", "Site", "Job address")),
        Column("Measured by"),
        Column("Measured on", Kind.DATE, required=True, synonyms=("Date measured", "Measured date"),
               prompt="The day the rooms were measured, YYYY-MM-DD."),
        Column("Units", Kind.CHOICE, required=True, choices=_words(Units),
               prompt="imperial: a bare number is inches. metric: a bare number is millimeters."),
        Column("Year built", Kind.NUMBER, synonyms=("Built",),
               prompt="The year the house was built; blank counts as not known, and cautions are printed."),
        _yes_no("Occupied", prompt="Whether people live there during the work."),
        Column("Price list", prompt="Name of the price list; blank is standard."),
        Column("Valid for days", Kind.NUMBER, synonyms=("Valid days",), prompt="Blank: the price list's."),
        Column("Discount", Kind.SHARE, prompt="A share such as 5%, or an amount such as 150.00."),
        _NOTES,
    ),
)  # fmt: skip

ROOMS = Tab(
    "Rooms", "rooms", required=True, synonyms=("Room",),
    columns=(
        Column("Room", required=True, member=("name",), synonyms=("Room name", "Name"), width=18, example="Example room"),
        Column("Ceiling height", Kind.LENGTH, required=True, synonyms=("Height", "Height of ceiling"),
               prompt="Finished floor to ceiling.", example='8\' 1"', metric_example="2450"),
        Column("Wall covering", Kind.LENGTH, synonyms=("Wall board", "Wall covering thickness"),
               prompt='Thickness of the gypsum board or plaster on the walls; blank is 1/2".', example='1/2"', metric_example="12.5 mm"),
        Column("Ceiling covering", Kind.LENGTH, synonyms=("Ceiling board", "Ceiling covering thickness"),
               prompt='Thickness of the gypsum board or plaster on the ceiling; blank is 1/2".', example='1/2"', metric_example="12.5 mm"),
        Column("Joists parallel to", member=("joists", "parallel_to"), synonyms=("Joists along",), width=16,
               prompt="A wall of this room that the joists run along; blank when not known.", example="A"),
        Column("First joist", Kind.LENGTH, member=("joists", "first"),
               prompt="From that wall's face to the center of the first joist.", example='14"', metric_example="350"),
        Column("Joist spacing", Kind.LENGTH, member=("joists", "spacing"), prompt='Center to center; blank is 16".', example='16"', metric_example="400"),
        Column("Ceiling shape", Kind.CHOICE, choices=_words(CeilingShape), prompt="Blank is flat."),
        Column("Ceiling finish", Kind.CHOICE, choices=_words(CeilingFinish), prompt="Blank is smooth."),
        Column("Access", Kind.CHOICE, choices=_words(Access), prompt="Blank is normal."),
        _NOTES,
    ),
)  # fmt: skip

WALLS = Tab(
    "Walls", "walls", required=True, within="Rooms", synonyms=("Wall",),
    columns=(
        _ROOM,
        Column("Wall", required=True, member=("name",), synonyms=("Wall name", "Name"), width=8,
               prompt="Walls from left to right as you face them, one row each: A, B, C …", example="A"),
        Column("Length", Kind.LENGTH, required=True, synonyms=("Wall length",), prompt="Corner to corner.", example='12\' 6 1/2"', metric_example="3820"),
        Column("Corner", Kind.CHOICE, required=True, choices=_words(CornerKind), width=10,
               synonyms=("Corner at right", "Right corner", "Corner type"),
               prompt="What this wall's right-hand end meets: inside, outside, or open (only on the last wall).", example="inside"),
        Column("Angle", Kind.ANGLE, member=("angle_deg",), width=8, synonyms=("Corner angle", "Angle deg", "Degrees"),
               prompt="What an angle finder reads at the right-hand end, in degrees; blank is 90."),
        Column("First stud", Kind.LENGTH, member=("studs", "first"),
               prompt="From the wall's left end to the center of the first stud.", example='14 1/2"', metric_example="380"),
        Column("Stud spacing", Kind.LENGTH, member=("studs", "spacing"), prompt='Center to center; blank is 16".', example='16"', metric_example="400"),
        Column("Studs at", Kind.LENGTH_LIST, member=("studs", "at"), width=22,
               prompt="Stud centers from the left end, ; between them, instead of the two columns before."),
        Column("Framing", Kind.CHOICE, choices=_words(Framing), width=10, prompt="Blank is wood."),
        _NOTES,
    ),
)  # fmt: skip

OPENINGS = Tab(
    "Openings", "openings", within="Rooms", synonyms=("Opening", "Doors and windows"),
    columns=(
        _ROOM,
        Column("Wall", required=True, synonyms=("Wall name",), width=8, prompt="A wall of this room.", example="A"),
        Column("Opening", Kind.CHOICE, required=True, member=("kind",), choices=_words(OpeningKind), width=15,
               synonyms=("Kind", "Opening kind", "Type"), example="door"),
        Column("From left", Kind.LENGTH, required=True, synonyms=("Distance from left", "Left"),
               prompt="From the wall's left end to the left jamb face (cabinet, fireplace: outer edge).", example='3\' 2"', metric_example="965"),
        Column("Width", Kind.LENGTH, required=True, prompt="Jamb face to jamb face.", example='32"', metric_example="813"),
        Column("Height", Kind.LENGTH, required=True, prompt="Finished floor to head jamb.", example='80"', metric_example="2032"),
        Column("Sill height", Kind.LENGTH, synonyms=("Sill",), prompt="Windows: finished floor to sill."),
        Column("Casing", width=18, prompt="Name of the casing assembly; blank for none."),
        Column("Style", Kind.CHOICE, choices=_words(WindowStyle), synonyms=("Window style",), width=16),
        Column("Sides", Kind.NUMBER, synonyms=("Cased sides",), width=8, prompt="1 or 2 sides to be cased."),
        _NOTES,
    ),
)  # fmt: skip

TRIM = Tab(
    "Trim", "trim", required=True,
    columns=(
        Column("Room", required=True, synonyms=("Room name",), width=18, prompt="A room, or all.", example="Example room"),
        Column("Walls", Kind.LIST, required=True, synonyms=("Wall",), prompt="all, or a list such as A;C.", example="all"),
        Column("Assembly", required=True, synonyms=("Trim", "Build-up"), width=26,
               prompt="Name of an assembly of the price list.", example="Example assembly"),
        Column("Inside joint", Kind.CHOICE, choices=_words(InsideJoint), synonyms=("Inside corner joint",),
               prompt="Blank: the assembly's way, else the firm's."),
        Column("Ends", Kind.CHOICE, choices=_words(OpenEnd), synonyms=("Open ends",),
               prompt="How it stops at an open end; blank: crown, cap and rail return, the rest butts."),
        Column("Height", Kind.LENGTH, prompt="Rails: top edge above the finished floor."),
        _yes_no("Remove existing", "Tear out", prompt="Whether old trim comes off first."),
        Column("Finish", Kind.CHOICE, choices=_words(FinishOrder), prompt="Blank: the firm's."),
        Column("Coats", Kind.NUMBER, width=8, prompt="Finish coats, a whole number."),
        _NOTES,
    ),
)  # fmt: skip

CEILING = Tab(
    "Ceiling", "ceiling", within="Rooms", synonyms=("Ceilings", "Ceiling features"),
    columns=(
        _ROOM,
        Column("Feature", Kind.CHOICE, required=True, choices=_words(FeatureKind), example="medallion"),
        Column("Item", width=24, prompt="Supply code or description."),
        Column("Diameter", Kind.LENGTH, prompt="Of the medallion, or across the fan's blades.", example='24"', metric_example="610"),
        Column("Weight", Kind.NUMBER, prompt="Pounds on an imperial sheet, kilograms on a metric one."),
        Column("Hangs down", Kind.LENGTH, prompt="Ceiling to the lowest part; for a fan, to the blades."),
        _yes_no("Remove existing", "Tear out"),
        Column("Box rated for fan", Kind.CHOICE, choices=_words(BoxRating), width=16,
               synonyms=("Fan box", "Fan rated box")),
        Column("Nearest wall", Kind.LENGTH, prompt="From the feature's center to the nearest wall."),
        _NOTES,
    ),
)  # fmt: skip

EXTRAS = Tab(
    "Extras", "extras", synonyms=("Extra",),
    columns=(
        Column("Room", synonyms=("Room name",), width=18, prompt="A room, or blank for the whole job.", example="Example room"),
        Column("Description", required=True, width=34, example="Example: patch one outlet hole"),
        Column("Quantity", Kind.NUMBER, required=True, synonyms=("Qty",), width=10, example="1"),
        Column("Unit", required=True, width=10, prompt="each, ft, hour …", example="each"),
        Column("Unit price", Kind.MONEY, required=True, synonyms=("Price",), prompt="Selling price of one unit.", example="35.00"),
        Column("Kind", Kind.CHOICE, required=True, choices=_words(ExtraKind), synonyms=("Type",),
               prompt="An option is priced apart and never in the total.", example="allowance"),
        _NOTES,
    ),
)  # fmt: skip

ROOM_SHEET = Layout("room sheet", (JOB, ROOMS, WALLS, OPENINGS, TRIM, CEILING, EXTRAS))
