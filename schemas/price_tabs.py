"""The price list, declared: one schema a tab, members as its headings in snake_case."""

from __future__ import annotations

from enum import StrEnum

from schemas.fields.lengths import LengthField
from schemas.fields.numbers import Angle, Count, Limits, Money, Number, Share
from schemas.fields.packages import Coverage, Currency, TimeZone, Volume, WeightPerFoot
from schemas.fields.words import Choice, Names, Text, YesNo
from schemas.records import One, Rows, StrictSchema
from schemas.room_sheet import NAME, NOTES
from service import firm
from service.survey import FinishOrder, InsideJoint, OutsideJoint
from service.units import Units

ACUTE = Limits.of("0", "90", above=True, below=True)
SAW = Limits.of("0", "90", above=True)


class Paper(StrEnum):
    """Sheet size of documents."""

    LETTER = "Letter"
    A4 = "A4"


class DocumentWord(StrEnum):
    """What the firm calls its offer."""

    QUOTE = "quote"
    ESTIMATE = "estimate"


class ShoeNailsTo(StrEnum):
    """What shoe molding is nailed into."""

    FLOOR = "floor"
    BASE = "base"


class Per(StrEnum):
    """What a stock price is for."""

    EACH = "each"
    FOOT = "foot"


class FirmSchema(StrictSchema):
    """Tab Firm. No figure of the business has a default."""

    name = Text("Name of the firm.", most=120, required=True)
    address = Text("Address.", most=300, lines=True)
    phone = Text("Phone.", most=40)
    email = Text("Email.", most=254)
    license_number = Text("License number.", most=60)
    currency = Currency("Currency of every amount.", required=True)
    units = Choice(Units, "How bare figures are read.", required=True)
    time_zone = TimeZone("Time zone by its IANA name.", required=True)
    paper = Choice(Paper, "Sheet size; Letter for imperial, A4 for metric when left out.")
    document_word = Choice(DocumentWord, "What the offer is called.")
    valid_for_days = Count("Days a price holds.", 1, 730, required=True)
    burden_share = Share("Taxes and insurance on wages.", "5", required=True)
    overhead_share = Share("Cost of being in business, as a share of direct cost.", "5", required=True)
    profit_method = Choice(firm.ProfitMethod, "Profit as a share of cost or of price.", required=True)
    profit_rate = Share("Profit by that method.", "5", required=True)
    contingency_share = Share("For the unforeseen, as a share of cost.", required=True)
    material_tax_rate = Share("Tax paid on material.", required=True)
    sales_tax_rate = Share("Tax charged to the customer.", required=True)
    sales_tax_on = Choice(firm.SalesTaxOn, "What the sales tax is charged on.", required=True)
    minimum_charge = Money("Least price before tax.")
    deposit_cap = Money("Most a deposit may be.")
    crew_size = Count("People in a crew.", 1, 50, required=True)
    productive_hours_a_day = Number("Hours of work in a day.", Limits.of("0", "24", above=True), required=True)
    kerf = LengthField("Width of a saw cut.", zero=True, high="1", required=True)
    end_trim = LengthField("Cut off a board, both ends together.", zero=True, high="24", required=True)
    shortest_piece = LengthField("Shortest piece a run is spliced of.", zero=True, high="240", required=True)
    shortest_offcut_to_keep = LengthField("Shorter remainders are waste.", zero=True, high="240", required=True)
    joint_stagger = LengthField("Least distance of joints in stacked layers.", zero=True, high="240", required=True)
    scarf_angle_deg = Angle("Saw setting of a scarf, from square.", ACUTE, required=True, data_key="scarf_angle")
    inside_joint = Choice(
        InsideJoint, "Joint in inside corners.", only=(InsideJoint.COPE, InsideJoint.MITER), required=True
    )
    splice_short_runs = YesNo("Whether runs that fit one board may be spliced.")
    solver_seconds = Number("Time for finding the least-cost plan.", Limits.of("0", "600"))
    casing_reveal = LengthField("Jamb left to see beside casing.", zero=True, high="6", required=True)
    stool_horn = LengthField("Stool beyond the casing, each side.", zero=True, high="12")
    spare_stock_share = Share("Spare stock bought.", data_key="spare_stock")
    saw_miter_limit_deg = Angle("Greatest miter of the saw.", SAW, data_key="saw_miter_limit")
    saw_bevel_limit_deg = Angle("Greatest bevel of the saw.", SAW, data_key="saw_bevel_limit")
    shoe_nails_to = Choice(ShoeNailsTo, "What shoe is nailed into.")
    default_finish = Choice(FinishOrder, "Finish where the sheet orders none.")
    lead_certificate = Text("Certificate for lead-safe work.", most=60)


class WageSchema(StrictSchema):
    """Tab Wages."""

    role = Text("Role.", most=NAME, required=True)
    wage = Money("Wage of one hour.", required=True)


class PaymentSchema(StrictSchema):
    """Tab Payments."""

    when = Text("When it is due.", most=120, required=True)
    share = Share("Share of the total.", required=True)


class ProfileSchema(StrictSchema):
    """Tab Profiles."""

    name = Text("Name of the profile.", most=NAME, required=True, data_key="profile")
    description = Text("What it is.", most=200, required=True)
    shape = Choice(firm.Shape, "Flat, molded or sprung.", required=True)
    width = LengthField(
        "Overall width of a sprung one, edge to edge as sold; else face width.", high="48", required=True
    )
    thickness = LengthField("Thickness.", high="12", required=True)
    spring_angle_deg = Angle("Between a sprung one's back and the wall.", ACUTE, data_key="spring_angle")
    material = Text("Material.", most=120)
    finish = Choice(firm.FinishState, "Finish as sold.")
    girth = LengthField("Length of its profile that is painted.", high="120")
    weight_lb_per_ft = WeightPerFoot("Weight of one foot.", Limits.of("0", "200"), data_key="weight_per_foot")


class StockSchema(StrictSchema):
    """Tab Stock."""

    profile = Text("Profile.", most=NAME, required=True)
    length = LengthField("Length as sold.", "6", "600", required=True)
    price = Money("Price.", decimals=4, required=True)
    per = Choice(Per, "What the price is for.", required=True)
    available = Count("Boards to be had; no limit when left out.", 0, 100_000)
    is_offcut = YesNo("Whether it is an offcut on hand.", data_key="offcut")


class LayerSchema(StrictSchema):
    """Tab Assemblies, one layer a row."""

    assembly = Text("Assembly the layer belongs to.", most=NAME, required=True)
    number = Count("Layer, counted from 1.", 1, 20, required=True, data_key="layer")
    position = Choice(firm.Position, "Where it sits.", required=True)
    profile = Text("What it is made of.", most=NAME, required=True)
    inside_joint = Choice(InsideJoint, "Joint in inside corners; the firm's when left out.")
    outside_joint = Choice(OutsideJoint, "Joint on outside corners, miter when left out.")
    adhesive = Choice(firm.AdhesiveUse, "How it is glued, none when left out.")
    beads = Count("Beads of adhesive.", 0, 10)
    bead_diameter = LengthField("Diameter of a bead.", high="2")
    nail = Text("Supply code; chosen when left out.", most=NAME)
    has_blocks = YesNo("Whether blocks stand behind it.", data_key="blocks")
    block_spacing = LengthField("Distance of blocks; every stud when left out.", "4", "240")
    caulked_edges = Count("Edges that are caulked.", 0, 4, data_key="caulk_edges")


class SupplySchema(StrictSchema):
    """Tab Supplies."""

    code = Text("Code.", most=NAME, required=True)
    description = Text("What it is.", most=200, required=True)
    kind = Choice(firm.SupplyKind, "Kind.", required=True)
    package_size = Number("Package units in a package.", Limits.of("0", "1000000", above=True), required=True)
    package_unit = Text("Unit of the size, such as each, lb, cartridge, gal.", most=20, required=True)
    price = Money("Price of a package.", required=True)
    length = LengthField("Length, of a nail or screw.", high="24")
    shank_diameter = LengthField("Shank diameter, of a nail or screw.", high="1")
    volume_cu_in = Volume("Volume of one package unit.", Limits.of("0", "100000", above=True), data_key="volume")
    coverage_sqft = Coverage("Area one package unit covers.", Limits.of("0", "100000", above=True), data_key="coverage")


class LaborSchema(StrictSchema):
    """Tab Labor."""

    task = Text("Task key of the trade.", most=NAME, required=True)
    unit = Text("Unit the task is counted in.", most=20, required=True)
    hours_per_unit = Number("Hours of one person for one unit.", Limits.of("0", "1000"), required=True)
    role = Text("Whose hours.", most=NAME, required=True)
    crew = Count("People on it together.", 1, 50)


class ConditionSchema(StrictSchema):
    """Tab Conditions."""

    kind = Choice(firm.ConditionKind, "What makes work slower or faster.", required=True, data_key="condition")
    low = Text("From: a height, or the word that holds.", most=40, data_key="from")
    high = Text("To: a height; the factor holds below it.", most=40, data_key="to")
    applies_to = Names("All, or positions and task keys.", required=True)
    factor = Number("What hours are multiplied by.", Limits.of("0", "20", above=True), required=True)


class NoticeSchema(StrictSchema):
    """Tab Notices."""

    text = Text("Printed as it stands.", most=NOTES * 4, lines=True, required=True)
    smallest_type_pt = Number("Least type size in points.", Limits.of("4", "72"), data_key="smallest_type")
    beside_signature = YesNo("Whether it stands beside the signature.")


class TradeSchema(StrictSchema):
    """Tab Trade: the firm's own value of a trade-book entry."""

    entry = Text("Key of the entry.", most=120, required=True)
    value = Number("The firm's value, in the entry's unit.", Limits.of("-1000000", "1000000"), required=True)
    source = Text("Where the firm has it from.", most=300, required=True)


class PriceListSchema(StrictSchema):
    """A whole price list."""

    layout = Count("Layout version.", 1, 1_000_000)
    firm = One(FirmSchema, "Tab Firm.", required=True)
    wages = Rows(WageSchema, "Tab Wages.", most=200, required=True)
    payments = Rows(PaymentSchema, "Tab Payments.", most=50, required=True)
    profiles = Rows(ProfileSchema, "Tab Profiles.", most=2000, required=True)
    stock = Rows(StockSchema, "Tab Stock.", most=10_000, required=True)
    assemblies = Rows(LayerSchema, "Tab Assemblies.", most=5000, required=True)
    supplies = Rows(SupplySchema, "Tab Supplies.", most=5000, required=True)
    labor = Rows(LaborSchema, "Tab Labor.", most=1000, required=True)
    conditions = Rows(ConditionSchema, "Tab Conditions.", most=1000)
    notices = Rows(NoticeSchema, "Tab Notices.", most=50)
    trade = Rows(TradeSchema, "Tab Trade.", most=1000)
