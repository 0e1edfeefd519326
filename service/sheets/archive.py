"""The parts of a workbook, inflated and counted; what the archive's directory says is never trusted."""

from __future__ import annotations

import re
import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.problems import Code
from service.sheets.directory import DEFLATED, MIB, Entry, entries_of
from service.sheets.refusal import declares_entities, unpacks_too_far, unreadable, wrong_type

if TYPE_CHECKING:
    from collections.abc import Iterator

_SLICE = 64 * 1024
_CHUNK = 1 * MIB
_SHOWN = 80
_XML_ENDINGS = (".xml", ".rels")
_DOCTYPE = re.compile(rb"<!\s*(?:DOCTYPE|ENTITY)", re.IGNORECASE)
_LARGEST_WIDE = 1 * MIB


@dataclass(frozen=True, slots=True)
class Package:
    """Names of the parts, and the inflated bytes of those that are XML, none of them in UTF-16."""

    names: frozenset[str]
    xml: dict[str, bytes]

    def named(self, name: str) -> str | None:
        """The stored spelling of a part's name: part names compare without case (ECMA-376 Part 2, 6.2.2.3)."""
        if name in self.names:
            return name
        return next((stored for stored in self.names if stored.casefold() == name.casefold()), None)


def unpacked(data: bytes) -> Package:
    """The archive's XML parts; everything else is inflated once, counted and dropped.

    Raises:
        RefusedError: for an archive or a part that no workbook has.
    """
    entries = entries_of(data)
    _check_content([entry.name for entry in entries])
    xml = {}
    for entry in entries:
        if entry.name.lower().endswith(_XML_ENDINGS):
            xml[entry.name] = _narrow(b"".join(_inflated(data, entry)), entry.name)
        else:
            _check_other(data, entry)
    return Package(frozenset(entry.name for entry in entries), xml)


def _check_content(names: list[str]) -> None:
    if "[content_types].xml" in {name.casefold() for name in names}:
        return
    if "mimetype" in names:
        raise wrong_type("an OpenDocument file (.ods)", code=Code.SHEET_IS_OPEN_DOCUMENT)
    if any(name.lower().endswith((".xlsx", ".xlsm")) for name in names):
        raise wrong_type("a zip archive with a workbook in it", "Unpack it and upload the workbook.")
    raise wrong_type("a zip archive")


def _check_other(data: bytes, entry: Entry) -> None:
    """Inflate a part that nobody reads; the drawing markup of notes is no sound XML, but may declare no entity either."""
    tail = b""
    for chunk in _inflated(data, entry):
        if entry.name.lower().endswith(".vml") and _DOCTYPE.search(tail + chunk):
            raise declares_entities()
        tail = chunk[-20:]


def _inflated(data: bytes, entry: Entry) -> Iterator[bytes]:
    """A part's bytes in chunks; never one more than declared, and none unless they add up."""
    size = checksum = 0
    for chunk in _chunks(memoryview(data)[entry.start : entry.start + entry.packed_size], entry):
        size += len(chunk)
        if size > entry.size:
            raise unpacks_too_far("A part of the workbook unpacks to more than it says.", entry.name[:_SHOWN])
        checksum = zlib.crc32(chunk, checksum)
        yield chunk
    if size != entry.size or checksum != entry.checksum:
        raise unreadable("A part of the workbook is damaged: its checksum is wrong.", entry.name[:_SHOWN])


def _chunks(packed: memoryview, entry: Entry) -> Iterator[bytes]:
    if entry.method != DEFLATED:
        if entry.packed_size != entry.size:
            raise unreadable("A part of the workbook is damaged: its size is wrong.", entry.name[:_SHOWN])
        yield bytes(packed)
        return
    inflater = zlib.decompressobj(-zlib.MAX_WBITS)
    try:
        for place in range(0, len(packed), _SLICE):
            waiting = bytes(packed[place : place + _SLICE])
            while waiting:
                yield inflater.decompress(waiting, _CHUNK)
                waiting = inflater.unconsumed_tail
        yield inflater.flush()
    except zlib.error as fault:
        raise unreadable("A part of the workbook is damaged: it can't be unpacked.", entry.name[:_SHOWN]) from fault
    if not inflater.eof or inflater.unused_data:
        raise unreadable("A part of the workbook is damaged: it ends too early or too late.", entry.name[:_SHOWN])


def _narrow(part: bytes, name: str) -> bytes:
    """The part in UTF-8 when it came in UTF-16, which Office Open XML allows and hardly anyone writes."""
    if not (part.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\x00" in part[:4]):
        return part
    if len(part) > _LARGEST_WIDE:
        raise unreadable("A part of the workbook is written in a way that workbooks don't use.", name[:_SHOWN])
    try:
        text = part.decode("utf-16" if part[0] >= 0xFE else ("utf-16-be" if part[0] == 0 else "utf-16-le"))  # noqa: PLR2004 - a byte-order mark
    except UnicodeDecodeError:
        raise unreadable("A part of the workbook is damaged: it is no text.", name[:_SHOWN]) from None
    return re.sub(r"^\ufeff?\s*<\?xml[^>]*\?>", "", text).encode("utf-8", "replace")
