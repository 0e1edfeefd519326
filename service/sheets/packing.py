"""Workbook bytes that are the same every time: fixed dates, fixed core properties, canonical XML."""

from __future__ import annotations

import io
import zipfile
from typing import TYPE_CHECKING
from xml.etree.ElementTree import canonicalize

if TYPE_CHECKING:
    from openpyxl.workbook.workbook import Workbook

_DATE = (1980, 1, 1, 0, 0, 0)
_CORE = "docProps/core.xml"
_SHEETS = "xl/worksheets/"
_NUMBERS_AS_TEXT = (
    '</headerFooter><ignoredErrors><ignoredError sqref="A1:Z{last}" numberStoredAsText="1"/></ignoredErrors>'
)
_LAST_ROW = 5_001
_CORE_XML = (
    '<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" '
    'xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" '
    'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"><dc:title>{title}</dc:title>'
    '<dcterms:created xsi:type="dcterms:W3CDTF">2000-01-01T00:00:00Z</dcterms:created></cp:coreProperties>'
)


def packed(book: Workbook, title: str) -> bytes:
    """The workbook's bytes; equal books give equal bytes on one machine, whatever the clock says.

    The XML is written canonically (W3C Canonical XML 2.0), because the library writes it in one of two
    ways, depending on what else is installed. Lengths such as 3820 stand as text on purpose; the sheets say so
    where the library can't, or every such cell would carry a warning mark.
    """
    plain = io.BytesIO()
    book.save(plain)
    packed_bytes = io.BytesIO()
    with zipfile.ZipFile(plain) as source, zipfile.ZipFile(packed_bytes, "w", zipfile.ZIP_DEFLATED) as target:
        for name in sorted(source.namelist(), key=_order):
            target.writestr(_entry(name), _content(name, source.read(name), title))
    return packed_bytes.getvalue()


def _order(name: str) -> tuple[bool, str]:
    return name != "[Content_Types].xml", name


def _entry(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, _DATE)
    entry.compress_type = zipfile.ZIP_DEFLATED
    entry.create_system = 0
    return entry


def _content(name: str, content: bytes, title: str) -> bytes:
    text = _CORE_XML.format(title=title) if name == _CORE else content.decode("utf-8")
    if name.startswith(_SHEETS):
        text = text.replace("</headerFooter>", _NUMBERS_AS_TEXT.format(last=_LAST_ROW))
    return canonicalize(text).encode("utf-8")
