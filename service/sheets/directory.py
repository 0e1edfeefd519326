"""The directory of a workbook's zip archive, read here and checked entry by entry.

Two readers that understand an archive differently can be shown different workbooks, so nothing is
allowed that is not needed: every byte of the file belongs to one entry, to the directory or to its end.

Source: APPNOTE.TXT - .ZIP File Format Specification, 4.3 and 4.4; ECMA-376 Part 2, Annex C (from memory).
"""

from __future__ import annotations

import struct
import unicodedata
from dataclasses import dataclass

from service.sheets.refusal import RefusedError, cut_off, encrypted, too_large, unpacks_too_far, unreadable

MIB = 1 << 20
MOST_ENTRIES = 500
MOST_PART_BYTES = 32 * MIB
MOST_BYTES = 64 * MIB
MOST_RATIO = 100
RATIO_FROM = 1 * MIB
STORED, DEFLATED = 0, 8
_END = struct.Struct("<4s4H2LH")
_END_64 = struct.Struct("<4sQ2H2L4Q")
_LOCATOR_64 = struct.Struct("<4sLQL")
_CENTRAL = struct.Struct("<4s6H3L5H2L")
_LOCAL = struct.Struct("<4s5H3L2H")
_LONGEST_COMMENT = 0xFFFF
_LONGEST_NAME = 255
_FULL_16, _FULL_32 = 0xFFFF, 0xFFFFFFFF
_LOCKED_FLAGS = 0x1 | 0x40 | 0x2000
_DESCRIPTOR_FLAG, _UTF8_FLAG = 0x8, 0x800
_DESCRIPTOR_SIZES = frozenset({12, 16, 20, 24})
_FILE_KIND, _PLAIN_KINDS = 0xF000, frozenset({0, 0x8000, 0x4000})
_SHOWN = 80


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: name, how it is packed, checksum, sizes, where its packed bytes start."""

    name: str
    method: int
    checksum: int
    packed_size: int
    size: int
    start: int


@dataclass(frozen=True, slots=True)
class _Listed:
    """An entry as the directory lists it."""

    raw_name: bytes
    flags: int
    method: int
    checksum: int
    packed_size: int
    size: int
    place: int
    attributes: int


@dataclass(frozen=True, slots=True)
class _Extent:
    """Where the directory starts and ends, and how many entries it has."""

    start: int
    end: int
    count: int


def entries_of(data: bytes) -> list[Entry]:
    """Entries of an archive whose directory and names are sound, in the order of their bytes.

    Raises:
        RefusedError: for an archive that no spreadsheet program writes.
    """
    listed = _listed(data, _extent(data))
    entries = _placed(data, listed)
    _check_names([entry.name for entry in entries])
    _check_sizes(entries)
    return entries


def declared_size(data: bytes) -> int:
    """What an archive says that it unpacks to; 0 for one that is refused, which takes no time."""
    try:
        return sum(entry.size for entry in entries_of(data))
    except RefusedError:
        return 0


def _extent(data: bytes) -> _Extent:
    place = data.rfind(b"PK\x05\x06", max(0, len(data) - _END.size - _LONGEST_COMMENT))
    if place < 0 or place + _END.size > len(data):
        raise cut_off("The file is cut off: the directory at its end is missing.")
    _, disk, first_disk, here, count, size, start, comment = _END.unpack_from(data, place)
    if place + _END.size + comment != len(data):
        raise unreadable("The file is damaged: something stands after its end, or its end is cut.")
    if disk or first_disk or here != count:
        raise unreadable("The file is one part of an archive in several parts.")
    extent = _Extent(start, start + size, count)
    end = place
    if _FULL_32 in {start, size} or count == _FULL_16:
        extent, end = _extent_64(data, place)
    if extent.count > MOST_ENTRIES:
        words = f"The workbook has {extent.count:,} parts; a filled template has about twenty."
        raise too_large(words, f"{extent.count} parts")
    if extent.end != end:
        raise unreadable("The file is damaged: something stands before it, or in its directory.")
    return extent


def _extent_64(data: bytes, place: int) -> tuple[_Extent, int]:
    """The directory of a Zip64 archive, and where it has to end."""
    where = place - _LOCATOR_64.size
    if where < 0 or data[where : where + 4] != b"PK\x06\x07":
        raise unreadable("The file is damaged: the end of its directory is missing.")
    end = _LOCATOR_64.unpack_from(data, where)[2]
    if end + _END_64.size != where or data[end : end + 4] != b"PK\x06\x06":
        raise unreadable("The file is damaged: the end of its directory is not where it should be.")
    *_, count, size, start = _END_64.unpack_from(data, end)
    return _Extent(start, start + size, count), end


def _listed(data: bytes, extent: _Extent) -> list[_Listed]:
    place, listed = extent.start, []
    for _ in range(extent.count):
        if place + _CENTRAL.size > extent.end or data[place : place + 4] != b"PK\x01\x02":
            raise unreadable("The file's directory is damaged.")
        fields = _CENTRAL.unpack_from(data, place)
        lengths = fields[10:13]
        after_name = place + _CENTRAL.size + lengths[0]
        extra = data[after_name : after_name + lengths[1]]
        listed.append(_entry(fields, data[place + _CENTRAL.size : after_name], extra))
        place = after_name + lengths[1] + lengths[2]
    if place != extent.end:
        raise unreadable("The file's directory is damaged: something stands in it that is no entry.")
    return listed


def _entry(fields: tuple[int, ...], raw_name: bytes, extra: bytes) -> _Listed:
    flags, method, checksum = fields[3], fields[4], fields[7]
    size, packed_size, place = _long_sizes(extra, fields[9], fields[8], fields[16])
    listed = _Listed(raw_name, flags, method, checksum, packed_size, size, place, fields[15])
    _check_packing(listed)
    return listed


def _long_sizes(extra: bytes, *short: int) -> list[int]:
    """Size, packed size and place; those too long for 32 bits stand in the Zip64 extra field, in this order."""
    field = _field_64(extra)
    found, place = [], 0
    for value in short:
        if value == _FULL_32 and place + 8 <= len(field):
            found.append(struct.unpack_from("<Q", field, place)[0])
            place += 8
        else:
            found.append(value)
    return found


def _field_64(extra: bytes) -> bytes:
    place = 0
    while place + 4 <= len(extra):
        kind, size = struct.unpack_from("<2H", extra, place)
        if kind == 1:
            return extra[place + 4 : place + 4 + size]
        place += 4 + size
    return b""


def _check_packing(listed: _Listed) -> None:
    if listed.flags & _LOCKED_FLAGS:
        raise encrypted("The file is an encrypted archive.", "Save the workbook without a password.")
    if listed.method not in {STORED, DEFLATED}:
        raise unreadable("The file is packed in a way that workbooks don't use.", f"method {listed.method}")
    if (listed.attributes >> 16) & _FILE_KIND not in _PLAIN_KINDS:
        raise unreadable("The file holds a link or a device in place of a part.", _shown(listed.raw_name))


def _shown(raw_name: bytes) -> str:
    return raw_name.decode("utf-8", "replace")[:_SHOWN]


def _placed(data: bytes, listed: list[_Listed]) -> list[Entry]:
    """Entries with the place of their bytes; from the file's start to the directory without a gap or an overlap."""
    entries, end = [], 0
    for item in sorted(listed, key=lambda item: item.place):
        if item.place != end:
            raise unreadable("The file is damaged: its parts overlap, or something stands between them.")
        entry = _entry_at(data, item)
        entries.append(entry)
        end = _end_of(data, entry, item)
    if listed and end != _extent(data).start:
        raise unreadable("The file is damaged: something stands between its parts and its directory.")
    return entries


def _entry_at(data: bytes, item: _Listed) -> Entry:
    if data[item.place : item.place + 4] != b"PK\x03\x04" or item.place + _LOCAL.size > len(data):
        raise unreadable("The file is damaged: a part is not where its directory says.", _shown(item.raw_name))
    _, _, flags, method, *_, name_length, extra_length = _LOCAL.unpack_from(data, item.place)
    name_at = item.place + _LOCAL.size
    same = method == item.method and data[name_at : name_at + name_length] == item.raw_name
    if not same or (flags ^ item.flags) & (_LOCKED_FLAGS | _DESCRIPTOR_FLAG):
        raise unreadable("The file contradicts itself about one of its parts.", _shown(item.raw_name))
    start = name_at + name_length + extra_length
    return Entry(_name(item), item.method, item.checksum, item.packed_size, item.size, start)


def _name(item: _Listed) -> str:
    try:
        return item.raw_name.decode("utf-8" if item.flags & _UTF8_FLAG else "cp437")
    except UnicodeDecodeError:
        raise unreadable("The file holds a part whose name is no text.", _shown(item.raw_name)) from None


def _end_of(data: bytes, entry: Entry, item: _Listed) -> int:
    end = entry.start + entry.packed_size
    if end > len(data):
        raise unreadable("The file is damaged: a part reaches past its end.", entry.name[:_SHOWN])
    if not item.flags & _DESCRIPTOR_FLAG:
        return end
    return end + next((size for size in sorted(_DESCRIPTOR_SIZES) if _is_descriptor(data, end, size, entry)), 0)


def _is_descriptor(data: bytes, place: int, size: int, entry: Entry) -> bool:
    """True when the checksum and sizes that may follow a part written in one go stand there, in one of four forms."""
    signature = b"PK\x07\x08" if size in {16, 24} else b""
    numbers = "<L2L" if size in {12, 16} else "<L2Q"
    expected = signature + struct.pack(numbers, entry.checksum, entry.packed_size, entry.size)
    return data[place : place + size] == expected


def _check_names(names: list[str]) -> None:
    seen: set[str] = set()
    for name in names:
        if not _is_plain(name):
            raise unreadable("The file holds a part with a name that workbooks don't use.", name[:_SHOWN])
        key = unicodedata.normalize("NFC", name).casefold().rstrip("/")
        if key in seen:
            raise unreadable("The file holds two parts of one name.", name[:_SHOWN])
        seen.add(key)


def _is_plain(name: str) -> bool:
    """True for a name that means one place inside the archive on every system."""
    if not name or len(name) > _LONGEST_NAME or any(char in '\\:*?"<>|' or char < " " for char in name):
        return False
    return all(part.strip(". ") for part in name.removesuffix("/").split("/"))


def _check_sizes(entries: list[Entry]) -> None:
    total = 0
    for entry in entries:
        total += entry.size
        if entry.size > MOST_PART_BYTES or total > MOST_BYTES:
            words = "Unpacked, the workbook is far larger than a room sheet."
            raise unpacks_too_far(words, f"more than {min(total, MOST_BYTES) // MIB} MiB")
        if entry.size > RATIO_FROM and entry.size > MOST_RATIO * max(entry.packed_size, 1):
            raise unpacks_too_far("A part of the workbook is packed like no filled sheet is.", entry.name[:_SHOWN])
