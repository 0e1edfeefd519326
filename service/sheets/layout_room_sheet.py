"""The room sheet, layout version 1, as data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.sheets.example_room import examples
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


def _yes_no(heading: str, *synonyms: str, prompt: str) -> Column:
    return Column(heading, Kind.YES_NO, synonyms=synonyms, choices=_YES_NO, prompt=prompt, width=10)


def _notes(about: str) -> Column:
    return Column(
        "Notes",
        Kind.PROSE,
        synonyms=("Note", "Remarks", "Comments"),
        width=28,
        prompt=f"Anything worth knowing about {about}.",
    )


def _room(prompt: str, *choices: str, required: bool = True) -> Column:
    return Column(
        "Room", required=required, synonyms=("Room name",), width=18, choices=choices, listed_in="Rooms",
        prompt=prompt,
    )  # fmt: skip


JOB = Tab(
    "Job", "job", required=True, is_items=True,
    columns=(
        Column("Job name", required=True, synonyms=("Job", "Project", "Project name"), prompt="What the job is called on the quote."),
        Column("Customer", required=True, synonyms=("Customer name", "Client"), prompt="Who the quote is for."),
        Column("Customer email", synonyms=("Email", "Customer e-mail"), prompt="Printed on the quote."),
        Column("Customer phone", synonyms=("Phone",), prompt="Printed on the quote."),
        Column("Site address", required=True, synonyms=("Address", "Site", "Job address"), prompt="Where the work is done."),
        Column("Measured by", prompt="Who held the tape."),
        Column("Measured on", Kind.DATE, required=True, synonyms=("Date measured", "Measured date"),
               prompt="The day the rooms were measured, YYYY-MM-DD."),
        Column("Units", Kind.CHOICE, required=True, choices=_words(Units),
               prompt="imperial: a bare number is inches. metric: a bare number is millimeters."),
        Column("Year built", Kind.NUMBER, synonyms=("Built",),
               prompt="The year the house was built; blank counts as not known, and cautions are printed."),
        _yes_no("Occupied", prompt="Whether people live there during the work."),
        Column("Price list", prompt="Name of the price list; blank is standard."),
        Column("Valid for days", Kind.NUMBER, synonyms=("Valid days",), prompt="Days the quote holds; blank: the price list's."),
        Column("Discount", Kind.SHARE, prompt="A share such as 5%, or an amount such as 150.00."),
        _notes("the job"),
    ),
)  # fmt: skip

ROOMS = Tab(
    "Rooms", "rooms", required=True, synonyms=("Room",), examples=examples("Rooms"),
    columns=(
        Column("Room", required=True, member=("name",), synonyms=("Room name", "Name"), width=18,
               prompt="A name for the room; the other tabs use it."),
        Column("Ceiling height", Kind.LENGTH, required=True, synonyms=("Height", "Height of ceiling"), width=10,
               prompt="Finished floor to ceiling."),
        Column("Wall covering", Kind.LENGTH, synonyms=("Wall board", "Wall covering thickness"), width=10,
               prompt='Thickness of the gypsum board or plaster on the walls; blank is 1/2".'),
        Column("Ceiling covering", Kind.LENGTH, synonyms=("Ceiling board", "Ceiling covering thickness"), width=10,
               prompt='Thickness of the gypsum board or plaster on the ceiling; blank is 1/2".'),
        Column("Joists parallel to", member=("joists", "parallel_to"), synonyms=("Joists along",), width=13,
               prompt="A wall of this room that the joists run along; blank when not known."),
        Column("First joist", Kind.LENGTH, member=("joists", "first"), width=10,
               prompt="From that wall's face to the center of the first joist."),
        Column("Joist spacing", Kind.LENGTH, member=("joists", "spacing"), width=10, prompt='Center to center; blank is 16".'),
        Column("Ceiling shape", Kind.CHOICE, choices=_words(CeilingShape), width=10, prompt="Blank is flat."),
        Column("Ceiling finish", Kind.CHOICE, choices=_words(CeilingFinish), width=10, prompt="Blank is smooth."),
        Column("Access", Kind.CHOICE, choices=_words(Access), prompt="What the work is reached over or around; blank is normal."),
        _notes("the room"),
    ),
)  # fmt: skip

WALLS = Tab(
    "Walls", "walls", required=True, within="Rooms", synonyms=("Wall",), examples=examples("Walls"),
    columns=(
        _room("A room of the Rooms tab."),
        Column("Wall", required=True, member=("name",), synonyms=("Wall name", "Name"), width=8,
               prompt="Walls from left to right as you face them, one row each: A, B, C …"),
        Column("Length", Kind.LENGTH, required=True, synonyms=("Wall length",), width=14, prompt="Corner to corner."),
        Column("Corner", Kind.CHOICE, required=True, choices=_words(CornerKind), width=10,
               synonyms=("Corner at right", "Right corner", "Corner type"),
               prompt="What this wall's right-hand end meets: inside, outside, or open (only on the last wall)."),
        Column("Angle", Kind.ANGLE, member=("angle_deg",), width=8, synonyms=("Corner angle", "Angle deg", "Degrees"),
               prompt="What an angle finder reads at the right-hand end, in degrees; blank is 90."),
        Column("First stud", Kind.LENGTH, member=("studs", "first"), width=11,
               prompt="From the wall's left end to the center of the first stud."),
        Column("Stud spacing", Kind.LENGTH, member=("studs", "spacing"), width=10, prompt='Center to center; blank is 16".'),
        Column("Studs at", Kind.LENGTH_LIST, member=("studs", "at"), width=22,
               prompt="Stud centers from the left end, ; between them, instead of the two columns before."),
        Column("Framing", Kind.CHOICE, choices=_words(Framing), width=10, prompt="What stands behind the covering; blank is wood."),
        _notes("the wall"),
    ),
)  # fmt: skip

OPENINGS = Tab(
    "Openings", "openings", within="Rooms", synonyms=("Opening", "Doors and windows"), examples=examples("Openings"),
    columns=(
        _room("A room of the Rooms tab."),
        Column("Wall", required=True, synonyms=("Wall name",), width=8, listed_in="Walls", prompt="The wall of this room that it is in."),
        Column("Opening", Kind.CHOICE, required=True, member=("kind",), choices=_words(OpeningKind), width=15,
               synonyms=("Kind", "Opening kind", "Type"), prompt="What interrupts the wall."),
        Column("From left", Kind.LENGTH, required=True, synonyms=("Distance from left", "Left"), width=11,
               prompt="From the wall's left end to the left jamb face (cabinet, fireplace: outer edge)."),
        Column("Width", Kind.LENGTH, required=True, width=10, prompt="Jamb face to jamb face."),
        Column("Height", Kind.LENGTH, required=True, width=10, prompt="Finished floor to head jamb."),
        Column("Sill height", Kind.LENGTH, synonyms=("Sill",), width=10, prompt="Windows: finished floor to sill."),
        Column("Casing", width=25, listed_in="Assemblies", prompt="Name of the casing assembly of the price list; blank for none."),
        Column("Style", Kind.CHOICE, choices=_words(WindowStyle), synonyms=("Window style",), width=17,
               prompt="Windows: cased on four sides like a picture frame, or on a stool with an apron."),
        Column("Sides", Kind.NUMBER, synonyms=("Cased sides",), width=8, prompt="1 or 2 sides to be cased."),
        _notes("the opening"),
    ),
)  # fmt: skip

TRIM = Tab(
    "Trim", "trim", required=True, examples=examples("Trim"),
    columns=(
        _room("A room of the Rooms tab, or all.", "all"),
        Column("Walls", Kind.LIST, required=True, synonyms=("Wall",), prompt="all, or a list such as A;C."),
        Column("Assembly", required=True, synonyms=("Trim", "Build-up"), width=26, listed_in="Assemblies",
               prompt="Name of an assembly of the price list."),
        Column("Inside joint", Kind.CHOICE, choices=_words(InsideJoint), synonyms=("Inside corner joint",), width=10,
               prompt="How it meets in inside corners; blank: the assembly's way, else the firm's."),
        Column("Ends", Kind.CHOICE, choices=_words(OpenEnd), synonyms=("Open ends",), width=10,
               prompt="How it stops at an open end; blank: crown, cap and rail return, the rest butts."),
        Column("Height", Kind.LENGTH, width=10, prompt="Rails: top edge above the finished floor."),
        _yes_no("Remove existing", "Tear out", prompt="Whether old trim comes off first."),
        Column("Finish", Kind.CHOICE, choices=_words(FinishOrder), width=10, prompt="What is done to its surface; blank: the firm's."),
        Column("Coats", Kind.NUMBER, width=8, prompt="Finish coats, a whole number."),
        _notes("this trim"),
    ),
)  # fmt: skip

CEILING = Tab(
    "Ceiling", "ceiling", within="Rooms", synonyms=("Ceilings", "Ceiling features"), examples=examples("Ceiling"),
    columns=(
        _room("A room of the Rooms tab."),
        Column("Feature", Kind.CHOICE, required=True, choices=_words(FeatureKind), width=11, prompt="What hangs on the ceiling."),
        Column("Item", width=26, prompt="Supply code of the price list, or a description."),
        Column("Diameter", Kind.LENGTH, width=11, prompt="Of the medallion, or across the fan's blades."),
        Column("Weight", Kind.NUMBER, width=9, prompt="Pounds on an imperial sheet, kilograms on a metric one."),
        Column("Hangs down", Kind.LENGTH, width=10, prompt="Ceiling to the lowest part; for a fan, to the blades."),
        _yes_no("Remove existing", "Tear out", prompt="Whether an old one comes down first."),
        Column("Box rated for fan", Kind.CHOICE, choices=_words(BoxRating), width=11, synonyms=("Fan box", "Fan rated box"),
               prompt="Whether the outlet box is marked for a fan; blank is unknown."),
        Column("Nearest wall", Kind.LENGTH, width=10, prompt="From the feature's center to the nearest wall."),
        _notes("the feature"),
    ),
)  # fmt: skip

EXTRAS = Tab(
    "Extras", "extras", synonyms=("Extra",), examples=examples("Extras"),
    columns=(
        _room("A room of the Rooms tab, or blank for the whole job.", required=False),
        Column("Description", required=True, width=38, prompt="What the customer reads on the quote."),
        Column("Quantity", Kind.NUMBER, required=True, synonyms=("Qty",), width=12, prompt="How many units."),
        Column("Unit", required=True, width=10, prompt="each, ft, hour …"),
        Column("Unit price", Kind.MONEY, required=True, synonyms=("Price",), prompt="Selling price of one unit."),
        Column("Kind", Kind.CHOICE, required=True, choices=_words(ExtraKind), synonyms=("Type",),
               prompt="An option is priced apart and never in the total."),
        _notes("it"),
    ),
)  # fmt: skip

ROOM_SHEET = Layout("room sheet", (JOB, ROOMS, WALLS, OPENINGS, TRIM, CEILING, EXTRAS))
