"""Hostile and mistaken files, each built here from bytes, `struct`, `zlib` and `zipfile`: what, expected code, HTTP status.

Benchmarks measure the same files; a file is built only when it is asked for.
"""

from __future__ import annotations

import struct
import zipfile
import zlib
from random import Random
from typing import TYPE_CHECKING, NamedTuple

from service.problems import Code
from tests.sheets.workbooks import DOC, MAIN, RELS, TYPES, by_hand, parts_by_hand, sheet_xml, zipped

if TYPE_CHECKING:
    from collections.abc import Callable

MIB = 1 << 20
OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00" + bytes(range(256)) * 400
SHEET = sheet_xml('<row r="1"><c r="A1" t="inlineStr"><is><t>Room</t></is></c></row>')
LAST = "XFD1048576"
COMMENT, NAME = '<comment ref="A{}"/>', '<definedName name="n{}"/>'
WRONG, BROKEN, LARGE, BOMB, CUT = (
    Code.SHEET_WRONG_TYPE, Code.SHEET_UNREADABLE, Code.SHEET_TOO_LARGE, Code.SHEET_UNPACKS_TOO_FAR, Code.SHEET_CUT_OFF,
)  # fmt: skip
ENTITIES = Code.SHEET_DECLARES_ENTITIES


class Attack(NamedTuple):
    """A file: what it is, its bytes when called for, the code it is refused with, the HTTP status."""

    what: str
    data: Callable[[], bytes]
    code: Code
    status: int


class Raw(NamedTuple):
    """One entry as it is written, lies included; None in the local header takes what the directory says."""

    name: bytes
    content: bytes = b""
    flags: int = 0
    method: int = 8
    attributes: int = 0
    size: int | None = None
    checksum: int | None = None
    local_name: bytes | None = None
    local_method: int | None = None
    packed: bytes | None = None
    descriptor: bytes = b""
    extra: bytes = b""


def raw_zip(entries, *, before=b"", between=b"", inside=b"", comment=b"", shift=0, count=None):
    """An archive written by hand (APPNOTE 4.3): every lie that `zipfile` would not write."""
    body, directory = bytearray(before), bytearray()
    for entry in entries:
        packer = zlib.compressobj(9, zlib.DEFLATED, -15)
        packed = packer.compress(entry.content) + packer.flush() if entry.method == 8 else entry.content
        packed = packed if entry.packed is None else entry.packed
        size = len(entry.content) if entry.size is None else entry.size
        checksum = zlib.crc32(entry.content) if entry.checksum is None else entry.checksum
        name = entry.name if entry.local_name is None else entry.local_name
        method = entry.method if entry.local_method is None else entry.local_method
        place = len(body)
        sizes = (0, 0, 0) if entry.flags & 8 else (checksum, len(packed), size)
        body += struct.pack("<4s5H3L2H", b"PK\x03\x04", 20, entry.flags, method, 0, 33, *sizes, len(name), 0)
        body += name + packed + entry.descriptor + between
        directory += struct.pack(
            "<4s6H3L5H2L", b"PK\x01\x02", 788, 20, entry.flags, entry.method, 0, 33, checksum, len(packed), size,
            len(entry.name), len(entry.extra), 0, 0, 0, entry.attributes, place + shift,
        )  # fmt: skip
        directory += entry.name + entry.extra
    directory += inside
    total = len(entries) if count is None else count
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, total, total, len(directory), len(body), len(comment))
    return bytes(body + directory + end + comment)


def raw_parts(*more, **changes):
    """Entries of a least workbook, more of them, and changes to the one that holds the sheet."""
    parts = [Raw(name.encode(), text.encode()) for name, text in parts_by_hand(SHEET)]
    parts[-1] = parts[-1]._replace(**changes)
    return [*parts, *more]


def with_extra(*parts, method=zipfile.ZIP_DEFLATED, sheet=SHEET):
    """A least workbook with more entries."""
    return zipped([*parts_by_hand(sheet), *parts], method)


def without(word):
    """A least workbook without the parts whose names hold a word."""
    return zipped([part for part in parts_by_hand(SHEET) if word not in part[0]])


def replaced(name, content):
    """A least workbook with one part's content replaced."""
    return zipped([(known, content if known == name else text) for known, text in parts_by_hand(SHEET)])


def cell(xml, row=1):
    """A least workbook of one row."""
    return by_hand(sheet_xml(f'<row r="{row}">{xml}</row>'))


def encrypted_entry():
    """A least workbook whose last entry is marked as encrypted."""
    return raw_zip(raw_parts(flags=1))


def overlapping():
    """Fifty entries that are all the same packed bytes, each longer than the file."""
    one = Raw(b"x/0.bin", bytes(900_000))
    body = bytearray(raw_zip([*raw_parts(), one]))
    directory = body[body.index(b"PK\x01\x02") : body.index(b"PK\x05\x06")]
    last = directory.rindex(b"PK\x01\x02")
    entry = directory[last:]
    more = b"".join(entry.replace(b"x/0.bin", f"x/{n}.bin".encode().ljust(7, b"n")[:7]) for n in range(1, 10))
    start = body.index(b"PK\x01\x02")
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 15, 15, len(directory) + len(more), start, 0)
    return bytes(body[:start] + directory + more + end)


def bytes_of_dice(count):
    """Bytes of no kind."""
    return Random(4).randbytes(count)  # noqa: S311 - dice for a test


def deep(depth):
    """A sheet nested so deep."""
    return sheet_xml("", "<extLst>" + "<x>" * depth + "</x>" * depth + "</extLst>")


def laughing():
    """Ten entities, each ten of the one before: 10^9 letters."""
    names = [f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10)]
    return by_hand(f'<!DOCTYPE w [<!ENTITY l0 "ha">{"".join(names)}]><w>&l9;</w>')


def link(kind, target, **more):
    """A relationship."""
    extra = "".join(f' {name}="{value}"' for name, value in more.items())
    return f'<Relationship Id="rId1" Type="{DOC}/{kind}" Target="{target}"{extra}/>'


def tab_at(target, **more):
    """A least workbook whose tab is said to be elsewhere."""
    links = f'<Relationships xmlns="{RELS}">{link("worksheet", target, **more)}</Relationships>'
    return replaced("xl/_rels/workbook.xml.rels", links)


def merged(*areas):
    """A sheet with merged ranges."""
    items = "".join(f'<mergeCell ref="{area}"/>' for area in areas)
    return by_hand(sheet_xml("", f"<mergeCells>{items}</mergeCells>"))


def styled(count, name="xf"):
    """A least workbook with so many formats."""
    dice = Random(1)  # noqa: S311 - dice for a test
    inside = "".join(f'<{name} numFmtId="{dice.randrange(99)}" x="{dice.getrandbits(40)}"/>' for _ in range(count))
    return with_extra(("xl/styles.xml", f'<styleSheet xmlns="{MAIN}"><cellXfs>{inside}</cellXfs></styleSheet>'))


def texts(items):
    """A least workbook with shared texts."""
    return with_extra(("xl/sharedStrings.xml", f'<sst xmlns="{MAIN}">{items}</sst>'))


def numbered(pattern, count):
    """A pattern once for each number."""
    return "".join(pattern.format(n) for n in range(1, count + 1))


def scattered(pattern, count):
    """A pattern with a number of dice each time, so that it packs like filled sheets do."""
    dice = Random(1)  # noqa: S311 - dice for a test
    return "".join(pattern.format(dice.getrandbits(60)) for _ in range(count))


FILES = [
    Attack("empty file", lambda: b"", BROKEN, 422),
    Attack("photograph", lambda: JPEG, Code.SHEET_IS_PICTURE, 415),
    Attack("photograph of a telephone", lambda: b"\x00\x00\x00\x18ftypheic" + bytes(100), Code.SHEET_IS_PICTURE, 415),
    Attack("PNG", lambda: b"\x89PNG\r\n\x1a\n" + bytes(100), Code.SHEET_IS_PICTURE, 415),
    Attack("WebP", lambda: b"RIFF\x24\x00\x00\x00WEBPVP8 " + bytes(50), Code.SHEET_IS_PICTURE, 415),
    Attack("film", lambda: b"\x00\x00\x00\x18ftypmp42" + bytes(100), WRONG, 415),
    Attack("PDF", lambda: b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", Code.SHEET_IS_PDF, 415),
    Attack("web page", lambda: b"<!DOCTYPE html><html><table>", Code.SHEET_IS_WEB_PAGE, 415),
    Attack("web page behind a byte-order mark", lambda: b"\xef\xbb\xbf<html>", Code.SHEET_IS_WEB_PAGE, 415),
    Attack("XML of another kind", lambda: b"<?xml version='1.0'?><Workbook/>", WRONG, 415),
    Attack("CSV", lambda: b"Room,Wall,Length\nKitchen,A,12\n", Code.SHEET_IS_CSV, 415),
    Attack("CSV in UTF-16", lambda: "Room\tWall\n".encode("utf-16"), Code.SHEET_IS_CSV, 415),
    Attack("JSON", lambda: b'{"layout": 1}', WRONG, 415),
    Attack("old .xls", lambda: OLE2 + bytes(600), Code.SHEET_IS_OLD_XLS, 415),
    Attack(
        "workbook with a password", lambda: OLE2 + bytes(600) + "EncryptedPackage".encode("utf-16-le"),
        Code.SHEET_ENCRYPTED, 422,
    ),
    Attack("gzip", lambda: b"\x1f\x8b\x08" + bytes(50), WRONG, 415),
    Attack("dice", lambda: bytes_of_dice(2_000), WRONG, 415),
    Attack("empty zip", lambda: b"PK\x05\x06" + bytes(18), WRONG, 415),
    Attack("zip of a photograph", lambda: zipped([("photo.jpg", JPEG)]), WRONG, 415),
    Attack("zip of a workbook", lambda: zipped([("sheet.xlsx", b"PK")]), WRONG, 415),
    Attack(
        "ods", lambda: zipped([("mimetype", "application/vnd.oasis.opendocument.spreadsheet")]),
        Code.SHEET_IS_OPEN_DOCUMENT, 415,
    ),
    Attack("docx", lambda: zipped([("[Content_Types].xml", "<Types/>"), ("word/document.xml", "<w/>")]), WRONG, 415),
    Attack("Strict", lambda: by_hand(SHEET, book_namespace="http://purl.oclc.org/ooxml/spreadsheetml/main"), Code.SHEET_IS_STRICT, 415),
    Attack("over 10 MiB", lambda: bytes(10 * MIB + 1), LARGE, 413),
]  # fmt: skip

ARCHIVES = [
    Attack("cut in half", lambda: by_hand(SHEET)[:600], CUT, 422),
    Attack("cut within its end", lambda: by_hand(SHEET)[:-1], CUT, 422),
    Attack("bytes behind", lambda: with_extra() + b"tail", BROKEN, 422),
    Attack("bytes before, places not moved", lambda: raw_zip(raw_parts(), before=b"PK\x03\x04....", shift=-8), BROKEN, 422),
    Attack("bytes before, places moved", lambda: raw_zip(raw_parts(), before=b"PK\x03\x04...."), BROKEN, 422),
    Attack("bytes between parts", lambda: raw_zip(raw_parts(), between=b"hidden"), BROKEN, 422),
    Attack("bytes in the directory", lambda: raw_zip(raw_parts(), inside=b"hidden"), BROKEN, 422),
    Attack("two archives in one file", lambda: by_hand(SHEET) + by_hand(SHEET), BROKEN, 422),
    Attack("a lying count of parts", lambda: raw_zip(raw_parts(), count=3), BROKEN, 422),
    Attack("501 parts", lambda: with_extra(*((f"x/{n}.bin", b"") for n in range(496))), LARGE, 413),
    Attack("count 65,535", lambda: raw_zip(raw_parts(), count=0xFFFF), BROKEN, 422),
    Attack("encrypted part", encrypted_entry, Code.SHEET_ENCRYPTED, 422),
    Attack("strong encryption", lambda: raw_zip(raw_parts(flags=0x40)), Code.SHEET_ENCRYPTED, 422),
    Attack("LZMA", lambda: with_extra(("x.bin", b"x" * 90), method=zipfile.ZIP_LZMA), BROKEN, 422),
    Attack("bzip2", lambda: with_extra(("x.bin", b"x" * 90), method=zipfile.ZIP_BZIP2), BROKEN, 422),
    Attack("method only in one place", lambda: raw_zip(raw_parts(local_method=0)), BROKEN, 422),
    Attack("another name in the part's own header", lambda: raw_zip(raw_parts(local_name=b"xl/worksheets/sheet9.xml")), BROKEN, 422),
    Attack("dots", lambda: with_extra(("../evil.xml", "<x/>")), BROKEN, 422),
    Attack("dots within", lambda: with_extra(("xl/../../evil.xml", "<x/>")), BROKEN, 422),
    Attack("one dot", lambda: with_extra(("xl/./evil.xml", "<x/>")), BROKEN, 422),
    Attack("two slashes", lambda: with_extra(("xl//evil.xml", "<x/>")), BROKEN, 422),
    Attack("absolute name", lambda: with_extra(("/abs.xml", "<x/>")), BROKEN, 422),
    Attack("drive letter", lambda: with_extra(("C:evil.xml", "<x/>")), BROKEN, 422),
    Attack("backslash", lambda: with_extra(("xl\\evil.xml", "<x/>")), BROKEN, 422),
    Attack("NUL in a name", lambda: raw_zip(raw_parts(Raw(b"xl/evil\x00.xml"))), BROKEN, 422),
    Attack("line break in a name", lambda: raw_zip(raw_parts(Raw(b"xl/evil\n.xml"))), BROKEN, 422),
    Attack("name that is no text", lambda: raw_zip(raw_parts(Raw(b"xl/\xff\xfe.xml", flags=0x800))), BROKEN, 422),
    Attack("no name", lambda: raw_zip(raw_parts(Raw(b""))), BROKEN, 422),
    Attack("long name", lambda: with_extra(("y" * 300, "<x/>")), BROKEN, 422),
    Attack("one name twice", lambda: raw_zip(raw_parts(Raw(b"xl/workbook.xml", b"<x/>"))), BROKEN, 422),
    Attack("names that differ in case", lambda: with_extra(("XL/WORKBOOK.XML", "<x/>")), BROKEN, 422),
    Attack("a folder named like a part", lambda: with_extra(("xl/workbook.xml/", "")), BROKEN, 422),
    Attack("symbolic link", lambda: raw_zip(raw_parts(Raw(b"xl/a.xml", b"/etc/hostname", attributes=0o120777 << 16))), BROKEN, 422),
    Attack("device", lambda: raw_zip(raw_parts(Raw(b"xl/a.xml", b"", attributes=0o020666 << 16))), BROKEN, 422),
    Attack("wrong checksum", lambda: raw_zip(raw_parts(checksum=1)), BROKEN, 422),
    Attack("wrong checksum of a picture", lambda: raw_zip(raw_parts(Raw(b"xl/a.png", b"x", checksum=1))), BROKEN, 422),
    Attack("size said too small", lambda: raw_zip(raw_parts(size=10)), BOMB, 413),
    Attack("size said too large", lambda: raw_zip(raw_parts(size=10_000)), BROKEN, 422),
    Attack("broken deflate", lambda: raw_zip(raw_parts(packed=b"\xff" * 60)), BROKEN, 422),
    Attack("deflate that never ends", lambda: raw_zip(raw_parts(packed=b"\x00\x05\x00\xfa\xff<w/>\n")), BROKEN, 422),
    Attack("bytes behind the deflated ones", lambda: raw_zip(raw_parts(packed=b"\x03\x00hidden", content=b"")), BROKEN, 422),
    Attack("stored part of another size", lambda: raw_zip(raw_parts(method=0, size=5_000)), BROKEN, 422),
    Attack("overlapping parts", overlapping, BROKEN, 422),
    Attack("40 MiB of blanks", lambda: by_hand(" " * (40 * MIB)), BOMB, 413),
    Attack("65 MiB in three parts", lambda: with_extra(*((f"{n}.bin", bytes_of_dice(9_000) + bytes(22 * MIB)) for n in range(3))), BOMB, 413),
    Attack("2 MiB of blanks at 1,000:1", lambda: by_hand("<w>" + " " * (2 * MIB) + "</w>"), BOMB, 413),
    Attack("a picture at 1,000:1", lambda: with_extra(("xl/media/a.png", bytes(5 * MIB))), BOMB, 413),
]  # fmt: skip

PACKAGES = [
    Attack("tab's part missing", lambda: without("sheet1"), BROKEN, 422),
    Attack("workbook's part missing", lambda: without("xl/workbook.xml"), WRONG, 415),
    Attack("workbook's links missing", lambda: without("workbook.xml.rels"), BROKEN, 422),
    Attack("tab on the network", lambda: tab_at("http://nowhere.invalid/s.xml", TargetMode="External"), BROKEN, 422),
    Attack("tab in the file system", lambda: tab_at("../../../etc/passwd"), BROKEN, 422),
    Attack("tab behind an escaped slash", lambda: tab_at("..%2F..%2Fetc%2Fpasswd"), BROKEN, 422),
    Attack("the workbook as its own tab", lambda: tab_at("workbook.xml"), BROKEN, 422),
    Attack("two tabs of one name", lambda: by_hand(SHEET, names=("Walls", "walls")), BROKEN, 422),
    Attack("two tabs in one part", lambda: replaced("xl/workbook.xml", f'<workbook xmlns="{MAIN}" xmlns:r="{DOC}"><sheets><sheet name="A" r:id="rId1"/><sheet name="B" r:id="rId1"/></sheets></workbook>'), BROKEN, 422),
    Attack("no tabs", lambda: replaced("xl/workbook.xml", f'<workbook xmlns="{MAIN}"/>'), BROKEN, 422),
    Attack("65 tabs", lambda: by_hand(SHEET, names=tuple(f"T{n}" for n in range(65))), LARGE, 413),
    Attack("binary workbook", lambda: zipped([("[Content_Types].xml", f'<Types xmlns="{TYPES}"/>'), ("_rels/.rels", f'<Relationships xmlns="{RELS}">{link("officeDocument", "xl/workbook.bin")}</Relationships>'), ("xl/workbook.bin", b"\x83\x01")]), WRONG, 415),
    Attack("a Strict sheet in a plain workbook", lambda: by_hand('<worksheet xmlns="http://purl.oclc.org/ooxml/spreadsheetml/main"/>'), BROKEN, 422),
    Attack("one link name twice", lambda: replaced("xl/_rels/workbook.xml.rels", f'<Relationships xmlns="{RELS}">{link("worksheet", "worksheets/sheet1.xml") * 2}</Relationships>'), BROKEN, 422),
]  # fmt: skip

PARTS = [
    Attack("no XML", lambda: by_hand("<worksheet"), BROKEN, 422),
    Attack("doctype", lambda: by_hand("<!DOCTYPE worksheet><worksheet/>"), ENTITIES, 422),
    Attack("entities", laughing, ENTITIES, 422),
    Attack("entities in a text", lambda: with_extra(("xl/sharedStrings.xml", '<!DOCTYPE s [<!ENTITY a "x">]><s>&a;</s>')), ENTITIES, 422),
    Attack("outside entity", lambda: by_hand('<!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/hostname">]><w>&x;</w>'), ENTITIES, 422),
    Attack("outside document type", lambda: by_hand('<!DOCTYPE w SYSTEM "http://nowhere.invalid/w.dtd"><w/>'), ENTITIES, 422),
    Attack("parameter entity", lambda: by_hand('<!DOCTYPE w [<!ENTITY % p SYSTEM "http://nowhere.invalid/"> %p;]><w/>'), ENTITIES, 422),
    Attack("doctype in UTF-16", lambda: by_hand('<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE w><w/>'.encode("utf-16")), ENTITIES, 422),
    Attack("doctype in UTF-16 without a mark", lambda: by_hand('<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE w><w/>'.encode("utf-16-be")), ENTITIES, 422),
    Attack("doctype in the types", lambda: replaced("[Content_Types].xml", "<!DOCTYPE x><x/>"), ENTITIES, 422),
    Attack("doctype in a part nobody reads", lambda: with_extra(("customXml/item1.xml", "<!DOCTYPE x><x/>")), ENTITIES, 422),
    Attack("doctype in the drawing of a note", lambda: with_extra(("xl/drawings/v.vml", '<!DOCTYPE x [<!ENTITY a "b">]><xml>')), ENTITIES, 422),
    Attack("UTF-7", lambda: by_hand('<?xml version="1.0" encoding="UTF-7"?>+ADw-worksheet/+AD4-'), BROKEN, 422),
    Attack("IBM's alphabet", lambda: by_hand('<?xml version="1.0" encoding="cp037"?><w/>'), BROKEN, 422),
    Attack("2 MiB in UTF-16", lambda: by_hand(f"<w>{scattered('{:x}', 70_000)}</w>".encode("utf-16")), BROKEN, 422),
    Attack("65 levels", lambda: by_hand(deep(63)), BROKEN, 422),
    Attack("100,000 levels", lambda: by_hand(deep(100_000)), BROKEN, 422),
    Attack("80 attributes", lambda: by_hand("<worksheet " + " ".join(f'a{n}="1"' for n in range(80)) + "/>"), BROKEN, 422),
    Attack("attribute of 90 kB", lambda: by_hand(f'<worksheet xmlns="{MAIN}" x="{"a" * 90_000}"/>'), LARGE, 413),
    Attack("attribute of 4 MB", lambda: by_hand(f'<worksheet xmlns="{MAIN}" x="{bytes_of_dice(2 * MIB).hex()}"/>'), LARGE, 413),
    Attack("remark of 900 kB", lambda: by_hand(f"<worksheet xmlns='{MAIN}'><!--{'a' * 900_000}--></worksheet>"), LARGE, 413),
    Attack("instruction of 900 kB", lambda: by_hand(f"<worksheet xmlns='{MAIN}'><?x {'a' * 900_000}?></worksheet>"), LARGE, 413),
    Attack("text of 4 MB", lambda: cell(f'<c r="A1" t="inlineStr"><is><t>{bytes_of_dice(2 * MIB).hex()}</t></is></c>'), LARGE, 413),
    Attack("30,000 different names", lambda: by_hand(sheet_xml("", numbered("<a{0:x}/>", 30_000))), BROKEN, 422),
    Attack("2,000,000 elements", lambda: by_hand(sheet_xml("", scattered('<x y="{:x}"/>', 10) + "<x/><y/><z/>" * 30_000 + scattered("<!--{:x}-->", 30_000) + "<x/>" * 1_500_000)), LARGE, 413),
    Attack("160,000 elements outside the sheets", lambda: with_extra(("a.xml", "<a>" + scattered('<b c="{:x}"/>', 160_000) + "</a>")), LARGE, 413),
]  # fmt: skip

SHEETS = [
    Attack("merge over everything", lambda: merged(f"A200:{LAST}"), LARGE, 413),
    Attack("merge over everything, backwards", lambda: merged(f"{LAST}:A200"), LARGE, 413),
    Attack("6,000 merges", lambda: merged(*(f"A{n}:B{n}" for n in range(1, 6_001))), LARGE, 413),
    Attack("merge of nothing", lambda: merged(""), BROKEN, 422),
    Attack("link over everything", lambda: by_hand(sheet_xml("", f'<hyperlinks><hyperlink ref="A200:{LAST}"/></hyperlinks>')), LARGE, 413),
    Attack("ranges over two tabs", lambda: by_hand(sheet_xml("", '<mergeCells><mergeCell ref="A1:Z1500"/></mergeCells>'), names=("a", "b")), LARGE, 413),
    Attack("row 0", lambda: by_hand(sheet_xml('<row r="0"/>')), BROKEN, 422),
    Attack("row 1,048,577", lambda: by_hand(sheet_xml('<row r="1048577"/>')), BROKEN, 422),
    Attack("row 10^12", lambda: by_hand(sheet_xml('<row r="1000000000000"/>')), BROKEN, 422),
    Attack("row -1", lambda: by_hand(sheet_xml('<row r="-1"/>')), BROKEN, 422),
    Attack("row past the last without a number", lambda: by_hand(sheet_xml('<row r="1048576"/><row/>')), BROKEN, 422),
    Attack("column past the last", lambda: cell('<c r="XFE1"><v>1</v></c>'), BROKEN, 422),
    Attack("column past the last without an address", lambda: cell('<c r="XFD1"/><c/>'), BROKEN, 422),
    Attack("address in lower case", lambda: cell('<c r="a1"><v>1</v></c>'), BROKEN, 422),
    Attack("cell outside a row", lambda: by_hand(sheet_xml('<c r="A1"><v>1</v></c>')), BROKEN, 422),
    Attack("cell in a cell", lambda: cell('<c r="A1"><c r="B1"><v>1</v></c></c>'), BROKEN, 422),
    Attack("one address twice", lambda: cell('<c r="A1"><v>1</v></c><c r="A1"><v>2</v></c>'), BROKEN, 422),
    Attack("one address twice, far apart", lambda: by_hand(sheet_xml('<row r="2"><c r="A2"><v>1</v></c></row><row r="1"><c r="A1"/></row><row r="2"><c r="A2"/></row>')), BROKEN, 422),
    Attack("two values in one cell", lambda: cell('<c r="A1"><v>1</v><v>2</v></c>'), BROKEN, 422),
    Attack("the cells twice", lambda: by_hand(f'<worksheet xmlns="{MAIN}"><sheetData/><sheetData/></worksheet>'), BROKEN, 422),
    Attack("unknown type", lambda: cell('<c r="A1" t="x"><v>1</v></c>'), BROKEN, 422),
    Attack("text that isn't there", lambda: cell('<c r="A1" t="s"><v>9</v></c>'), BROKEN, 422),
    Attack("text number -1", lambda: cell('<c r="A1" t="s"><v>-1</v></c>'), BROKEN, 422),
    Attack("format that isn't there", lambda: cell('<c r="A1" s="9"><v>1</v></c>'), BROKEN, 422),
    Attack("format number -1", lambda: cell('<c r="A1" s="-1"><v>1</v></c>'), BROKEN, 422),
    Attack("200,001 rows", lambda: by_hand(sheet_xml(numbered('<row r="{}"/>', 200_001))), LARGE, 413),
    Attack("200,001 cells", lambda: by_hand(sheet_xml(numbered('<row r="{0}"><c r="A{0}"/><c r="B{0}"/></row>', 100_001))), LARGE, 413),
    Attack("100,001 filled cells", lambda: by_hand(sheet_xml(numbered('<row r="{0}"><c r="A{0}"><v>{0}</v></c></row>', 100_001))), LARGE, 413),
    Attack("22,000 ruled ranges", lambda: by_hand(sheet_xml("", '<conditionalFormatting sqref="' + "A1 B2 " * 11_000 + '"/>')), LARGE, 413),
    Attack("10,001 rules", lambda: by_hand(sheet_xml("", "<conditionalFormatting>" + numbered('<cfRule priority="{}"/>', 10_001) + "</conditionalFormatting>")), LARGE, 413),
    Attack("5,001 drop-downs", lambda: by_hand(sheet_xml("", numbered('<dataValidation sqref="A{}"/>', 5_001))), LARGE, 413),
    Attack("5,001 notes", lambda: with_extra(("xl/comments1.xml", f'<comments xmlns="{MAIN}">{numbered(COMMENT, 5_001)}</comments>')), LARGE, 413),
    Attack("5,001 names", lambda: replaced("xl/workbook.xml", f'<workbook xmlns="{MAIN}"><definedNames>{numbered(NAME, 5_001)}</definedNames></workbook>'), LARGE, 413),
    Attack("65,491 formats", lambda: styled(65_491), LARGE, 413),
    Attack("100,001 texts", lambda: texts(numbered("<si><t>{}</t></si>", 100_001)), LARGE, 413),
]  # fmt: skip

ATTACKS = [*FILES, *ARCHIVES, *PACKAGES, *PARTS, *SHEETS]
