"""Fields of a cut-plan request: lengths, positions and amounts as programs write them, decimal text alone."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, ClassVar

from schemas.faults import refusal
from schemas.fields.lengths import LengthField, length_of
from schemas.fields.lists import each_read
from schemas.fields.numbers import Limits, Number, decimal_of, money_of, number_within
from schemas.fields.words import StrictField
from schemas.text import shown
from service.problems import Code
from service.units import Length

if TYPE_CHECKING:
    Spelling = str | dict[str, str]

MOST_OF_ONE_RUN = 200
MOST_MONEY = Limits.of("0", "1000000")
MOST_SECONDS = Limits.of("0", "600")

_PLAIN = re.compile(r"\d{1,12}(?:\.\d{1,17})?", re.ASCII)
_FIGURE = {"type": "string", "pattern": r"^\d{1,12}(\.\d{1,17})?$"}
_LENGTH: dict[str, object] = {
    "oneOf": [
        _FIGURE,
        *(
            {"type": "object", "required": [unit], "properties": {unit: _FIGURE}, "additionalProperties": False}
            for unit in ("in", "mm")
        ),
    ]
}


class DecimalLength(LengthField):
    """A length as a decimal text of inches, or `{"in": "150.5"}` or `{"mm": "3810"}`; no other spelling."""

    wanted = 'Type inches as a decimal text, such as "150.5", or {"mm": "3810"}.'
    published: ClassVar[Mapping[str, object]] = _LENGTH

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Length:
        del attr, data, kwargs
        return self.within(decimal_length(value, self.help), value)


def decimal_length(value: object, wanted: str = DecimalLength.wanted) -> Length:
    """Exact length of a decimal; floats, truth values and trade text are refused."""
    is_figure = isinstance(value, str | int) and not isinstance(value, bool)
    return length_of({"in": value} if is_figure else value, wanted)


@dataclass(frozen=True, slots=True)
class Position:
    """A position along a run, exact, and as the request spelled it.

    Attributes:
        length: from the run's left end. [Length]
        unit: member that gave it, `in` or `mm`; None: a bare figure, in inches.
        text: the figure, a plain decimal.
    """

    length: Length
    unit: str | None
    text: str

    @property
    def spelling(self) -> Spelling:
        """The same JSON value again."""
        return {self.unit: self.text} if self.unit else self.text


class Positions(StrictField[tuple[Position | None, ...]]):
    """Positions along a run, None in the place of one that was refused."""

    wanted = f"Give a list of at most {MOST_OF_ONE_RUN} lengths; an empty one where no joint may fall."
    published: ClassVar[Mapping[str, object]] = {"type": "array", "maxItems": MOST_OF_ONE_RUN, "items": _LENGTH}

    def _deserialize(
        self, value: object, attr: str | None, data: object, **kwargs: object
    ) -> tuple[Position | None, ...]:
        del attr, data, kwargs
        if isinstance(value, str) or not isinstance(value, Sequence):
            raise refusal(Code.DOCUMENT_UNREADABLE, "A list is needed here.", self.help, value)
        if len(value) > MOST_OF_ONE_RUN:
            raise refusal(Code.NUMBER_OUT_OF_RANGE, f"There are {len(value)} positions.", self.help)
        return each_read(value, _position)


def _position(item: object) -> Position:
    if isinstance(item, str) and _PLAIN.fullmatch(item):
        return Position(Length.of(item), None, item)
    length = decimal_length(item)
    ((unit, figure),) = item.items() if isinstance(item, Mapping) else ((None, item),)
    return Position(length, unit, format(decimal_of(figure, DecimalLength.wanted), "f"))


class Price(StrictField[Decimal]):
    """An amount in the request's currency, a decimal text with two decimals at most."""

    wanted = "Type the amount with a decimal point and at most two decimals, such as 41.60."
    published: ClassVar[Mapping[str, object]] = {
        "oneOf": [{"type": "string", "pattern": r"^\d{1,7}(\.\d{1,2})?$"}, {"type": "integer", "minimum": 0}]
    }

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        if isinstance(value, Mapping):
            raise refusal(Code.NUMBER_NOT_UNDERSTOOD, "It is not an amount of money.", self.help, value)
        return number_within(money_of(value, 2, self.help), MOST_MONEY, self.help, value)


class Seconds(Number):
    """Seconds as a decimal text or a whole number; a JSON fraction is refused: it is a float."""

    wanted = 'Type a number such as 2 or "0.5".'
    published: ClassVar[Mapping[str, object]] = {"oneOf": [{"type": "integer"}, {"type": "string"}]}

    def __init__(self, says: str) -> None:
        """Accept seconds within the range."""
        super().__init__(says, MOST_SECONDS)

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        if isinstance(value, float):
            raise refusal(Code.NUMBER_NOT_UNDERSTOOD, "A fraction is written as text.", self.help, shown(value))
        return self.within(decimal_of(value, self.help), value)
