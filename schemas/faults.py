"""The one place where marshmallow's errors become problems.

A field refuses a value with a `Fault`, carried as the message of a `ValidationError`; marshmallow nests
the messages by member and position, and `problems_of` reads the nesting back as JSON Pointers.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marshmallow import ValidationError
from marshmallow.exceptions import SCHEMA

from schemas.text import shown
from service.nearest import MOST_GUESSED, nearest
from service.problems import Code, Problem, Severity, pointer

if TYPE_CHECKING:
    from collections.abc import Iterator

_NAME_CHARACTERS = 200


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a value is refused. `members`: what could have been meant, for guessing which it was."""

    code: Code
    detail: str
    help: str = ""
    found: str = ""
    members: tuple[str, ...] = ()


def refusal(
    code: Code, detail: str, help: str = "", value: object = "", members: tuple[str, ...] = ()  # noqa: A002 - as Problem
) -> ValidationError:  # fmt: skip
    """The error that a field raises: code, what is wrong, what to type, what stood there, what could have been meant."""
    return ValidationError([Fault(code, detail, help, shown(value), members)])


def not_in_list(value: object, members: tuple[str, ...], detail: str = "It is not in the list.") -> ValidationError:
    """The refusal of a word that is not a member of a list."""
    return refusal(Code.VALUE_NOT_IN_LIST, detail, f"Type one of: {', '.join(members)}.", value, members)


def missing(help: str) -> ValidationError:  # noqa: A002 - as Problem
    """The error for a required value that is not there."""
    return ValidationError([Fault(Code.VALUE_MISSING, "A value is needed here.", help)])


def problems_of(error: ValidationError, at: str = "") -> tuple[Problem, ...]:
    """Every fault in a marshmallow error as a problem of the document, in the order of the document's declaration.

    Only the first 200 come with a guess at what was meant: guessing is slow, and no answer carries more.

    Args:
        error: what `Schema.load` or a field raised.
        at: pointer of what was loaded.
    """
    found = enumerate(_walked(error.messages, at))
    return tuple(_problem(fault, place, is_guessed=number < MOST_GUESSED) for number, (place, fault) in found)


def _walked(messages: object, place: str) -> Iterator[tuple[str, object]]:
    if isinstance(messages, Mapping):
        for key in sorted(messages, key=lambda key: _order(key, messages[key])):
            yield from _walked(messages[key], _below(place, key, messages[key]))
    elif isinstance(messages, list):
        for message in messages:
            yield from _walked(message, place)
    else:
        yield place, messages


def _order(key: object, message: object) -> tuple[bool, str]:
    return (True, shown(key)) if _is_unknown_member(message) else (False, "")


def _is_unknown_member(message: object) -> bool:
    return isinstance(message, list) and any(
        isinstance(fault, Fault) and fault.code is Code.MEMBER_UNKNOWN for fault in message
    )


def _below(place: str, key: object, message: object) -> str:
    if key == SCHEMA and not _is_unknown_member(message):
        return place
    name = key[:_NAME_CHARACTERS] if isinstance(key, str) else shown(key)
    return place + pointer(name.encode("utf-8", "replace").decode("utf-8"))


def _problem(message: object, place: str, *, is_guessed: bool) -> Problem:
    if not isinstance(message, Fault):
        return Problem(Code.DOCUMENT_UNREADABLE, Severity.ERROR, place, str(message))
    found, words = message.found, message.help
    if message.code is Code.MEMBER_UNKNOWN:
        found = shown(place.rpartition("/")[2].replace("~1", "/").replace("~0", "~"))
        words = f"Known members are {', '.join(message.members)}."
    near = nearest(found, message.members) if is_guessed and message.members else None
    hint = f"Did you mean “{near}”? " if near else ""
    return Problem(message.code, Severity.ERROR, place, message.detail, hint + words, found)
