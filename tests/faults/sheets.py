"""Room sheets of an invented house, each with one thing changed, through reader, schema and estimate as a user's go."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import cache

import openpyxl

from service.jobs.desk import Refused
from service.jobs.estimating import estimate_of, understood
from service.jobs.price_lists import CheckedList, price_list_of
from service.jobs.reading import Workbook, sheet_reading
from service.sheets.layout_room_sheet import ROOM_SHEET
from tests.sheets.workbooks import saved
from tests.web.office import sheet

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
STUDS = '4"'

JOB = {
    "Job name": "Faults", "Customer": "Nobody", "Site address": "5 Nowhere Row (invented)",
    "Measured on": "2026-03-02", "Units": "imperial", "Year built": "1999",
}  # fmt: skip
ROOM = {"Room": "Parlor", "Ceiling height": "8'", "Joists parallel to": "B", "First joist": '4"'}


def walls(*rows, room="Parlor"):
    """Rows of (wall, length, corner, angle), the last two as far as given."""
    headings = ("Wall", "Length", "Corner", "Angle")
    blank = {"Room": room, "Corner": "inside", "First stud": STUDS}
    return [blank | dict(zip(headings, row, strict=False)) for row in rows]


RECTANGLE = (("A", "12'"), ("B", "14'"), ("C", "12'"), ("D", "14'"))


def opening(wall, kind, left, width, height, **more):
    """A row of Openings."""
    named = {name.replace("_", " ").capitalize(): value for name, value in more.items()}
    base = {"Room": "Parlor", "Wall": wall, "Opening": kind, "From left": left, "Width": width, "Height": height}
    return base | named


def trim(assembly, on="all", **more):
    """A row of Trim."""
    named = {name.replace("_", " ").capitalize(): value for name, value in more.items()}
    return {"Room": "Parlor", "Walls": on, "Assembly": assembly} | named


def book(**tabs):
    """Rows of a sound rectangle with a plain crown and a base, by tab; keywords replace or add tabs."""
    return {
        "Rooms": [ROOM],
        "Walls": walls(*RECTANGLE),
        "Trim": [trim("Plain crown"), trim("Base and shoe")],
    } | tabs


def workbook(rows):
    """Bytes of a plain workbook with these rows under the template's headings, in the template's order."""
    made = openpyxl.Workbook()
    made.remove(made.worksheets[0])
    job = made.create_sheet("Job")
    for item in JOB.items():
        job.append(item)
    for tab, filled in rows.items():
        page = made.create_sheet(tab)
        headings = [column.heading for column in ROOM_SHEET.tab(tab).columns]
        page.append(headings)
        for row in filled:
            page.append([row.get(heading) or None for heading in headings])
    return saved(made)


@cache
def sample_list():
    """The sample price list, read once."""
    made = price_list_of(Workbook(sheet("price_list.xlsx")), "standard")
    assert isinstance(made, CheckedList)
    return made.price_list


def told(rows, price_list=None):
    """(severity, cell, code) of every problem that an upload answers, refused or quoted; the details beside them."""
    made = estimate_of(understood(sheet_reading(Workbook(workbook(rows)))), price_list or sample_list(), "id", NOW)
    problems = made.problems if isinstance(made, Refused) else made.warnings
    return {(str(p.severity), str(p.cell), str(p.code)): f"{p.detail} {p.help}" for p in problems}
