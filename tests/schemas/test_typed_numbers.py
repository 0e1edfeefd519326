"""Figures as people type them: a comma that can only be a decimal sign is read, one that can be two things is refused."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from marshmallow import ValidationError

from schemas.fields.lengths import LengthList, Weight
from schemas.fields.numbers import Angle, Count, Limits, Money, Number, Share
from schemas.fields.packages import Volume
from service.problems import Code
from service.units import Length

WIDE = Limits.of("-10000000", "10000000")
FIELDS: dict[str, Any] = {
    "number": Number("x", WIDE), "count": Count("x", 0, 5000), "angle": Angle("x", WIDE), "share": Share("x"), "money": Money("x"),
    "weight": Weight("x", WIDE), "volume": Volume("x", WIDE), "lengths": LengthList("x"),
}  # fmt: skip


@pytest.mark.parametrize(
    ("field", "typed", "value"),
    [
        ("number", "12,5", "12.5"), ("number", "0,125", "0.125"), ("number", "1,250.5", "1250.5"), ("number", "1.250,5", "1250.5"),
        ("number", "−12,5", "-12.5"), ("number", "1,250,000", "1250000"), ("count", "2,0", "2"), ("angle", "22,5°", "22.5"),
        ("angle", "135 deg", "135"), ("share", "7,5%", "0.075"), ("share", "0,15", "0.15"), ("money", "12,50", "12.50"), ("money", "1.250,50", "1250.50"),
        ("money", "1,250.00", "1250.00"), ("weight", "4,5 lb", "4.5"), ("volume", "16,0 cu in", "16"),
    ],
)  # fmt: skip
def test_a_comma_with_one_reading_is_read(field: str, typed: str, value: str) -> None:
    """The figure with its comma equals the same figure with a point."""
    assert Decimal(str(FIELDS[field].deserialize(typed))) == Decimal(value)


@pytest.mark.parametrize(
    ("field", "typed", "code", "says"),
    [
        ("number", "1,250", Code.NUMBER_NOT_UNDERSTOOD, "1.250 or as 1250"), ("number", "12,375", Code.NUMBER_NOT_UNDERSTOOD, "12.375 or as 12375"),
        ("number", "1,25,3", Code.NUMBER_NOT_UNDERSTOOD, "comma"), ("number", ",5", Code.NUMBER_NOT_UNDERSTOOD, "comma"),
        ("count", "1,250", Code.NUMBER_NOT_UNDERSTOOD, "1.250 or as 1250"), ("angle", "1,125°", Code.NUMBER_NOT_UNDERSTOOD, "1.125 or as 1125"),
        ("share", "1,250%", Code.SHARE_NOT_UNDERSTOOD, "1.250 or as 1250"), ("money", "1,250", Code.NUMBER_NOT_UNDERSTOOD, "1.250 or as 1250"),
        ("money", "12,555", Code.NUMBER_NOT_UNDERSTOOD, "12.555 or as 12555"), ("weight", "1,250 lb", Code.NUMBER_NOT_UNDERSTOOD, "1.250 or as 1250"),
        ("lengths", "14,30", Code.LENGTH_NOT_UNDERSTOOD, "14.30 or as 14 and 30"), ("lengths", "14, 30, 46", Code.LENGTH_NOT_UNDERSTOOD, "comma"),
        ("lengths", "14,5 mm", Code.LENGTH_NOT_UNDERSTOOD, "14.5 mm or as 14 and 5 mm"),
    ],
)  # fmt: skip
def test_a_comma_with_two_readings_is_refused_with_both(field: str, typed: str, code: Code, says: str) -> None:
    """Nothing is guessed: the fault shows what the figure could be."""
    with pytest.raises(ValidationError) as refused:
        FIELDS[field].deserialize(typed)
    messages: Any = refused.value.messages
    faults = messages if isinstance(messages, list) else messages[0]
    assert faults[0].code is code
    assert says in faults[0].detail


def test_lengths_in_a_list_are_divided_by_semicolons() -> None:
    """`4; 20 1/2` is two lengths."""
    assert FIELDS["lengths"].deserialize("4; 20 1/2") == (Length.of(4), Length.of("20.5"))
