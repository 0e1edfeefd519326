"""Fields of words: texts, names, members of a list, yes or no, dates."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from enum import StrEnum
from typing import Any, ClassVar, TypeVar

from marshmallow import ValidationError, fields

from schemas.faults import missing, not_in_list, refusal
from schemas.text import cleaned, folded, shown, strange_character
from service.problems import Code

Value = TypeVar("Value")
Member = TypeVar("Member", bound=StrEnum)

_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


class StrictField(fields.Field[Value]):
    """A field that says what to type instead. `says` describes the member in the published contract."""

    wanted: ClassVar[str] = "Type a value."
    published: ClassVar[Mapping[str, object]] = {}

    def __init__(self, says: str, *, required: bool = False, data_key: str | None = None, **published: object) -> None:
        """Describe the member and its JSON Schema; a required one that is missing or blank is a fault."""
        metadata = {"description": says, **self.published, **published}
        super().__init__(required=required, data_key=data_key, metadata=metadata)
        self.help = self.wanted

    def make_error(self, key: str, **kwargs: object) -> ValidationError:
        """Marshmallow's own faults (required, null) in our words."""
        del key, kwargs
        return missing(self.help)


class Text(StrictField[str]):
    """Text for people, cleaned. `lines`: line breaks are kept."""

    wanted = "Type a text."
    published: ClassVar[Mapping[str, object]] = {"type": "string"}

    def __init__(
        self, says: str, *, most: int = 200, lines: bool = False, required: bool = False, data_key: str | None = None
    ) -> None:
        """Limit the text to `most` characters."""
        super().__init__(says, required=required, data_key=data_key, maxLength=most)
        self.most = most
        self.lines = lines

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> str:
        del attr, data, kwargs
        return text_of(value, most=self.most, lines=self.lines, wanted=self.help)


def text_of(value: object, *, most: int, lines: bool = False, wanted: str = Text.wanted) -> str:
    """Cleaned text; a whole number counts as text, for names such as `3`. Refuses what cannot be printed or is long."""
    if isinstance(value, int) and not isinstance(value, bool):
        value = shown(value)
    if not isinstance(value, str):
        raise refusal(Code.TEXT_NOT_UNDERSTOOD, "A text is needed here.", wanted, value)
    text = cleaned(value, keep_lines=lines)
    if len(text) > most:
        raise refusal(Code.TEXT_TOO_LONG, f"It has {len(text)} characters.", f"Type at most {most} characters.", value)
    if strange := strange_character(text):
        raise refusal(
            Code.TEXT_NOT_UNDERSTOOD, f"It holds {strange}, which cannot be printed.", "Type it again by hand.", value
        )
    return text


class Choice(StrictField[Member]):
    """One member of a list, in any case and spacing; a mistyped one is told its nearest."""

    def __init__(
        self,
        kind: type[Member],
        says: str,
        *,
        only: tuple[Member, ...] = (),
        required: bool = False,
        data_key: str | None = None,
    ) -> None:
        """Accept the members of `kind`, or `only` some of them."""
        self.members = only or tuple(kind)
        words = [str(member) for member in self.members]
        super().__init__(says, required=required, data_key=data_key, type="string", enum=words)
        self.help = f"Type one of: {', '.join(self.members)}."

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Member:
        del attr, data, kwargs
        by_key = {_choice_key(member): member for member in self.members}
        word = {True: "yes", False: "no"}[value] if isinstance(value, bool) else value
        found = by_key.get(_choice_key(word)) if isinstance(word, str) else None
        if found is None:
            raise not_in_list(value, tuple(map(str, self.members)))
        return found


_SPELLINGS = {"mitre": "miter", "mitred": "miter", "coped": "cope", "butted": "butt", "labour": "labor"}


def _choice_key(value: str) -> str:
    words = folded(value).replace("-", " ").replace("_", " ").split()
    return " ".join(_SPELLINGS.get(word, word) for word in words)


class YesNo(StrictField[bool]):
    """Yes or no: true, false, or one of these words."""

    wanted = "Type yes or no."
    published: ClassVar[Mapping[str, object]] = {"oneOf": [{"type": "boolean"}, {"enum": ["yes", "no"]}]}
    words: ClassVar[Mapping[str, bool]] = {
        "yes": True,
        "y": True,
        "true": True,
        "no": False,
        "n": False,
        "false": False,
    }

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> bool:
        del attr, data, kwargs
        if isinstance(value, bool):
            return value
        answer = self.words.get(folded(value)) if isinstance(value, str) else None
        if answer is None:
            raise refusal(Code.VALUE_NOT_IN_LIST, "It is neither yes nor no.", self.help, value)
        return answer


class DateField(StrictField[date]):
    """A calendar date, YYYY-MM-DD, 1900 to 2100."""

    wanted = "Type the date as YYYY-MM-DD, such as 2026-03-14."
    published: ClassVar[Mapping[str, object]] = {"type": "string", "format": "date"}

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> date:
        del attr, data, kwargs
        text = cleaned(value) if isinstance(value, str) else ""
        try:
            day = date.fromisoformat(text) if _DATE.fullmatch(text) else None
        except ValueError:
            day = None
        if day is None or not 1900 <= day.year <= 2100:  # noqa: PLR2004 - a sane window
            raise refusal(Code.DATE_NOT_UNDERSTOOD, "It is no date between 1900 and 2100.", self.help, value)
        return day


class Names(StrictField[tuple[str, ...]]):
    """Names in a list, or as one text with semicolons between them."""

    wanted = "Type names with semicolons between them, such as A;C."
    published: ClassVar[Mapping[str, object]] = {
        "oneOf": [{"type": "array", "items": {"type": "string"}}, {"type": "string"}]
    }

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> tuple[str, ...]:
        del attr, data, kwargs
        return each_of(value, lambda item: text_of(item, most=60, wanted=self.help), self.help)


_MOST_LISTED = 500


def each_of(value: object, read: Any, wanted: str) -> tuple[Any, ...]:  # noqa: ANN401 - one reader of any item
    """Items of a list member, each read by itself; the faults keep the items' positions."""
    items = value.split(";") if isinstance(value, str) else value
    if not isinstance(items, Sequence) or len(items) > _MOST_LISTED:
        raise refusal(Code.TEXT_NOT_UNDERSTOOD, f"A list of at most {_MOST_LISTED} is needed here.", wanted, value)
    results, faults = [], {}
    for position, item in enumerate(items):
        if isinstance(item, str) and not cleaned(item):
            continue
        try:
            results.append(read(item))
        except ValidationError as error:
            faults[position] = error.messages
    if faults:
        raise ValidationError(faults if not isinstance(value, str) else [f for found in faults.values() for f in found])
    if not results:
        raise missing(wanted)
    return tuple(results)
