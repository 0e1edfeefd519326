"""What a workbook refers to outside itself: told, never followed."""

from __future__ import annotations

import re
from functools import partial
from typing import TYPE_CHECKING

from service.problems import Cell, Code, Problem, Severity
from service.sheets.parts import Watcher

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.sheets.parts import Begin

_QUOTED_TEXT = re.compile(r'"[^"]*"')
_OTHER_BOOK = re.compile(r"\[(?:[0-9]{1,5}|[^\[\]]{1,255}\.xl[a-z]{1,2})\][^\[\]!,()]{0,300}!", re.IGNORECASE)
_DDE = re.compile(r"\|[^!|]{0,512}!")
_FETCHING = re.compile(r"\b(WEBSERVICE|RTD|IMAGE|STOCKHISTORY|CALL|REGISTER\.ID)\s*\(", re.IGNORECASE)
_TOLD_CELLS = 20
_LONGEST = 8_192
_KINDS = {
    "externalLink": "a link to another workbook",
    "ddeLink": "a DDE link",
    "oleLink": "an OLE link",
    "connections": "a data connection",
    "queryTable": "a query",
}


def reach_of_formula(formula: str) -> str:
    """What a formula fetches from outside the workbook: another workbook, DDE, a web function; "" for nothing.

    A table's column, `Walls[1]`, is no other workbook: that has a `!` behind its brackets.
    """
    if "[" not in formula and "|" not in formula and "(" not in formula:
        return ""
    bare = _QUOTED_TEXT.sub('""', formula[:_LONGEST])
    if _OTHER_BOOK.search(bare):
        return "another workbook"
    if _DDE.search(bare):
        return "DDE"
    found = _FETCHING.search(bare)
    return f"the function {found[1].upper()}" if found else ""


class Reach(Watcher):
    """What a part brings in from outside."""

    def __init__(self) -> None:
        """Nothing found yet."""
        super().__init__()
        self.kinds: set[str] = set()

    def begins(self) -> Mapping[str, Begin]:
        """The elements that stand for an outside source."""
        return {name: partial(self._note, words) for name, words in _KINDS.items()}

    def _note(self, words: str, _attributes: dict[str, str]) -> None:
        self.kinds.add(words)


def kind_of_link(link_type: str) -> str:
    """What a link that leads outside the file is; a hyperlink is only text to click on."""
    name = link_type.rpartition("/")[2]
    return "" if name == "hyperlink" else f"an outside link ({name[:40]})"


def remark_of(cells: Mapping[str, Mapping[str, str]], count: int, kinds: set[str]) -> list[Problem]:
    """What is told: a warning when cells were calculated from outside, else a note on what was left alone."""
    places = [Cell(tab, address) for tab, addresses in cells.items() for address in addresses]
    if places:
        return [_of_cells(places, count, sorted({reach for found in cells.values() for reach in found.values()}))]
    return [_of_parts(sorted(kinds))] if kinds else []


def _of_cells(places: list[Cell], count: int, reaches: list[str]) -> Problem:
    told = ", ".join(map(str, places[:_TOLD_CELLS])) + (" …" if count > min(len(places), _TOLD_CELLS) else "")
    many = "A cell takes its value" if count == 1 else f"{count:,} cells take their values"
    return Problem(
        Code.SHEET_LINKS_OUTSIDE, Severity.WARNING, "",
        f"{many} from outside the workbook ({', '.join(reaches)}), as last saved there: {told}. Nothing was fetched.",
        "Check the values, or type them into the cells in place of the formulas.", ", ".join(reaches), places[0],
    )  # fmt: skip


def _of_parts(kinds: list[str]) -> Problem:
    return Problem(
        Code.SHEET_LINKS_OUTSIDE, Severity.NOTE, "",
        f"The workbook holds {', '.join(kinds)}. Nothing was fetched or opened, and no cell that is read needs it.",
        "Nothing, if you know of it; else break the links (Data, Edit Links) and save the workbook.", ", ".join(kinds)[:80],
    )  # fmt: skip
