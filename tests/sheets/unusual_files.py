"""One sound workbook, written in ways that are allowed and rare."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib

from tests.sheets.attacks import Raw, raw_zip
from tests.sheets.workbooks import room_book, saved, zipped

PLAIN = saved(room_book())


def parts_of(data):
    """Names and contents of a workbook's parts."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return [(name, archive.read(name)) for name in archive.namelist()]


def streamed(data: bytes) -> bytes:
    """The workbook as a program writes it that doesn't know sizes beforehand: they follow each part (APPNOTE 4.3.9)."""
    entries = []
    for name, content in parts_of(data):
        packer = zlib.compressobj(6, zlib.DEFLATED, -15)
        packed = packer.compress(content) + packer.flush()
        after = struct.pack("<4s3L", b"PK\x07\x08", zlib.crc32(content), len(packed), len(content))
        entries.append(Raw(name.encode(), content, flags=8, packed=packed, descriptor=after))
    return raw_zip(entries)


def with_zip64_end(data: bytes) -> bytes:
    """The workbook with the end records of a Zip64 archive (APPNOTE 4.3.14 to 4.3.16)."""
    _, _, _, _, count, size, start, _ = struct.unpack("<4s4H2LH", data[-22:])
    long_end = struct.pack("<4sQ2H2L4Q", b"PK\x06\x06", 44, 45, 45, 0, 0, count, count, size, start)
    locator = struct.pack("<4sLQL", b"PK\x06\x07", 0, len(data) - 22, 1)
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 0xFFFF, 0xFFFF, 0xFFFFFFFF, 0xFFFFFFFF, 0)
    return data[:-22] + long_end + locator + end


def in_utf_16(data: bytes) -> bytes:
    """The workbook with every sheet in UTF-16 (ECMA-376 Part 2 allows UTF-8 and UTF-16)."""
    return zipped([
        (name, b'<?xml version="1.0" encoding="UTF-16"?>'.decode().encode("utf-16") + content.decode().encode("utf-16-le")
         if name.startswith("xl/worksheets/sheet") and not content.startswith(b"<?xml") else content)
        for name, content in parts_of(data)
    ])  # fmt: skip


def with_prefix(data: bytes) -> bytes:
    """The workbook with every element of its sheets under a prefix."""

    def prefixed(content):
        text = content.decode().replace("</", "\0").replace("<", "<x:").replace("\0", "</x:")
        return text.replace("xmlns=", "xmlns:x=")

    return zipped(
        [(name, prefixed(content) if "worksheets/sheet" in name else content) for name, content in parts_of(data)]
    )
