"""The workbook's own part: its tabs in order, and our tab put behind them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.sheets.marks.own import TITLE, free_name, is_faults_tab
from service.sheets.marks.splicing import Edit, UnpatchableError, appended, spliced
from service.sheets.marks.stored import first_text
from service.sheets.marks.xml_text import attribute, named

if TYPE_CHECKING:
    from service.sheets.marks.package import Package
    from service.sheets.marks.splicing import Element

_SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
_BOOK_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
_RELATIONSHIPS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"


@dataclass(frozen=True, slots=True)
class Tab:
    """A tab of cells: its name, its part, whether it is hidden."""

    name: str
    part: str
    is_hidden: bool


@dataclass(frozen=True, slots=True)
class Book:
    """The workbook's part, every tab's name, the tabs of cells without ours, ours if there is one, the shared texts."""

    part: str
    names: tuple[str, ...]
    tabs: tuple[Tab, ...]
    own: Tab | None
    texts: bytes


def book_of(package: Package) -> Book:
    """The workbook in a package; charts and other tabs without cells are named only."""
    link = package.link("", "officeDocument")
    part = link.target if link and link.target in package else "xl/workbook.xml"
    _, root = package.xml(part)
    links = {link.id: link for link in package.links(part)}
    sheets = root.child("sheets")
    listed = sheets.children if sheets else []
    tabs = []
    for sheet in listed:
        link = links.get(sheet.attribute("id"))
        if link and link.kind == "worksheet" and link.target in package:
            tabs.append(Tab(sheet.attribute("name"), link.target, sheet.attribute("state") not in {"", "visible"}))
    strings = next((link.target for link in links.values() if link.kind == "sharedStrings"), "")
    texts = package[strings] if strings in package else b""  # noqa: SIM401 - a package of parts is no mapping
    own = next(
        (tab for tab in tabs if is_faults_tab(tab.name) and first_text(package[tab.part], texts) == TITLE), None
    )  # fmt: skip
    names = tuple(sheet.attribute("name") for sheet in listed)
    return Book(part, names, tuple(tab for tab in tabs if tab != own), own, texts)


def own_tab_placed(package: Package, book: Book) -> Tab:
    """Our tab: the one that is there already, wherever it was moved, or a new one behind all others."""
    if book.own is not None:
        return book.own
    name, part = free_name(set(book.names)), package.free("xl/worksheets/sheetCheck{}.xml")
    package[part] = b""
    package.typed(part, _SHEET_TYPE)
    identity = package.linked(book.part, "worksheet", part)
    content, root = package.xml(book.part)
    sheets = root.child("sheets")
    if sheets is None:
        raise UnpatchableError("no list of tabs")
    package[book.part] = spliced(content, [appended(content, sheets, _listed(sheets, name, identity))])
    return Tab(name, part, is_hidden=False)


def _listed(sheets: Element, name: str, identity: str) -> bytes:
    taken = {sheet.attribute("sheetId").strip() for sheet in sheets.children}
    number = next(number for number in range(len(taken) + 1, 2 * len(taken) + 2) if str(number) not in taken)
    xml = (
        f'<~sheet name={attribute(name)} sheetId="{number}" '
        f"xmlns:check={attribute(_RELATIONSHIPS)} check:id={attribute(identity)}/>"
    )
    return named(xml, sheets.prefix).encode()


def made_plain(package: Package, book: Book) -> tuple[str, ...]:
    """Make an ordinary workbook of one with macros or of a template; what was left out, in words."""
    name, content, root = package.types()
    wanted = f"/{book.part}".casefold()
    told = next((item for item in root.all("Override") if item.attribute("PartName").casefold() == wanted), None)
    if told is None or told.attribute("ContentType") == _BOOK_TYPE:
        return ()
    xml = named(f"<~Override PartName={attribute('/' + book.part)} ContentType={attribute(_BOOK_TYPE)}/>", root.prefix)
    macros = [link for link in package.links(book.part) if link.kind == "vbaProject"]
    gone = {f"/{link.target}".casefold() for link in macros}
    edits = [Edit(told.start, told.end, xml.encode())]
    edits += [
        Edit(item.start, item.end, b"")
        for item in root.all("Override")
        if item.attribute("PartName").casefold() in gone
    ]
    package[name] = spliced(content, edits)
    if macros:
        package.unlinked(book.part, lambda link: link.kind == "vbaProject")
        for link in macros:
            package.dropped(link.target)
        return ("The macros of the workbook were left out of this copy.",)
    return ()
