"""XML parts changed by splicing bytes in: what isn't named in an edit stays as it was written.

The guard has walked every part before: no document type, bounded depth and size.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING
from xml.parsers import expat

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

_DECLARED = re.compile(rb"""^<\?xml[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["']""")
_DECLARATION = re.compile(r"^<\?xml[^>]*\?>\s*")
_UTF8_MARK = b"\xef\xbb\xbf"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_TAG_END = re.compile(rb"""(?:[^"'>]|"[^"]*"|'[^']*')*>""")


class UnpatchableError(Exception):
    """A part is not built as the format has it, so nothing can be added to it."""


@dataclass(slots=True)
class Element:
    """An element and where its bytes stand: `start`, end of its start tag, start of its end tag, `end`.

    `is_empty`: written as `<x/>`, without an end tag.
    """

    name: str
    attributes: dict[str, str]
    start: int
    opened: int
    closed: int = 0
    end: int = 0
    text: str = ""
    children: list[Element] = field(default_factory=list)
    is_empty: bool = False

    @property
    def local(self) -> str:
        """Name without prefix."""
        return self.name.rpartition(":")[2]

    @property
    def prefix(self) -> str:
        """Prefix with its colon; "" without one."""
        return self.name[: -len(self.local)]

    def child(self, local: str) -> Element | None:
        """The first child of this name in the element's own namespace."""
        return next((child for child in self.children if child.name == self.prefix + local), None)

    def all(self, local: str) -> Iterator[Element]:
        """Every element of this name below, whatever its namespace."""
        for child in self.children:
            if child.local == local:
                yield child
            yield from child.all(local)

    def attribute(self, local: str) -> str:
        """Value of an attribute by its name without prefix; "" without it."""
        return next((value for key, value in self.attributes.items() if key.rpartition(":")[2] == local), "")


@dataclass(frozen=True, slots=True, order=True)
class Edit:
    """Bytes from `start` to `end` become `content`."""

    start: int
    end: int
    content: bytes


def utf8(part: bytes) -> bytes:
    """A part in UTF-8: most are; others are written anew with the same characters."""
    if part.startswith(_UTF16_MARKS):
        return _recoded(part, "utf-16")
    match = _DECLARED.match(part.removeprefix(_UTF8_MARK))
    encoding = match[1].decode("ascii").lower() if match else "utf-8"
    return part if encoding in {"utf-8", "utf8", "us-ascii"} else _recoded(part, encoding)


def _recoded(part: bytes, encoding: str) -> bytes:
    text = _DECLARATION.sub("", part.decode(encoding))
    return ('<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' + text).encode()


class Outliner:
    """Builds the tree of a part in one call of expat; a part's bulk may be handed to other handlers."""

    def __init__(self, part: bytes) -> None:
        self.part = part
        self.parser = expat.ParserCreate()
        self.parser.buffer_text = True
        self.open: list[Element] = []
        self.root: Element | None = None
        self.listen()

    def listen(self) -> None:
        """Take every element into the tree."""
        self.parser.StartElementHandler = self.begun
        self.parser.EndElementHandler = self.ended
        self.parser.CharacterDataHandler = self.said

    def outlined(self) -> Element:
        """The root, with everything that was listened to."""
        try:
            self.parser.Parse(self.part, True)  # noqa: FBT003 - expat takes it by position
        except expat.ExpatError as fault:
            raise UnpatchableError(str(fault)) from fault
        if self.root is None:
            raise UnpatchableError("no element")
        return self.root

    def begun(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        start = self.parser.CurrentByteIndex
        tag = _TAG_END.match(self.part, start)
        element = Element(name, attributes, start, tag.end() if tag else start)
        if self.open:
            self.open[-1].children.append(element)
        else:
            self.root = element
        self.open.append(element)

    def ended(self, _name: str) -> None:
        """An element ends; one without an end tag ends where it was opened."""
        element = self.open.pop()
        element.is_empty = self.part[element.opened - 2 : element.opened] == b"/>"
        element.closed = element.opened if element.is_empty else self.parser.CurrentByteIndex
        element.end = element.opened if element.is_empty else self.part.index(b">", element.closed) + 1

    def said(self, text: str) -> None:
        """Text of the element that is open."""
        if self.open:
            self.open[-1].text += text


def outlined(part: bytes) -> Element:
    """The whole tree of a part that is already in UTF-8.

    Raises:
        UnpatchableError: when it is no sound XML.
    """
    return Outliner(part).outlined()


def spliced(part: bytes, edits: Iterable[Edit]) -> bytes:
    """The part with edits that don't overlap; those at one place follow each other in the order given."""
    pieces, place = [], 0
    for edit in sorted(edits, key=lambda edit: edit.start):
        pieces += [part[place : edit.start], edit.content]
        place = max(place, edit.end)
    return b"".join((*pieces, part[place:]))


def appended(part: bytes, element: Element, content: bytes) -> Edit:
    """Content put after an element's last child; `<x/>` is opened for it."""
    if not element.is_empty:
        return Edit(element.closed, element.closed, content)
    tag = part[element.start : element.opened - 2].rstrip()
    return Edit(element.start, element.end, tag + b">" + content + f"</{element.name}>".encode())


def removed(element: Element) -> Edit:
    """Nothing in the element's place."""
    return Edit(element.start, element.end, b"")


def with_attribute(part: bytes, element: Element, name: str, value: int) -> Edit:
    """A numeric attribute's new value in the element's start tag; nothing changes where it has none."""
    tag = part[element.start : element.opened]
    pattern = rb"(\s" + name.encode() + rb"""\s*=\s*)("[^"]*"|'[^']*')"""
    fresh = re.sub(pattern, lambda match: match[1] + f'"{value}"'.encode(), tag, count=1)
    return Edit(element.start, element.opened, fresh)
