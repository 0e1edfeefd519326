"""The job document, declared: one schema a tab of the room sheet, members as its headings in snake_case."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, ClassVar

from marshmallow import ValidationError

from schemas.faults import refusal
from schemas.fields.lengths import LengthField, LengthList, Weight
from schemas.fields.numbers import Angle, Count, Limits, Money, Number, ambiguity, money_of, share_of
from schemas.fields.words import Choice, DateField, Names, StrictField, Text, YesNo
from schemas.records import One, Rows, StrictSchema
from service import survey
from service.problems import Code
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Mapping

NAME = 60
NOTES = 2000
MOST_FEET = "12000"  # 1,000 ft: beyond any room, and far from where arithmetic hurts
CORNER = Limits.of("1", "179")
LAYOUTS = (1,)


class Notes(Text):
    """Free remarks of the person who measured."""

    def __init__(self) -> None:
        """Keep the line breaks."""
        super().__init__("Notes.", most=NOTES, lines=True)


class DiscountField(StrictField[survey.Discount]):
    """A share with its sign or below 1, or an amount of money."""

    wanted = "Type a share such as 5% or an amount such as 150.00."
    published: ClassVar[Mapping[str, object]] = {"oneOf": [{"type": "string"}, {"type": "object"}]}

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> survey.Discount:
        del attr, data, kwargs
        if isinstance(value, str) and "%" in value:
            return survey.Discount(share=self._checked(share_of(value, self.help), value, Decimal(1)))
        try:
            amount = money_of(value, 2, self.help)
        except ValidationError:
            detail = ambiguity(value) or "It is neither a share nor an amount."
            raise refusal(Code.SHARE_NOT_UNDERSTOOD, detail, self.help, value) from None
        if isinstance(value, str) and 0 < amount < 1:
            return survey.Discount(share=amount)
        return survey.Discount(amount=self._checked(amount, value, Decimal(1_000_000)))

    def _checked(self, figure: Decimal, value: object, most: Decimal) -> Decimal:
        if not 0 <= figure <= most:
            raise refusal(Code.NUMBER_OUT_OF_RANGE, "A discount is at least 0 and no more than all.", self.help, value)
        return figure


class JobSchema(StrictSchema):
    """Tab Job."""

    job_name = Text("What the job is called.", most=120, required=True)
    customer = Text("Who it is for.", most=120, required=True)
    customer_email = Text("Customer's email.", most=254)
    customer_phone = Text("Customer's phone.", most=40)
    site_address = Text("Where the work is.", most=300, lines=True, required=True)
    measured_by = Text("Who measured.", most=120)
    measured_on = DateField("When it was measured.", required=True)
    units = Choice(Units, "How bare figures are read: inches or millimeters.", required=True)
    year_built = Count("Year the house was built.", 1600, 2100)
    occupied = YesNo("Whether people live there during the work.")
    price_list = Text("Price list to price with.", most=NAME)
    valid_for_days = Count("Days the price holds.", 1, 730)
    discount = DiscountField("A share such as 5% or an amount.")
    notes = Notes()


class JoistsSchema(StrictSchema):
    """How the ceiling joists run."""

    parallel_to = Text("A wall of this room that the joists run along; not known when left out.", most=NAME)
    first = LengthField("From that wall's face to the first joist's center.", zero=True, high=MOST_FEET)
    spacing = LengthField("Center to center, 16 inches when left out.", "4", "96")
    notes = Notes()


class StudsSchema(StrictSchema):
    """Where the studs of a wall are."""

    first = LengthField("From the wall's left end to the first stud's center.", zero=True, high=MOST_FEET)
    spacing = LengthField("Center to center, 16 inches when left out.", "4", "96")
    at = LengthList("Stud centers from the wall's left end, instead of first and spacing.")
    notes = Notes()


class WallSchema(StrictSchema):
    """Tab Walls."""

    name = Text("Name of the wall, such as A.", most=NAME, required=True)
    length = LengthField("Face length.", high=MOST_FEET, required=True)
    corner = Choice(survey.CornerKind, "What the right-hand end meets.", required=True)
    angle_deg = Angle("Reading of the angle finder at the right-hand end, 90 when left out.", CORNER)
    studs = One(StudsSchema, "Where the studs are.")
    framing = Choice(survey.Framing, "What stands behind the covering, wood when left out.")
    notes = Notes()


class OpeningSchema(StrictSchema):
    """Tab Openings."""

    wall = Text("Wall of the same room.", most=NAME, required=True)
    kind = Choice(survey.OpeningKind, "What interrupts the wall.", required=True)
    from_left = LengthField("From the wall's left end to the left jamb face.", zero=True, high=MOST_FEET, required=True)
    width = LengthField("Jamb face to jamb face.", high=MOST_FEET, required=True)
    height = LengthField("Finished floor to head jamb.", high="1200", required=True)
    sill_height = LengthField("Finished floor to sill.", zero=True, high="1200")
    casing = Text("Assembly that cases it; none when left out.", most=NAME)
    style = Choice(survey.WindowStyle, "How a window is trimmed.")
    sides = Count("Sides that are cased.", 1, 2)
    notes = Notes()


class CeilingFeatureSchema(StrictSchema):
    """Tab Ceiling."""

    feature = Choice(survey.FeatureKind, "What hangs on the ceiling.", required=True)
    item = Text("Supply code or description.", most=120)
    diameter = LengthField("Across, blades included.", high="240")
    weight_lb = Weight("Weight.", Limits.of("0", "1000"), data_key="weight")
    hangs_down = LengthField("Ceiling to its lowest part; for a fan, to the blades.", zero=True, high="600")
    remove_existing = YesNo("Whether an old one comes down.")
    box_rated_for_fan = Choice(survey.BoxRating, "Whether the box is listed for a fan.")
    nearest_wall = LengthField("From its center to the nearest wall.", zero=True, high=MOST_FEET)
    notes = Notes()


class RoomSchema(StrictSchema):
    """Tab Rooms, with the walls, openings and ceiling features of the room."""

    name = Text("Name of the room.", most=NAME, required=True)
    ceiling_height = LengthField("Finished floor to finished ceiling.", "24", "1200", required=True)
    wall_covering = LengthField("Thickness of gypsum or plaster, 1/2 inch when left out.", zero=True, high="6")
    ceiling_covering = LengthField("Thickness of gypsum or plaster, 1/2 inch when left out.", zero=True, high="6")
    joists = One(JoistsSchema, "How the joists run; not known when left out.")
    ceiling_shape = Choice(survey.CeilingShape, "Shape of the ceiling, flat when left out.")
    ceiling_finish = Choice(survey.CeilingFinish, "Surface of the ceiling, smooth when left out.")
    access = Choice(survey.Access, "How the work is reached, normal when left out.")
    walls = Rows(WallSchema, "Walls, left to right.", most=500)
    openings = Rows(OpeningSchema, "Gaps in the walls.", most=500)
    ceiling = Rows(CeilingFeatureSchema, "What hangs on the ceiling.", most=100)
    notes = Notes()


class TrimSchema(StrictSchema):
    """Tab Trim."""

    room = Text("A room, or all.", most=NAME, required=True)
    walls = Names("Walls of it, or all.", required=True)
    assembly = Text("Assembly of the price list.", most=NAME, required=True)
    inside_joint = Choice(survey.InsideJoint, "Joint in inside corners; the layer's own when left out.")
    ends = Choice(survey.OpenEnd, "How open ends stop.")
    height = LengthField("Top edge above the finished floor, for a rail.", high="1200")
    remove_existing = YesNo("Whether old trim comes off.")
    finish = Choice(survey.FinishOrder, "Finish; the firm's own when left out.")
    coats = Count("Coats of it.", 0, 5)
    notes = Notes()


class ExtraSchema(StrictSchema):
    """Tab Extras."""

    room = Text("A room; the whole job when left out.", most=NAME)
    description = Text("What it is.", most=200, required=True)
    quantity = Number("How many.", Limits.of("0", "1000000", above=True), required=True)
    unit = Text("Unit of the quantity.", most=20, required=True)
    unit_price = Money("Selling price of one unit.", required=True)
    kind = Choice(survey.ExtraKind, "What it charges for; an option is priced apart.", required=True)
    notes = Notes()


class JobDocumentSchema(StrictSchema):
    """A whole room sheet."""

    layout = Count("Layout version.", 1, 1_000_000)
    job = One(JobSchema, "Tab Job.", required=True)
    rooms = Rows(RoomSchema, "Tab Rooms.", most=500, required=True)
    trim = Rows(TrimSchema, "Tab Trim.", most=2000, required=True)
    extras = Rows(ExtraSchema, "Tab Extras.", most=1000)
    notes = Notes()
