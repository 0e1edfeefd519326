"""What the tests of the marked copy share: faults of a workbook, its parts, and workbooks built by hand."""

from __future__ import annotations

import io
import re
import zipfile
from datetime import UTC, datetime
from functools import cache
from itertools import cycle
from typing import TYPE_CHECKING

from service.jobs.desk import Refused
from service.jobs.estimating import estimate_of, understood
from service.jobs.reading import Workbook, sheet_reading
from service.problems import Code, Problem, Severity
from service.sheets.reader import read_room_sheet
from tests.pipeline.estimates import SAMPLES, sample_price_list

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.sheets.draft import SheetReading

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
SHEETS = sorted(path.name for path in SAMPLES.glob("*.xlsx") if path.name != "price_list.xlsx")
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
DOC = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
LINKS = "http://schemas.openxmlformats.org/package/2006/relationships"
TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"


def sample(name: str) -> bytes:
    """Bytes of a sample workbook."""
    return (SAMPLES / name).read_bytes()


def faults(data: bytes) -> tuple[Problem, ...]:
    """Every fault and remark that making a quote of a workbook finds."""
    made = estimate_of(understood(sheet_reading(Workbook(data))), sample_price_list(), "", NOW)
    return made.problems if isinstance(made, Refused) else made.warnings


@cache
def sample_faults(name: str) -> tuple[Problem, ...]:
    """Faults of the broken sample; of a sound one, an invented fault in every cell that the reader knows."""
    if name == "broken.xlsx":
        return faults(sample(name))
    kinds = cycle(Severity)
    return tuple(
        Problem(Code.VALUE_NOT_IN_LIST, next(kinds), place, "Invented.", "Type something else.", "found", cell)
        for place, cell in as_read(sample(name)).cells.items()
        if place
    )


def as_read(data: bytes) -> SheetReading:
    """All that later steps learn of a workbook: document, cells, and the reader's own faults."""
    return read_room_sheet(data)


def places(problems: tuple[Problem, ...]) -> list[tuple[str, str]]:
    """Code and cell of each problem, in order."""
    return [(problem.code.value, str(problem.cell)) for problem in problems]


def parts(data: bytes) -> dict[str, bytes]:
    """Inflated parts by name."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed(content: Mapping[str, bytes | str]) -> bytes:
    """A workbook of parts."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in content.items():
            archive.writestr(name, part)
    return stream.getvalue()


def links(*targets: tuple[str, str]) -> str:
    """A part of relationships: kind and target of rId1, rId2 …"""
    listed = "".join(
        f'<Relationship Id="rId{number}" Type="{DOC}/{kind}" Target="{target}"/>'
        for number, (kind, target) in enumerate(targets, start=1)
    )
    return f'<Relationships xmlns="{LINKS}">{listed}</Relationships>'


def sheet_xml(rows: list[list[object]], *, prefix: str = "", before: str = "", after: str = "") -> str:
    """A worksheet: texts inline, numbers as numbers, a tuple as a formula and the value it was last seen with.

    Args:
        rows: values; None is no cell.
        prefix: namespace prefix with its colon.
        before, after: XML around the cells, written with the prefix.
    """
    p = prefix
    lines = "".join(
        f'<{p}row r="{number}">{"".join(_cell(p, number, column, value) for column, value in enumerate(row))}</{p}row>'
        for number, row in enumerate(rows, start=1)
    )
    space = f"xmlns:{p[:-1]}" if p else "xmlns"
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<{p}worksheet {space}="{MAIN}" xmlns:r="{DOC}">'
        f"{before}<{p}sheetData>{lines}</{p}sheetData>{after}</{p}worksheet>"
    )


def _cell(p: str, row: int, column: int, value: object) -> str:
    address = f"{chr(ord('A') + column)}{row}"
    if value is None:
        return ""
    if isinstance(value, tuple):
        return f'<{p}c r="{address}"><{p}f>{value[0]}</{p}f><{p}v>{value[1]}</{p}v></{p}c>'
    if isinstance(value, str):
        text = value.replace("&", "&amp;").replace("<", "&lt;")
        return f'<{p}c r="{address}" t="inlineStr"><{p}is><{p}t>{text}</{p}t></{p}is></{p}c>'
    return f'<{p}c r="{address}"><{p}v>{value}</{p}v></{p}c>'


def book(tabs: dict[str, str], *, hidden: tuple[str, ...] = (), more: Mapping[str, bytes | str] | None = None) -> bytes:
    """A least workbook without styles.

    Args:
        tabs: by name as XML writes it, the worksheet's part; `chartsheet` in place of a part makes a chart's tab.
        hidden: names of hidden tabs.
        more: further parts, which beat those made here.
    """
    listed, targets, kinds, content = "", [], "", {}
    for number, (name, part) in enumerate(tabs.items(), start=1):
        is_chart = part == "chartsheet"
        folder, kind = ("chartsheets", "chartsheet") if is_chart else ("worksheets", "worksheet")
        state = ' state="hidden"' if name in hidden else ""
        listed += f'<sheet name="{name}" sheetId="{number}"{state} r:id="rId{number}"/>'
        targets.append((kind, f"{folder}/sheet{number}.xml"))
        kinds += f'<Override PartName="/xl/{folder}/sheet{number}.xml" ContentType="{KIND}.{kind}+xml"/>'
        content[f"xl/{folder}/sheet{number}.xml"] = (
            f'<chartsheet xmlns="{MAIN}"><sheetViews/></chartsheet>' if is_chart else part
        )
    types = (
        f'<Types xmlns="{TYPES}"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.'
        f'relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{KIND}.sheet.main+xml"/>{kinds}</Types>'
    )
    return packed(
        {
            "[Content_Types].xml": types,
            "_rels/.rels": links(("officeDocument", "xl/workbook.xml")),
            "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{DOC}"><sheets>{listed}</sheets></workbook>',
            "xl/_rels/workbook.xml.rels": links(*targets),
            **content,
            **(more or {}),
        }
    )


JOB: list[list[object]] = [
    ["Job name", "Test job"], ["Customer", "Nobody"], ["Site address", "Nowhere 1"],
    ["Measured on", "2025-01-02"], ["Units", "imperial"], ["Year built", "1999"],
]  # fmt: skip
ROOMS: list[list[object]] = [["Room", "Ceiling height"], ["Kitchen", "8'"]]
WALLS: list[list[object]] = [
    ["Room", "Wall", "Length", "Corner", "Angle"],
    ["Kitchen", "A", "twelve", "inside", 90],
    ["Kitchen", "B", "10'", "inside", ("45+205", 250)],
    ["Kitchen", "C", "12'", "inside", ("30*3", 90)],
    ["Kitchen", "D", "10'", "insde", 90],
]
TRIM: list[list[object]] = [["Room", "Walls", "Assembly"], ["all", "all", "Plain crown"]]


def tabs_with(walls: str) -> dict[str, str]:
    """The four tabs of a small room sheet, with a worksheet's part for the walls."""
    return {"Job": sheet_xml(JOB), "Rooms": sheet_xml(ROOMS), "Walls": walls, "Trim": sheet_xml(TRIM)}


def formulas(part: bytes) -> dict[str, str]:
    """Formula of each conditional format in a part, by its cell."""
    found = re.findall(rb'sqref="([A-Z0-9]+)"><\w*:?cfRule[^>]*><\w*:?formula>([^<]*)<', part)
    return {address.decode(): _plain(text.decode()) for address, text in found}


def _plain(text: str) -> str:
    return text.replace("&quot;", '"').replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
