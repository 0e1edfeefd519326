"""What of the user's workbook stays, and how the marks fit into workbooks of every make."""

from __future__ import annotations

import io
import re

import openpyxl
import pytest

from service.problems import Cell, Code, Problem, Severity
from service.sheets.guard import inspected
from service.sheets.marks import marked
from tests.sheets.marks.examples import (
    JOB,
    KIND,
    ROOMS,
    WALLS,
    as_read,
    book,
    faults,
    formulas,
    packed,
    parts,
    sample,
    sample_faults,
    sheet_xml,
    tabs_with,
)

OWN_RULES = (
    '<conditionalFormatting sqref="A2:E5"><cfRule type="expression" dxfId="0" priority="1" stopIfTrue="1">'
    "<formula>TRUE</formula></cfRule></conditionalFormatting>"
    '<conditionalFormatting sqref="C2:C5"><cfRule type="expression" dxfId="0" priority="7"><formula>1=1</formula></cfRule>'
    "</conditionalFormatting>"
)
GUIDE = '<dataValidations count="1"><dataValidation type="list" sqref="D2:D9"><formula1>"a,b"</formula1></dataValidation></dataValidations>'
MARGINS = '<pageMargins left="1" right="1" top="1" bottom="1" header="0" footer="0"/>'


def walls_book(**more):
    """A small room sheet with four faults in its walls."""
    return book(tabs_with(sheet_xml(WALLS, **more)))


def test_untouched_parts_stay_byte_for_byte():
    """Of the broken sample only the tabs with faults, the formats and the lists of parts change."""
    before = parts(sample("broken.xlsx"))
    after = parts(marked(sample("broken.xlsx"), sample_faults("broken.xlsx")))
    changed = {name for name in before if after[name] != before[name]}
    lists = {"[Content_Types].xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml"}
    assert changed <= lists | {name for name in before if name.startswith("xl/worksheets/")}
    assert before.keys() <= after.keys()
    assert len(changed) < len(before)


def test_cells_are_not_touched():
    """In a marked tab everything but our insertions is as it was: rows, formulas with their values, validations."""
    data = walls_book(after=GUIDE + MARGINS)
    before = parts(data)["xl/worksheets/sheet3.xml"].decode()
    after = parts(marked(data, faults(data)))["xl/worksheets/sheet3.xml"].decode()
    stripped = re.sub(r"<conditionalFormatting .*?</conditionalFormatting>|<legacyDrawing [^>]*/>", "", after)
    assert stripped == before
    assert "<f>45+205</f><v>250</v>" in after


def test_children_stand_in_the_order_of_the_format():
    """Colors come before validations and links, the drawing after the margins and before what must follow it."""
    after = parts(marked_walls(after=GUIDE + MARGINS + '<tableParts count="0"/>'))["xl/worksheets/sheet3.xml"].decode()
    order = [
        after.index(name)
        for name in (
            "<sheetData",
            "<conditionalFormatting",
            "<dataValidations",
            "<pageMargins",
            "<legacyDrawing",
            "<tableParts",
        )
    ]
    assert order == sorted(order)


def marked_walls(**more):
    """The small room sheet, marked."""
    data = walls_book(**more)
    return marked(data, faults(data))


def test_the_users_rules_keep_their_order_behind_ours():
    """The tab's own formats keep ranges, formulas and order; ours rank first, so that no `stopIfTrue` hides them.

    Source: ECMA-376 Part 1, 18.3.1.10: the lower priority number wins.
    """
    after = parts(marked_walls(after=OWN_RULES))["xl/worksheets/sheet3.xml"].decode()
    ranks = {sqref: int(rank) for sqref, rank in re.findall(r'sqref="([^"]+)"><cfRule [^>]*?priority="(\d+)"', after)}
    ours = [rank for sqref, rank in ranks.items() if sqref not in {"A2:E5", "C2:C5"}]
    assert sorted(ours) == list(range(1, len(ours) + 1))
    assert len(ours) == 3
    assert max(ours) < ranks["A2:E5"] < ranks["C2:C5"]
    assert 'stopIfTrue="1"' in after


def test_a_namespace_prefix_is_kept():
    """A tab and a workbook written with a prefix get marks with the same prefix, and are read as before."""
    data = book(tabs_with(sheet_xml(WALLS, prefix="x:")))
    content = parts(data)
    workbook = (
        content["xl/workbook.xml"].decode().replace("<", "<s:").replace("<s:/", "</s:").replace("xmlns=", "xmlns:s=")
    )
    data = packed(content | {"xl/workbook.xml": workbook})
    copy = marked(data, faults(data))
    tab = parts(copy)["xl/worksheets/sheet3.xml"]
    assert set(formulas(tab)) == {"C2", "E3", "D5"}
    assert b"<x:legacyDrawing " in tab
    assert b'<s:sheet name="Faults found"' in parts(copy)["xl/workbook.xml"]
    assert as_read(copy) == as_read(data)
    assert len(openpyxl.load_workbook(io.BytesIO(copy)).worksheets) == 5


def test_a_workbook_without_styles_gets_some():
    """Without a style sheet, or with one that lacks differential formats, colors have a format to refer to."""
    bare = walls_book()
    assert not any("styles" in name for name in parts(bare))
    copy = openpyxl.load_workbook(io.BytesIO(marked(bare, faults(bare))))
    (rule,) = copy["Walls"].conditional_formatting["C2"]
    assert rule.dxf.fill.bgColor.rgb == "FFFFC9C4"
    plain = saved_without_dxfs()
    copy = openpyxl.load_workbook(io.BytesIO(marked(plain, faults(plain))))
    assert copy["Walls"].conditional_formatting["C2"][0].dxf.fill.bgColor.rgb == "FFFFC9C4"


def saved_without_dxfs():
    """The broken sample, its list of differential formats taken out."""
    content = parts(sample("broken.xlsx"))
    styles = re.sub(rb"<dxfs.*?(</dxfs>|/>)", b"", content["xl/styles.xml"], count=1, flags=re.DOTALL)
    assert b"dxfs" not in styles
    return packed(content | {"xl/styles.xml": styles})


def test_formats_keep_their_numbers():
    """Every format of the user's style sheet stays where it is, so that no cell changes its look."""
    before = parts(sample("broken.xlsx"))["xl/styles.xml"].decode()
    after = parts(marked(sample("broken.xlsx"), sample_faults("broken.xlsx")))["xl/styles.xml"].decode()
    for container in ("fonts", "fills", "borders", "cellXfs"):
        old, new = (re.search(rf"<{container}[^>]*>(.*)</{container}>", text, re.DOTALL)[1] for text in (before, after))
        assert new.startswith(old), container
        assert int(re.search(rf'<{container} [^>]*count="(\d+)"', after)[1]) == len(children(new)), container


def children(inner):
    """Outermost elements of a piece of XML."""
    depth, found = 0, []
    for match in re.finditer(r"<(/?)([\w:]+)[^>]*?(/?)>", inner):
        if not match[1] and depth == 0:
            found.append(match[2])
        depth += 0 if match[3] else (-1 if match[1] else 1)
    return found


def test_names_of_tabs_are_quoted_in_links():
    """A link to a tab with blanks and an apostrophe quotes the name and doubles the apostrophe."""
    tabs = tabs_with(sheet_xml(WALLS)) | {"Tom&apos;s &amp; Co": sheet_xml([["mine"]])}
    data = book(tabs)
    copy = openpyxl.load_workbook(io.BytesIO(marked(data, faults(data))))
    targets = [cell.hyperlink.location for cell in copy["Faults found"]["B"] if cell.hyperlink]
    assert "'Tom''s & Co'!A1" in targets
    assert "'Walls'!C2" in targets


def test_hidden_and_protected_tabs_are_told():
    """A fault in a hidden tab has no link and says so; a protected tab with faults is named."""
    protected = sheet_xml(WALLS, after='<sheetProtection sheet="1" objects="1"/>')
    data = book(tabs_with(protected), hidden=("Walls",))
    told = text_of(marked(data, faults(data)))
    assert "Walls!C2 (length) (hidden tab: show it first)" in told
    assert any(line.startswith("The tab Walls is protected") for line in told)


def text_of(data):
    """Texts of our tab."""
    sheet = openpyxl.load_workbook(io.BytesIO(data))["Faults found"]
    return [str(cell.value) for row in sheet.iter_rows() for cell in row if cell.value is not None]


def test_a_charts_tab_stays_in_between():
    """A tab without cells keeps its place; ours comes behind it."""
    tabs = tabs_with(sheet_xml(WALLS)) | {"Chart": "chartsheet"}
    data = book(tabs)
    copy = marked(data, faults(data))
    assert re.findall(rb'sheet name="([^"]+)"', parts(copy)["xl/workbook.xml"])[-2:] == [b"Chart", b"Faults found"]
    assert as_read(copy) == as_read(data)


def test_a_tab_of_the_users_own_with_our_name_is_left_alone():
    """A user's own tab named like ours stays; ours takes the next name, and is found again by its first cell."""
    tabs = tabs_with(sheet_xml(WALLS)) | {"Faults found": sheet_xml([["my own list"]])}
    data = book(tabs)
    once = marked(data, faults(data))
    names = [sheet.title for sheet in openpyxl.load_workbook(io.BytesIO(once))]
    assert names[-2:] == ["Faults found", "Faults found 2"]
    assert parts(once)["xl/worksheets/sheet5.xml"] == parts(data)["xl/worksheets/sheet5.xml"]
    assert marked(once, faults(once)) == once


def test_signature_and_macros_are_told():
    """What a changed copy cannot keep is said: a signature doesn't hold, macros are left out."""
    content = parts(walls_book())
    types = (
        content["[Content_Types].xml"]
        .decode()
        .replace(f"{KIND}.sheet.main+xml", "application/vnd.ms-excel.sheet.macroEnabled.main+xml")
    )
    types = types.replace(
        "</Types>",
        '<Override PartName="/xl/vbaProject.bin" ContentType="application/vnd.ms-office.vbaProject"/></Types>',
    )
    links_part = content["xl/_rels/workbook.xml.rels"].decode()
    macro = '<Relationship Id="rIdM" Type="http://schemas.microsoft.com/office/2006/relationships/vbaProject" Target="vbaProject.bin"/></Relationships>'
    data = packed(
        content
        | {
            "[Content_Types].xml": types,
            "xl/_rels/workbook.xml.rels": links_part.replace("</Relationships>", macro),
            "xl/vbaProject.bin": b"\xd0\xcf",
            "_xmlsignatures/sig1.xml": "<Signature/>",
        }
    )
    copy = marked(data, faults(data))
    told = text_of(copy)
    assert any("signature" in line for line in told)
    assert any("macros" in line for line in told)
    after = parts(copy)
    assert "xl/vbaProject.bin" not in after
    assert b"vbaProject" not in after["xl/_rels/workbook.xml.rels"] + after["[Content_Types].xml"]
    assert f"{KIND}.sheet.main+xml".encode() in after["[Content_Types].xml"]


def test_faults_without_a_cell_stand_on_the_tab_alone():
    """A missing tab has no link, a missing heading links to its tab, the price list's fault is told as not being here."""
    tabs = {"Job": sheet_xml(JOB), "Rooms": sheet_xml(ROOMS), "Walls": sheet_xml([["Room", "Wall"], ["Kitchen", "A"]])}
    data = book(tabs)
    foreign = Problem(Code.STOCK_MISSING, Severity.ERROR, "/stock/0", "There is no board long enough.", "Add one.")
    copy = marked(data, (*faults(data), foreign))
    told = text_of(copy)
    assert "Trim (no such tab)" in told
    assert "Walls (the tab)" in told
    assert "the price list, not this workbook (/stock/0)" in told
    assert b"conditionalFormatting" not in parts(copy)["xl/worksheets/sheet3.xml"]


def test_a_merged_range_is_marked_where_it_shows():
    """A fault in a covered cell of a merged range is colored and noted at the range's first cell."""
    data = walls_book(after='<mergeCells count="1"><mergeCell ref="C2:C3"/></mergeCells>')
    fault = Problem(
        Code.VALUE_MISSING, Severity.ERROR, "/rooms/0/walls/1/length", "Missing.", "Type.", "", Cell("Walls", "C3")
    )
    copy = openpyxl.load_workbook(io.BytesIO(marked(data, (fault,))))
    assert {str(area.sqref) for area in copy["Walls"].conditional_formatting} == {"C2"}
    assert copy["Walls"]["C2"].comment is not None


@pytest.mark.parametrize("encoding", ["utf-16", "iso-8859-1", "utf-8-sig"])
def test_other_encodings_are_marked_too(encoding):
    """A tab's part in UTF-16, Latin-1 or with a byte order mark is marked and read as before."""
    xml = sheet_xml([*WALLS, ["Kitchen", "É", "ten", "inside"]])
    told = {"utf-8-sig": "UTF-8"}.get(encoding, encoding.upper())
    data = book(tabs_with(xml.replace("UTF-8", told).encode(encoding)))
    copy = marked(data, faults(data))
    assert as_read(copy) == as_read(data)
    assert "C6" in formulas(parts(copy)["xl/worksheets/sheet3.xml"])


def test_cells_without_addresses_are_found():
    """Rows and cells that don't tell their numbers (ECMA-376 Part 1, 18.3.1.4 has them optional) are counted."""
    xml = re.sub(r' r="[A-Z]*\d+"', "", sheet_xml(WALLS))
    data = book(tabs_with(xml))
    rules = formulas(parts(marked(data, faults(data)))["xl/worksheets/sheet3.xml"])
    assert 'EXACT(C2,"twelve")' in rules["C2"]
    assert 'EXACT(D5,"insde")' in rules["D5"]


def test_the_copy_of_one_workbook_is_always_the_same():
    """Two markings of one workbook give the same bytes."""
    assert marked_walls() == marked_walls()


def test_very_many_faults_stay_bearable():
    """Of more faults than a workbook bears notes the first thousand are colored; the tab lists all and says so."""
    problems = tuple(
        Problem(Code.LENGTH_NOT_UNDERSTOOD, Severity.ERROR, f"/rooms/0/walls/{row}/length", "Wrong.", "Type.", "x", Cell("Walls", f"C{row}"))
        for row in range(2, 1_302)
    )  # fmt: skip
    copy = marked(walls_book(), problems)
    assert inspected(copy).problems == ()
    assert len(formulas(parts(copy)["xl/worksheets/sheet3.xml"])) == 1_000
    told = text_of(copy)
    assert "The first 1,000 of 1,300 faulty cells are colored and noted." in told
    assert told.count("length-not-understood") == 1_300
