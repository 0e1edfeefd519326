"""Variants of the base sheet that say the same: each must give the identical quote."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from openpyxl.comments import Comment
from openpyxl.styles import Font, PatternFill
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.worksheet.datavalidation import DataValidation

from tests.sheets.base_sheet import by_book, by_part, by_parts, by_tab, cell_xml, in_sheet, part_of, put, together
from tests.sheets.workbooks import DOC, MAIN

if TYPE_CHECKING:
    from tests.sheets.base_sheet import Change


@dataclass(frozen=True)
class Harmless:
    """A change that must not change the quote; `remarks`: codes of the warnings and notes that the reader adds."""

    name: str
    change: Change
    remarks: tuple[str, ...] = ()


# Walls!C2 is 12' 6 1/2", 150.5 inches, 3822.7 mm.
LENGTHS = [
    "12'-6-1/2\"", "12'6 1/2\"", "12' 6 1/2", "12 ft 6 1/2 in", "12ft 6.5in", "12 feet 6.5 inches", '150.5"', "150 1/2", "150 1/2 in",
    "150.5", "150.50", "12′ 6 1/2″", "12’ 6 1/2”", "12´ 6 1/2´´", "12' 6½\"", "12′-6½″", "150½", "150 1⁄2", "12'\u00a06\u00a01/2\"",
    "12'\u202f6 1/2\"", "12'\u20096 1/2\"", "  12'  6 1/2\"  ", "12'\t6 1/2\"", "12'\n6 1/2\"", "\ufeff12' 6 1/2\"", "12'\u200b 6 1/2\"",
    "12' 6 1/2\"\u200e", "12' 6 1/2\"_x000D_", "12'_x000A_6 1/2\"", "'12' 6 1/2\"", "'150.5", "12' – 6 1/2\"", "12'−6 1/2\"", "3822.7 mm",
    "3 822.7 mm", "3822,7 mm", "382.27 cm", "3.8227 m", "3,8227 m", "3.8227 meters", "3822.7 millimetres", "12' 6,5\"", "150,50", "150.5 IN",
    "12 FT 6 1/2 IN.",
]  # fmt: skip

NUMBERS: list[tuple[str, object, str]] = [
    ("a number", 150.5, ""), ("a number with noise above", 150.50000000000003, ""), ("a number with noise below", 150.499999999, ""),
    ("a number off by a third decimal's half", 150.4995, ""), ("a fraction format", 150.5, "# ?/?"), ("a fixed fraction format", 150.5, "# ?/16"),
    ("a format in inches", 150.5, '0.0" in"'), ("a format with an inch mark", 150.5, '0.0\\"'), ("a format in millimeters", 3822.7, '0.0" mm"'),
    ("a format in centimeters", 382.27, '0.00 "cm"'), ("a format in meters", 3.8227, "0.0000\\ \\m"), ("text with a fraction format", "150 1/2", "# ?/?"),
    ("a padded format", 150.5, "#,##0.00_);(#,##0.00)"), ("a colored format", 150.5, "[Blue]0.00"), ("a text format", "150.5", "@"),
    ("a language in the format", 150.5, "[$-409]0.0"), ("a format that rounds what is shown", 150.5, "0"),
]  # fmt: skip


def _moved(tab: str, order: list[int]) -> Change:
    """The columns of a tab in another order."""

    def edit(sheet: Any) -> None:
        rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
        for row, values in enumerate(rows, 1):
            for column, source in enumerate(order, 1):
                sheet.cell(row, column).value = values[source]

    return by_tab(tab, edit)


def _inserted(tab: str, *places: int) -> Change:
    return by_tab(tab, lambda sheet: [sheet.insert_rows(place) for place in sorted(places, reverse=True)])


def _titled(tab: str, count: int) -> Change:
    def edit(sheet: Any) -> None:
        sheet.insert_rows(1, count)
        for row in range(1, count + 1, 2):
            sheet.cell(row, 1).value = f"Survey of the house, page {row}"

    return by_tab(tab, edit)


def _headed(tab: str, column: int, words: str) -> Change:
    return by_tab(tab, lambda sheet: sheet.cell(1, column).__setattr__("value", words))


def _each_text(edit: Any) -> Change:
    """Every text of every tab changed."""

    def change(book: Any) -> None:
        for sheet in book:
            for row in sheet.iter_rows():
                for cell in row:
                    if isinstance(cell.value, str):
                        cell.value = edit(cell.value)

    return by_book(change)


def _as_numbers(book: Any) -> None:
    for sheet in book:
        for row in sheet.iter_rows(min_row=2):
            for cell in row:
                if isinstance(cell.value, str) and re.fullmatch(r"\d+(\.\d+)?", cell.value):
                    cell.value = float(cell.value)


def _shared_texts(data: bytes) -> bytes:
    """The inline texts of Walls moved to the workbook's shared texts, as spreadsheet programs store them."""
    texts: list[str] = []

    def taken(match: re.Match[str]) -> str:
        texts.append(match[2])
        return f'<c r="{match[1]}" t="s"><v>{len(texts) - 1}</v></c>'

    inline = re.compile(r'<c r="([A-Z]+\d+)" t="inlineStr"><is>(.*?)</is></c>', re.DOTALL)
    moved = by_part(part_of("Walls"), lambda xml: inline.sub(taken, xml))(data)
    table = f'<sst xmlns="{MAIN}" count="{len(texts)}">' + "".join(f"<si>{text}</si>" for text in texts) + "</sst>"
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"
    part, link = (
        "/xl/sharedStrings.xml",
        f'<Relationship Type="{DOC}/sharedStrings" Target="sharedStrings.xml" Id="rId99"/>',
    )
    edits = {
        "[Content_Types].xml": lambda xml: xml.replace(
            "</Types>", f'<Override PartName="{part}" ContentType="{kind}"/></Types>'
        ),
        "xl/_rels/workbook.xml.rels": lambda xml: xml.replace("</Relationships>", f"{link}</Relationships>"),
    }
    return by_parts(edits, {part.lstrip("/"): table})(moved)


def _noted(sheet: Any) -> None:
    sheet["C2"].comment = Comment("Measured twice", "T")
    sheet["C3"].fill = PatternFill("solid", fgColor="FFFF00")
    sheet["C4"].font = Font(bold=True)
    sheet.freeze_panes = "A2"
    sheet.auto_filter.ref = "A1:J9"
    rule = DataValidation(type="list", formula1='"inside,outside,open"', allow_blank=True)
    sheet.add_data_validation(rule)
    rule.add("D2:D50")


def _hidden(tab: str, row: int) -> Change:
    return by_tab(tab, lambda sheet: sheet.row_dimensions.__getitem__(row).__setattr__("hidden", True))


RUNS = '<is><r><t xml:space="preserve">12\' </t></r><r><rPr><b/></rPr><t>6 1/2"</t></r></is>'
PHONETIC = '<is><t>Dining room</t><rPh sb="0" eb="1"><t>x</t></rPh></is>'

CELLS: list[Harmless] = [
    *(Harmless(f"length typed {text!r}", put("Walls!C2", text)) for text in LENGTHS),
    *(Harmless(f"length as {name}", put("Walls!C2", value, form)) for name, value, form in NUMBERS),
    Harmless("rich text, a space at the end of a run", cell_xml("Walls!C2", ' t="inlineStr"', RUNS)),
    Harmless("rich text in one run", cell_xml("Walls!C2", ' t="inlineStr"', '<is><r><t>150.5"</t></r></is>')),
    Harmless("phonetic text beside a name", cell_xml("Rooms!A2", ' t="inlineStr"', PHONETIC)),
    Harmless("formula with a number", cell_xml("Walls!C2", "", "<f>12*12+6.5</f><v>150.5</v>")),
    Harmless("formula with a text", cell_xml("Walls!C2", ' t="str"', '<f>A1&amp;""</f><v>12\' 6 1/2"</v>')),
    Harmless("formula with noise", cell_xml("Walls!C2", "", "<f>1/3*451.5</f><v>150.49999999999997</v>")),
    Harmless("formula that shows nothing", cell_xml("Rooms!K3", ' t="str"', '<f>""</f><v></v>')),
    Harmless("shared formula", cell_xml("Walls!C2", "", '<f t="shared" ref="C2:C3" si="0">150.5</f><v>150.5</v>')),
    Harmless("number with an exponent", cell_xml("Walls!C2", "", "<v>1.505E2</v>")),
    Harmless("number within white space", cell_xml("Walls!C2", "", "<v> 150.5 </v>")),
    Harmless("cell without an address", by_part(part_of("Walls"), lambda xml: re.sub(r'<c r="B2" ', "<c ", xml))),
    Harmless("row without a number", in_sheet("Walls", '<row r="3"', "<row")),
    Harmless("quote prefix", by_tab("Walls", lambda sheet: setattr(sheet["C2"], "quotePrefix", True))),
    Harmless("angle with its sign", put("Walls!E2", "90°")),
    Harmless("angle as a number", put("Walls!E2", 90)),
    Harmless("angle as a float", put("Walls!E2", 90.0)),
    Harmless("angle in degrees by name", put("Walls!E2", "90 degrees")),
    Harmless("angle by its format", put("Walls!E2", 90, '0"°"')),
    Harmless("angle with an apostrophe", put("Walls!E2", "'90")),
    Harmless("angle with a decimal comma", put("Walls!E2", "90,0")),
    Harmless("angle left blank", put("Walls!E2", None)),
    Harmless("spacing left blank", put("Walls!G2", None)),
    Harmless("framing left blank", put("Walls!I2", None)),
    Harmless("coats as a number", put("Trim!I2", 2)),
    Harmless("coats with a decimal", put("Trim!I2", "2.0")),
    Harmless("year as a number", put("Job!B9", 1994)),
    Harmless("date cell", put("Job!B7", date(2025, 4, 14), "yyyy-mm-dd")),
    Harmless("date cell shown another way", put("Job!B7", date(2025, 4, 14), "d mmm yyyy")),
    Harmless("date with a time", put("Job!B7", datetime(2025, 4, 14, 16, 30), "yyyy-mm-dd hh:mm")),  # noqa: DTZ001 - a workbook's dates have no time zone
    Harmless("date of a 1904 workbook", by_book(lambda book: (book.__setattr__("epoch", CALENDAR_MAC_1904), book["Job"].__getitem__("B7").__setattr__("value", date(2025, 4, 14))))),
    Harmless("ISO date cell", cell_xml("Job!B7", ' t="d"', "<v>2025-04-14</v>")),
    Harmless("share as a percent cell", put("Job!B12", 0.05, "0%")),
    Harmless("share as a fraction", put("Job!B12", 0.05)),
    Harmless("share with a space", put("Job!B12", "5 %")),
    Harmless("share with a decimal comma", put("Job!B12", "5,0%")),
    Harmless("no as a truth value", put("Job!B10", value=False)),
    Harmless("no as a letter", put("Job!B10", "N")),
    Harmless("no shouted", put("Job!B10", " NO ")),
    Harmless("yes as a truth value", put("Trim!G4", value=True)),
    Harmless("quantity as a number", put("Extras!C2", 1.5)),
    Harmless("quantity with a decimal comma", put("Extras!C2", "1,5")),
    Harmless("price as a number", put("Extras!E2", 35)),
    Harmless("price in a currency format", put("Extras!E2", 35, '"$"#,##0.00')),
    Harmless("price with a decimal comma", put("Extras!E2", "35,00")),
    Harmless("weight with its unit", put("Ceiling!E2", "4 lb")),
    Harmless("weight by its format", put("Ceiling!E2", 4, '0" lb"')),
    Harmless("corner in capitals", put("Walls!D2", "INSIDE")),
    Harmless("corner with spaces and a no-break one", put("Walls!D2", "\u00a0inside ")),
    Harmless("room in another case", put("Walls!A3", "dining ROOM")),
    Harmless("room with two spaces", put("Walls!A3", "Dining  room")),
    Harmless("room with a no-break space", put("Walls!A3", "Dining\u00a0room")),
    Harmless("room with a soft hyphen", put("Trim!A2", "Din\u00ading room")),
    Harmless("wall in another case", put("Openings!B2", "a")),
    Harmless("assembly in another case", put("Trim!C2", "THREE-PIECE crown")),
    Harmless("walls with spaces", put("Trim!B4", " A ; C; ")),
    Harmless("walls in another case", put("Trim!B4", "a;c")),
    Harmless("every room by another case", put("Trim!A3", "ALL")),
    Harmless("studs as typed inches", put("Walls!H5", '4"; 20" ;36";52";68"; 84";100" ; 1\' 4"'.replace("1' 4", "116"))),
    Harmless("name in decomposed letters", put("Job!B3", unicodedata.normalize("NFD", "Ottoline Färber-Quist"))),
    Harmless("name with a zero-width space", put("Job!B3", "Ottoline\u200b Färber-Quist")),
    Harmless("notes with carriage returns", put("Job!B13", "Invented house._x000D_\nRing first.")),
]  # fmt: skip

SHEETS: list[Harmless] = [
    Harmless("nothing changed", lambda data: data),
    Harmless("saved once more", by_book(lambda _: None)),
    Harmless("walls in another order of columns", _moved("Walls", [3, 9, 2, 1, 0, 8, 7, 6, 5, 4])),
    Harmless("trim in another order of columns", _moved("Trim", [9, 8, 7, 6, 5, 4, 3, 2, 1, 0])),
    Harmless("openings in another order of columns", _moved("Openings", [1, 0, 3, 2, 5, 4, 7, 6, 9, 8, 10])),
    Harmless("blank rows between", _inserted("Walls", 3, 3, 6, 9)),
    Harmless("blank row under the headings", _inserted("Trim", 2)),
    Harmless("blank rows between the items", _inserted("Job", 3, 6)),
    Harmless("a thousand blank rows", by_tab("Trim", lambda sheet: sheet.insert_rows(4, 1000))),
    Harmless("headings in row 7", by_tab("Walls", lambda sheet: sheet.insert_rows(1, 6))),
    Harmless("headings in row 10", by_tab("Rooms", lambda sheet: sheet.insert_rows(1, 9))),
    Harmless("titles above the headings", _titled("Walls", 4)),
    Harmless("a merged title", together(_titled("Walls", 2), by_tab("Walls", lambda sheet: sheet.merge_cells("A1:D1")))),
    Harmless("a column without heading or data between", by_tab("Walls", lambda sheet: sheet.insert_cols(3))),
    Harmless("an unknown column without data", _headed("Walls", 11, "Paint")),
    Harmless("an unknown column with data", together(_headed("Walls", 11, "Paint"), put("Walls!K2", "white")), ("heading-unknown",)),
    Harmless("a remark beside the table", put("Walls!L4", "check"), ("heading-unknown",)),
    Harmless("a remark beside the items", put("Job!D4", "check"), ("heading-unknown",)),
    Harmless("a tab of one's own", by_book(lambda book: book.create_sheet("Scribbles").append(["x"])), ("tab-unknown",)),
    Harmless("a hidden tab of one's own", by_book(lambda book: book.create_sheet("Scribbles").__setattr__("sheet_state", "hidden")), ("tab-unknown",)),
    Harmless("tabs in another order", by_book(lambda book: book._sheets.reverse())),
    Harmless("a tab in another case", by_tab("Walls", lambda sheet: sheet.__setattr__("title", " walls "))),
    Harmless("a tab by its synonym", by_tab("Openings", lambda sheet: sheet.__setattr__("title", "Doors and windows"))),
    Harmless("a heading in capitals", _headed("Walls", 3, "LENGTH")),
    Harmless("a heading with its star", _headed("Walls", 3, "Length *")),
    Harmless("a heading with a unit", _headed("Walls", 3, "Length (in)")),
    Harmless("a heading with spaces", _headed("Walls", 3, " \u00a0Length\u200b ")),
    Harmless("a heading with a line break", _headed("Rooms", 2, "Ceiling\nheight")),
    Harmless("a heading's synonym", _headed("Walls", 3, "Wall length")),
    Harmless("an item's synonym", put("Job!A3", "Client")),
    Harmless("an item with a colon", put("Job!A3", "Customer:")),
    Harmless("items in another order", by_tab("Job", lambda sheet: (sheet.append(["Customer", sheet["B3"].value]), sheet.delete_rows(3)))),
    Harmless("items without their headings", by_tab("Job", lambda sheet: sheet.delete_rows(1))),
    Harmless("a filtered row", _hidden("Walls", 3), ("hidden-rows-read",)),
    Harmless("a hidden item", _hidden("Job", 5), ("hidden-rows-read",)),
    Harmless("a hidden tab", by_tab("Extras", lambda sheet: sheet.__setattr__("sheet_state", "hidden")), ("hidden-rows-read",)),
    Harmless("a hidden column", by_tab("Walls", lambda sheet: sheet.column_dimensions["E"].__setattr__("hidden", True)), ("hidden-columns-read",)),
    Harmless("a hidden blank row", _hidden("Walls", 20)),
    Harmless("notes, fills, filters, lists", by_tab("Walls", _noted)),
    Harmless("a protected tab", by_tab("Walls", lambda sheet: sheet.protection.enable())),
    Harmless("styled blank cells below", by_tab("Walls", lambda sheet: [sheet.cell(row, 3).__setattr__("number_format", "@") for row in range(11, 200)])),
    Harmless("cells of nothing but spaces", together(put("Walls!J2", "  "), put("Walls!J3", "\u00a0"), put("Walls!C20", " "))),
    Harmless("every text within spaces", _each_text(lambda text: f"  {text} ")),
    Harmless("every text in decomposed letters", _each_text(lambda text: unicodedata.normalize("NFD", text))),
    Harmless("every text with a byte order mark", _each_text(lambda text: f"\ufeff{text}")),
    Harmless("every space a no-break one", _each_text(lambda text: text.replace(" ", "\u00a0"))),
    Harmless("every figure a number", by_book(_as_numbers)),
    Harmless("typographic quotes everywhere", _each_text(lambda text: text.replace("'", "\u2019").replace('"', "\u201d"))),
    Harmless("shared texts", _shared_texts),
    Harmless("no dimension", by_part(part_of("Walls"), lambda xml: re.sub(r"<dimension [^>]*/>", "", xml))),
    Harmless("a dimension that lies", by_part(part_of("Walls"), lambda xml: re.sub(r'<dimension ref="[^"]*"', '<dimension ref="A1"', xml))),
    Harmless("rows out of order", by_part(part_of("Extras"), lambda xml: re.sub(r"(<row r=\"1\".*?</row>)(<row r=\"2\".*?</row>)", r"\2\1", xml, flags=re.DOTALL))),
    Harmless("a price list sheet's word for miter", _headed("Trim", 4, "Inside corner joint")),
    Harmless("a layout property of version 1", by_book(lambda book: _versioned(book, "1"))),
]  # fmt: skip


def _versioned(book: Any, version: str) -> None:
    from openpyxl.packaging.custom import StringProperty  # noqa: PLC0415 - used here alone

    book.custom_doc_props.append(StringProperty(name="Layout version", value=version))


HARMLESS = [*CELLS, *SHEETS]
