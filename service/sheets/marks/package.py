"""The parts of a workbook as a whole: read, added to, and written again, each unchanged part byte for byte."""

from __future__ import annotations

import io
import posixpath
import zipfile
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.sheets.marks.splicing import Element, UnpatchableError, appended, outlined, removed, spliced, utf8
from service.sheets.marks.xml_text import attribute, named

if TYPE_CHECKING:
    from collections.abc import Callable

RELATIONSHIPS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_LINKS = "http://schemas.openxmlformats.org/package/2006/relationships"
_TYPES = "[Content_Types].xml"
_DATE = (1980, 1, 1, 0, 0, 0)
_XML_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'


@dataclass(frozen=True, slots=True)
class Link:
    """A relationship of a part: identity, kind (last word of its type), the part it leads to ("" outside the file)."""

    id: str
    kind: str
    target: str


class Package:
    """Parts by name, changed in place; names compare without case (ECMA-376 Part 2, 6.2.2.3)."""

    def __init__(self, data: bytes) -> None:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            self._entries = archive.infolist()
            self._parts = {entry.filename: archive.read(entry) for entry in self._entries}
        self._stored = {name.casefold(): name for name in self._parts}

    def __contains__(self, name: str) -> bool:
        """True when there is a part of this name."""
        return name.casefold() in self._stored

    def __getitem__(self, name: str) -> bytes:
        """A part's bytes; XML is not decoded."""
        return self._parts[self._stored[name.casefold()]]

    def __setitem__(self, name: str, content: bytes) -> None:
        """A part's new bytes, or a new part."""
        self._parts[self._stored.setdefault(name.casefold(), name)] = content

    def names(self) -> list[str]:
        """Names of all parts."""
        return list(self._parts)

    def dropped(self, name: str) -> None:
        """Leave a part out, and what it links to with it."""
        for part in (name, _links_part(name)):
            if part in self:
                del self._parts[self._stored.pop(part.casefold())]

    def free(self, pattern: str) -> str:
        """The first name of a numbered kind that no part has: `xl/comments{}.xml` → `xl/comments3.xml`."""
        return next(name for number in range(1, 10_000) if (name := pattern.format(number)) not in self)

    def xml(self, name: str) -> tuple[bytes, Element]:
        """A part in UTF-8 and its tree.

        Raises:
            UnpatchableError: when there is no such part or it is no sound XML.
        """
        if name not in self:
            raise UnpatchableError(name)
        part = utf8(self[name])
        return part, outlined(part)

    def links(self, part: str) -> list[Link]:
        """What a part is linked to, in order."""
        stored = _links_part(part)
        if stored not in self:
            return []
        return [_link(element, part) for element in self.xml(stored)[1].all("Relationship")]

    def link(self, part: str, kind: str) -> Link | None:
        """The first link of a kind."""
        return next((link for link in self.links(part) if link.kind == kind), None)

    def linked(self, part: str, kind: str, target: str) -> str:
        """Link a part to another; the link's identity."""
        stored = _links_part(part)
        if stored not in self:
            self[stored] = f'{_XML_HEAD}<Relationships xmlns="{_LINKS}"></Relationships>'.encode()
        taken = {link.id for link in self.links(part)}
        identity = next(name for number in range(1, len(taken) + 2) if (name := f"rIdCheck{number}") not in taken)
        kind_url = f"{RELATIONSHIPS}/{kind}"
        self._append(
            stored, f"<~Relationship Id={attribute(identity)} Type={attribute(kind_url)} Target={attribute('/' + target)}/>"
        )  # fmt: skip
        return identity

    def unlinked(self, part: str, is_dropped: Callable[[Link], bool]) -> None:
        """Drop links of a part."""
        content, root = self.xml(_links_part(part))
        gone = [removed(item) for item in root.all("Relationship") if is_dropped(_link(item, part))]
        self[_links_part(part)] = spliced(content, gone)

    def typed(self, name: str, content_type: str) -> None:
        """Say what a new part is."""
        self._append(_TYPES, f"<~Override PartName={attribute('/' + name)} ContentType={attribute(content_type)}/>")

    def typed_by_ending(self, ending: str, content_type: str) -> None:
        """Say what all parts of an ending are, where nothing says so yet."""
        known = {element.attribute("Extension").casefold() for element in self.xml(_TYPES)[1].all("Default")}
        if ending not in known:
            content, root = self.xml(_TYPES)
            told = named(
                f"<~Default Extension={attribute(ending)} ContentType={attribute(content_type)}/>", root.prefix
            )
            place = root.children[0].start if root.children else root.closed
            self[_TYPES] = content[:place] + told.encode() + content[place:]

    def types(self) -> tuple[str, bytes, Element]:
        """Name, bytes and tree of the part that says what the others are."""
        return (_TYPES, *self.xml(_TYPES))

    def _append(self, name: str, xml: str) -> None:
        content, root = self.xml(name)
        self[name] = spliced(content, [appended(content, root, named(xml, root.prefix).encode())])

    def packed(self) -> bytes:
        """The archive: the parts in their order and with their dates, new ones after them."""
        stream = io.BytesIO()
        with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
            for entry in self._entries:
                if entry.filename in self._parts:
                    archive.writestr(
                        _entry(entry.filename, entry.date_time, entry.compress_type), self._parts[entry.filename]
                    )
            kept = {entry.filename for entry in self._entries}
            for name in (name for name in self._parts if name not in kept):
                archive.writestr(_entry(name, _DATE, zipfile.ZIP_DEFLATED), self._parts[name])
        return stream.getvalue()


def _entry(name: str, date: tuple[int, ...], method: int) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, date)  # type: ignore[arg-type] # six numbers, as it was read
    entry.compress_type = method
    entry.create_system = 0
    return entry


def _links_part(part: str) -> str:
    folder, name = posixpath.split(part)
    return posixpath.join(folder, "_rels", f"{name}.rels")


def _link(element: Element, part: str) -> Link:
    kind = element.attribute("Type").rpartition("/")[2]
    target = element.attribute("Target")
    if element.attribute("TargetMode") == "External":
        return Link(element.attribute("Id"), kind, "")
    folder = posixpath.dirname(part)
    whole = target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))
    return Link(element.attribute("Id"), kind, whole)
