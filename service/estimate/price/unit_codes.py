"""Unit codes for invoicing programs, by UN/ECE Recommendation 20 ("Codes for Units of Measure Used in Trade")."""

from __future__ import annotations

PIECE = "C62"
EACH = "EA"
HOUR = "HUR"
FOOT = "FOT"
METER = "MTR"

_NAMES: dict[str, tuple[str, ...]] = {
    FOOT: ("ft", "foot", "feet"),
    "LF": ("lf", "lin ft", "linear foot", "linear feet"),
    "INH": ("in", "inch", "inches"),
    "YRD": ("yd", "yard", "yards"),
    METER: ("m", "meter", "meters", "metre", "metres"),
    "CMT": ("cm",),
    "MMT": ("mm",),
    "FTK": ("sq ft", "sqft", "sf", "ft2", "ft²", "square foot", "square feet"),
    "MTK": ("sq m", "sqm", "m2", "m²", "square meter", "square meters"),
    HOUR: ("h", "hr", "hrs", "hour", "hours"),
    "DAY": ("day", "days"),
    "GLL": ("gal", "gallon", "gallons"),
    "QTL": ("qt", "quart", "quarts"),
    "PTL": ("pt", "pint", "pints"),
    "OZA": ("fl oz",),
    "LTR": ("l", "liter", "liters", "litre", "litres"),
    "MLT": ("ml",),
    "LBR": ("lb", "lbs", "pound", "pounds"),
    "ONZ": ("oz", "ounce", "ounces"),
    "KGM": ("kg",),
    "GRM": ("g",),
    EACH: ("each", "ea", "cartridge", "cartridges", "tube", "box", "boxes", "bag", "can", "roll", "pack", "package",
           "kit", "piece", "pieces", "pc", "pcs", "board", "boards"),
}  # fmt: skip
_CODES = {name: code for code, names in _NAMES.items() for name in names}


def unit_code(unit: str) -> str:
    """Code of a unit as people write it; `C62` ("one") for a unit the recommendation has none for, such as a joint.

    Containers go by `EA`: the recommendation withdrew its codes for tubes, boxes, cartons and rolls. A bare quart
    or pint is the US liquid one; `oz` is weight, `fl oz` volume.

    Source: UN/ECE Recommendation 20; FOT, INH, FTK, HUR, EA, GLL, LTR, MTR, LF seen, the others from memory.
    """
    return _CODES.get(" ".join(unit.casefold().split()).rstrip("."), PIECE)
