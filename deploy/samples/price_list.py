"""The sample price list: an invented firm with invented prices, wages and production rates."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.template import filled_book
from service.trade.tasks import TASKS
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

FIRM = {
    "Name": "Fennimore & Quill Finish Carpentry (invented)",
    "Address": "7 Tallow Yard, Upper Marlbeck",
    "Phone": "555-0142",
    "Email": "office@fennimore-quill.example",
    "License number": "INVENTED-0417",
    "Currency": "USD",
    "Units": "imperial",
    "Time zone": "America/Chicago",
    "Paper": "Letter",
    "Document word": "quote",
    "Valid for days": "30",
    "Burden share": "32%",
    "Overhead share": "18%",
    "Profit method": "markup",
    "Profit rate": "20%",
    "Contingency share": "3%",
    "Material tax rate": "0%",
    "Sales tax rate": "6.5%",
    "Sales tax on": "materials",
    "Minimum charge": "350.00",
    "Deposit cap": "1000.00",
    "Crew size": "2",
    "Productive hours a day": "6.5",
    "Kerf": '1/8"',
    "End trim": '1"',
    "Shortest piece": '16"',
    "Shortest offcut to keep": '24"',
    "Joint stagger": '24"',
    "Scarf angle": "45",
    "Inside joint": "cope",
    "Splice short runs": "no",
    "Solver seconds": "5",
    "Casing reveal": '3/16"',
    "Stool horn": '3/4"',
    "Spare stock": "5%",
    "Saw miter limit": "50",
    "Saw bevel limit": "47",
    "Shoe nails to": "floor",
    "Default finish": "paint",
    "Lead certificate": "INVENTED-LEAD-22",
}

WAGES = {"lead carpenter": "34.00", "carpenter": "28.50", "painter": "26.00"}

PAYMENTS = (
    ("on acceptance", "30%"),
    ("when the trim is up", "40%"),
    ("when the work is finished", "30%"),
)

# profile, description, shape, width, thickness, spring angle, material, finish, girth, pounds a foot
PROFILES = (
    ("CB-550", "Ceiling board, eased edges", "flat", '5 1/2"', '3/4"', None, "poplar", "primed", '7"', "0.80"),
    ("WB-725", "Wall board, eased edges", "flat", '7 1/4"', '3/4"', None, "poplar", "primed", '8 3/4"', "1.06"),
    ("CR-458", "Crown, cove and bead", "sprung", '4 5/8"', '5/8"', "38", "poplar", "primed", '6 1/4"', "0.48"),
    ("CR-358", "Crown, plain cove", "sprung", '3 5/8"', '9/16"', "38", "poplar", "primed", '5"', "0.34"),
    ("BM-525", "Base, molded top", "molded", '5 1/4"', '9/16"', None, "poplar", "primed", '6"', "0.56"),
    ("BF-550", "Base, plain board", "flat", '5 1/2"', '3/4"', None, "poplar", "primed", '6 1/4"', "0.80"),
    ("BC-118", "Base cap, ogee", "molded", '1 1/8"', '5/8"', None, "poplar", "primed", '2"', "0.11"),
    ("SH-075", "Shoe, quarter of an oval", "molded", '3/4"', '1/2"', None, "poplar", "primed", '1 1/8"', "0.06"),
    ("CR-250R", "Chair rail, double bead", "molded", '2 1/2"', '11/16"', None, "poplar", "primed", '3 3/4"', "0.29"),
    ("CS-325", "Casing, backband edge", "molded", '3 1/4"', '11/16"', None, "poplar", "primed", '4 1/2"', "0.38"),
    ("ST-350", "Stool, rounded nose", "flat", '3 1/2"', '3/4"', None, "poplar", "primed", '5"', "0.51"),
    ("AP-225", "Apron, cove edge", "molded", '2 1/4"', '11/16"', None, "poplar", "primed", '3 1/2"', "0.26"),
    ("PL-375", "Plinth stock", "flat", '3 3/4"', '1"', None, "poplar", "primed", '5 3/4"', "0.73"),
)

# price a foot, and the lengths it is sold in, inches
STOCK = {
    "CB-550": ("2.85", (96, 120, 144, 168, 192)),
    "WB-725": ("3.70", (96, 120, 144, 168, 192)),
    "CR-458": ("3.40", (96, 120, 144, 168, 192)),
    "CR-358": ("2.45", (96, 120, 144, 168, 192)),
    "BM-525": ("2.30", (96, 120, 144, 168, 192)),
    "BF-550": ("2.85", (96, 120, 144, 168, 192)),
    "BC-118": ("1.15", (96, 120, 144, 168, 192)),
    "SH-075": ("0.80", (96, 120, 144, 168, 192)),
    "CR-250R": ("1.95", (96, 120, 144, 168, 192)),
    "CS-325": ("1.85", (84, 96, 120, 144, 168, 192)),
    "ST-350": ("3.10", (96, 120, 144, 168)),
    "AP-225": ("1.45", (96, 120, 144, 168)),
    "PL-375": ("4.20", (96,)),
}
OFFCUTS = (("CR-458", 67, "6.00", "2"), ("BM-525", 51, "3.00", "1"))

_CEILING = {"Position": "ceiling", "Profile": "CB-550", "Inside joint": "miter", "Outside joint": "miter",
            "Adhesive": "bead", "Beads": "2", "Bead diameter": '1/4"', "Caulk edges": "1"}  # fmt: skip
_WALL = {"Position": "wall", "Profile": "WB-725", "Inside joint": "miter", "Outside joint": "miter",
         "Adhesive": "bead", "Beads": "2", "Bead diameter": '1/4"', "Caulk edges": "1"}  # fmt: skip
_CROWN = {"Position": "crown", "Profile": "CR-458", "Inside joint": "cope", "Outside joint": "miter",
          "Adhesive": "none", "Blocks": "yes", "Caulk edges": "2"}  # fmt: skip
_SMALL_CROWN = _CROWN | {"Profile": "CR-358", "Blocks": "no"}
_SHOE = {"Position": "shoe", "Profile": "SH-075", "Inside joint": "cope", "Outside joint": "miter", "Caulk edges": "0"}
_BASE = {"Position": "base", "Profile": "BM-525", "Inside joint": "cope", "Outside joint": "miter", "Caulk edges": "1"}
_FLAT_BASE = _BASE | {"Profile": "BF-550", "Inside joint": "butt", "Caulk edges": "0"}
_CAP = {"Position": "cap", "Profile": "BC-118", "Inside joint": "cope", "Outside joint": "miter", "Caulk edges": "1"}
_RAIL = {"Position": "rail", "Profile": "CR-250R", "Inside joint": "cope", "Outside joint": "miter",
         "Adhesive": "bead", "Beads": "1", "Bead diameter": '1/4"', "Caulk edges": "2"}  # fmt: skip
_CASING = {"Position": "casing", "Profile": "CS-325", "Caulk edges": "2"}
_STOOL = {"Position": "stool", "Profile": "ST-350", "Caulk edges": "1"}
_APRON = {"Position": "apron", "Profile": "AP-225", "Caulk edges": "1"}
_PLINTH = {"Position": "plinth", "Profile": "PL-375", "Caulk edges": "1"}
_BUTTED_CASING = _CASING | {"Outside joint": "butt"}

ASSEMBLIES = {
    "Three-piece crown": (_CEILING, _WALL, _CROWN),
    "Plain crown": (_SMALL_CROWN,),
    "Base and shoe": (_BASE, _SHOE),
    "Base, cap and shoe": (_FLAT_BASE, _CAP, _SHOE),
    "Chair rail": (_RAIL,),
    "Casing": (_CASING,),
    "Window casing with stool": (_CASING, _STOOL, _APRON),
    "Ceiling board alone": (_CEILING,),
    "Casing on plinth blocks": (_CASING, _PLINTH),
    "Casing, butted head": (_BUTTED_CASING,),
}

# code, description, kind, package size, package unit, price, length, shank diameter
FASTENERS = (
    ("brad-18-100", 'Brads, 18 gauge, 1"', "nail", "5000", "each", "11.50", '1"', '0.0475"'),
    ("brad-18-125", 'Brads, 18 gauge, 1 1/4"', "nail", "5000", "each", "13.00", '1 1/4"', '0.0475"'),
    ("brad-18-150", 'Brads, 18 gauge, 1 1/2"', "nail", "5000", "each", "15.00", '1 1/2"', '0.0475"'),
    ("brad-18-200", 'Brads, 18 gauge, 2"', "nail", "5000", "each", "19.00", '2"', '0.0475"'),
    ("finish-15-150", 'Finish nails, 15 gauge, 1 1/2"', "nail", "1000", "each", "12.40", '1 1/2"', '0.072"'),
    ("finish-15-175", 'Finish nails, 15 gauge, 1 3/4"', "nail", "1000", "each", "13.10", '1 3/4"', '0.072"'),
    ("finish-15-200", 'Finish nails, 15 gauge, 2"', "nail", "1000", "each", "13.90", '2"', '0.072"'),
    ("finish-15-225", 'Finish nails, 15 gauge, 2 1/4"', "nail", "1000", "each", "15.20", '2 1/4"', '0.072"'),
    ("finish-15-250", 'Finish nails, 15 gauge, 2 1/2"', "nail", "1000", "each", "16.80", '2 1/2"', '0.072"'),
    ("finish-10d", 'Finish nails, 10d, 3"', "nail", "1", "lb", "6.20", '3"', '0.113"'),
    ("finish-16d", 'Finish nails, 16d, 3 1/2"', "nail", "1", "lb", "6.20", '3 1/2"', '0.120"'),
    ("finish-20d", 'Finish nails, 20d, 4"', "nail", "1", "lb", "6.60", '4"', '0.135"'),
    ("screw-8-250", 'Trim-head screws, 2 1/2"', "screw", "100", "each", "12.90", '2 1/2"', '0.120"'),
)

# code, description, kind, package size, package unit, price, volume, coverage
CANS = (
    ("adhesive-10", "Construction adhesive, low odor", "adhesive", "1", "cartridge", "6.40", "10.1 fl oz", None),
    ("sealant-10", "Paintable sealant, white", "sealant", "1", "cartridge", "4.90", "10.1 fl oz", None),
    ("filler-qt", "Wood filler, sandable", "filler", "1", "qt", "14.50", "32 fl oz", None),
    ("primer-gal", "Wood primer", "primer", "1", "gal", "34.00", "1 gal", "400 sq ft"),
    ("paint-gal", "Trim enamel, semi-gloss", "paint", "1", "gal", "58.00", "1 gal", "400 sq ft"),
)

# the same for what protects the house
PROTECTION = (
    ("masking-tape", 'Masking tape, 1", for painted surfaces', "other", "1", "roll of 60 yd", "5.60", None, None),
    ("floor-covering", "Floor covering, paperboard", "other", "1", "roll", "52.00", None, "300 sq ft"),
)

# code, description, kind, package size, package unit, price
PIECES = (
    ("block-crown", "Crown blocks, ripped to shape", "block", "25", "each", "18.75"),
    ("glue-plate", "Glue plates for splices off the framing", "other", "10", "each", "12.50"),
    ("medallion-24", 'Ceiling medallion, 24", polyurethane', "medallion", "1", "each", "64.00"),
    ("medallion-20", 'Ceiling medallion, 20", polyurethane', "medallion", "1", "each", "48.00"),
    ("medallion-28", 'Ceiling medallion, 28", polyurethane', "medallion", "1", "each", "82.00"),
    ("fan-44", 'Ceiling fan, 44"', "fan", "1", "each", "154.00"),
    ("fan-52", 'Ceiling fan, 52"', "fan", "1", "each", "189.00"),
    ("light-flush", "Flush ceiling light", "light", "1", "each", "74.00"),
    ("light-five-arm", "Hanging light, five arms", "light", "1", "each", "168.00"),
)

# Hours of one person for one unit, and whose; invented, to be replaced by a firm's own.
LABOR = {
    "set-up": ("0.75", "carpenter"), "layout": ("0.012", "lead carpenter"), "tear-out": ("0.030", "carpenter"),
    "cut-square": ("0.030", "carpenter"), "cut-butt": ("0.040", "carpenter"), "cut-miter": ("0.070", "lead carpenter"),
    "cut-cope": ("0.180", "lead carpenter"), "cut-by-hand": ("0.300", "lead carpenter"),
    "scarf": ("0.250", "lead carpenter"), "return": ("0.200", "lead carpenter"),
    "hang-ceiling": ("0.045", "carpenter"), "hang-wall": ("0.035", "carpenter"), "hang-crown": ("0.055", "carpenter"),
    "hang-base": ("0.030", "carpenter"), "hang-cap": ("0.020", "carpenter"), "hang-shoe": ("0.018", "carpenter"),
    "hang-rail": ("0.032", "carpenter"), "hang-casing": ("0.035", "carpenter"), "hang-stool": ("0.120", "carpenter"),
    "hang-apron": ("0.050", "carpenter"), "hang-plinth": ("0.150", "carpenter"), "block": ("0.050", "carpenter"),
    "glue-plate": ("0.150", "carpenter"), "nailing": ("0.004", "carpenter"), "caulk": ("0.010", "painter"),
    "fill": ("0.006", "painter"), "sand": ("0.010", "painter"), "prime": ("0.012", "painter"),
    "paint": ("0.014", "painter"), "stain": ("0.018", "painter"), "medallion-in": ("0.90", "carpenter"),
    "medallion-out": ("0.40", "carpenter"), "fan-in": ("1.75", "lead carpenter"), "fan-out": ("0.60", "lead carpenter"),
    "light-in": ("0.80", "lead carpenter"), "light-out": ("0.35", "lead carpenter"), "clean-up": ("0.50", "carpenter"),
    "disposal": ("0.012", "carpenter"), "trip": ("1.00", "lead carpenter"),
}  # fmt: skip

_OVERHEAD = "ceiling;wall;crown"
CONDITIONS = (
    ("ceiling height", '108"', '120"', _OVERHEAD, "1.10"),
    ("ceiling height", '120"', '144"', _OVERHEAD, "1.25"),
    ("ceiling height", '144"', None, _OVERHEAD, "1.50"),
    ("occupied", "yes", None, "all", "1.10"),
    ("access", "over stairs", None, "all", "1.40"),
    ("access", "over tub", None, "all", "1.15"),
    ("access", "built-in", None, "all", "1.20"),
)

NOTICES = (
    ("Sample notice of an invented firm: changes to the work are agreed in writing before they are made.", "9", "no"),
    ("Sample notice of an invented firm: put here what your own law asks for beside a signature.", "10", "yes"),
)


def workbook() -> bytes:
    """The sample price list's bytes."""
    rows: dict[str, Sequence[Mapping[str, object]]] = {
        "Firm": [FIRM],
        "Wages": [{"Role": role, "Wage": wage} for role, wage in WAGES.items()],
        "Payments": [{"When": when, "Share": share} for when, share in PAYMENTS],
        "Profiles": [_row("Profiles", profile) for profile in PROFILES],
        "Stock": _stock(),
        "Assemblies": _assemblies(),
        "Supplies": _supplies(),
        "Labor": [
            {"Task": key, "Unit": TASKS[key].unit, "Hours per unit": hours, "Role": role, "Crew": "1"}
            for key, (hours, role) in LABOR.items()
        ],
        "Conditions": [_row("Conditions", condition) for condition in CONDITIONS],
        "Notices": [_row("Notices", notice) for notice in NOTICES],
    }
    return filled_book(PRICE_LIST, Units.IMPERIAL, rows)


def _row(tab: str, values: tuple[str | None, ...]) -> dict[str, str | None]:
    headings = [column.heading for column in PRICE_LIST.tab(tab).columns]
    return dict(zip(headings, values, strict=False))


def _stock() -> list[dict[str, str]]:
    new = [
        {"Profile": profile, "Length": f'{length}"', "Price": price, "Per": "foot"}
        for profile, (price, lengths) in STOCK.items()
        for length in lengths
    ]
    kept = [
        {"Profile": profile, "Length": f'{length}"', "Price": price, "Per": "each", "Available": count, "Offcut": "yes"}
        for profile, length, price, count in OFFCUTS
    ]
    return new + kept


def _assemblies() -> list[dict[str, str]]:
    return [
        {"Assembly": name, "Layer": str(number), **layer}
        for name, layers in ASSEMBLIES.items()
        for number, layer in enumerate(layers, start=1)
    ]


def _supplies() -> list[dict[str, str | None]]:
    cans = [
        {**_row("Supplies", can[:6]), "Volume": volume, "Coverage": coverage}
        for can in (*CANS, *PROTECTION)
        for volume, coverage in [can[6:]]
    ]
    return [_row("Supplies", fastener) for fastener in FASTENERS] + cans + [_row("Supplies", piece) for piece in PIECES]
