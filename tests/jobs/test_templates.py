"""Blank sheets for a firm: with the assemblies of one of its price lists."""

from __future__ import annotations

import io

import pytest
from openpyxl import load_workbook

from service.jobs.desk import Refused
from service.jobs.templates import blank_room_sheet, room_sheet_for_list
from service.units import Units
from tests.web.office import founded_in, office_in


@pytest.fixture(scope="module")
def office(tmp_path_factory):
    """An office with the sample's price list."""
    folder = tmp_path_factory.mktemp("templates")
    with office_in(folder / "data", founded_in(folder / "founded")) as found:
        yield found


def offered(data: bytes, tab: str, cell: str) -> tuple[str, ...]:
    """What the dropdown in a cell offers from the hidden tab; nothing where there is none."""
    book = load_workbook(io.BytesIO(data))
    (guide,) = [one for one in book[tab].data_validations.dataValidation if cell in one.sqref]
    if guide.type is None:
        return ()
    name, _, area = guide.formula1.partition("!")
    return tuple(row[0].value for row in book[name][area.replace("$", "")])


def test_a_sheet_for_a_list_offers_its_assemblies(office):
    """Trim and casing are chosen from the firm's own assemblies, and the sheet names the list they are from."""
    sheet = room_sheet_for_list(office.desk, office.firm.id, Units.IMPERIAL, "Standard")
    assert isinstance(sheet, bytes)
    for cell in (("Trim", "C9"), ("Openings", "H9")):
        assert {"Three-piece crown", "Base and shoe", "Casing, butted head"} <= set(offered(sheet, *cell))
        assert offered(blank_room_sheet(Units.IMPERIAL), *cell) == ()
    job = load_workbook(io.BytesIO(sheet))["Job"]
    assert ("Price list", "standard") in [(row[0].value, row[1].value) for row in job.iter_rows()]


def test_a_list_that_is_not_there_is_told(office):
    """No template for a price list that the firm doesn't have."""
    made = room_sheet_for_list(office.desk, office.firm.id, Units.METRIC, "winter")
    assert isinstance(made, Refused)
    assert [problem.code.value for problem in made.problems] == ["price-list-unknown"]
