"""Every hostile or mistaken file is refused with its own code and HTTP status, and nothing else happens."""

from __future__ import annotations

import time

import pytest

from service.problems import Code
from service.sheets.reader import read_price_list, read_room_sheet
from service.web.problem_answers import sheet_status
from tests.sheets.attacks import ARCHIVES, ATTACKS, FILES, PACKAGES, PARTS, SHEETS

SECONDS = 30.0
"""Far above what any refusal takes, far below what some of these cost a workbook library: tells a stop from a hang."""


@pytest.mark.parametrize("attack", ATTACKS, ids=lambda attack: attack.what)
def test_each_is_refused_with_its_code(attack):
    """The file is refused with one error of the expected code and status, in words and with a cure."""
    data = attack.data()
    start = time.process_time()
    reading = read_room_sheet(data)
    assert time.process_time() - start < SECONDS
    assert reading.document is None
    (problem,) = reading.problems
    assert (problem.code, sheet_status(reading.problems)) == (attack.code, attack.status), problem.detail
    assert problem.is_error
    assert problem.detail
    assert problem.help


def test_a_price_list_meets_the_same_guard():
    """Every tenth file of the table is refused at the other door with the same code."""
    for attack in ATTACKS[::10]:
        assert [problem.code for problem in read_price_list(attack.data()).problems] == [attack.code]


def test_the_table_holds_enough():
    """At least sixty attacks are on the container: the archive, the package, its parts and sheets; each named once."""
    assert len([*ARCHIVES, *PACKAGES, *PARTS, *SHEETS]) >= 60
    assert len({attack.what for attack in ATTACKS}) == len(ATTACKS)


def test_each_kind_of_file_has_a_code_of_its_own():
    """The kinds that people send most are told apart by their codes."""
    codes = {attack.what: attack.code for attack in FILES + ARCHIVES + PARTS}
    kinds = ("old .xls", "workbook with a password", "ods", "CSV", "PDF", "web page", "photograph", "cut in half",
             "40 MiB of blanks", "entities", "Strict", "over 10 MiB")  # fmt: skip
    assert len({codes[kind] for kind in kinds}) == len(kinds)
    assert Code.SHEET_WRONG_TYPE not in {codes[kind] for kind in kinds}
