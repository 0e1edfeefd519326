"""Small workbooks for the tests: sound ones by openpyxl, hostile ones by hand."""

from __future__ import annotations

import io
import zipfile

import openpyxl

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELS = "http://schemas.openxmlformats.org/package/2006/relationships"
DOC = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
BOOK_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"

JOB = [
    ["Job name", "Test job"], ["Customer", "Nobody"], ["Site address", "Nowhere 1"],
    ["Measured on", "2025-01-02"], ["Units", "imperial"],
]  # fmt: skip
ROOMS = [["Room", "Ceiling height"], ["Kitchen", "8'"]]
WALLS = [
    ["Room", "Wall", "Length", "Corner", "Angle"],
    ["Kitchen", "A", "12'", "inside", None],
    ["Kitchen", "B", "10'", "inside", 90],
    ["Kitchen", "C", "12'", "inside", "90°"],
    ["Kitchen", "D", 120, "inside", 90.0],
]
TRIM = [["Room", "Walls", "Assembly"], ["all", "all", "Plain crown"]]


def room_book(**tabs):
    """A sound little room sheet as an openpyxl workbook; keywords replace or add tabs, None drops one."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    rows_of = {"Job": JOB, "Rooms": ROOMS, "Walls": WALLS, "Trim": TRIM} | tabs
    for name, rows in rows_of.items():
        if rows is not None:
            sheet = book.create_sheet(name)
            for row in rows:
                sheet.append(row)
    return book


def saved(book):
    """Bytes of a workbook."""
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def zipped(parts, method=zipfile.ZIP_DEFLATED):
    """A zip archive of (name, content) pairs."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", method) as archive:
        for name, content in parts:
            archive.writestr(name, content)
    return stream.getvalue()


def parts_by_hand(sheet_xml, *, names=("Walls",), book_namespace=MAIN):
    """Parts of a least workbook, in order, whose every tab holds the given XML."""
    count = range(1, len(names) + 1)
    listed = "".join(
        f'<sheet name="{name}" sheetId="{n}" r:id="rId{n}"/>' for n, name in zip(count, names, strict=True)
    )
    links = "".join(
        f'<Relationship Id="rId{n}" Type="{DOC}/worksheet" Target="worksheets/sheet{n}.xml"/>' for n in count
    )
    kinds = "".join(f'<Override PartName="/xl/worksheets/sheet{n}.xml" ContentType="{SHEET_TYPE}"/>' for n in count)
    types = (
        f'<Types xmlns="{TYPES}"><Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{BOOK_TYPE}"/>{kinds}</Types>'
    )
    root = (
        f'<Relationships xmlns="{RELS}"><Relationship Id="rId1" Type="{DOC}/officeDocument" '
        'Target="xl/workbook.xml"/></Relationships>'
    )
    book = f'<workbook xmlns="{book_namespace}" xmlns:r="{DOC}"><sheets>{listed}</sheets></workbook>'
    return [
        ("[Content_Types].xml", types),
        ("_rels/.rels", root),
        ("xl/workbook.xml", book),
        ("xl/_rels/workbook.xml.rels", f'<Relationships xmlns="{RELS}">{links}</Relationships>'),
        *((f"xl/worksheets/sheet{n}.xml", sheet_xml) for n in count),
    ]


def by_hand(sheet_xml, **options):
    """A least workbook, zipped."""
    return zipped(parts_by_hand(sheet_xml, **options))


def sheet_xml(cells="", after=""):
    """A worksheet part with the given rows' XML."""
    return f'<worksheet xmlns="{MAIN}"><sheetData>{cells}</sheetData>{after}</worksheet>'


def found(reading):
    """(code, severity, tab!address) of each problem."""
    return {
        (str(problem.code), str(problem.severity), str(problem.cell) if problem.cell else "")
        for problem in reading.problems
    }
