"""A workbook's parts as plain XML: what a library that reads it might hide."""

from __future__ import annotations

import io
import zipfile
from xml.etree import ElementTree as ET

from tests.sheets.workbooks import DOC, MAIN, RELS

NS = {"m": MAIN, "r": RELS}


def part(data, name):
    """One part's root element."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return ET.fromstring(archive.read(name))  # noqa: S314 - our own workbook


def sheet_parts(data):
    """Root element of every tab's part, by the tab's name."""
    links = {link.get("Id"): link.get("Target") for link in part(data, "xl/_rels/workbook.xml.rels")}
    return {
        sheet.get("name"): part(data, "xl/" + links[sheet.get(f"{{{DOC}}}id")].removeprefix("/xl/"))
        for sheet in part(data, "xl/workbook.xml").iterfind("m:sheets/m:sheet", NS)
    }


def names(data):
    """Defined names of the whole workbook."""
    found = part(data, "xl/workbook.xml").iterfind("m:definedNames/m:definedName", NS)
    return {name.get("name"): name.text for name in found if name.get("localSheetId") is None}


def states(data):
    """Whether each tab is seen."""
    return {
        sheet.get("name"): sheet.get("state", "visible")
        for sheet in part(data, "xl/workbook.xml").iterfind("m:sheets/m:sheet", NS)
    }


BUILT_IN = {0: "General", 2: "0.00", 9: "0%", 49: "@"}
"""Formats that a workbook names by number alone. Source: ECMA-376 Part 1, 18.8.30; `@` is Text."""


def formats(data):
    """Number format of each cell format."""
    styles = part(data, "xl/styles.xml")
    own = {int(form.get("numFmtId")): form.get("formatCode") for form in styles.iterfind("m:numFmts/m:numFmt", NS)}
    numbers = (int(xf.get("numFmtId", 0)) for xf in styles.iterfind("m:cellXfs/m:xf", NS))
    return [(BUILT_IN | own).get(number, str(number)) for number in numbers]


def column_formats(data, sheet):
    """Format that each column has for cells that aren't stored, by column number."""
    known = formats(data)
    return {
        number: known[int(column.get("style", 0))]
        for column in sheet.iterfind("m:cols/m:col", NS)
        for number in range(int(column.get("min")), min(int(column.get("max")), 30) + 1)
    }


def cell_formats(data, sheet):
    """Format of each stored cell, by address."""
    known = formats(data)
    return {cell.get("r"): known[int(cell.get("s", 0))] for cell in sheet.iterfind("m:sheetData/m:row/m:c", NS)}


def guides(sheet):
    """Attributes, areas and source of every validation."""
    return [
        {**guide.attrib, "areas": guide.get("sqref").split(), "source": guide.findtext("m:formula1", "", NS)}
        for guide in sheet.iterfind("m:dataValidations/m:dataValidation", NS)
    ]


def without(data, *dropped):
    """The workbook without some parts, and without links to them."""
    kept = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as source, zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            if name not in dropped:
                target.writestr(
                    name, _unlinked(source.read(name), dropped) if name == "_rels/.rels" else source.read(name)
                )
    return kept.getvalue()


def _unlinked(content, dropped):
    root = ET.fromstring(content)  # noqa: S314 - our own workbook
    for link in list(root):
        if link.get("Target").lstrip("/") in dropped:
            root.remove(link)
    return ET.tostring(root)
