"""Fields of the price list alone: volumes, coverage, weight per foot, currency, time zone, paper."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING, ClassVar

from schemas.currencies import OTHER_DECIMALS, TWO_DECIMALS, time_zones
from schemas.faults import refusal
from schemas.fields.lengths import LB_PER_KG, exact_decimal, reading
from schemas.fields.numbers import Number, typed_number
from schemas.fields.words import StrictField
from schemas.text import cleaned, folded
from service.problems import Code
from service.units import MM_PER_INCH, Units

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

CU_IN_PER_FL_OZ = Fraction(231, 128)
CU_IN_PER_ML = (Fraction(10) / MM_PER_INCH) ** 3
SQFT_PER_SQ_M = (Fraction(1000) / MM_PER_INCH / 12) ** 2
FT_PER_M = Fraction(1000) / MM_PER_INCH / 12

VOLUMES: dict[str, Fraction] = {
    "fl oz": CU_IN_PER_FL_OZ, "floz": CU_IN_PER_FL_OZ, "pt": 16 * CU_IN_PER_FL_OZ, "pint": 16 * CU_IN_PER_FL_OZ,
    "qt": 32 * CU_IN_PER_FL_OZ, "quart": 32 * CU_IN_PER_FL_OZ, "gal": 128 * CU_IN_PER_FL_OZ,
    "gallon": 128 * CU_IN_PER_FL_OZ, "ml": CU_IN_PER_ML, "cl": 10 * CU_IN_PER_ML, "l": 1000 * CU_IN_PER_ML,
    "liter": 1000 * CU_IN_PER_ML, "litre": 1000 * CU_IN_PER_ML, "cu in": Fraction(1),
}  # fmt: skip
AREAS: dict[str, Fraction] = {
    "sq ft": Fraction(1), "sqft": Fraction(1), "ft²": Fraction(1), "sf": Fraction(1),
    "sq m": SQFT_PER_SQ_M, "m²": SQFT_PER_SQ_M, "sqm": SQFT_PER_SQ_M, "m2": SQFT_PER_SQ_M,
}  # fmt: skip
WEIGHTS_PER_FOOT: dict[str, Fraction] = {
    "lb": Fraction(1), "lbs": Fraction(1), "lb/ft": Fraction(1), "lbs/ft": Fraction(1),
    "kg/ft": LB_PER_KG, "kg/m": LB_PER_KG / FT_PER_M,
}  # fmt: skip

_FIGURE_AND_UNIT = re.compile(r"(?P<number>[\d.,]+)\s*(?P<unit>[^\d\s].*)?", re.ASCII)


class Sized(Number):
    """A figure with a unit, turned into one unit; a bare figure by the document's units."""

    units: ClassVar[Mapping[str, Fraction]] = {}
    bare: ClassVar[Mapping[Units, str]] = {}

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        match = _FIGURE_AND_UNIT.fullmatch(cleaned(value)) if isinstance(value, str) else None
        unit = _unit_key(match["unit"]) if match and match["unit"] else self.bare[reading().units]
        if unit not in self.units:
            raise refusal(Code.NUMBER_NOT_UNDERSTOOD, "Its unit is not known.", self.help, value)
        number = typed_number(match["number"] if match else value, self.help)
        return self.within(exact_decimal(Fraction(number) * self.units[unit]), value)


def _unit_key(unit: str) -> str:
    key = folded(unit).replace(".", "")
    return key.removesuffix("s") if key.removesuffix("s") in VOLUMES else key


class Volume(Sized):
    """Volume in cubic inches (1 fl oz = 231/128 in³, NIST Handbook 44, Appendix C)."""

    wanted = "Type a volume such as 10.1 fl oz, 300 mL, 1 gal or 1 L."
    units = VOLUMES
    bare: ClassVar[Mapping[Units, str]] = {Units.IMPERIAL: "fl oz", Units.METRIC: "ml"}


class Coverage(Sized):
    """Area covered by one package unit, in square feet (1 ft = 0.3048 m exactly)."""

    wanted = "Type an area such as 400 sq ft or 10 sq m."
    units = AREAS
    bare: ClassVar[Mapping[Units, str]] = {Units.IMPERIAL: "sq ft", Units.METRIC: "sq m"}


class WeightPerFoot(Sized):
    """Weight of one foot of a profile, in pounds; `kg` alone does not say whether of a foot or of a meter."""

    wanted = "Type a weight such as 0.45 lb/ft or 0.67 kg/m."
    units = WEIGHTS_PER_FOOT
    bare: ClassVar[Mapping[Units, str]] = {Units.IMPERIAL: "lb/ft", Units.METRIC: "kg/ft"}


class Currency(StrictField[str]):
    """A currency of ISO 4217 whose amounts have two decimals."""

    wanted = "Type a three-letter code such as USD, CAD or EUR."
    published: ClassVar[Mapping[str, object]] = {"type": "string", "pattern": "^[A-Z]{3}$"}

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> str:
        del attr, data, kwargs
        code = cleaned(value).upper() if isinstance(value, str) else ""
        if code in OTHER_DECIMALS:
            detail = "Amounts in this currency do not have two decimals; the program cannot price in it."
            raise refusal(Code.VALUE_NOT_IN_LIST, detail, self.help, value)
        if code not in TWO_DECIMALS:
            raise refusal(Code.VALUE_NOT_IN_LIST, "It is no currency code of ISO 4217.", self.help, value)
        return code


class TimeZone(StrictField[str]):
    """A time zone by its IANA name."""

    wanted = "Type a name such as America/Chicago or Europe/Dublin."
    published: ClassVar[Mapping[str, object]] = {"type": "string"}

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> str:
        del attr, data, kwargs
        by_key = {folded(name): name for name in time_zones()}
        zone = by_key.get(folded(value).replace(" ", "_")) if isinstance(value, str) else None
        if zone is None:
            zones = tuple(sorted(time_zones()))
            raise refusal(Code.VALUE_NOT_IN_LIST, "It is no IANA time zone.", self.help, value, zones)
        return zone
