"""Workbooks of up to 10 MiB, each as heavy in one way as the limits allow or a little beyond; from a fixed seed."""

from __future__ import annotations

import io
import random
import zipfile
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
DOC = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
RELS = "http://schemas.openxmlformats.org/package/2006/relationships"
TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
MIB = 1 << 20
SEED = 20260302
LAST_CELL = "XFD1048576"


def book(sheets: dict[str, str], **parts: str | bytes) -> bytes:
    """A workbook of tabs by name, with `styles`, `strings` or other parts of the given names."""
    known = {"styles": "xl/styles.xml", "strings": "xl/sharedStrings.xml"}
    kinds = {"styles": "styles", "strings": "sharedStrings"}
    links = "".join(
        f'<Relationship Id="{kind}" Type="{DOC}/{kinds[kind]}" Target="/{known[kind]}"/>'
        for kind in kinds
        if kind in parts
    )
    links += "".join(
        f'<Relationship Id="t{n}" Type="{DOC}/worksheet" Target="worksheets/s{n}.xml"/>' for n in range(len(sheets))
    )
    tabs = "".join(f'<sheet name="{name}" sheetId="{n + 1}" r:id="t{n}"/>' for n, name in enumerate(sheets))
    root = f'<Relationships xmlns="{RELS}"><Relationship Id="a" Type="{DOC}/officeDocument" Target="xl/workbook.xml"/></Relationships>'
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        archive.writestr("[Content_Types].xml", f'<Types xmlns="{TYPES}"/>')
        archive.writestr("_rels/.rels", root)
        archive.writestr(
            "xl/workbook.xml", f'<workbook xmlns="{MAIN}" xmlns:r="{DOC}"><sheets>{tabs}</sheets></workbook>'
        )
        archive.writestr("xl/_rels/workbook.xml.rels", f'<Relationships xmlns="{RELS}">{links}</Relationships>')
        for name, content in parts.items():
            archive.writestr(known.get(name, name), content)
        for n, sheet in enumerate(sheets.values()):
            archive.writestr(f"xl/worksheets/s{n}.xml", sheet)
    return stream.getvalue()


def sheet(rows: str, after: str = "") -> str:
    """A sheet's part."""
    return f'<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData>{after}</worksheet>'


def letters(column: int) -> str:
    """Letters of a column, from 1."""
    text = ""
    while column:
        column, rest = divmod(column - 1, 26)
        text = chr(65 + rest) + text
    return text


def grid(rows: int, columns: int, cell: Callable[[str, int], str]) -> str:
    """Rows of cells, each written by `cell` from its address and number."""
    names = [letters(column) for column in range(1, columns + 1)]
    return "".join(
        f'<row r="{row}">' + "".join(cell(f"{name}{row}", row * columns + n) for n, name in enumerate(names)) + "</row>"
        for row in range(1, rows + 1)
    )


CHANCE = random.Random(SEED)  # noqa: S311 - dice for a measurement


def number(address: str, _count: int) -> str:
    """A number cell that packs badly."""
    return f'<c r="{address}"><v>{CHANCE.random() * 1000}</v></c>'


def text(address: str, count: int) -> str:
    """A text in the cell itself."""
    return f'<c r="{address}" t="inlineStr"><is><t>{count:x} {CHANCE.getrandbits(48):x}</t></is></c>'


def rich(address: str, count: int) -> str:
    """A text in the cell itself, in several pieces."""
    return f'<c r="{address}" t="inlineStr"><is><r><rPr><b/></rPr><t>{count:x}</t></r><r><t>y</t></r></is></c>'


def formula(address: str, count: int) -> str:
    """A formula with its value."""
    return f'<c r="{address}"><f>SUM(A1:B{count % 999 + 1})*[1]Other!$A$1</f><v>{count}</v></c>'


def under_headings(cell: Callable[[str, int], str], rows: int, columns: int) -> str:
    """Rows of a Walls tab, under its headings, so that the reader reads them."""
    heads = ["Room", "Wall", "Length", "Corner", *(f"x{n}" for n in range(max(0, columns - 4)))][:columns]
    top = "".join(f'<c r="{letters(n)}1" t="inlineStr"><is><t>{head}</t></is></c>' for n, head in enumerate(heads, 1))
    below = grid(rows + 1, columns, cell)
    return f'<row r="1">{top}</row>' + below[below.index("</row>") + 6 :]


def strings(count: int, length: int, alphabet: str = "abcdefghijklmnopqrstuvwxyz 0123456789") -> str:
    """Shared texts of one length."""
    items = "".join(f"<si><t>{''.join(CHANCE.choices(alphabet, k=length))}</t></si>" for _ in range(count))
    return f'<sst xmlns="{MAIN}">{items}</sst>'


def styles(formats: int, fonts: int = 1) -> str:
    """A part of so many cell formats, each with a number format of its own, as far as allowed."""
    codes = "".join(
        f'<numFmt numFmtId="{164 + n}" formatCode="0.0&quot;x{n}&quot;"/>' for n in range(min(formats, 4_900))
    )
    faces = "".join(f'<font><sz val="{CHANCE.getrandbits(30)}"/></font>' for _ in range(fonts))
    cells = "".join(f'<xf numFmtId="{164 + n % 4_900}" fontId="0"/>' for n in range(formats))
    return f'<styleSheet xmlns="{MAIN}"><numFmts>{codes}</numFmts><fonts>{faces}</fonts><cellXfs>{cells}</cellXfs></styleSheet>'


def noise(size: int) -> bytes:
    """Bytes that do not pack."""
    return CHANCE.randbytes(size)


def merges(count: int, columns: int) -> str:
    """Merged ranges, each one row high."""
    items = "".join(f'<mergeCell ref="A{n}:{letters(columns)}{n}"/>' for n in range(2, count + 2))
    return f"<mergeCells>{items}</mergeCells>"


def worst_cases() -> Iterator[tuple[str, bytes]]:
    """Name and bytes of each."""
    blank = '<c r="{}" s="0"/>'.format
    yield "195,000 numbers in one tab", book({"Walls": sheet(grid(1_950, 100, number))})
    yield "99,000 texts in cells", book({"Walls": sheet(grid(990, 100, text))})
    yield "99,000 rich texts in cells", book({"Walls": sheet(grid(990, 100, rich))})
    yield "99,000 formulas that lead outside", book({"Walls": sheet(grid(990, 100, formula))})
    yield "195,000 blank formatted cells", book({"Walls": sheet(grid(1_950, 100, lambda at, _: blank(at)))})
    yield (
        "99,000 texts and 100,000 blank formatted cells",
        book({"Walls": sheet(grid(990, 200, lambda at, n: text(at, n) if n % 2 else blank(at)))}),
    )
    yield "99,000 cells under headings", book({"Walls": sheet(under_headings(text, 4_990, 19))})
    yield "6 rows of 16,384 columns", book({"Walls": sheet(under_headings(text, 5, 16_384))})
    yield (
        "199,000 rows of nothing",
        book({"Walls": sheet("".join(f'<row r="{n}" ht="{n % 40}" hidden="1"/>' for n in range(1, 199_001)))}),
    )
    yield "49,000 rows under headings", book({"Walls": sheet(under_headings(text, 49_000, 2))})
    yield "600,000 cells", book({"Walls": sheet(grid(6_000, 100, number))})
    yield "60 tabs of 1,600 cells", book({f"Tab {n}": sheet(grid(80, 20, text)) for n in range(60)})
    yield (
        "cells in the wrong order",
        book(
            {
                "Walls": sheet(
                    "".join(reversed([f'<row r="{n}"><c r="A{n}"><v>{n}</v></c></row>' for n in range(1, 99_000)]))
                )
            }
        ),
    )
    yield "4,900 merges of ten cells", book({"Walls": sheet(under_headings(text, 4_990, 10), merges(4_900, 10))})
    yield "200,000 merges", book({"Walls": sheet("", merges(200_000, 2))})
    yield (
        "one merge over everything",
        book({"Walls": sheet("", f'<mergeCells><mergeCell ref="A2:{LAST_CELL}"/></mergeCells>')}),
    )
    yield "60,000 cell formats", book({"Walls": sheet("")}, styles=styles(60_000))
    yield (
        "60,000 cell formats, all used",
        book(
            {"Walls": sheet(grid(600, 100, lambda at, n: f'<c r="{at}" s="{n % 60_000}"><v>{n}</v></c>'))},
            styles=styles(60_000),
        ),
    )
    yield "200,000 cell formats", book({"Walls": sheet("")}, styles=styles(200_000))
    yield "49,000 fonts", book({"Walls": sheet("")}, styles=styles(1, 49_000))
    yield "shared texts of 5 MB", book({"Walls": sheet("")}, strings=strings(100_000, 50))
    yield "shared texts of 15 MB", book({"Walls": sheet("")}, strings=strings(99_000, 150))
    yield (
        "shared texts of 15 MB, each used twice",
        book(
            {"Walls": sheet(grid(990, 100, lambda at, n: f'<c r="{at}" t="s"><v>{n % 99_000}</v></c>'))},
            strings=strings(99_000, 150, "abcé"),
        ),
    )
    yield (
        "shared texts in wide characters",
        book({"Walls": sheet("")}, strings=strings(90_000, 80, "ab\U0001f600\U0001f601c")),
    )
    yield (
        "one text of 9 MB",
        book(
            {"Walls": sheet(f'<row r="1"><c r="A1" t="inlineStr"><is><t>{noise(4_500_000).hex()}</t></is></c></row>')}
        ),
    )
    yield "one attribute of 9 MB", book({"Walls": f'<worksheet xmlns="{MAIN}" x="{noise(4_500_000).hex()}"/>'})
    yield (
        "attributes of 69,000 characters",
        book({"Walls": sheet("".join(f'<row r="{n}" x="{noise(34_500).hex()}"/>' for n in range(1, 230)))}),
    )
    yield (
        "200,000 attributes of one element",
        book({"Walls": f'<worksheet xmlns="{MAIN}" ' + " ".join(f'a{n}="1"' for n in range(200_000)) + "/>"}),
    )
    yield (
        "different names, 900,000 of them",
        book({"Walls": f'<worksheet xmlns="{MAIN}">' + "".join(f"<a{n:x}/>" for n in range(900_000)) + "</worksheet>"}),
    )
    yield (
        "1.4 million elements",
        book(
            {
                "Walls": f'<worksheet xmlns="{MAIN}">'
                + "".join(f'<x y="{CHANCE.getrandbits(8)}"/>' for _ in range(1_400_000))
                + "</worksheet>"
            }
        ),
    )
    yield "100,000 levels", book({"Walls": sheet("", "<x>" * 100_000 + "</x>" * 100_000)})
    yield "a remark of 9 MB", book({"Walls": f'<worksheet xmlns="{MAIN}"><!--{noise(4_500_000).hex()}--></worksheet>'})
    yield (
        "40,000 namespaces in one element",
        book(
            {
                "Walls": f'<worksheet xmlns="{MAIN}" '
                + " ".join(f'xmlns:n{n}="u{n}"' for n in range(40_000))
                + "><sheetData/></worksheet>"
            }
        ),
    )
    yield (
        "60 levels of 2,000 namespaces",
        book(
            {
                "Walls": f'<worksheet xmlns="{MAIN}">'
                + "".join("<x " + " ".join(f'xmlns:n{n}="{level}"' for n in range(2_000)) + ">" for level in range(60))
                + "</x>" * 60
                + "</worksheet>"
            }
        ),
    )
    yield (
        "19,000 names, 60 attributes each time",
        book(
            {
                "Walls": f'<worksheet xmlns="{MAIN}">'
                + "".join(
                    "<x " + " ".join(f'a{CHANCE.randrange(19_000)}_{n}="1"' for n in range(60)) + "/>"
                    for _ in range(9_000)
                )
                + "</worksheet>"
            }
        ),
    )
    yield "9.5 MB of pictures", book({"Walls": sheet("")}, **{f"xl/media/{n}.png": noise(950_000) for n in range(10)})
    yield (
        "31 MiB part at a ratio just allowed",
        book({"Walls": sheet("", "".join(f"<!--{noise(2).hex()}{'x' * 180}-->" for _ in range(160_000)))}),
    )
    yield (
        "63 MiB in all at a ratio just allowed",
        book(
            {"Walls": sheet("")},
            **{f"x{n}.bin": b"".join(noise(2) + bytes(180) for _ in range(170_000)) for n in range(2)},
        ),
    )
    yield (
        "100,000 links between parts",
        book(
            {"Walls": sheet("")},
            **{
                "xl/worksheets/_rels/s0.xml.rels": f'<Relationships xmlns="{RELS}">'
                + "".join(
                    f'<Relationship Id="r{n}" Type="{DOC}/hyperlink" Target="http://x/{n}" TargetMode="External"/>'
                    for n in range(100_000)
                )
                + "</Relationships>"
            },
        ),
    )
    yield (
        "4,900 hyperlinks, notes, rules and names",
        book(
            {
                "Walls": sheet(
                    under_headings(text, 4_900, 4),
                    "".join(
                        f'<conditionalFormatting sqref="A{n}:D{n}"><cfRule type="expression"><formula>1</formula></cfRule></conditionalFormatting>'
                        for n in range(1, 4_900)
                    )
                    + "<dataValidations>"
                    + "".join(
                        f'<dataValidation sqref="A1:{LAST_CELL}"><formula1>A{n}</formula1></dataValidation>'
                        for n in range(1, 4_900)
                    )
                    + "</dataValidations><hyperlinks>"
                    + "".join(f'<hyperlink ref="A{n}:J{n}" location="x"/>' for n in range(1, 4_900))
                    + "</hyperlinks>",
                )
            },
            **{
                "xl/comments1.xml": f'<comments xmlns="{MAIN}"><commentList>'
                + "".join(f'<comment ref="A{n}"><text><t>x</t></text></comment>' for n in range(1, 4_900))
                + "</commentList></comments>"
            },
        ),
    )
    yield "10 MiB of zeros behind a zip's first bytes", b"PK\x03\x04" + bytes(10 * MIB - 4)
    yield "10 MiB of dice behind a zip's first bytes", b"PK\x03\x04" + noise(10 * MIB - 4)
    yield "10 MiB of directory ends", b"PK\x03\x04" + b"PK\x05\x06" * (10 * MIB // 4 - 1)
    yield "10 MiB of text", b"Room;Wall\n" * (MIB)
