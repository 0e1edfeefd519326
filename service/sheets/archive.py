"""The zip archive of a workbook, checked from its directory and while it is inflated, never trusted."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.problems import Code
from service.sheets.refusal import RefusedError, too_large, unreadable, wrong_type

if TYPE_CHECKING:
    from collections.abc import Iterable

MIB = 1 << 20
MOST_ENTRIES = 500
MOST_PART_BYTES = 32 * MIB
MOST_BYTES = 64 * MIB
MOST_RATIO = 100
RATIO_FROM = 1 * MIB
_CHUNK = 256 * 1024
_END = b"PK\x05\x06"
_END_SIZE = 22
_LONGEST_NAME = 255
_ENCRYPTED_FLAG = 0x1
_DAMAGED = (zipfile.BadZipFile, zlib.error, OSError, ValueError, NotImplementedError, RuntimeError, EOFError)
_XML_ENDINGS = (".xml", ".rels", ".vml")


@dataclass(frozen=True, slots=True)
class Package:
    """Names of the parts, and the inflated bytes of those that are XML."""

    names: frozenset[str]
    xml: dict[str, bytes]

    def named(self, name: str) -> str | None:
        """The stored spelling of a part's name: part names compare without case (ECMA-376 Part 2, 6.2.2.3)."""
        if name in self.names:
            return name
        return next((stored for stored in self.names if stored.casefold() == name.casefold()), None)


def unpacked(data: bytes) -> Package:
    """The archive's XML parts; everything else is inflated once, counted and dropped."""
    _check_end(data)
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = archive.infolist()
            _check_entries(entries)
            _check_content(entries)
            return Package(frozenset(entry.filename for entry in entries), _inflated(archive, entries))
    except _DAMAGED as fault:
        raise unreadable("The file is cut off or damaged.", type(fault).__name__) from fault


def _check_end(data: bytes) -> None:
    place = data.rfind(_END, max(0, len(data) - _END_SIZE - 0xFFFF))
    if place < 0 or place + _END_SIZE > len(data):
        raise unreadable("The file is cut off or damaged: its directory is missing.")
    count, comment = struct.unpack_from("<H", data, place + 10)[0], struct.unpack_from("<H", data, place + 20)[0]
    if place + _END_SIZE + comment != len(data):
        raise unreadable("The file is damaged: something stands after its end.")
    if count > MOST_ENTRIES:
        raise too_large(f"The workbook has {count:,} parts; a filled template has about twenty.", f"{count} parts")


def _check_entries(entries: list[zipfile.ZipInfo]) -> None:
    seen: set[str] = set()
    for entry in entries:
        _check_entry(entry)
        if (key := entry.filename.casefold()) in seen:
            raise unreadable("The file holds two parts of one name.", entry.filename[:80])
        seen.add(key)
    _check_sizes(entries)


def _check_entry(entry: zipfile.ZipInfo) -> None:
    if entry.flag_bits & _ENCRYPTED_FLAG:
        raise RefusedError(
            Code.SHEET_ENCRYPTED, "The file is an encrypted archive.", "Save the workbook without a password."
        )
    if entry.compress_type not in {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}:
        raise unreadable("The file is packed in a way that workbooks don't use.", f"method {entry.compress_type}")
    name = entry.orig_filename
    parts = name.split("/")
    if (
        "\\" in name
        or ":" in name
        or "\x00" in name
        or ".." in parts
        or name.startswith("/")
        or len(name) > _LONGEST_NAME
    ):
        raise unreadable("The file holds a part with a name that workbooks don't use.", name[:80])


def _check_sizes(entries: Iterable[zipfile.ZipInfo]) -> None:
    total = 0
    for entry in entries:
        total += entry.file_size
        if entry.file_size > MOST_PART_BYTES or total > MOST_BYTES:
            raise too_large("Unpacked, the workbook is far larger than a room sheet.", f"more than {total // MIB} MiB")
        if entry.file_size > RATIO_FROM and entry.file_size > MOST_RATIO * max(entry.compress_size, 1):
            raise too_large("A part of the workbook is packed like no filled sheet is.", entry.filename[:80])


def _check_content(entries: list[zipfile.ZipInfo]) -> None:
    names = [entry.filename for entry in entries]
    if "[content_types].xml" in {name.casefold() for name in names}:
        return
    if "mimetype" in names:
        raise wrong_type("an OpenDocument file (.ods)")
    if any(name.lower().endswith((".xlsx", ".xlsm")) for name in names):
        raise wrong_type("a zip archive with a workbook in it", "Unpack it and upload the workbook.")
    raise wrong_type("a zip archive")


def _inflated(archive: zipfile.ZipFile, entries: list[zipfile.ZipInfo]) -> dict[str, bytes]:
    xml: dict[str, bytes] = {}
    total = 0
    for entry in entries:
        keep = entry.filename.lower().endswith(_XML_ENDINGS)
        content, size = _part(archive, entry, total, keep=keep)
        total += size
        if keep:
            xml[entry.filename] = content
    return xml


def _part(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, before: int, *, keep: bool) -> tuple[bytes, int]:
    chunks, size = [], 0
    with archive.open(entry) as stream:
        while chunk := stream.read(_CHUNK):
            size += len(chunk)
            if size > MOST_PART_BYTES or before + size > MOST_BYTES:
                raise too_large("Unpacked, the workbook is far larger than a room sheet.", entry.filename[:80])
            if keep:
                chunks.append(chunk)
    return b"".join(chunks), size
