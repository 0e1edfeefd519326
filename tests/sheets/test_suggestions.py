"""Mistyped headings, items, tabs and names: what was meant is suggested, and never taken."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from service.sheets.reader import read_room_sheet
from tests.sheets import workbooks
from tests.sheets.workbooks import JOB, ROOMS, TRIM, found, room_book, saved

if TYPE_CHECKING:
    from service.sheets.draft import SheetReading

WALLS: list[Any] = workbooks.WALLS
HEADINGS = [
    ("Walls", "Lenght", "Length"), ("Walls", "Wal", "Wall"), ("Walls", "Conrer", "Corner"), ("Trim", "Assemby", "Assembly"),
    ("Rooms", "Celing height", "Ceiling height"), ("Rooms", "Cieling heigth", "Ceiling height"),
]  # fmt: skip


def read(**tabs: Any) -> SheetReading:
    """Reading of a sound little room sheet with some tabs replaced."""
    return read_room_sheet(saved(room_book(**tabs)))


def renamed(rows: list[list[Any]], old: str, new: str) -> list[list[Any]]:
    """Rows with one heading changed."""
    return [[new if cell == old else cell for cell in rows[0]], *rows[1:]]


@pytest.mark.parametrize(("tab", "typed", "meant"), HEADINGS)
def test_a_mistyped_heading_is_told_where_it_stands(tab: str, typed: str, meant: str) -> None:
    """A required heading that is missing is told at the one that was meant for it, with the right word; nothing is read there."""
    tabs: dict[str, list[Any]] = {"Walls": WALLS, "Rooms": ROOMS, "Trim": TRIM}
    rows = tabs[tab]
    reading = read(**{tab: renamed(rows, meant, typed)})
    (problem,) = [problem for problem in reading.problems if problem.is_error]
    column = "ABCDE"[rows[0].index(meant)]
    assert (problem.code, str(problem.cell), problem.found) == ("heading-missing", f"{tab}!{column}1", typed)
    assert problem.help == f"Did you mean {meant}? Then type that heading in {column}1."
    assert [problem for problem in reading.problems if not problem.is_error] == []


def test_a_mistyped_heading_that_may_be_missing_is_a_warning_with_a_guess() -> None:
    """`Angel` with figures below it is not read, and the warning asks whether Angle was meant."""
    reading = read(Walls=renamed(WALLS, "Angle", "Angel"))
    assert found(reading) == {("heading-unknown", "warning", "Walls!E1")}
    assert reading.problems[0].help.startswith("Did you mean Angle?")
    document: Any = reading.document
    assert [wall for wall in document["rooms"][0]["walls"] if "angle_deg" in wall] == []


def test_a_heading_that_is_there_is_never_suggested() -> None:
    """`Length 2` beside Length is an unknown column: the words on offer are those that are missing."""
    reading = read(Walls=[[*WALLS[0], "Length 2"], *([*row, "x"] for row in WALLS[1:])])
    (problem,) = reading.problems
    assert (problem.code, str(problem.cell)) == ("heading-unknown", "Walls!F1")
    assert not problem.help.startswith("Did you mean Length?")


def test_a_mistyped_item_is_missed_where_it_stands() -> None:
    """`Custmer` is a warning with a guess, and the missing customer is placed at it."""
    reading = read(Job=[["Custmer" if item == "Customer" else item, value] for item, value in JOB])
    assert found(reading) == {("item-unknown", "warning", "Job!A2")}
    assert reading.problems[0].help == "Did you mean Customer?"
    assert str(reading.cells["/job/customer"]) == "Job!A2"


def test_a_mistyped_tab_is_told_on_both_sides() -> None:
    """The missing tab's fault names the tab that was meant for it."""
    reading = read(Walls=None, Wals=WALLS)
    assert found(reading) == {("tab-missing", "error", "Walls!A1"), ("tab-unknown", "warning", "Wals!A1")}
    assert {problem.help for problem in reading.problems} == {
        "Did you mean the tab Wals? Then name it Walls.", "Did you mean Walls? Then name it so.",
    }  # fmt: skip


def test_a_mistyped_tab_that_may_be_missing_is_more_than_a_note() -> None:
    """Openings under another name would silently not be deducted: that is a warning, a tab of notes is a note."""
    reading = read(Openigs=[["Room"]], Scribbles=[["x"]])
    assert found(reading) == {("tab-unknown", "warning", "Openigs!A1"), ("tab-unknown", "note", "Scribbles!A1")}


def test_what_refers_to_a_lost_wall_is_no_second_fault() -> None:
    """A wall whose room is mistyped takes no other faults with it: openings, joists and trim on it are accounted for."""
    reading = read(
        Rooms=[[*ROOMS[0], "Joists parallel to", "First joist"], [*ROOMS[1], "A", "4"]],
        Walls=[[*WALLS[0]], ["Kichen", *WALLS[1][1:]], *WALLS[2:]],
        Openings=[["Room", "Wall", "Opening"], ["Kitchen", "A", "door"], ["Kitchen", "B", "door"]],
        Trim=[TRIM[0], ["Kitchen", "A;B", "x"], ["Kitchen", "B", "x"]],
    )
    assert found(reading) >= {("room-unknown", "error", "Walls!A2")}
    assert reading.explains("/rooms/0/openings/0/wall")
    assert reading.explains("/rooms/0/joists/parallel_to")
    assert reading.explains("/trim/0/walls")
    assert not reading.explains("/rooms/0/openings/1/wall")
    assert not reading.explains("/trim/1/walls")


def test_guessing_stops_where_no_answer_carries_more() -> None:
    """Thousands of mistyped rooms are thousands of faults; the first 200 come with a guess."""
    rooms = [ROOMS[0], *([f"Room {number}", "8'"] for number in range(300))]
    walls = [WALLS[0], *([f"Roon {number}", "A", "9'", "inside", None] for number in range(2000))]
    problems = read(Rooms=rooms, Walls=walls).problems
    assert len(problems) == 2000
    assert problems[7].help == "Did you mean Room 7?"
    assert sum(problem.help.startswith("Did you mean") for problem in problems) == 200
