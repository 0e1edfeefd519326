"""Fields of measured things, whose bare figures are read by the document's units: lengths and weights."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import ClassVar

from marshmallow import ValidationError
from marshmallow.experimental.context import Context

from schemas.faults import refusal
from schemas.fields.numbers import Limits, Number, ambiguity, decimal_of, typed_number
from schemas.fields.words import StrictField, each_of
from schemas.text import cleaned, shown
from service.problems import Code
from service.units import Length, LengthFault, Units, parsed_length


@dataclass(frozen=True, slots=True)
class Reading:
    """How bare figures are read. `is_known` False: the units are missing or wrong, so sizes are not judged."""

    units: Units = Units.IMPERIAL
    is_known: bool = True


READING = Context[Reading]


def reading() -> Reading:
    """The reading in force while a document is loaded."""
    return READING.get(Reading())


class LengthField(StrictField[Length]):
    """A length: trade text, or `{"in": "150.5"}` or `{"mm": "3810"}`; bare figures by the document's units."""

    wanted = "Type a length such as 12' 6 1/2\", 150 1/2, 3810 mm or 3.81 m."
    published: ClassVar[Mapping[str, object]] = {
        "oneOf": [
            {"type": "string"},
            {"type": "object", "required": ["in"], "properties": {"in": {"type": "string"}}},
            {"type": "object", "required": ["mm"], "properties": {"mm": {"type": "string"}}},
        ]
    }

    def __init__(
        self,
        says: str,
        low: str = "0",
        high: str = "12000",
        *,
        zero: bool = False,
        required: bool = False,
        data_key: str | None = None,
    ) -> None:
        """Accept lengths from `low` to `high` inches; zero itself only when `zero`."""
        super().__init__(says, required=required, data_key=data_key)
        self.limits = Limits.of(low, high, above=low == "0" and not zero)

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Length:
        del attr, data, kwargs
        return self.within(length_of(value, self.help), value)

    def within(self, length: Length, value: object) -> Length:
        """The length, if it lies within the limits (which are judged only once the units are known)."""
        units = reading()
        if units.is_known and length.inches not in self.limits:
            low, high = (Length(bound).text(units.units) for bound in (self.limits.low, self.limits.high))
            raise refusal(Code.NUMBER_OUT_OF_RANGE, self.limits.sentence(low, high), self.help, value)
        return length


def length_of(value: object, wanted: str = LengthField.wanted) -> Length:
    """Exact length; a truth value and a JSON fraction (a float) are refused, each by its code."""
    if isinstance(value, bool):
        raise refusal(Code.LENGTH_IS_BOOLEAN, "A truth value stands where a length belongs.", wanted, value)
    if isinstance(value, Mapping):
        return _measured(value, wanted)
    if isinstance(value, int):
        value = shown(value)
    if not isinstance(value, str):
        raise refusal(Code.LENGTH_NOT_UNDERSTOOD, "A length is written as text.", wanted, value)
    try:
        return parsed_length(value, reading().units)
    except LengthFault as fault:
        code = Code.LENGTH_UNIT_MISSING if fault.is_unit_missing else Code.LENGTH_NOT_UNDERSTOOD
        raise refusal(code, fault.reason, wanted, value) from None


def _measured(value: Mapping[object, object], wanted: str) -> Length:
    if len(value) != 1 or not set(value) <= {"in", "mm"}:
        detail = "An object for a length has one member, `in` or `mm`."
        raise refusal(Code.LENGTH_NOT_UNDERSTOOD, detail, wanted, value)
    ((unit, figure),) = value.items()
    if isinstance(figure, float):
        raise refusal(Code.LENGTH_NOT_UNDERSTOOD, "The figure of a length is written as text.", wanted, figure)
    try:
        number = Fraction(decimal_of(figure, wanted))
    except ValidationError:
        raise refusal(
            Code.LENGTH_NOT_UNDERSTOOD, ambiguity(figure) or "It is not one length.", wanted, figure
        ) from None
    if number < 0:
        raise refusal(Code.LENGTH_NOT_UNDERSTOOD, "A length cannot be negative.", wanted, figure)
    return Length.of(number) if unit == "in" else Length.of_mm(number)


class LengthList(StrictField[tuple[Length, ...]]):
    """Lengths in a list, or as one text with semicolons between them."""

    wanted = "Type lengths with semicolons between them, such as 4; 20; 36."
    published: ClassVar[Mapping[str, object]] = {"oneOf": [{"type": "array", "items": {}}, {"type": "string"}]}

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> tuple[Length, ...]:
        del attr, data, kwargs
        return each_of(value, lambda item: _item_of_list(item, self.help), self.help)


def _item_of_list(item: object, wanted: str) -> Length:
    """One length of a list; a comma in it may as well stand between two."""
    if isinstance(item, str) and "," in item:
        first, *rest = (part.strip() for part in item.split(","))
        detail = f"It can be read as {first}.{rest[0]} or as {first} and {rest[0]}." if len(rest) == 1 else (
            "A comma does not divide a list."
        )  # fmt: skip
        raise refusal(Code.LENGTH_NOT_UNDERSTOOD, detail, wanted, item)
    return length_of(item, wanted)


_WEIGHT = re.compile(r"(?P<number>[\d.,]+)\s*(?P<unit>lbs?\.?|pounds?|kg|kilograms?)?", re.IGNORECASE | re.ASCII)
LB_PER_KG = Fraction(100_000_000, 45_359_237)


class Weight(Number):
    """A weight in pounds; `12 lb`, `5 kg`, a bare figure by the document's units."""

    wanted = "Type a weight such as 12 lb or 5.5 kg."

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        match = _WEIGHT.fullmatch(cleaned(value)) if isinstance(value, str) else None
        number = typed_number(match["number"] if match else value, self.help)
        unit = (match["unit"] or "") if match else ""
        is_metric = unit.lower().startswith("k") or (not unit and reading().units is Units.METRIC)
        return self.within(exact_decimal(Fraction(number) * LB_PER_KG) if is_metric else number, value)


def exact_decimal(value: Fraction) -> Decimal:
    """Rational as a decimal, to 28 figures (1 lb is exactly 0.45359237 kg, NIST Handbook 44, Appendix C)."""
    return Decimal(value.numerator) / Decimal(value.denominator)
