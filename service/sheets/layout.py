"""What a workbook's tabs and headings are: records that reader and templates share.

One more column is one more `Column` in `layout_room_sheet.py` or `layout_price_list.py`: the reader finds
it by its heading, the template writes it, and its member goes to the job document under `member`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.units import Units

VERSION = 1
VERSION_PROPERTY = "Layout version"
VERSION_NAME = "Layout_version"
LISTS_TAB = "Lists"


class Kind(StrEnum):
    """What a column's cells hold, which tells the reader how to spell them."""

    TEXT = "text"
    PROSE = "prose"
    CHOICE = "choice"
    YES_NO = "yes or no"
    LIST = "list"
    LENGTH = "length"
    LENGTH_LIST = "lengths"
    LENGTH_OR_WORD = "length or word"
    NUMBER = "number"
    ANGLE = "angle"
    SHARE = "share"
    MONEY = "money"
    DATE = "date"

    @property
    def is_length(self) -> bool:
        """True for cells that hold lengths: a date or TRUE there is a fault, not a value."""
        return self in {Kind.LENGTH, Kind.LENGTH_LIST, Kind.LENGTH_OR_WORD}

    @property
    def is_list(self) -> bool:
        """True for cells that hold several values with `;` between them."""
        return self in {Kind.LIST, Kind.LENGTH_LIST}


@dataclass(frozen=True, slots=True)
class Column:
    """One column, or one item of a tab of items and values.

    Attributes:
        heading: exactly the word that templates print.
        kind: what its cells hold.
        required: the heading must be there; whether a value must be is the schema's to say.
        member: path in the row's object; () takes the heading in snake_case.
        synonyms: other headings read as this one.
        choices: values of the template's dropdown.
        listed_in: tab whose entries the dropdown offers, after the choices: what stands there under the first
            heading, or, in a tab whose rows belong to a room, the walls of the room that the row names.
        prompt: what the template tells the person who types; the unit is added from the kind.
        width: characters.
    """

    heading: str
    kind: Kind = Kind.TEXT
    required: bool = False
    member: tuple[str, ...] = ()
    synonyms: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    listed_in: str = ""
    prompt: str = ""
    width: int = 12

    @property
    def path(self) -> tuple[str, ...]:
        """Path of the member in its row's object."""
        return self.member or (snake_case(self.heading),)


@dataclass(frozen=True, slots=True)
class Tab:
    """One tab.

    Attributes:
        name: as templates print it.
        member: member of the document (or of the room it belongs to) that holds its rows.
        columns: in the template's order.
        required: the tab must be there.
        is_items: column A names an item, column B holds its value; else a table with a heading row.
        within: for rows that belong to a room: the tab whose row is named in the first column.
        synonyms: other tab names read as this one.
        examples: rows that the template shows, by units, each by heading.
    """

    name: str
    member: str
    columns: tuple[Column, ...]
    required: bool = False
    is_items: bool = False
    within: str = ""
    synonyms: tuple[str, ...] = ()
    examples: Mapping[Units, tuple[Mapping[str, str], ...]] = field(default_factory=lambda: MappingProxyType({}))

    def example_rows(self, units: Units) -> tuple[Mapping[str, str], ...]:
        """The template's example rows."""
        return self.examples.get(units, ())

    def is_example(self, shown: Mapping[str, str]) -> bool:
        """True for a row (cleaned text by heading, case folded) that is one of the examples, untouched."""
        return any(
            shown == {heading: text.casefold() for heading, text in row.items()}
            for rows in self.examples.values()
            for row in rows
        )


@dataclass(frozen=True, slots=True)
class Layout:
    """A kind of workbook: its name in words and its tabs in order."""

    name: str
    tabs: tuple[Tab, ...]

    def tab(self, name: str) -> Tab:
        """Tab by name."""
        return next(tab for tab in self.tabs if tab.name == name)


def snake_case(heading: str) -> str:
    """`Wall covering` → `wall_covering`."""
    return heading.lower().replace("-", " ").replace(" ", "_")
