"""Decides, with the standard library alone, whether an upload may be handed to the workbook library.

Every limit is far above a filled template (measured: 20–60 kB, under 2 MiB inflated, some 20 parts) and
far below what keeps the library busy.
"""

from __future__ import annotations

import posixpath
from dataclasses import dataclass, field, replace

from service.problems import Cell, Code, Problem, Severity
from service.sheets.archive import MIB, Package, unpacked
from service.sheets.parts import Root, Tally, Watcher, walked
from service.sheets.refusal import RefusedError, too_large, unreadable, wrong_type
from service.sheets.sheet_pass import BadCell, SheetFacts, sheet_facts
from service.sheets.sniff import check_kind

MOST_UPLOAD_BYTES = 10 * MIB
_STRICT = "http://purl.oclc.org/ooxml/"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_NO_CELLS = ("/chartsheet", "/dialogsheet")
_MOST_BAD_CELLS = 200


@dataclass(frozen=True, slots=True)
class Inspection:
    """The guard's verdict.

    Attributes:
        problems: empty when the workbook may be opened.
        tab_count: worksheets it must turn out to have.
        uncalculated: by tab, the cells whose formula was never calculated.
    """

    problems: tuple[Problem, ...] = ()
    tab_count: int = 0
    uncalculated: dict[str, frozenset[str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Link:
    """A relationship of a part: what it is, where it leads, whether outside the file."""

    type: str
    target: str
    is_external: bool


def inspected(data: bytes) -> Inspection:
    """Whether an upload is a sound workbook of bearable size, and what the library wouldn't tell about it."""
    try:
        return _inspected(data)
    except RefusedError as refusal:
        return Inspection((refusal.problem,))


def _inspected(data: bytes) -> Inspection:
    if len(data) > MOST_UPLOAD_BYTES:
        raise too_large(f"The file is larger than {MOST_UPLOAD_BYTES // MIB} MiB.", f"{len(data) / MIB:.1f} MiB")
    check_kind(data)
    package = unpacked(data)
    tally = Tally()
    book = _workbook_part(package, tally)
    tabs = _tabs(package, book, tally)
    facts = {name: sheet_facts(package.xml[part], tally) for name, part in tabs.items()}
    strings = _walk_others(package, {book, *tabs.values()}, tally)
    _check_strings(facts, strings)
    bad = tuple(_bad_cell(name, cell) for name, fact in facts.items() for cell in fact.bad)[:_MOST_BAD_CELLS]
    return Inspection(bad, len(tabs), {name: frozenset(fact.uncalculated) for name, fact in facts.items()})


def _workbook_part(package: Package, tally: Tally) -> str:
    links = _links(package, "", tally).values()
    target = next((link.target for link in links if link.type.endswith("/officeDocument")), "xl/workbook.xml")
    part = package.named(target)
    if part is None or part not in package.xml:
        raise wrong_type("another kind of Office file" if part is None else "a binary workbook (.xlsb)")
    return part


def _links(package: Package, part: str, tally: Tally) -> dict[str, _Link]:
    folder, name = posixpath.split(part)
    stored = package.named(posixpath.join(folder, "_rels", f"{name}.rels"))
    links = _Links(folder)
    if stored is not None:
        walked(package.xml[stored], tally, links)
    return links.found


class _Links(Watcher):
    def __init__(self, folder: str) -> None:
        self.folder = folder
        self.found: dict[str, _Link] = {}

    def start(self, name: str, attributes: dict[str, str]) -> None:
        if name == "Relationship":
            self.found[attributes.get("Id", "")] = _Link(
                attributes.get("Type", ""),
                self._whole(attributes.get("Target", "")),
                attributes.get("TargetMode") == "External",
            )

    def _whole(self, target: str) -> str:
        return target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(self.folder, target))


class _Listed(Watcher):
    """Tabs that the workbook's own part lists: name and identity of the link to its part."""

    def __init__(self) -> None:
        self.tabs: list[tuple[str, str]] = []

    def start(self, name: str, attributes: dict[str, str]) -> None:
        if name == "sheet":
            identity = next((value for key, value in attributes.items() if key.endswith("relationships\nid")), "")
            self.tabs.append((attributes.get("name", ""), identity))


def _tabs(package: Package, book: str, tally: Tally) -> dict[str, str]:
    links = _links(package, book, tally)
    listed = _Listed()
    _check_root(walked(package.xml[book], tally, listed))
    tabs: dict[str, str] = {}
    for name, identity in listed.tabs:
        link = links.get(identity)
        if link is not None and link.type.endswith(_NO_CELLS):
            continue
        if name.casefold() in {known.casefold() for known in tabs}:
            raise unreadable("The workbook holds two tabs of one name.", name[:80])
        tabs[name] = _tab_part(package, name, link)
    if not tabs:
        raise unreadable("The workbook has no tabs.")
    return tabs


def _check_root(root: Root) -> None:
    if root.namespace.startswith(_STRICT):
        raise wrong_type(
            "a Strict Open XML workbook",
            "Save it as plain Excel Workbook (.xlsx), not as Strict Open XML Spreadsheet, and upload that file.",
        )
    if root != Root(_MAIN, "workbook"):
        raise wrong_type("another kind of Office file")


def _tab_part(package: Package, name: str, link: _Link | None) -> str:
    part = None if link is None or link.is_external else package.named(link.target)
    if part is None or part not in package.xml:
        raise unreadable(f"The workbook lists the tab {name[:80]} but doesn't hold it.", name[:80])
    return part


def _walk_others(package: Package, done: set[str], tally: Tally) -> int:
    """Walk the parts not yet seen; answers how many shared texts there are. Drawing markup of notes is no sound XML."""
    strings = 0
    for name, part in package.xml.items():
        if name not in done and not name.lower().endswith(".vml"):
            before = tally.named["si"]
            root = walked(part, tally)
            strings = tally.named["si"] - before if root.name == "sst" else strings
    return strings


def _check_strings(facts: dict[str, SheetFacts], strings: int) -> None:
    for name, fact in facts.items():
        if fact.highest_string >= strings:
            raise unreadable(f"The tab {name[:80]} refers to a text that the workbook doesn't hold.", name[:80])


def _bad_cell(tab: str, cell: BadCell) -> Problem:
    words = "date" if cell.code is Code.DATE_NOT_UNDERSTOOD else "number"
    problem = Problem(
        cell.code, Severity.ERROR, "", f"The cell is stored as a {words}, but what it holds is none.",
        "Type the value again, or open the workbook in your spreadsheet program and save it.", cell.found,
    )  # fmt: skip
    return replace(problem, cell=Cell(tab, cell.address))
