"""Fields of answers, for both directions: exact for machines, with a text for people beside where it helps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any, TypeVar

from marshmallow import fields
from marshmallow.experimental.context import Context

from service.money import to_cents
from service.units import SNAP, Length, Units

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from schemas.problem import RecordSchema

Value = TypeVar("Value")
GAP_DECIMALS = 6
ANGLE_DECIMALS = 2
FIGURES = 15
HALF_STEP = Fraction(1, 2 * SNAP)
HAIR = Fraction(1, 10**9)


@dataclass(frozen=True, slots=True)
class Answering:
    """In which units lengths are worded, the currency of amounts, and where offcuts come from."""

    units: Units = Units.IMPERIAL
    currency: str = ""
    source: str = ""


ANSWERING = Context[Answering]


def answering() -> Answering:
    """What is in force while an answer is written."""
    return ANSWERING.get(Answering())


def _published(says: str, **schema: object) -> dict[str, Any]:
    return {"description": says, **schema}


def _presence(*, since_later: bool, before: object = None) -> dict[str, Any]:
    return {"load_default": before} if since_later else {"required": True}


class Inches(fields.Field[Length]):
    """A length as a decimal string of inches, exact to 1/64"."""

    def __init__(
        self,
        attribute: str,
        says: str,
        *,
        allow_none: bool = False,
        since_later: bool = False,
        before: Length | None = None,
    ) -> None:
        """Carry the record's `attribute`; one added later reads as `before` from quotes stored before."""
        super().__init__(
            attribute=attribute, allow_none=allow_none, **_presence(since_later=since_later, before=before),
            metadata=_published(f"{says} Inches, exact to 1/64.", type="string", examples=["150.5"]),
        )  # fmt: skip

    def _serialize(self, value: Length | None, attr: str | None, obj: object, **kwargs: object) -> str | None:
        del attr, obj, kwargs
        return None if value is None else str(value.decimal())

    def _deserialize(self, value: str, attr: str | None, data: object, **kwargs: object) -> Length:
        del kwargs
        text = data.get(_partner(attr), "") if isinstance(data, Mapping) else ""
        return length_read(value, text)


def _partner(attr: str | None) -> str:
    return (attr or "").removesuffix("_in") + "_text"


def length_read(inches: str, text: str) -> Length:
    """Length of the inches and the text stored beside them.

    A metric text is the rounder of the two (half a millimeter against 1/64 inch), so a wall measured as 3820 mm prints
    as 3820 mm again; it is kept within what snaps to the stored inches.
    """
    nearest = Length.of(inches)
    figures, _, unit = text.partition("\N{NO-BREAK SPACE}")
    if unit != "mm":
        return nearest
    printed = Length.of_mm(figures.replace("\N{MINUS SIGN}", "-"))
    low, high = nearest.inches - HALF_STEP, nearest.inches + HALF_STEP - HAIR
    return Length(min(max(printed.inches, low), high))


class LengthText(fields.Field[Length]):
    """The same length for people, in the quote's units; written, never read."""

    def __init__(self, attribute: str) -> None:
        """Word the record's `attribute`."""
        super().__init__(
            attribute=attribute, dump_only=True, metadata=_published("For people.", type=["string", "null"])
        )

    def _serialize(self, value: Length | None, attr: str | None, obj: object, **kwargs: object) -> str | None:
        del attr, obj, kwargs
        return None if value is None else value.text(answering().units)


class InchesList(fields.Field[tuple[Length, ...]]):
    """Lengths as decimal strings of inches."""

    def __init__(self, attribute: str, says: str) -> None:
        """Carry the record's `attribute`."""
        metadata = _published(f"{says} Inches, exact to 1/64.", type="array", items={"type": "string"})
        super().__init__(attribute=attribute, required=True, metadata=metadata)

    def _serialize(self, value: Iterable[Length] | None, attr: str | None, obj: object, **kwargs: object) -> list[str]:
        del attr, obj, kwargs
        return [str(length.decimal()) for length in value or ()]

    def _deserialize(
        self, value: Sequence[str], attr: str | None, data: object, **kwargs: object
    ) -> tuple[Length, ...]:
        del kwargs
        texts = data.get(_partner(attr)) if isinstance(data, Mapping) else None
        return tuple(length_read(item, text) for item, text in zip(value, texts or [""] * len(value), strict=True))


class LengthTexts(fields.Field[tuple[Length, ...]]):
    """The same lengths for people."""

    def __init__(self, attribute: str) -> None:
        """Word the record's `attribute`."""
        metadata = _published("For people.", type="array", items={"type": "string"})
        super().__init__(attribute=attribute, dump_only=True, metadata=metadata)

    def _serialize(self, value: Iterable[Length] | None, attr: str | None, obj: object, **kwargs: object) -> list[str]:
        del attr, obj, kwargs
        units = answering().units
        return [length.text(units) for length in value or ()]


class Degrees(fields.Field[float]):
    """An angle to 0.01°, null where it does not apply."""

    def __init__(self, says: str) -> None:
        """Describe the angle."""
        super().__init__(required=True, allow_none=True, metadata=_published(says, type="number"))

    def _serialize(self, value: float | None, attr: str | None, obj: object, **kwargs: object) -> float | None:
        del attr, obj, kwargs
        return None if value is None else round(value, ANGLE_DECIMALS) + 0.0

    def _deserialize(self, value: float, attr: str | None, data: object, **kwargs: object) -> float:
        del attr, data, kwargs
        return float(value)


class Amount(fields.Field[Decimal]):
    """Money, `{amount: "1234.50", currency: "USD"}`."""

    def __init__(self, says: str, *, allow_none: bool = False, since_later: bool = False) -> None:
        """Describe the amount; one added later reads as None from quotes stored before."""
        members = {"amount": {"type": "string", "pattern": r"^-?\d+\.\d{2}$"}, "currency": {"type": "string"}}
        metadata = _published(says, type="object", properties=members, required=["amount", "currency"])
        super().__init__(**_presence(since_later=since_later), allow_none=allow_none, metadata=metadata)

    def _serialize(
        self, value: Decimal | None, attr: str | None, obj: object, **kwargs: object
    ) -> dict[str, str] | None:
        del attr, obj, kwargs
        return None if value is None else {"amount": str(to_cents(value)), "currency": answering().currency}

    def _deserialize(self, value: Mapping[str, str], attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        return Decimal(value["amount"])


class Figure(fields.Field[Decimal]):
    """A number that is no money, to 15 figures."""

    def __init__(self, says: str, *, allow_none: bool = False, since_later: bool = False) -> None:
        """Describe the number; one added later reads as None from quotes stored before."""
        super().__init__(
            **_presence(since_later=since_later), allow_none=allow_none, metadata=_published(says, type="number")
        )

    def _serialize(self, value: Decimal | None, attr: str | None, obj: object, **kwargs: object) -> float | None:
        del attr, obj, kwargs
        if value is None:
            return None
        return int(value) if value == value.to_integral_value() else float(f"{value:.{FIGURES}g}")

    def _deserialize(self, value: float, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        return Decimal(str(value))


class Gap(fields.Field[Fraction]):
    """A ratio, rounded to six decimals."""

    def __init__(self, says: str) -> None:
        """Describe the ratio."""
        super().__init__(required=True, metadata=_published(says, type="number"))

    def _serialize(self, value: Fraction | None, attr: str | None, obj: object, **kwargs: object) -> float | None:
        del attr, obj, kwargs
        return None if value is None else float(round(value, GAP_DECIMALS))

    def _deserialize(self, value: float, attr: str | None, data: object, **kwargs: object) -> Fraction:
        del attr, data, kwargs
        return Fraction(str(value))


class Timestamp(fields.Field[datetime]):
    """A moment in UTC, RFC 3339."""

    def __init__(self, says: str) -> None:
        """Describe the moment."""
        super().__init__(required=True, metadata=_published(says, type="string", format="date-time"))

    def _serialize(self, value: datetime | None, attr: str | None, obj: object, **kwargs: object) -> str | None:
        del attr, obj, kwargs
        return None if value is None else timestamp_text(value)

    def _deserialize(self, value: str, attr: str | None, data: object, **kwargs: object) -> datetime:
        del attr, data, kwargs
        return datetime.fromisoformat(value)


def timestamp_text(moment: datetime) -> str:
    """A moment as RFC 3339 in UTC: milliseconds, microseconds only where there are any."""
    utc = moment.astimezone(UTC)
    text = utc.isoformat(timespec="microseconds" if utc.microsecond % 1000 else "milliseconds")
    return text.removesuffix("+00:00") + "Z"


class Texts(fields.Field[tuple[str, ...]]):
    """A list of texts."""

    def __init__(self, says: str) -> None:
        """Describe the texts."""
        metadata = _published(says, type="array", items={"type": "string"})
        super().__init__(required=True, metadata=metadata)

    def _serialize(self, value: Iterable[str] | None, attr: str | None, obj: object, **kwargs: object) -> list[str]:
        del attr, obj, kwargs
        return list(value or ())

    def _deserialize(self, value: Iterable[str], attr: str | None, data: object, **kwargs: object) -> tuple[str, ...]:
        del attr, data, kwargs
        return tuple(value)


class Several(fields.Nested):
    """A list of records, read back as a tuple."""

    def __init__(self, schema: type[RecordSchema], says: str, *, attribute: str | None = None) -> None:
        """Nest a list of them."""
        super().__init__(schema, many=True, required=True, attribute=attribute, metadata={"description": says})

    def _deserialize(self, value: Any, attr: str | None, data: Any, partial: Any = None, **kwargs: Any) -> Any:  # noqa: ANN401 - marshmallow's
        return tuple(super()._deserialize(value, attr, data, partial, **kwargs))
