"""One pass over each XML part of a workbook: what would choke or mislead the reader is found first.

Each part is parsed in one call of expat: fed in pieces, a long attribute is scanned again with every
piece (CVE-2023-52425).
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from xml.parsers import expat

from service.sheets.refusal import too_large, unreadable

MOST_DEPTH = 64
MOST_ATTRIBUTES = 64
LONGEST_TOKEN = 70_000
MOST_ELEMENTS = 1_000_000
MOST_OTHER_ELEMENTS = 150_000
MOST_RULED_RANGES = 20_000
_LIMITED = {
    "xf": (65_490, "cell formats"),
    "definedName": (5_000, "names"),
    "comment": (5_000, "notes"),
    "dataValidation": (5_000, "drop-down rules"),
    "cfRule": (10_000, "formatting rules"),
    "sheet": (64, "tabs"),
    "si": (100_000, "texts"),
}
_BULK_ROOTS = frozenset({"worksheet", "sst"})
_SHOWN = 60


@dataclass(slots=True)
class Tally:
    """What was counted, over all parts; `other_elements` outside the sheets and their texts."""

    elements: int = 0
    other_elements: int = 0
    cells: int = 0
    rows: int = 0
    ranges: int = 0
    covered: int = 0
    ruled_ranges: int = 0
    named: Counter[str] = field(default_factory=Counter)


@dataclass(frozen=True, slots=True)
class Root:
    """Namespace and name of a part's outermost element."""

    namespace: str
    name: str


class Watcher:
    """What a caller wants to see of a part; this one looks at nothing."""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins."""

    def end(self, name: str) -> None:
        """An element ends."""

    def text(self, text: str) -> None:
        """Text between."""


def walked(part: bytes, tally: Tally, watcher: Watcher | None = None) -> Root:
    """Parse one part, refusing what no workbook holds; the watcher sees elements without their namespace."""
    walk = _Walk(tally, watcher or Watcher())
    parser = expat.ParserCreate(namespace_separator="\n")
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = walk.doctype
    parser.StartElementHandler = walk.start
    parser.EndElementHandler = walk.end
    parser.CommentHandler = check_token
    parser.ProcessingInstructionHandler = walk.instruction
    parser.CharacterDataHandler = walk.watcher.text
    try:
        parser.Parse(part, True)  # noqa: FBT003 - expat takes it by position
    except (expat.ExpatError, ValueError, LookupError) as fault:
        raise unreadable("A part of the workbook is damaged.", str(fault)[:_SHOWN]) from fault
    return walk.root


def check_token(text: str) -> None:
    """Refuse one enormous name, attribute or remark."""
    if len(text) > LONGEST_TOKEN:
        raise too_large("A part of the workbook holds one enormous piece of text.", f"{len(text)} characters")


class _Walk:
    def __init__(self, tally: Tally, watcher: Watcher) -> None:
        self.tally, self.watcher = tally, watcher
        self.depth = 0
        self.root = Root("", "")

    def doctype(self, *_declaration: object) -> None:
        raise unreadable("A part of the workbook declares a document type, which workbooks never do.", "DOCTYPE")

    def instruction(self, target: str, text: str) -> None:
        check_token(target)
        check_token(text)

    def start(self, full_name: str, attributes: dict[str, str]) -> None:
        namespace, _, name = full_name.rpartition("\n")
        self.depth += 1
        if self.depth == 1:
            self.root = Root(namespace, name)
        self._check_shape(full_name, attributes)
        self._count(name, attributes)
        self.watcher.start(name, attributes)

    def _check_shape(self, full_name: str, attributes: dict[str, str]) -> None:
        if self.depth > MOST_DEPTH:
            raise unreadable("A part of the workbook is nested deeper than any workbook is.", f"depth {self.depth}")
        if len(attributes) > MOST_ATTRIBUTES:
            raise unreadable("A part of the workbook is written like no workbook is.", f"{len(attributes)} attributes")
        for text in (full_name, *attributes, *attributes.values()):
            check_token(text)

    def _count(self, name: str, attributes: dict[str, str]) -> None:
        self.tally.elements += 1
        self.tally.other_elements += self.root.name not in _BULK_ROOTS
        if self.tally.elements > MOST_ELEMENTS or self.tally.other_elements > MOST_OTHER_ELEMENTS:
            raise too_large("The workbook holds far more than a room sheet.", "too many elements")
        if name in _LIMITED:
            self._count_named(name)
        if "sqref" in attributes:
            self._count_ruled(attributes["sqref"])

    def _count_named(self, name: str) -> None:
        most, words = _LIMITED[name]
        self.tally.named[name] += 1
        if self.tally.named[name] > most:
            raise too_large(f"The workbook has more than {most:,} {words}.", words)

    def _count_ruled(self, areas: str) -> None:
        self.tally.ruled_ranges += len(areas.split())
        if self.tally.ruled_ranges > MOST_RULED_RANGES:
            raise too_large(f"The workbook's rules are spread over more than {MOST_RULED_RANGES:,} ranges.")

    def end(self, full_name: str) -> None:
        self.depth -= 1
        self.watcher.end(full_name.rpartition("\n")[2])
