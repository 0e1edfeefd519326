"""Our own tab: what was found, fault by fault, each with a link to its cell."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from textwrap import wrap
from typing import TYPE_CHECKING

from service.problems import Code, Severity
from service.sheets.marks.own import TITLE
from service.sheets.marks.placing import has_cell
from service.sheets.marks.xml_text import attribute, cell_text

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from service.problems import Problem
    from service.sheets.marks.styles import Looks

MOST_ROWS = 5_000
MOST_LINKS = 1_000
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_HEADINGS = ("Severity", "Where", "Found", "What is wrong", "What to type", "Code")
_WIDTHS = (11, 26, 28, 52, 60, 26)
_OWN_MEMBERS = frozenset({"job", "rooms", "trim", "extras", "layout"})
_LONGEST = 1_000
_LINE, _TALLEST = 15, 405  # points; a row is 409 at most
_LONGEST_LINK = 2_000
_HOW = (
    "Correct the colored cells, save the workbook and send it again.",
    "Errors must be corrected before there can be a quote; warnings and notes travel with it.",
    "A color goes away as soon as its cell is changed. A note of the check stands in each colored cell.",
    "This tab, the colors and those notes are skipped when the workbook is read; you may leave them in it.",
)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a fault is, in words, and the cell that its link leads to ("" none)."""

    words: str
    link: str = ""


def faults_tab(problems: Sequence[Problem], remarks: Iterable[str], tabs: Mapping[str, bool], looks: Looks) -> bytes:
    """The tab's part.

    Args:
        problems: every fault, in the order to be listed.
        remarks: what the reader of the copy should know about the copy itself.
        tabs: names of the workbook's tabs of cells; true for hidden ones.
        looks: the numbers of the cell formats.
    """
    shown = problems[:MOST_ROWS]
    above = [
        (TITLE, looks.title),
        (_counted(problems), looks.plain),
        *((text, looks.plain) for text in (*_HOW, *remarks)),
    ]
    if len(problems) > len(shown):
        above.append((f"The first {len(shown):,} of {len(problems):,} are listed.", looks.plain))
    heading = len(above) + 2
    places = [place_of(problem, tabs) for problem in shown]
    rows = [_wide_row(number, text, look) for number, (text, look) in enumerate(above, start=1)]
    if shown:
        rows.append(_row(heading, [(text, looks.heading) for text in _HEADINGS]))
    for number, (problem, place) in enumerate(zip(shown, places, strict=True), start=heading + 1):
        rows.append(_row(number, _cells(problem, place, looks)))
    links = [(f"B{number}", place) for number, place in enumerate(places, start=heading + 1) if place.link]
    return _sheet(rows, len(above), heading if shown else 0, links[:MOST_LINKS]).encode()


def _counted(problems: Sequence[Problem]) -> str:
    counts = Counter(problem.severity for problem in problems)
    if not counts:
        return "No faults were found."
    return ", ".join(
        f"{count:,} {severity}{'' if count == 1 else 's'}" for severity in Severity if (count := counts[severity])
    ) + "."  # fmt: skip


def place_of(problem: Problem, tabs: Mapping[str, bool]) -> Place:
    """Where a problem is: a cell, a tab, the whole workbook, or the price list, which is not in this workbook."""
    cell = problem.cell
    if cell is None:
        member = problem.pointer.split("/")[1] if problem.pointer else ""
        is_own = not member or member in _OWN_MEMBERS
        return Place("the whole workbook" if is_own else f"the price list, not this workbook ({problem.pointer})")
    if cell.sheet not in tabs:
        return Place(f"{cell.sheet} (no such tab)" if problem.code is Code.TAB_MISSING else cell.sheet)
    hidden = " (hidden tab: show it first)" if tabs[cell.sheet] else ""
    words = (
        f"{cell}{_member(problem)}"
        if has_cell(problem)
        else f"{cell.sheet} (the tab)"
        if problem.pointer
        else "the whole workbook"
    )
    return Place(words + hidden, "" if hidden else f"{quoted(cell.sheet)}!{cell.address}")


def _member(problem: Problem) -> str:
    """What a cell is for, by the pointer's words after its last number: `/rooms/0/joists/first` → joists first."""
    words: list[str] = []
    for part in problem.pointer.split("/")[2:]:
        words = [] if part.isdigit() or part == "-" else [*words, part.removesuffix("_deg").replace("_", " ")]
    return f" ({' '.join(words)})" if words else ""


def quoted(name: str) -> str:
    """A tab's name as a reference writes it."""
    return "'" + name.replace("'", "''") + "'"


def _cells(problem: Problem, place: Place, looks: Looks) -> list[tuple[str, int]]:
    return [
        (str(problem.severity), looks.severity[problem.severity]),
        (place.words, looks.link if place.link else looks.text),
        (problem.found or ("blank" if problem.code is Code.VALUE_MISSING else ""), looks.text),
        (problem.detail, looks.text),
        (problem.help, looks.text),
        (str(problem.code), looks.text),
    ]


def _row(number: int, cells: Sequence[tuple[str, int]]) -> str:
    """A row as high as its longest cell: not every program fits rows to wrapped text when it opens a file."""
    inner = "".join(
        _cell(f"{letter}{number}", text, look) for letter, (text, look) in zip("ABCDEF", cells, strict=True)
    )
    lines = max(_lines(text, width) for (text, _), width in zip(cells, _WIDTHS, strict=True))
    return f'<row r="{number}" ht="{min(_TALLEST, _LINE * lines + 2)}" customHeight="1">{inner}</row>'


def _lines(text: str, width: int) -> int:
    return sum(max(1, len(wrap(line, width))) for line in _shown(text).split("\n"))


def _shown(text: str) -> str:
    return text if len(text) <= _LONGEST else text[:_LONGEST] + "…"


def _wide_row(number: int, text: str, look: int) -> str:
    """A sentence over all columns; merged cells don't grow with their text, so the height is told."""
    lines = 1 + len(text) // sum(_WIDTHS)
    height = f' ht="{24 if number == 1 else _LINE * lines}" customHeight="1"'
    return f'<row r="{number}"{height}>{_cell(f"A{number}", text, look)}</row>'


def _cell(address: str, text: str, look: int) -> str:
    if not text:
        return f'<c r="{address}" s="{look}"/>'
    return (
        f'<c r="{address}" s="{look}" t="inlineStr"><is><t xml:space="preserve">{cell_text(_shown(text))}</t></is></c>'
    )


def _sheet(rows: Iterable[str], wide: int, heading: int, links: Collection[tuple[str, Place]]) -> str:
    merges = "".join(f'<mergeCell ref="A{number}:F{number}"/>' for number in range(1, wide + 1))
    columns = "".join(
        f'<col min="{number}" max="{number}" width="{width}" customWidth="1"/>'
        for number, width in enumerate(_WIDTHS, start=1)
    )
    pane = (
        f'<pane ySplit="{heading}" topLeftCell="A{heading + 1}" activePane="bottomLeft" state="frozen"/>' if heading else ""
    )  # fmt: skip
    linked = "".join(
        f'<hyperlink ref="{ref}" location={attribute(place.link)} display={attribute(place.words)}/>'
        for ref, place in links
        if len(place.link) < _LONGEST_LINK
    )
    return (
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
        f'<worksheet xmlns="{_MAIN}"><sheetPr><tabColor rgb="FFB42318"/><pageSetUpPr fitToPage="1"/></sheetPr>'
        f'<sheetViews><sheetView showGridLines="0" workbookViewId="0">{pane}</sheetView></sheetViews>'
        f'<sheetFormatPr defaultRowHeight="15"/><cols>{columns}</cols><sheetData>{"".join(rows)}</sheetData>'
        f'<mergeCells count="{wide}">{merges}</mergeCells>'
        + (f"<hyperlinks>{linked}</hyperlinks>" if linked else "")
        + '<pageMargins left="0.4" right="0.4" top="0.5" bottom="0.6" header="0.3" footer="0.3"/>'
        '<pageSetup orientation="landscape" fitToHeight="0"/><headerFooter><oddFooter>&amp;L&amp;A&amp;R&amp;P / &amp;N'
        "</oddFooter></headerFooter></worksheet>"
    )
