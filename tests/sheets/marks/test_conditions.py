"""A color holds only while the refused value is there: judged by a spreadsheet program, and by hand."""

from __future__ import annotations

import csv
import io
from datetime import date

import openpyxl
import pytest

from service.sheets.marks.conditions import rule_formula
from service.sheets.marks.stored import StoredCell, stored_tab, with_texts
from tests.sheets.marks.examples import parts
from tests.sheets.workbooks import saved

LONG = 'It\'s "quoted", ' * 40
ASTRAL = "wall \N{GRINNING FACE} " * 300
KEPT = [
    ("text", "twelve"), ("case", "Inside"), ("inches", '9\' 14"'), ("ampersand", "A & <B>"), ("long", LONG),
    ("very long", ASTRAL), ("two lines", "one\ntwo"), ("blanks at its ends", "  ten   feet "), ("looks like a number", "12"),
    ("looks like a formula", "'=1+1"), ("number", 12.541666666666666), ("third", 1 / 3), ("zero", 0), ("negative", -7),
    ("large", 123456789012.5), ("tiny", 1e-7), ("date", date(2025, 3, 8)), ("true", True), ("false", False), ("blank", None),
]  # fmt: skip
CHANGED = {
    "text": "12'", "case": "inside", "inches": '9\' 1"', "ampersand": "A & B", "long": LONG[:-2], "very long": "A",
    "two lines": "one two", "blanks at its ends": "eleven feet", "looks like a number": 12, "looks like a formula": "2",
    "number": 12.54, "third": 0.33333, "zero": None, "negative": 7, "large": 123456789012.0, "tiny": 2e-7,
    "date": "3/8", "true": "yes", "false": 0, "blank": "x",
}  # fmt: skip


def rules_of(values):
    """Formula for each value as a workbook library stores it, in column A."""
    book = openpyxl.Workbook()
    for row, (_, value) in enumerate(values, start=1):
        book.worksheets[0].cell(row, 1, value)
    content = parts(saved(book))
    addresses = [f"A{row}" for row in range(1, len(values) + 1)]
    tab = stored_tab(content["xl/worksheets/sheet1.xml"], addresses)
    with_texts([tab], content.get("xl/sharedStrings.xml", b""))
    return [rule_formula(tab.cells.get(address), address) for address in addresses]


def judged(values, rules, converted):
    """TRUE or FALSE for each rule over the values, as LibreOffice computes it."""
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    for row, (value, rule) in enumerate(zip(values, rules, strict=True), start=1):
        sheet.cell(row, 1, value)
        sheet.cell(row, 2, "=" + rule)
    table = converted(saved(book), "csv").decode("utf-8", "replace")
    return [row[1] for row in csv.reader(io.StringIO(table))]


def test_each_rule_holds_for_its_own_value(converted):
    """LibreOffice finds the rule of every kind of value true while the value stands in the cell."""
    verdicts = judged([value for _, value in KEPT], rules_of(KEPT), converted)
    assert {name: verdict for (name, _), verdict in zip(KEPT, verdicts, strict=True) if verdict != "TRUE"} == {}


def test_no_rule_holds_for_another_value(converted):
    """After the value is changed, even to a near one or one of another kind, LibreOffice finds the rule false."""
    verdicts = judged([CHANGED[name] for name, _ in KEPT], rules_of(KEPT), converted)
    assert {name: verdict for (name, _), verdict in zip(KEPT, verdicts, strict=True) if verdict != "FALSE"} == {}


@pytest.mark.parametrize("error", ["#REF!", "#DIV/0!", "#N/A", "#NAME?"])
def test_an_error_is_colored_until_it_is_mended(error, converted):
    """The rule of an error value holds for errors and not for a number."""
    rule = rule_formula(StoredCell("e", error), "A1")
    assert judged(["=1/0", 5], [rule, rule.replace("A1", "A2")], converted) == ["TRUE", "FALSE"]


@pytest.mark.parametrize(
    ("cell", "holds"),
    [
        (None, "ISBLANK(C5)"),
        (StoredCell(), "ISBLANK(C5)"),
        (StoredCell("n", "", has_formula=True), 'EXACT(C5,"")'),
        (StoredCell("str", "", has_formula=True, text=""), 'EXACT(C5,"")'),
        (StoredCell("e", "#REF!"), "ISERROR(C5)"),
        (StoredCell("b", "1"), "AND(ISLOGICAL(C5),C5=TRUE)"),
        (StoredCell("d", "2025-03-08T00:00:00"), "AND(ISNUMBER(C5),ABS(C5-DATE(2025,3,8))<1)"),
        (StoredCell("n", "250", has_formula=True), "AND(ISNUMBER(C5),ABS(C5-(250))<=1.0E-9)"),
        (StoredCell("n", "abc"), 'IF(ISERROR(C5),TRUE,OR(C5=0,C5="",EXACT(C5,"abc")))'),
        (StoredCell("s", "4", text='say "x"'), 'EXACT(C5,"say ""x""")'),
        (StoredCell("s", "4", text="12"), 'AND(ISTEXT(C5),EXACT(C5,"12"))'),
        (StoredCell("s", "4", text="\N{GRINNING FACE}" * 3_000), "ISTEXT(C5)"),
        (StoredCell("s", "4", text="a\r\nb"), 'EXACT(C5,"a"&CHAR(13)&CHAR(10)&"b")'),
    ],
)
def test_rules_by_kind(cell, holds):
    """Each kind of stored value has the rule that was decided for it; all carry the token by which we know them."""
    assert rule_formula(cell, "C5") == f'AND(N("Faults found")=0,{holds})'


def test_no_literal_is_longer_than_a_formula_takes():
    """Text in a formula is cut into literals of at most 255 characters, and a rule stays under 8,192.

    Source: limits published for the format's first program (from memory).
    """
    for text in (LONG, "x" * 1_900, '"' * 1_900, "y" * 30_000):
        rule = rule_formula(StoredCell("s", "0", text=text), "C5")
        assert len(rule) < 8_192
        assert max(map(len, rule.replace('""', "").split('"'))) <= 255


def test_a_formula_keeps_its_color_by_its_value(converted):
    """A refused formula result is colored until the result changes, though the formula itself stays."""
    rule = rule_formula(StoredCell("n", "250", has_formula=True), "A1")
    assert judged(["=45+205", "=45+45"], [rule, rule.replace("A1", "A2")], converted) == ["TRUE", "FALSE"]
