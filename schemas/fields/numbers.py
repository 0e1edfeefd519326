"""Fields of figures: numbers, counts, angles, shares, money."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import ClassVar

from marshmallow import ValidationError

from schemas.faults import refusal
from schemas.fields.words import StrictField
from schemas.text import cleaned, shown
from service.problems import Code
from service.units import comma_readings

_NUMBER = re.compile(r"[+-]?(?:\d{1,12}(?:\.\d{0,17})?|\.\d{1,17})", re.ASCII)
_MONEY = re.compile(r"-?\d{1,9}(?:\.\d{1,4})?", re.ASCII)
_PERCENT = re.compile(r"(?P<number>[^%]*?)\s*%")


@dataclass(frozen=True, slots=True)
class Limits:
    """Least and greatest value accepted; `above`: the least itself is refused; `below`: the greatest itself."""

    low: Fraction
    high: Fraction
    above: bool = False
    below: bool = False

    @classmethod
    def of(cls, low: str, high: str, *, above: bool = False, below: bool = False) -> Limits:
        """Limits written as decimals."""
        return cls(Fraction(low), Fraction(high), above, below)

    def __contains__(self, value: Fraction | Decimal | int) -> bool:
        """True when the value lies within."""
        number = Fraction(value)
        return (self.low < number or (number == self.low and not self.above)) and (
            number < self.high or (number == self.high and not self.below)
        )

    def sentence(self, low: str, high: str) -> str:
        """The limits in words, the figures spelled by the caller."""
        least = f"more than {low}" if self.above else f"at least {low}"
        return f"It must be {least} and {'less than' if self.below else 'at most'} {high}."


def decimal_of(value: object, wanted: str) -> Decimal:
    """Number as an exact decimal, from text or from a JSON number; truth values, NaN, exponents are refused."""
    if isinstance(value, int) and not isinstance(value, bool):
        value = shown(value)
    elif isinstance(value, float):
        value = format(Decimal(repr(value)), "f") if abs(value) < 1e12 else shown(value)  # noqa: PLR2004 - as _NUMBER
    text = cleaned(value).replace("\N{MINUS SIGN}", "-") if isinstance(value, str) else ""
    if "," in text:
        detail = ambiguity(text) or "A comma can mean a decimal or a thousand."
        raise refusal(Code.NUMBER_NOT_UNDERSTOOD, detail, wanted, value)
    if not _NUMBER.fullmatch(text):
        raise refusal(Code.NUMBER_NOT_UNDERSTOOD, "It is not one number.", wanted, value)
    return Decimal(text)


def typed_number(value: object, wanted: str) -> Decimal:
    """Number as people type it on a sheet: a comma that can only be a decimal one is read as such."""
    return decimal_of(plain_figure(value, wanted) if isinstance(value, str) else value, wanted)


def plain_figure(text: str, wanted: str) -> str:
    """A typed figure with a hyphen for its minus sign and a point for a comma that can only be a decimal one.

    `12,5` is 12.5; `1,250` can be 1.250 or 1250 and is refused with both.
    """
    figure = cleaned(text).replace("\N{MINUS SIGN}", "-")
    if "," not in figure:
        return figure
    readings = comma_readings(figure.removeprefix("-"))
    if len(readings) != 1:
        detail = ambiguity(text) or "A comma stands where no decimal sign can be."
        raise refusal(Code.NUMBER_NOT_UNDERSTOOD, detail, wanted, text)
    return ("-" if figure.startswith("-") else "") + readings[0]


def ambiguity(value: object) -> str:
    """The two readings of a figure with a comma, as a sentence; "" when it has not two."""
    figure = cleaned(value).rstrip(" %°") if isinstance(value, str) else ""
    readings = comma_readings(figure)
    return f"It can be read as {readings[0]} or as {readings[1]}." if len(readings) > 1 else ""


class Number(StrictField[Decimal]):
    """A number within limits, exact."""

    wanted = "Type a number, such as 12 or 2.5."
    published: ClassVar[Mapping[str, object]] = {"oneOf": [{"type": "number"}, {"type": "string"}]}

    def __init__(self, says: str, limits: Limits, *, required: bool = False, data_key: str | None = None) -> None:
        """Accept numbers within `limits`."""
        words = limits.sentence(_plain(limits.low), _plain(limits.high))
        super().__init__(f"{says} {words}", required=required, data_key=data_key)
        self.limits = limits

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        return self.within(typed_number(value, self.help), value)

    def within(self, number: Decimal, value: object) -> Decimal:
        """The number, if it lies within the limits."""
        return number_within(number, self.limits, self.help, value)


def number_within(number: Decimal, limits: Limits, wanted: str, value: object) -> Decimal:
    """The number, if it lies within limits; else the refusal that says them."""
    if number not in limits:
        sentence = limits.sentence(_plain(limits.low), _plain(limits.high))
        raise refusal(Code.NUMBER_OUT_OF_RANGE, sentence, wanted, value)
    return number


def _plain(value: Fraction) -> str:
    return f"{value.numerator / value.denominator:,.6g}" if value.denominator != 1 else f"{value.numerator:,}"


class Count(StrictField[int]):
    """A whole number within limits."""

    wanted = "Type a whole number."
    published: ClassVar[Mapping[str, object]] = {"oneOf": [{"type": "integer"}, {"type": "string"}]}

    def __init__(self, says: str, low: int, high: int, *, required: bool = False, data_key: str | None = None) -> None:
        """Accept whole numbers from `low` to `high`."""
        words = f"{says} A whole number from {low} to {high}."
        super().__init__(words, required=required, data_key=data_key)
        self.low, self.high = low, high
        self.help = f"Type a whole number from {low} to {high}."

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> int:
        del attr, data, kwargs
        number = typed_number(value, self.help)
        if number != number.to_integral_value():
            raise refusal(Code.NUMBER_NOT_UNDERSTOOD, "It is not a whole number.", self.help, value)
        if not self.low <= number <= self.high:
            raise refusal(Code.NUMBER_OUT_OF_RANGE, f"It is not from {self.low} to {self.high}.", self.help, value)
        return int(number)


_ANGLE_MARK = re.compile(r"\s*(?:°|º|deg(?:rees?)?\.?)\Z", re.IGNORECASE)


class Angle(StrictField[float]):
    """An angle in degrees, `135` or `135°`."""

    wanted = "Type the angle in degrees, such as 90 or 135."
    published: ClassVar[Mapping[str, object]] = Number.published

    def __init__(self, says: str, limits: Limits, *, required: bool = False, data_key: str | None = None) -> None:
        """Accept angles within `limits`."""
        words = limits.sentence(_plain(limits.low), _plain(limits.high))
        super().__init__(f"{says} {words}", required=required, data_key=data_key)
        self.limits = limits

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> float:
        del attr, data, kwargs
        plain = _ANGLE_MARK.sub("", cleaned(value)) if isinstance(value, str) else value
        return float(number_within(typed_number(plain, self.help), self.limits, self.help, value))


class Share(StrictField[Decimal]):
    """A share, `15%` or `0.15`; above 1 only with the sign."""

    wanted = "Type a share such as 15% or 0.15."
    published: ClassVar[Mapping[str, object]] = {"oneOf": [{"type": "number"}, {"type": "string"}]}

    def __init__(self, says: str, high: str = "1", *, required: bool = False, data_key: str | None = None) -> None:
        """Accept shares from 0 to `high`."""
        super().__init__(says, required=required, data_key=data_key)
        self.high = Decimal(high)

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        share = share_of(value, self.help)
        if not 0 <= share <= self.high:
            detail = f"It is not from 0% to {self.high * 100:f}%."
            raise refusal(Code.NUMBER_OUT_OF_RANGE, detail, self.help, value)
        return share


def share_of(value: object, wanted: str = Share.wanted) -> Decimal:
    """Share as a fraction of one; a figure above 1 without a percent sign is refused."""
    percent = _PERCENT.fullmatch(cleaned(value)) if isinstance(value, str) else None
    try:
        number = typed_number(percent["number"] if percent else value, wanted)
    except ValidationError:
        raise refusal(Code.SHARE_NOT_UNDERSTOOD, ambiguity(value) or "It is not a share.", wanted, value) from None
    if percent:
        return number / 100
    if number > 1:
        raise refusal(Code.SHARE_NOT_UNDERSTOOD, "Above 1 a share needs a percent sign.", wanted, value)
    return number


class Money(StrictField[Decimal]):
    """An amount as decimal text, `1234.50`, or `{amount, currency}`; a JSON fraction is refused: it is a float."""

    wanted = "Type the amount with a decimal point and nothing else, such as 1234.50."

    def __init__(
        self, says: str, *, decimals: int = 2, low: int = 0, required: bool = False, data_key: str | None = None
    ) -> None:
        """Accept amounts of at least `low` with so many decimals at most."""
        text = {"type": "string", "pattern": rf"^-?\d{{1,9}}(\.\d{{1,{decimals}}})?$"}
        amount = {"type": "object", "required": ["amount"], "properties": {"amount": text}}
        super().__init__(says, required=required, data_key=data_key, oneOf=[text, amount, {"type": "integer"}])
        self.decimals = decimals
        self.low = low

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        amount = money_of(value, self.decimals, self.help)
        if amount < self.low:
            raise refusal(Code.NUMBER_OUT_OF_RANGE, f"It is less than {self.low}.", self.help, value)
        return amount


def money_of(value: object, decimals: int, wanted: str = Money.wanted) -> Decimal:
    """Amount of money as an exact decimal, at least two decimals kept; never rounded."""
    figure = value.get("amount") if isinstance(value, Mapping) and set(value) <= {"amount", "currency"} else value
    if isinstance(figure, int) and not isinstance(figure, bool):
        figure = shown(figure)
    text = plain_figure(figure, wanted) if isinstance(figure, str) else ""
    if not _MONEY.fullmatch(text):
        raise refusal(Code.NUMBER_NOT_UNDERSTOOD, "It is not an amount of money.", wanted, figure)
    amount = Decimal(text)
    if len(text.partition(".")[2].rstrip("0")) > decimals:
        raise refusal(Code.NUMBER_NOT_UNDERSTOOD, f"It has more than {decimals} decimals.", wanted, figure)
    return amount.quantize(Decimal(1).scaleb(-max(2, decimals))) if decimals == 2 else amount  # noqa: PLR2004 - cents
