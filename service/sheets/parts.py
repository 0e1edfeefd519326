"""One pass over each XML part of a workbook: what would choke or mislead a reader is found first.

Each part is parsed in one call of expat: fed in pieces, a long attribute is scanned again with every
piece (CVE-2023-52425). What can be counted without parsing is counted before.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING
from xml.parsers import expat

from service.sheets.refusal import declares_entities, too_large, unreadable

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    Begin = Callable[[dict[str, str]], None]
    End = Callable[[], None]

MOST_DEPTH = 64
MOST_ATTRIBUTES = 64
LONGEST_TOKEN = 70_000
LONGEST_RUN = 1 << 20
MOST_ELEMENTS = 1_500_000
MOST_OTHER_ELEMENTS = 150_000
MOST_NAMES = 20_000
MOST_RULED_RANGES = 20_000
_ENCODINGS = frozenset({"", "utf-8", "utf8", "us-ascii", "ascii", "iso-8859-1"})
_LIMITED = {
    "xf": (65_490, "cell formats"),
    "font": (20_000, "fonts"),
    "fill": (20_000, "fills"),
    "border": (20_000, "borders"),
    "numFmt": (5_000, "number formats"),
    "cellStyle": (10_000, "named styles"),
    "dxf": (10_000, "conditional formats"),
    "definedName": (5_000, "names"),
    "comment": (5_000, "notes"),
    "dataValidation": (5_000, "drop-down rules"),
    "cfRule": (10_000, "formatting rules"),
    "sheet": (64, "tabs"),
    "si": (100_000, "texts"),
    "Relationship": (5_000, "links between parts"),
}
_RULED = frozenset({"conditionalFormatting", "dataValidation", "ignoredError", "protectedRange", "selection"})
_SHOWN = 60


def _new(_attributes: dict[str, str]) -> None:
    """Stands for the handler of a name that was not met before."""


_NEW: Begin | None = _new


@dataclass(slots=True)
class Tally:
    """What was counted, over all parts; `other_elements` outside the sheets and their texts."""

    elements: int = 0
    other_elements: int = 0
    cells: int = 0
    filled: int = 0
    rows: int = 0
    ranges: int = 0
    covered: int = 0
    characters: int = 0
    ruled_ranges: int = 0
    named: Counter[str] = field(default_factory=Counter)


@dataclass(frozen=True, slots=True)
class Root:
    """Namespace and name of a part's outermost element."""

    namespace: str
    name: str


class Watcher:
    """What a caller wants to see of a part: handlers by the local names of elements, and text while `sink` is a list.

    This one looks at nothing.
    """

    is_bulk = False
    """True for sheets and their texts, which have more elements than any other part."""

    def __init__(self) -> None:
        """Nothing to see yet."""
        self.sink: list[str] | None = None

    def begins(self) -> Mapping[str, Begin]:
        """What to do where an element begins, by its name."""
        return {}

    def ends(self) -> Mapping[str, End]:
        """What to do where an element ends, by its name."""
        return {}


def walked(part: bytes, tally: Tally, watcher: Watcher | None = None) -> Root:
    """Parse one part, refusing what no workbook holds; the watcher sees elements without their namespace."""
    watcher = watcher or Watcher()
    _count_elements(part, tally, is_bulk=watcher.is_bulk)
    walk = _Walk(tally, watcher, has_long_token=_has_run_over(part, LONGEST_TOKEN))
    if walk.has_long_token and _has_run_over(part, LONGEST_RUN):
        raise _enormous(f"more than {LONGEST_RUN:,} bytes")
    try:
        walk.parser().Parse(part, True)  # noqa: FBT003 - expat takes it by position
    except (expat.ExpatError, ValueError, LookupError) as fault:
        raise unreadable("A part of the workbook is damaged.", str(fault)[:_SHOWN]) from fault
    return walk.root


def _count_elements(part: bytes, tally: Tally, *, is_bulk: bool) -> None:
    count = part.count(b"<") - part.count(b"</")
    tally.elements += count
    tally.other_elements += 0 if is_bulk else count
    if tally.elements > MOST_ELEMENTS or tally.other_elements > MOST_OTHER_ELEMENTS:
        raise too_large("The workbook holds far more than a room sheet.", "too many elements")


def _has_run_over(part: bytes, limit: int) -> bool:
    """True when so many bytes stand somewhere without a `<`, so that an attribute or a text may be longer."""
    place = 0
    while place + limit < len(part):
        found = part.rfind(b"<", place, place + limit + 1)
        if found < 0:
            return True
        place = found + 1
    return False


def _enormous(found: str) -> Exception:
    return too_large("A part of the workbook holds one enormous piece of text.", found)


def check_token(text: str) -> None:
    """Refuse one enormous name, attribute or remark."""
    if len(text) > LONGEST_TOKEN:
        raise _enormous(f"{len(text)} characters")


def check_shape(full_name: str, attributes: dict[str, str], depth: int) -> None:
    """Refuse an element that stands too deep, or has too many or too long attributes."""
    if depth > MOST_DEPTH:
        raise unreadable("A part of the workbook is nested deeper than any workbook is.", f"depth {depth}")
    if len(attributes) > MOST_ATTRIBUTES:
        raise unreadable("A part of the workbook is written like no workbook is.", f"{len(attributes)} attributes")
    for text in (full_name, *attributes, *attributes.values()):
        check_token(text)


def check_names(names: Mapping[str, str]) -> None:
    """Refuse a part with more different names than any vocabulary has: each costs memory."""
    if len(names) > MOST_NAMES:
        raise unreadable("A part of the workbook is written like no workbook is.", f"{len(names)} different names")


class _Walk:
    """One parse: depth, names and attributes checked, handlers of the watcher called."""

    def __init__(self, tally: Tally, watcher: Watcher, *, has_long_token: bool) -> None:
        self.tally, self.watcher, self.has_long_token = tally, watcher, has_long_token
        self.root = Root("", "")
        self.names: dict[str, str] = {}
        self.wanted, self.wanted_at_end = watcher.begins(), watcher.ends()
        self.begun: dict[str, Begin | None] = {}
        self.ended: dict[str, End | None] = {}

    def parser(self) -> expat.XMLParserType:
        parser = expat.ParserCreate(namespace_separator="\n", intern=self.names)
        parser.buffer_text = True
        parser.XmlDeclHandler = self.declaration
        parser.StartDoctypeDeclHandler = self.doctype
        parser.StartElementHandler, parser.EndElementHandler, text = self.handlers()
        parser.CommentHandler = check_token
        parser.ProcessingInstructionHandler = self.instruction
        if self.wanted:
            parser.CharacterDataHandler = text
        return parser

    def declaration(self, _version: str, encoding: str | None, _standalone: int) -> None:
        if (encoding or "").lower() not in _ENCODINGS:
            raise unreadable(
                "A part of the workbook is written in an alphabet that workbooks don't use.", encoding or ""
            )

    def doctype(self, *_declaration: object) -> None:
        raise declares_entities()

    def instruction(self, target: str, text: str) -> None:
        check_token(target)
        check_token(text)

    def handlers(self) -> tuple[Callable[[str, dict[str, str]], None], Callable[[str], None], Callable[[str], None]]:
        """What expat calls at each start, end and text. Closures: a sheet has a million of them, and names found at once count."""
        begun, ended, names = self.begun, self.ended, self.names
        watcher, has_long_token, depth = self.watcher, self.has_long_token, 0

        def start(full_name: str, attributes: dict[str, str]) -> None:
            nonlocal depth
            depth += 1
            if depth > MOST_DEPTH or len(attributes) > MOST_ATTRIBUTES or len(names) > MOST_NAMES or has_long_token:
                check_shape(full_name, attributes, depth)
                check_names(names)
            handler = begun.get(full_name, _NEW)
            if handler is _NEW:
                handler = self.learned(full_name, depth)
            if handler is not None:
                handler(attributes)

        def end(full_name: str) -> None:
            nonlocal depth
            depth -= 1
            handler = ended[full_name]
            if handler is not None:
                handler()

        def text(text: str) -> None:
            if watcher.sink is not None:
                watcher.sink.append(text)

        return start, end, text

    def learned(self, full_name: str, depth: int) -> Begin | None:
        """What to do for elements of a name met for the first time."""
        namespace, _, name = full_name.rpartition("\n")
        if depth == 1:
            self.root = Root(namespace, name)
        self.ended[full_name] = self.wanted_at_end.get(name)
        begin = self.wanted.get(name)
        if name in _LIMITED or name in _RULED:
            begin = self.counting(name, begin)
        self.begun[full_name] = begin
        return begin

    def counting(self, name: str, then: Begin | None) -> Begin:
        def counted(attributes: dict[str, str]) -> None:
            count_named(name, self.tally)
            count_ruled(attributes.get("sqref", ""), self.tally)
            if then is not None:
                then(attributes)

        return counted


def count_named(name: str, tally: Tally) -> None:
    """Refuse more formats, names, notes … than any room sheet has."""
    if name in _LIMITED:
        most, words = _LIMITED[name]
        tally.named[name] += 1
        if tally.named[name] > most:
            raise too_large(f"The workbook has more than {most:,} {words}.", words)


def count_ruled(areas: str, tally: Tally) -> None:
    """Refuse rules that are spread over more ranges than any room sheet has."""
    tally.ruled_ranges += len(areas.split()) if areas else 0
    if tally.ruled_ranges > MOST_RULED_RANGES:
        raise too_large(f"The workbook's rules are spread over more than {MOST_RULED_RANGES:,} ranges.")
