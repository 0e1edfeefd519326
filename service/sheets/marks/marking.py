"""A workbook and its problems in, the marked copy out: `marked`."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from service.problems import Severity
from service.sheets.addresses import placed_at
from service.sheets.marks.book import book_of, made_plain, own_tab_placed
from service.sheets.marks.boxes import Grid, box_at
from service.sheets.marks.coloring import AFTER_NOTES, colors, place_before
from service.sheets.marks.conditions import rule_formula
from service.sheets.marks.faults_tab import faults_tab
from service.sheets.marks.note_text import note_text
from service.sheets.marks.notes import NO_NOTES, with_notes
from service.sheets.marks.own import NOTE_START, RULE_TOKEN
from service.sheets.marks.package import RELATIONSHIPS, Package
from service.sheets.marks.placing import MOST_MARKS, marks_of, shown_in
from service.sheets.marks.shapes import NO_SHAPES, with_shapes
from service.sheets.marks.splicing import Edit, UnpatchableError, spliced
from service.sheets.marks.stored import stored_tab, with_texts
from service.sheets.marks.styles import cell_color, looks_of, styles_of
from service.sheets.marks.xml_text import attribute, escaped, named

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.problems import Problem
    from service.sheets.marks.book import Book, Tab
    from service.sheets.marks.notes import Notes
    from service.sheets.marks.placing import Mark
    from service.sheets.marks.shapes import Box
    from service.sheets.marks.stored import StoredTab

_NOTES_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.comments+xml"
_DRAWING_TYPE = "application/vnd.openxmlformats-officedocument.vmlDrawing"


@dataclass(slots=True)
class _Marking:
    """One workbook at work: its parts, the colors' numbers, and what the copy's reader should know."""

    package: Package
    colors: dict[Severity, int]
    remarks: list[str] = field(default_factory=list)


@dataclass(slots=True)
class _MarkedTab:
    """A tab, what is stored in it, and its marks by the cell that shows them."""

    tab: Tab
    stored: StoredTab
    marks: dict[str, Mark]


def marked(data: bytes, problems: Sequence[Problem]) -> bytes:
    """The user's own workbook with each faulty cell colored and noted, and our tab that lists every fault.

    Parts that don't change stay byte for byte; what an earlier marking left is replaced.

    Args:
        data: a workbook that the guard has let through.
        problems: every fault, in the order to be listed.

    Returns:
        The copy's bytes; the same for the same workbook and problems.

    Raises:
        UnpatchableError: when the workbook's own list of tabs is not built as the format has it.
    """
    package = Package(data)
    book = book_of(package)
    styles_name, styles = styles_of(package, book.part)
    work = _Marking(package, {severity: cell_color(styles, severity) for severity in Severity})
    work.remarks += _of_the_file(package), *made_plain(package, book)
    marks = marks_of(problems, [tab.name for tab in book.tabs])
    _mark_tabs(work, book, marks)
    looks = looks_of(styles)
    package[styles_name] = styles.part
    hidden = {tab.name: tab.is_hidden for tab in book.tabs}
    own = own_tab_placed(package, book)
    package[own.part] = faults_tab(problems, filter(None, work.remarks), hidden, looks)
    return package.packed()


def _of_the_file(package: Package) -> str:
    signed = any(name.lower().startswith("_xmlsignatures/") for name in package.names())
    return "The digital signature of the workbook doesn't hold for this copy: the check added to it." if signed else ""


def _mark_tabs(work: _Marking, book: Book, marks: Sequence[Mark]) -> None:
    if len(marks) > MOST_MARKS:
        work.remarks.append(f"The first {MOST_MARKS:,} of {len(marks):,} faulty cells are colored and noted.")
    by_tab: dict[str, list[Mark]] = {}
    for mark in marks[:MOST_MARKS]:
        by_tab.setdefault(mark.sheet, []).append(mark)
    at_work = [opened for tab in book.tabs if (opened := _opened(work, tab, by_tab.get(tab.name, [])))]
    with_texts([each.stored for each in at_work], book.texts)
    for each in at_work:
        _mark_tab(work, each)


def _opened(work: _Marking, tab: Tab, marks: list[Mark]) -> _MarkedTab | None:
    """A tab looked at; None for one without marks, old or new, which stays byte for byte."""
    content, notes = work.package[tab.part], work.package.link(tab.part, "comments")
    is_noted = notes is not None and notes.target in work.package and _is_in(NOTE_START, work.package[notes.target])
    if not marks and not is_noted and not any(_is_in(words, content) for words in (RULE_TOKEN, escaped(RULE_TOKEN))):
        return None
    wanted = {mark.address for mark in marks}
    stored = stored_tab(content, wanted)
    shown = shown_in(stored, marks)
    return _MarkedTab(tab, stored if shown.keys() <= wanted else stored_tab(content, shown.keys()), shown)


def _is_in(words: str, part: bytes) -> bool:
    return words.encode() in part or words.encode("utf-16-le") in part or words.encode("utf-16-be") in part


def _mark_tab(work: _Marking, at: _MarkedTab) -> None:
    rules = [
        (address, rule_formula(at.stored.cells.get(address), address), work.colors[mark.severity])
        for address, mark in at.marks.items()
    ]
    edits = colors(at.stored, rules)
    try:
        edits += _noted(work, at)
    except UnpatchableError:
        work.remarks.append(
            f"No notes could be put into the tab {at.tab.name}; its colors and the list below are whole."
        )
    work.package[at.tab.part] = spliced(at.stored.part, edits)
    protection = at.stored.root.child("sheetProtection")
    if at.marks and protection and protection.attribute("sheet") in {"1", "true"}:
        work.remarks.append(f"The tab {at.tab.name} is protected: colors show, but unprotect it to correct its cells.")


def _noted(work: _Marking, at: _MarkedTab) -> list[Edit]:
    """Notes put into the tab's parts; the edits that link a first drawing to the tab."""
    package, part = work.package, at.tab.part
    link = package.link(part, "comments")
    wanted = {address: note_text(mark) for address, mark in at.marks.items()}
    if link is None and not wanted:
        return []
    there = link is not None and link.target in package
    notes = with_notes(package[link.target] if link and there else NO_NOTES, wanted)
    edits = _boxed(package, at, notes)
    if link and there:
        package[link.target] = notes.part
    else:
        fresh = package.free("xl/commentsCheck{}.xml")
        package[fresh] = notes.part
        package.typed(fresh, _NOTES_TYPE)
        package.linked(part, "comments", fresh)
    work.remarks += [
        f"The cell {at.tab.name}!{address} holds a conversation, so no note was added there."
        for address in sorted(notes.talked)
    ]
    return edits


def _boxed(package: Package, at: _MarkedTab, notes: Notes) -> list[Edit]:
    """Boxes for the notes, in the tab's drawing or in a first one; the edits that link that to the tab."""
    if not notes.texts and not notes.gone:
        return []
    grid = Grid(at.stored)
    boxes = {_corner(address): box_at(grid, address, text) for address, text in notes.texts.items()}
    gone = {_corner(address) for address in notes.gone}
    linked = at.stored.root.child("legacyDrawing")
    if linked is None:
        return _first_drawing(package, at, boxes)
    names = {link.id: link.target for link in package.links(at.tab.part)}
    name = names.get(linked.attribute("id"), "")
    if name not in package:
        raise UnpatchableError("no drawing")
    package[name] = with_shapes(package[name], gone, boxes)
    return []


def _first_drawing(package: Package, at: _MarkedTab, boxes: dict[tuple[int, int], Box]) -> list[Edit]:
    name = package.free("xl/drawings/vmlDrawingCheck{}.vml")
    number = 1 + sum(part.lower().endswith(".vml") for part in package.names())
    package[name] = with_shapes(NO_SHAPES.format(number=number).encode(), (), boxes)
    package.typed_by_ending("vml", _DRAWING_TYPE)
    identity = package.linked(at.tab.part, "vmlDrawing", name)
    root = at.stored.root
    xml = f"<~legacyDrawing xmlns:check={attribute(RELATIONSHIPS)} check:id={attribute(identity)}/>"
    place = place_before(root, AFTER_NOTES)
    return [Edit(place, place, named(xml, root.prefix).encode())]


def _corner(address: str) -> tuple[int, int]:
    """Row and column from 0."""
    row, column = placed_at(address)
    return row - 1, column - 1
