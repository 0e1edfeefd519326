"""What guides the person who types: dropdowns with their alerts, and a prompt in every column.

What a dropdown offers stands on a hidden tab, or is read from the tab that lists it, by a defined name. No source
starts with `=`: one spreadsheet program makes an error of it. Every alert is on, or another drops the dropdown.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation

from service.sheets.layout import LISTS_TAB, Column, Kind, Layout, Tab
from service.sheets.tables import MOST_ROWS
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from openpyxl.workbook.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

FIRST_ROW, LAST_ROW = 2, 1_001
"""Rows that are guided. One program writes a cell for each, so many more would make a sheet too large to be read."""
MOST_LISTED = 300
_LISTED_ROWS = range(FIRST_ROW, FIRST_ROW + MOST_LISTED)
EXAMPLE_PROMPT = "Gray rows in italics are an example: type over them or delete them. Unchanged, they are not priced."
_LONGEST_PROMPT, _LONGEST_ALERT, _LONGEST_TITLE = 255, 225, 32


@dataclass(frozen=True, slots=True)
class Offer:
    """What a dropdown offers: its source, the alert for anything else, and whether that may be kept."""

    source: str
    alert: str
    may_be_kept: bool = False


class Choices:
    """The dropdowns' sources; each list of words stands once on the hidden tab, a column each.

    `given` holds entries of tabs that the layout itself has not: a price list's assemblies, for a room sheet.
    """

    def __init__(self, layout: Layout, given: Mapping[str, Sequence[str]]) -> None:
        self.tables = {tab.name: tab for tab in layout.tabs if not tab.is_items}
        self.given = {name: tuple(entries) for name, entries in given.items()}
        self.lists: list[tuple[str, ...]] = []
        self.names: dict[str, str] = {}

    def offer(self, column: Column) -> Offer | None:
        """Dropdown of a column; None where anything may be typed."""
        listed = self.tables.get(column.listed_in)
        if listed is not None:
            source = _walls_of_the_room(listed) if listed.within else self._entries(listed, column.choices)
            alert = f"The {listed.name} tab has no such entry. Add it there, or the check will refuse it."
            return Offer(source, alert, may_be_kept=True)
        words = column.choices + self.given.get(column.listed_in, ())
        if not words:
            return None
        shown = ", ".join(words)
        alert = shown if len(shown) < _LONGEST_ALERT - len("Choose one of: .") else "those in the list"
        return Offer(self._listed(words), f"Choose one of: {alert}.")

    def _listed(self, words: tuple[str, ...]) -> str:
        if words not in self.lists:
            self.lists.append(words)
        letter = get_column_letter(self.lists.index(words) + 1)
        return f"{LISTS_TAB}!${letter}$1:${letter}${len(words)}"

    def _entries(self, listed: Tab, words: tuple[str, ...]) -> str:
        """Name of what stands in a tab's first column, after the words that may stand there too."""
        name = "_or_".join((listed.name, *words)) + "_listed"
        if not words:
            self.names[name] = _filled(f"{listed.name}!$A", FIRST_ROW)
        elif name not in self.names:
            copies = (f'=IF({listed.name}!$A{row}="","",{listed.name}!$A{row})' for row in _LISTED_ROWS)
            self.lists.append((*words, *copies))
            self.names[name] = _filled(f"{LISTS_TAB}!${get_column_letter(len(self.lists))}", 1, len(words))
        return name


def _filled(column: str, first: int, words: int = 0) -> str:
    """Formula for the cells of a column from a row down to the last one that shows anything, after some words."""
    area = f"{column}${first}:{column.partition('!')[2]}${first + words + MOST_LISTED - 1}"
    height = f'SUMPRODUCT(MAX(({area}<>"")*ROW({area})))-{first - 1}'
    return f"OFFSET({column}${first},0,0,MAX({max(1, words)},{height}),1)"


def _walls_of_the_room(walls: Tab) -> str:
    """Formula for the walls of the room named in column A of the row; all walls, as long as that room has none."""
    rooms, names = (f"{walls.name}!${letter}${FIRST_ROW}:${letter}${MOST_ROWS + 1}" for letter in "AB")
    room = f"$A{FIRST_ROW}"
    own = f"OFFSET({walls.name}!$B$1,MATCH({room},{rooms},0),0,COUNTIF({rooms},{room}),1)"
    return f"IF(COUNTIF({rooms},{room})=0,{names},{own})"


def add_guides(sheet: Worksheet, tab: Tab, units: Units | None, choices: Choices, *, example_rows: int) -> None:
    """Guide of every column, down to the last guided row; of every item, in its value's cell."""
    for number, column in enumerate(tab.columns, start=1):
        letter = get_column_letter(number)
        if tab.is_items:
            _guide(sheet, column, f"B{number + 1}", prompt_text(column, units), choices)
            continue
        first = FIRST_ROW
        if number == 1 and example_rows:
            first += example_rows
            words = f"{prompt_text(column, units)} {EXAMPLE_PROMPT}"
            _guide(sheet, column, f"{letter}{FIRST_ROW}:{letter}{first - 1}", words, choices)
        _guide(sheet, column, f"{letter}{first}:{letter}{LAST_ROW}", prompt_text(column, units), choices)


def _guide(sheet: Worksheet, column: Column, area: str, prompt: str, choices: Choices) -> None:
    guide = DataValidation(
        sqref=area, allow_blank=True, showErrorMessage=True,
        showInputMessage=True, promptTitle=column.heading[:_LONGEST_TITLE], prompt=prompt[:_LONGEST_PROMPT],
    )  # fmt: skip
    offer = choices.offer(column)
    if offer is not None:
        guide.type, guide.formula1 = "list", offer.source
        guide.errorStyle = "warning" if offer.may_be_kept else "stop"
        guide.errorTitle, guide.error = column.heading[:_LONGEST_TITLE], offer.alert[:_LONGEST_ALERT]
    sheet.add_data_validation(guide)


def prompt_text(column: Column, units: Units | None) -> str:
    """What a column asks for, its unit named; without units, lengths are to be written with theirs."""
    return " ".join(part for part in (column.prompt, _unit_words(column.kind, units)) if part)


def _unit_words(kind: Kind, units: Units | None) -> str:
    if not kind.is_length:
        return ""
    if units is None:
        return 'Write the unit, such as 3/4" or 19 mm.'
    return "Bare numbers are millimeters." if units is Units.METRIC else "Feet and inches; bare numbers are inches."


def add_lists(book: Workbook, choices: Choices) -> None:
    """The hidden tab with the dropdowns' lists, and the names of those that other tabs feed."""
    sheet = book.create_sheet(LISTS_TAB)
    for number, row, word in _placed(choices.lists):
        sheet.cell(row, number, word)
    sheet.sheet_state = "hidden"
    for name, formula in sorted(choices.names.items()):
        book.defined_names[name] = DefinedName(name, attr_text=formula)


def _placed(lists: Sequence[Sequence[str]]) -> Iterator[tuple[int, int, str]]:
    return ((n, row, word) for n, words in enumerate(lists, start=1) for row, word in enumerate(words, start=1))
