"""The quote as JSON, and back: one declaration of each record for both directions."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, cast

from marshmallow import fields

from schemas.explain import LedgerSchema, ledger_document
from schemas.fields.answers import ANSWERING, Amount, Answering, Figure, Gap, Several, Texts, Timestamp
from schemas.labor_plan import LaborPlanSchema
from schemas.problem import ProblemRowSchema, RecordSchema, said
from schemas.quote_rooms import PieceSchema, ProfileBoardsSchema, RoomCardSchema
from service.estimate.cuts.model import CutGroup, Cutting, Proof
from service.estimate.labor.model import Factor, LaborRow
from service.estimate.price.model import Line, LineKind, ScheduledPayment, Totals
from service.estimate.quote import model
from service.estimate.quote.offcuts import source_name
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Mapping

OFFICE_ONLY = (
    *(f"totals.{step}" for step in ("wages", "burden", "labor", "materials", "material_tax", "direct_cost")),
    *(f"totals.{step}" for step in ("overhead", "cost", "contingency", "profit")),
    "explain", "lines.cost", "options.cost", "labor.rate", "labor.wage", "labor.amount", "supplies.unit_price", "supplies.amount",
    "boards.cost", "boards.purchases.unit_price", "boards.purchases.amount",
    *(f"cutting.{sum_}" for sum_ in ("cost", "boards_cost", "joint_cost", "lower_bound", "gap_amount")),
    "cutting.saving_amount",
    "cutting.groups.cost", "cutting.groups.lower_bound",
)  # fmt: skip


class PriceListRefSchema(RecordSchema):
    """The price list a quote was priced with."""

    record = model.PriceListRef
    name = fields.String(required=True, metadata=said("Name."))
    version = fields.Integer(required=True, metadata=said("Version."))


class NoticeCardSchema(RecordSchema):
    """A text of the firm's own."""

    record = model.NoticeCard
    text = fields.String(required=True, metadata=said("Printed as it stands."))
    smallest_type_pt = Figure("Least type size in points.", allow_none=True)
    beside_signature = fields.Boolean(required=True, metadata=said("Whether it stands beside the signature."))


class FirmCardSchema(RecordSchema):
    """The firm as it signs."""

    record = model.FirmCard
    name = fields.String(required=True, metadata=said("Name."))
    address = fields.String(required=True, metadata=said("Address."))
    phone = fields.String(required=True, metadata=said("Phone."))
    email = fields.String(required=True, metadata=said("Email."))
    license_number = fields.String(required=True, metadata=said("License number."))
    lead_certificate = fields.String(required=True, metadata=said("Certificate for lead-safe work."))
    time_zone = fields.String(required=True, metadata=said("IANA time zone."))
    paper = fields.String(required=True, metadata=said("Sheet size, Letter or A4."))
    document_word = fields.String(required=True, metadata=said("What the firm calls its offer."))
    notices = Several(NoticeCardSchema, "The firm's own notices.")


class JobCardSchema(RecordSchema):
    """Who it is for and where."""

    record = model.JobCard
    job_name = fields.String(required=True, metadata=said("What the job is called."))
    customer = fields.String(required=True, metadata=said("Customer."))
    customer_email = fields.String(required=True, metadata=said("Customer's email."))
    customer_phone = fields.String(required=True, metadata=said("Customer's phone."))
    site_address = fields.String(required=True, metadata=said("Where the work is."))
    measured_by = fields.String(required=True, metadata=said("Who measured."))
    measured_on = fields.Date(required=True, allow_none=True, metadata=said("When it was measured."))
    year_built = fields.Integer(required=True, allow_none=True, metadata=said("Year built, null when not known."))
    occupied = fields.Boolean(required=True, metadata=said("Whether people live there."))
    notes = fields.String(required=True, metadata=said("Notes."))


class CutGroupSchema(RecordSchema):
    """Profiles planned together."""

    record = CutGroup
    profiles = Texts("Profiles.")
    cost = Amount("Cost of their boards and joints.")
    lower_bound = Amount("No plan costs less.")
    proven = fields.Boolean(attribute="is_proven", required=True, metadata=said("Whether cost and bound meet."))


class CuttingSchema(RecordSchema):
    """What boards and joints cost, and how far that may be from the least."""

    record = Cutting
    cost = Amount("Boards and joints.")
    boards_cost = Amount("Boards.")
    joint_cost = Amount("Labor of the joints.")
    lower_bound = Amount("No plan costs less.")
    gap = Gap("Cost above the bound, as a fraction of the bound.")
    gap_amount = Amount("Cost above the bound.")
    proven = fields.Boolean(attribute="is_proven", required=True, metadata=said("Whether cost and bound meet."))
    proof = fields.Enum(Proof, by_value=True, required=True, metadata=said("Who vouches for the bound."))
    saving_amount = Amount(
        "What the plan costs less than boards at full length, joined at the last position before their end and dealt out "
        "by first fit; null where that way finds no plan.",
        allow_none=True,
        since_later=True,
    )
    groups = Several(CutGroupSchema, "Profiles planned together.")


class SupplyCardSchema(RecordSchema):
    """A supply bought in whole packages."""

    record = model.SupplyCard
    code = fields.String(required=True, metadata=said("Code."))
    kind = fields.String(required=True, metadata=said("Kind."))
    description = fields.String(required=True, metadata=said("What it is."))
    need = Figure("What the work takes before waste.")
    unit = fields.String(required=True, metadata=said("Unit of need, package size and rest."))
    waste_share = Figure("Share added for waste.")
    package_size = Figure("Units in a package.")
    packages = fields.Integer(required=True, metadata=said("Whole packages bought."))
    rest = Figure("Left over.")
    unit_price = Amount("Price of a package.")
    amount = Amount("Price of all.")
    basis = Texts("Trade-book entries and sheet places it rests on.")


class FactorSchema(RecordSchema):
    """A condition in force and what it multiplies hours by."""

    record = Factor
    condition = fields.String(required=True, metadata=said("Condition."))
    factor = Figure("Factor.")


class LaborRowSchema(RecordSchema):
    """Person-hours of one task in one room."""

    record = LaborRow
    task = fields.String(required=True, metadata=said("Task key."))
    room = fields.String(
        attribute="room_name", required=True, allow_none=True, metadata=said("Room, null for the job.")
    )
    room_number = fields.Integer(attribute="room", required=True, allow_none=True, metadata=said("Number of the room."))
    description = fields.String(required=True, metadata=said("What it is."))
    quantity = Figure("How many units.")
    unit = fields.String(required=True, metadata=said("Unit."))
    rate = Figure("Hours of one person for one unit.")
    factors = Several(FactorSchema, "Conditions in force.")
    hours = Figure("Person-hours.")
    role = fields.String(required=True, metadata=said("Whose hours."))
    wage = Amount("Wage of one hour.")
    amount = Amount("Wages, before burden.")
    basis = Texts("Trade-book entries and sheet places it rests on.")


class LineSchema(RecordSchema):
    """One line of the price."""

    record = Line
    number = fields.Integer(required=True, metadata=said("Position, from 1."))
    code = fields.String(required=True, metadata=said("Profile, supply code, task key or extra."))
    room = fields.String(required=True, allow_none=True, metadata=said("Room, null for the job."))
    kind = fields.Enum(LineKind, by_value=True, required=True, metadata=said("What it charges for."))
    description = fields.String(required=True, metadata=said("What it is."))
    quantity = Figure("How many.")
    unit = fields.String(required=True, metadata=said("Unit."))
    unit_code = fields.String(required=True, metadata=said("Unit by UN/ECE Recommendation 20."))
    unit_price = Amount("Amount over quantity, for reading only.")
    amount = Amount("The customer's price; lines add up to the price before tax.")
    cost = Amount("Direct cost, null on extras, discount and minimum.", allow_none=True)
    basis = Texts("Trade-book entries and sheet places it rests on.")


class TotalsSchema(RecordSchema):
    """The price ladder."""

    record = Totals
    wages = Amount("Wages.")
    burden = Amount("Taxes and insurance on wages.")
    labor = Amount("Wages and burden.")
    materials = Amount("Boards and supplies, whole packages.")
    material_tax = Amount("Tax paid on material.")
    direct_cost = Amount("Labor, materials and their tax.")
    overhead = Amount("Share of direct cost.")
    cost = Amount("Direct cost and overhead.")
    contingency = Amount("Share of cost.")
    profit = Amount("Markup or margin.")
    extras = Amount("Extras at selling price.")
    discount = Amount("Taken off.")
    minimum_charge = Amount("Added to reach the firm's minimum.")
    price_before_tax = Amount("Sum of the lines.")
    taxable = Amount("What the sales tax is charged on.")
    sales_tax = Amount("Sales tax.")
    total = Amount("What the customer pays.")
    deposit = Amount("First payment.")


class ScheduledPaymentSchema(RecordSchema):
    """One payment of the total."""

    record = ScheduledPayment
    when = fields.String(required=True, metadata=said("When it is due."))
    share = Figure("Share of the total.")
    amount = Amount("Amount.")


class AssumptionSchema(RecordSchema):
    """Something taken for granted."""

    record = model.Assumption
    text = fields.String(required=True, metadata=said("In words."))
    basis = fields.String(required=True, metadata=said("Trade-book entry behind it, if one is."))
    internal = fields.Boolean(required=True, metadata=said("Whether it is for the firm's own eyes."))


class CautionSchema(RecordSchema):
    """A hazard whose trigger holds."""

    record = model.Caution
    code = fields.String(required=True, metadata=said("Name."))
    text = fields.String(required=True, metadata=said("In words."))
    rooms = Texts("Rooms it concerns; empty for the whole job.")


class QuoteSchema(RecordSchema):
    """A priced quote, whole."""

    record = model.Quote
    schema = fields.Integer(required=True, metadata=said("Version of this shape."))
    id = fields.String(required=True, metadata=said("UUID, version 7."))
    number = fields.String(required=True, allow_none=True, metadata=said("The firm's number, null outside its books."))
    revision = fields.Integer(required=True, metadata=said("Revision, from 1."))
    status = fields.Enum(model.Status, by_value=True, required=True, metadata=said("Where it stands."))
    created_at = Timestamp("When it was made, UTC.")
    valid_until = fields.Date(required=True, metadata=said("Last day it holds, in the firm's time zone."))
    currency = fields.String(required=True, metadata=said("Currency of every amount, ISO 4217."))
    units = fields.Enum(Units, by_value=True, required=True, metadata=said("Units of the texts for people."))
    price_list = fields.Nested(PriceListRefSchema, required=True, metadata=said("Price list it was priced with."))
    firm = fields.Nested(FirmCardSchema, required=True, metadata=said("The firm."))
    job = fields.Nested(JobCardSchema, required=True, metadata=said("The job."))
    rooms = Several(RoomCardSchema, "Rooms.")
    pieces = Several(PieceSchema, "Every sawn length.")
    boards = Several(ProfileBoardsSchema, "Boards, by profile.")
    cutting = fields.Nested(CuttingSchema, required=True, metadata=said("How good the cutting plan is."))
    supplies = Several(SupplyCardSchema, "Supplies.")
    labor = Several(LaborRowSchema, "Person-hours by task and room.")
    labor_hours = Figure("Person-hours in all.")
    crew_days = Figure("Working days of the crew.")
    labor_plan = fields.Nested(
        LaborPlanSchema,
        allow_none=True,
        load_default=None,
        metadata=said("The work by day; null in a quote stored before there was one."),
    )
    lines = Several(LineSchema, "Lines of the price.")
    totals = fields.Nested(TotalsSchema, required=True, metadata=said("The price ladder."))
    options = Several(LineSchema, "Priced apart, never in the total.")
    payment_schedule = Several(ScheduledPaymentSchema, "Payments; the first is the deposit.")
    assumptions = Several(AssumptionSchema, "What was taken for granted.")
    warnings = Several(ProblemRowSchema, "Warnings and notes that travel with the quote.")
    cautions = Several(CautionSchema, "Hazards whose trigger holds.")
    explain = fields.Nested(
        LedgerSchema,
        dump_only=True,
        metadata=said("How every line was worked out, from the sheet's cells to cents; for the office."),
    )
    documents = fields.Dict(
        keys=fields.String(),
        values=fields.String(),
        dump_only=True,
        metadata=said("Addresses of the documents, by name."),
    )


@cache
def quote_schema(*, office: bool) -> QuoteSchema:
    """The declaration of the whole quote, or of what others than the office see."""
    return QuoteSchema() if office else QuoteSchema(exclude=OFFICE_ONLY)


def quote_document(quote: model.Quote, *, office: bool, documents: Mapping[str, str] | None = None) -> dict[str, Any]:
    """The quote as the contract's JSON.

    Args:
        quote: the records.
        office: with cost, wages, rates, margin and how every line was worked out; else without.
        documents: addresses of the documents by name; the web adds them.

    Returns:
        JSON values only, members in the contract's order.
    """
    with ANSWERING(Answering(quote.units, quote.currency, source_name(quote))):
        document = cast("dict[str, Any]", quote_schema(office=office).dump(quote))
        explained = {"explain": ledger_document(quote.ledger)} if office else {}
    return document | explained | {"documents": dict(documents or {})}


def quote_from(document: Mapping[str, Any]) -> model.Quote:
    """The records of a stored (office) document, without its ledger; lengths as stored, to 1/64".

    Raises:
        marshmallow.ValidationError: the document is none that `quote_document(quote, office=True)` writes.
    """
    told = {name: value for name, value in document.items() if name != "explain"}
    return cast("model.Quote", quote_schema(office=True).load(told))
