"""Invented documents with every member filled; no such house, firm, person or price exists."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from service.estimate.cuts.model import CutGroup, Cutting, Pattern, Piece, ProfileBoards, Proof, Purchase
from service.estimate.labor.model import Factor, LaborRow
from service.estimate.price.model import Line, LineKind, ScheduledPayment, Totals
from service.estimate.quote import model
from service.estimate.takeoff.model import Edge, End, Hand, Joint, Member, Side, Span
from service.firm import Position
from service.problems import Cell, Code, Problem, Severity
from service.survey import BoxRating, CornerKind, FeatureKind, OpeningKind, WindowStyle
from service.units import Length, Units

Document = dict[str, Any]
D = Decimal

_JOB: Document = {
    "job_name": "Tern Street dining room", "customer": "Ida Quill", "customer_email": "ida@example.org",
    "customer_phone": "555 0100", "site_address": "7 Tern Street\nPlover Bay", "measured_by": "Oskar",
    "measured_on": "2026-03-14", "units": "imperial", "year_built": "1962", "occupied": "yes", "price_list": "standard",
    "valid_for_days": 30, "discount": "5%", "notes": "Dog in the yard.",
}  # fmt: skip

_ROOM: Document = {
    "name": "Dining", "ceiling_height": "8' 1\"", "wall_covering": '1/2"', "ceiling_covering": {"in": "0.625"},
    "joists": {"parallel_to": "B", "first": '8"', "spacing": '16"'}, "ceiling_shape": "flat",
    "ceiling_finish": "smooth", "access": "normal", "notes": "",
    "walls": [
        {"name": "A", "length": "14'", "corner": "inside", "angle_deg": 90, "studs": {"first": '14.5"', "spacing": "16"},
         "framing": "wood", "notes": "outer wall"},
        {"name": "B", "length": {"mm": "3657.6"}, "corner": "inside", "angle_deg": "90°", "studs": {"at": ["4", "20", "36 1/2"]}},
        {"name": "C", "length": "168", "corner": "inside", "angle_deg": "90.5", "studs": {"at": "4; 20;36"}},
        {"name": "D", "length": "12' 0\"", "corner": "inside"},
    ],
    "openings": [
        {"wall": "A", "kind": "window", "from_left": "3'", "width": "36", "height": "80", "sill_height": "30",
         "casing": "Casing", "style": "stool and apron", "sides": 1, "notes": "old lock"},
        {"wall": "C", "kind": "cased opening", "from_left": "0", "width": "30", "height": "80", "sides": "2"},
    ],
    "ceiling": [
        {"feature": "fan", "item": "FAN-52", "diameter": '52"', "weight": "30 lb", "hangs_down": "10", "remove_existing": "no",
         "box_rated_for_fan": "unknown", "nearest_wall": "6'", "notes": "remote"},
    ],
}  # fmt: skip

_IMPERIAL: Document = {
    "layout": 1,
    "job": _JOB,
    "rooms": [_ROOM],
    "trim": [
        {"room": "Dining", "walls": ["A", "C"], "assembly": "Three-part crown", "inside_joint": "cope", "ends": "return",
         "remove_existing": True, "finish": "paint", "coats": 2, "notes": "match hall"},
        {"room": "all", "walls": "all", "assembly": "Chair rail", "height": "36"},
    ],
    "extras": [
        {"room": "Dining", "description": "Patch outlet hole", "quantity": "1.5", "unit": "hour", "unit_price": "65.00",
         "kind": "allowance", "notes": "behind the stove"},
        {"description": "Dimmer", "quantity": 1, "unit": "each", "unit_price": {"amount": "80", "currency": "USD"},
         "kind": "option"},
    ],
}  # fmt: skip

_METRIC: Document = {
    "job": _JOB | {"units": "metric", "discount": "150.00"},
    "rooms": [
        {"name": "Study", "ceiling_height": "2450", "wall_covering": "12.5 mm",
         "joists": {"parallel_to": "a", "first": "350", "spacing": "400"},
         "walls": [
             {"name": "A", "length": "3820", "corner": "inside", "studs": {"first": "380", "spacing": "400"}},
             {"name": "B", "length": "3.05 m", "corner": "inside"},
             {"name": "C", "length": "382 cm", "corner": "inside"},
             {"name": "D", "length": "10' 1/16\"", "corner": "open"},
         ],
         "ceiling": [{"feature": "medallion", "diameter": "610", "weight": "5"}]},
    ],
    "trim": [{"room": "study", "walls": "A; b", "assembly": "Crown"}],
}  # fmt: skip

_PRICES: Document = {
    "layout": 1,
    "firm": {
        "name": "Sandpiper Finish (invented)", "address": "1 Quay\nPlover Bay", "phone": "555 0101", "email": "hi@example.org",
        "license_number": "X-1", "currency": "usd", "units": "imperial", "time_zone": "America/Chicago", "paper": "A4",
        "document_word": "estimate", "valid_for_days": "30", "burden_share": "28%", "overhead_share": "0.12",
        "profit_method": "margin", "profit_rate": "20%", "contingency_share": "3%", "material_tax_rate": "0%",
        "sales_tax_rate": "6.25%", "sales_tax_on": "materials", "minimum_charge": "450.00", "deposit_cap": "1000.00",
        "crew_size": 2, "productive_hours_a_day": "6.5", "kerf": "1/8", "end_trim": "1", "shortest_piece": "16",
        "shortest_offcut_to_keep": "24", "joint_stagger": "16", "scarf_angle": "45°", "inside_joint": "cope",
        "splice_short_runs": "no", "solver_seconds": "2.5", "casing_reveal": "3/16", "stool_horn": "1", "spare_stock": "5%",
        "saw_miter_limit": "50", "saw_bevel_limit": 48, "shoe_nails_to": "base", "default_finish": "paint",
        "lead_certificate": "L-1",
    },
    "wages": [{"role": "Carpenter", "wage": "32.00"}, {"role": "Helper", "wage": "21.5"}],
    "payments": [{"when": "On signing", "share": "30%"}, {"when": "On completion", "share": "0.7"}],
    "profiles": [
        {"profile": "CB", "description": "Ceiling board", "shape": "flat", "width": "5 1/2", "thickness": "3/4",
         "material": "poplar", "finish": "primed", "girth": "7", "weight_per_foot": "0.9"},
        {"profile": "CR", "description": "Crown", "shape": "sprung", "width": "4 5/8", "thickness": "5/8",
         "spring_angle": "38°", "weight_per_foot": "1 kg/m"},
    ],
    "stock": [
        {"profile": "cb", "length": "16'", "price": "2.1875", "per": "foot"},
        {"profile": "CR", "length": "12'", "price": "31.2", "per": "each", "available": "6"},
        {"profile": "CR", "length": "5'", "price": "0", "per": "each", "available": 1, "offcut": "yes"},
    ],
    "assemblies": [
        {"assembly": "Two-part crown", "layer": 2, "position": "crown", "profile": "CR", "inside_joint": "cope",
         "outside_joint": "butt", "blocks": "yes", "block_spacing": "32", "nail": "n-2", "caulk_edges": "2"},
        {"assembly": "two-part  crown", "layer": "1", "position": "ceiling", "profile": "CB", "adhesive": "bead", "beads": "2",
         "bead_diameter": "1/4"},
        {"assembly": "Crown alone", "layer": 1, "position": "crown", "profile": "CR"},
    ],
    "supplies": [
        {"code": "N-2", "description": "Finish nail 2 in", "kind": "nail", "package_size": 1000, "package_unit": "each",
         "price": "14.00", "length": "2", "shank_diameter": "0.072"},
        {"code": "GLUE", "description": "Adhesive", "kind": "adhesive", "package_size": 12, "package_unit": "cartridge",
         "price": "60", "volume": "10.1 fl oz"},
        {"code": "PAINT", "description": "Enamel", "kind": "paint", "package_size": 1, "package_unit": "gal", "price": "55.00",
         "coverage": "400 sq ft"},
    ],
    "labor": [
        {"task": "hang-crown", "unit": "ft", "hours_per_unit": "0.06", "role": "carpenter", "crew": 2},
        {"task": "Cut-Cope", "unit": "joint", "hours_per_unit": 0.35, "role": "Carpenter"},
    ],
    "conditions": [
        {"condition": "ceiling height", "from": "9'", "to": "10'", "applies_to": ["crown", "hang-ceiling"], "factor": "1.15"},
        {"condition": "occupied", "applies_to": "all", "factor": "1.1"},
        {"condition": "access", "from": "Over stairs", "applies_to": "all", "factor": "1.5"},
    ],
    "notices": [{"text": "You may cancel.\nWithin three days.", "smallest_type": "10", "beside_signature": "yes"}],
    "trade": [{"entry": "waste.nails", "value": "0.15", "source": "own jobs of 2025"}],
}  # fmt: skip


def imperial() -> Document:
    """A fresh job document in feet and inches."""
    return deepcopy(_IMPERIAL)


def metric() -> Document:
    """A fresh job document in millimeters."""
    return deepcopy(_METRIC)


def prices() -> Document:
    """A fresh price list."""
    return deepcopy(_PRICES)


def changed(document: Document, pointer: str, value: object) -> Document:
    """The document with one member set; an unset one is taken away by None."""
    *path, last = pointer.removeprefix("/").split("/")
    place: Any = document
    for part in path:
        place = place[int(part) if isinstance(place, list) else part]
    key: Any = int(last) if isinstance(place, list) else last
    if value is None:
        del place[key]
    elif isinstance(place, list) and key == len(place):
        place.append(value)
    else:
        place[key] = value
    return document


def inches(value: str) -> Length:
    """Length of so many inches."""
    return Length(Fraction(value))


END = End(
    Joint.MITER, 90.0, 31.62, 33.86, 45.0, Edge.BOTTOM, CornerKind.OUTSIDE,
    hand=Hand(Side.LEFT, Side.LEFT, Edge.BOTTOM, Edge.FACE, Side.LEFT),
    nested_hand=Hand(Side.LEFT, None, Edge.BOTTOM, Edge.BOTTOM, Side.LEFT),
)  # fmt: skip
PLAIN_END = End(Joint.SQUARE)
PIECE = Piece(
    mark="D1-3", run=1, room=1, room_name="Dining", wall="A", assembly="Two-part crown", layer=2, position=Position.CROWN,
    profile="CR", long_point=inches("166.5"), short_point=inches("160"), start=inches("-0.75"), left=END, right=PLAIN_END,
    board=1, left_setback=inches("6.5"),
)  # fmt: skip
LINE = Line(
    number=1, code="CR", room="Dining", kind=LineKind.MATERIAL, description="Crown", quantity=D("13.875"), unit="ft",
    unit_code="FOT", unit_price=D("4.10"), amount=D("56.89"), cost=D("31.20"), basis=("list:stock", "sheet:/rooms/0/walls/0"),
)  # fmt: skip


def _room() -> model.RoomCard:
    corner, far = model.PlanPoint(inches("0"), inches("0")), model.PlanPoint(inches("168"), inches("-0.25"))
    run = model.RunCard(
        number=1, wall="A", assembly="Two-part crown", layer=2, position=Position.CROWN, profile="CR", start=inches("-0.75"),
        length=inches("166.5"), near=inches("0.75"), far=inches("3.59375"), left=END, right=PLAIN_END,
        backed_at=(inches("14.5"), inches("30.5")), backed_all_along=False, unbacked=inches("12"),
        unbacked_stretches=(Span(inches("40"), inches("52")),), joints=(model.JointCard(inches("62"), on_glue_plate=True),),
        pieces=("D1-3",),
    )  # fmt: skip
    leg = replace(
        run, number=2, layer=1, position=Position.CASING, member=Member.LEFT_LEG, opening=1, side=2, low=inches("6"),
        high=inches("83.4375"), joints=(), pieces=(), backed_at=(), unbacked_stretches=(),
    )  # fmt: skip
    return model.RoomCard(
        number=1, name="Dining", area_sqft=D("168.00"), area_is_approximate=False, perimeter=inches("624"),
        ceiling_height=inches("97"), closure=model.ClosureCard(closed=True, gap=inches("0.25"), suspects=("wall B",)),
        walls=(model.WallCard("A", inches("168"), CornerKind.OUTSIDE, 90.0, model.PlanLine(corner, far), (inches("14.5"),), ""),),
        openings=(
            model.OpeningCard("A", OpeningKind.DOOR, inches("36"), inches("36"), inches("80"), None, "old lock", "Casing", None, 2),
            model.OpeningCard(
                "A", OpeningKind.WINDOW, inches("90"), inches("30"), inches("80"), inches("24"), "", "Casing",
                WindowStyle.PICTURE_FRAME,
            ),
        ),
        joists=(model.PlanLine(corner, far),), runs=(run, leg),
        features=(
            model.FeatureCard(
                FeatureKind.FAN, "FAN-52", "", inches("52"), D("31.5"), inches("12.25"), remove_existing=True,
                box_rated_for_fan=BoxRating.YES, nearest_wall=inches("84"),
            ),
        ),
        notes="",
    )  # fmt: skip


def quote(units: Units = Units.IMPERIAL) -> model.Quote:
    """A small quote with at least one record of every kind."""
    cents = D("31.20")
    steps = dict.fromkeys(Totals.__slots__, cents)
    return model.Quote(
        schema=1, id="0195f0a0-0000-7000-8000-000000000000", number="Q-0007", revision=2, status=model.Status.ISSUED,
        created_at=datetime(2026, 3, 14, 15, 9, 26, 535000, tzinfo=UTC), valid_until=date(2026, 4, 13), currency="USD",
        units=units, price_list=model.PriceListRef("standard", 3),
        firm=model.FirmCard(
            "Sandpiper Finish (invented)", "1 Quay", "555 0101", "hi@example.org", "X-1", "", "America/Chicago", "Letter",
            "quote", (model.NoticeCard("You may cancel.", D("10.5"), beside_signature=True),),
        ),
        job=model.JobCard(
            "Tern Street", "Ida Quill", "", "", "7 Tern Street", "Oskar", date(2026, 3, 14), None, occupied=True, notes="",
        ),
        rooms=(_room(),), pieces=(PIECE,),
        boards=(
            ProfileBoards(
                "CR", (Purchase(inches("192"), 2, cents, D("62.40")),),
                (Pattern(1, inches("192"), ("D1-3",), inches("0.125"), inches("24"), inches("1.375")),), D("62.40"), 1,
            ),
        ),
        cutting=Cutting(
            D("70.00"), D("62.40"), D("7.60"), D("68.00"), Fraction(29412, 10**6), D("2.00"), is_proven=False,
            proof=Proof.SOLVER, groups=(CutGroup(("CR",), D("70.00"), D("68.00"), is_proven=False),),
            saving_amount=D("3.25"),
        ),
        supplies=(
            model.SupplyCard("N-2", "nail", "Finish nail", D("96"), "each", D("0.1"), D("1000"), 1, D("894.4"), D("14.00"),
                             D("14.00"), ("trade:waste.nails",)),
        ),
        labor=(
            LaborRow("hang-crown", 1, "Dining", "Hang crown", D("13.875"), "ft", D("0.06"), (Factor("occupied", D("1.1")),),
                     D("0.91575"), "Carpenter", D("32.00"), D("29.30"), ("list:labor",)),
            LaborRow("trip", None, None, "Trips", D("1"), "each", D("1"), (), D("1"), "Helper", D("21.50"), D("21.50"), ()),
        ),
        labor_hours=D("1.91575"), crew_days=D("0.2"), lines=(LINE,), totals=Totals(**steps), options=(LINE,),
        payment_schedule=(ScheduledPayment("On signing", D("0.3"), D("17.07")),),
        assumptions=(model.Assumption("Boards are straight.", "", internal=True),),
        warnings=(
            Problem(Code.BACKING_UNKNOWN, Severity.WARNING, "/rooms/0/joists", "Not known.", "Fill it.", "", Cell("Rooms", "F2")),
            Problem(Code.LEAD_PAINT_POSSIBLE, Severity.NOTE, "/job/year_built", "Perhaps.", "", "1962"),
        ),
        cautions=(model.Caution("saw", "Mind the saw.", ("Dining",)),),
    )  # fmt: skip
