"""Decides, with the standard library alone, whether an upload is a workbook that may be read, and takes out its cells.

Every limit is far above a filled template (measured: 20–60 kB, under 2 MiB inflated, some 20 parts) and
far below what keeps a reader busy.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from service.problems import Code, Problem, Severity
from service.sheets import outside
from service.sheets.archive import Package, unpacked
from service.sheets.book_passes import BookPass, FormatsPass, Listed, PropertiesPass, TextsPass, TypesPass
from service.sheets.directory import MIB
from service.sheets.parts import Root, Tally, walked
from service.sheets.refusal import RefusedError, too_large, unreadable, wrong_type
from service.sheets.relations import Link, links_in, links_of, only_part, tab_part, workbook_part
from service.sheets.sheet_pass import MAIN, SheetFacts, sheet_facts
from service.sheets.sniff import check_kind

MOST_UPLOAD_BYTES = 10 * MIB
_STRICT = "http://purl.oclc.org/ooxml/"
_NO_CELLS = frozenset({"chartsheet", "dialogsheet", "xlMacrosheet", "xlIntlMacrosheet"})
_SHOWN = 80


@dataclass(frozen=True, slots=True)
class RawBook:
    """A workbook's cells as stored, and what it takes to understand them.

    Attributes:
        tabs: cells and ranges of each tab, by its name, in order.
        hidden: names of the tabs that nobody sees.
        texts: the shared texts.
        codes: the workbook's own number formats.
        of_style: number of the number format of each cell format; empty without formats.
        properties: the workbook's own properties.
        named_version: layout version by the name that stands in for the property.
    """

    tabs: dict[str, SheetFacts] = field(default_factory=dict)
    hidden: frozenset[str] = frozenset()
    texts: tuple[str, ...] = ()
    codes: dict[int, str] = field(default_factory=dict)
    of_style: tuple[int, ...] = ()
    has_1904_dates: bool = False
    properties: dict[str, str] = field(default_factory=dict)
    named_version: str | None = None


@dataclass(frozen=True, slots=True)
class Inspection:
    """The guard's verdict.

    Attributes:
        problems: empty when the workbook may be read.
        remarks: what people should know of a workbook that may be read.
        book: its cells.
    """

    problems: tuple[Problem, ...] = ()
    remarks: tuple[Problem, ...] = ()
    book: RawBook = field(default_factory=RawBook)

    @property
    def tab_count(self) -> int:
        """Worksheets that it has."""
        return len(self.book.tabs)

    @property
    def uncalculated(self) -> dict[str, frozenset[str]]:
        """By tab, the cells whose formula was never calculated."""
        return {name: frozenset(facts.uncalculated) for name, facts in self.book.tabs.items()}


def inspected(data: bytes) -> Inspection:
    """Whether an upload is a sound workbook of bearable size; its cells, and what else there is to tell about it."""
    try:
        return _inspected(data)
    except RefusedError as refusal:
        return Inspection((refusal.problem,))


def _inspected(data: bytes) -> Inspection:
    if len(data) > MOST_UPLOAD_BYTES:
        raise too_large(f"The file is larger than {MOST_UPLOAD_BYTES // MIB} MiB.", f"{len(data) / MIB:.1f} MiB")
    check_kind(data)
    walk = _PackageWalk(unpacked(data))
    book = walk.book()
    reaches = walk.reaches()
    cells = {name: facts.outside for name, facts in book.tabs.items() if facts.outside}
    count = sum(facts.outside_count for facts in book.tabs.values())
    remarks = [*_of_macros(has_macros=walk.has_macros), *outside.remark_of(cells, count, reaches)]
    return Inspection((), tuple(remarks), book)


class _PackageWalk:
    """One walk over all XML parts of a package, each once; a part is dropped when it was seen."""

    def __init__(self, package: Package) -> None:
        self.package = package
        self.tally = Tally()
        self.seen: set[str] = set()
        self.links = links_of(package, "", self.tally)
        self.has_macros = any(name.casefold().endswith("vbaproject.bin") for name in package.names)

    def book(self) -> RawBook:
        part = workbook_part(self.package, self.links)
        links = links_of(self.package, part, self.tally)
        listing = BookPass()
        _check_root(walked(self._taken(part), self.tally, listing))
        listed = self._tabs(listing.tabs, links)
        texts, formats = TextsPass(self.tally), FormatsPass()
        self._shared(only_part(self.package, links, "sharedStrings"), texts)
        self._shared(only_part(self.package, links, "styles"), formats)
        is_new = listing.is_to_calculate
        tabs = {n: sheet_facts(self._taken(part), self.tally, is_to_calculate=is_new) for n, part in listed.items()}
        _check_references(tabs, len(texts.texts), max(1, len(formats.of_style)))
        return RawBook(
            tabs,
            frozenset(tab.name for tab in listing.tabs if tab.is_hidden),
            tuple(texts.texts),
            formats.codes,
            tuple(formats.of_style),
            listing.has_1904_dates,
            self._properties(),
            listing.named_version,
        )

    def reaches(self) -> set[str]:
        """Walk the parts not yet seen; answers what they bring in from outside."""
        found: set[str] = set()
        for name in sorted(self.package.xml.keys() - self.seen):
            if name.casefold() == "[content_types].xml":
                types = TypesPass()
                walked(self._taken(name), self.tally, types)
                self.has_macros = self.has_macros or types.has_macros
            elif name.lower().endswith(".rels"):
                links = links_in(self._taken(name), "", self.tally).values()
                found.update(outside.kind_of_link(link.type) for link in links if link.is_external)
            else:
                watcher = outside.Reach()
                walked(self._taken(name), self.tally, watcher)
                found |= watcher.kinds
        return found - {""}

    def _tabs(self, listed: list[Listed], links: dict[str, Link]) -> dict[str, str]:
        """The part of each worksheet, by its tab's name."""
        tabs: dict[str, str] = {}
        known: set[str] = set()
        for tab in listed:
            link = links.get(tab.identity)
            if link is not None and link.kind in _NO_CELLS:
                continue
            if tab.name.casefold() in known:
                raise unreadable("The workbook holds two tabs of one name.", tab.name[:_SHOWN])
            known.add(tab.name.casefold())
            tabs[tab.name] = tab_part(self.package, tab.name, link)
        if not tabs:
            raise unreadable("The workbook has no tabs.")
        if len(set(tabs.values())) < len(tabs):
            raise unreadable("Two tabs of the workbook are one and the same part.")
        return tabs

    def _shared(self, part: str | None, watcher: TextsPass | FormatsPass) -> None:
        if part is not None:
            walked(self._taken(part), self.tally, watcher)

    def _properties(self) -> dict[str, str]:
        part = only_part(self.package, self.links, "custom-properties")
        if part is None:
            return {}
        watcher = PropertiesPass()
        walked(self._taken(part), self.tally, watcher)
        return watcher.found

    def _taken(self, name: str) -> bytes:
        if name in self.seen:
            raise unreadable("One part of the workbook stands for two.", name[:_SHOWN])
        self.seen.add(name)
        return self.package.xml.pop(name)


def _check_root(root: Root) -> None:
    if root.namespace.startswith(_STRICT):
        raise wrong_type(
            "a Strict Open XML workbook",
            "Save it as plain Excel Workbook (.xlsx), not as Strict Open XML Spreadsheet, and upload that file.",
            Code.SHEET_IS_STRICT,
        )
    if root != Root(MAIN, "workbook"):
        raise wrong_type("another kind of Office file")


def _check_references(tabs: dict[str, SheetFacts], texts: int, styles: int) -> None:
    for name, facts in tabs.items():
        if facts.highest_string >= texts:
            raise unreadable(f"The tab {name[:_SHOWN]} refers to a text that the workbook doesn't hold.", name[:_SHOWN])
        if facts.highest_style >= styles:
            words = f"The tab {name[:_SHOWN]} refers to a format that the workbook doesn't hold."
            raise unreadable(words, name[:_SHOWN])


def _of_macros(*, has_macros: bool) -> list[Problem]:
    if not has_macros:
        return []
    return [
        Problem(
            Code.SHEET_HAS_MACROS, Severity.NOTE, "", "The workbook has macros; they were neither run nor kept.",
            "Nothing, unless the macros were to fill in cells: then run them, save the workbook and upload it again.",
        )
    ]  # fmt: skip
