"""Every fault of a room's geometry, provoked by a sheet and found at its cell."""

from __future__ import annotations

import pytest

from tests.faults.sheets import RECTANGLE, ROOM, STUDS, book, opening, told, trim, walls

L_SHAPE = (
    ("A", "20'"), ("B", "10'"), ("C", "8'", "outside"), ("D", "6'"), ("E", "12'"), ("F", "16'"),
)  # fmt: skip
CROSSING = (
    ("A", "10'"), ("B", "10'"), ("C", "20'", "outside"), ("D", "5'", "outside"), ("E", "10'", "outside"),
    ("F", "15'", "open"),
)  # fmt: skip
CLOSET = {"Room": "Closet", "Ceiling height": "8'"}
CLOSET_WALLS = walls(("A", "3'"), ("B", "2'"), ("C", "3'"), ("D", "2'"), room="Closet")
DOOR = opening("B", "door", "20", "32", "80")


def with_row(rows, number, **members):
    """Rows with one of them, counted from 0, changed."""
    named = {name.replace("_", " ").capitalize(): value for name, value in members.items()}
    return [row | named if place == number else row for place, row in enumerate(rows)]


def test_the_unchanged_sheet_has_no_fault():
    """The sheet that every case below changes is sound, without a warning."""
    assert told(book()) == {}


REFUSED = {
    "wall a foot short": (
        book(Walls=walls(("A", "11'"), *RECTANGLE[1:])), "Walls!A2", "room-does-not-close", "wall A may be 1′",
    ),
    "corner misread": (
        book(Walls=walls(*L_SHAPE[:3], ("D", "6'", "inside", "87"), *L_SHAPE[4:])),
        "Walls!A2", "room-does-not-close", "the corner after wall D is nearer 90° than 87°",
    ),
    "angle of another corner": (
        book(Walls=walls(*RECTANGLE[:2], ("C", "12'", "inside", "135"), RECTANGLE[3])),
        "Walls!A2", "corner-angles-do-not-add-up", "the corner after wall C is nearer 90° than 135°",
    ),
    "walls that cross": (book(Walls=walls(*CROSSING)), "Walls!A2", "room-crosses-itself", "Walls C and F"),
    "open within": (
        book(Walls=walls(RECTANGLE[0], ("B", "14'", "open"), *RECTANGLE[2:])),
        "Walls!D3", "corner-open-within", "more walls follow",
    ),
    "rooms sharing a name": (
        book(Rooms=[ROOM, ROOM | {"Room": "  parlor"}]), "Rooms!A3", "room-duplicate", "same name",
    ),
    "wall letters repeated": (
        book(Walls=walls(*RECTANGLE, ("b", "14'"))), "Walls!B6", "wall-duplicate", "same name",
    ),
    "sloped ceiling": (
        book(Rooms=[ROOM | {"Ceiling shape": "sloped"}]), "Rooms!H2", "ceiling-not-flat", "Price this room by hand",
    ),
    "tray ceiling": (
        book(Rooms=[ROOM | {"Ceiling shape": "tray"}]), "Rooms!H2", "ceiling-not-flat", "only flat ceilings",
    ),
    "opening past the wall": (
        book(Openings=[DOOR | {"From left": "12'"}]), "Openings!D2", "opening-outside-wall", "wall B is 14′",
    ),
    "opening above the ceiling": (
        book(Openings=[DOOR | {"Height": "8' 1\""}]), "Openings!F2", "opening-outside-wall", "higher than the ceiling",
    ),
    "sill above the head": (
        book(Openings=[opening("B", "window", "20", "32", "80", sill_height="81")]),
        "Openings!G2", "opening-outside-wall", "sill is not below the head",
    ),
    "openings that overlap": (
        book(Openings=[DOOR, opening("B", "window", "40", "30", "80", sill_height="30")]),
        "Openings!D3", "openings-overlap", "inside the door before it",
    ),
    "first stud past the wall": (
        book(Walls=with_row(walls(*RECTANGLE), 1, first_stud="15'")), "Walls!F3", "stud-outside-wall", "wall B",
    ),
    "listed stud past the wall": (
        book(Walls=with_row(with_row(walls(*RECTANGLE), 2, first_stud=""), 2, studs_at="16;32;150")),
        "Walls!H4", "stud-outside-wall", "12′",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_a_fault_is_found_at_its_cell_and_alone(name):
    """One thing wrong makes one error, at the cell to look at, with words that help."""
    data, cell, code, words = REFUSED[name]
    found = {key: text for key, text in told(data).items() if key[0] == "error"}
    assert list(found) == [("error", cell, code)]
    assert words in found["error", cell, code]


def test_a_corner_of_the_wrong_kind_is_named_beside_the_crossing_it_makes():
    """An inside corner written as outside turns the walls into each other: both are told, the angles with the corner."""
    found = told(book(Walls=walls(*L_SHAPE[:3], ("D", "6'", "outside"), *L_SHAPE[4:])))
    assert set(found) == {
        ("error", "Walls!A2", "corner-angles-do-not-add-up"), ("error", "Walls!A2", "room-crosses-itself"),
    }  # fmt: skip
    words = "the corner after wall D is inside 90° rather than outside 90°"
    assert words in found["error", "Walls!A2", "corner-angles-do-not-add-up"]


WARNED = {
    "a small gap": (
        book(Walls=walls(("A", "12' 3\""), *RECTANGLE[1:])), "Walls!A2", "room-does-not-close", "wall C may be 3″ short",
    ),
    "the last corner misread": (
        book(Walls=walls(*RECTANGLE[:3], ("D", "14'", "inside", "93"))),
        "Walls!A2", "corner-angles-do-not-add-up", "the corner after wall D is nearer 90° than 93°",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", WARNED)
def test_a_doubt_travels_with_the_quote(name):
    """What does not refuse the sheet is a warning at the same cell, and the sheet is priced."""
    data, cell, code, words = WARNED[name]
    found = told(data)
    assert list(found) == [("warning", cell, code)]
    assert words in found["warning", cell, code]


def test_faults_of_several_rooms_come_together():
    """A parlor that does not close and a closet with a sloped ceiling are told in one answer, each in its rows."""
    data = book(
        Rooms=[ROOM, CLOSET | {"Ceiling shape": "sloped"}],
        Walls=[*walls(("A", "11'"), *RECTANGLE[1:]), *CLOSET_WALLS],
        Trim=[trim("Plain crown"), trim("Base and shoe") | {"Room": "Closet"}],
    )
    assert {key for key in told(data) if key[0] == "error"} == {
        ("error", "Walls!A2", "room-does-not-close"),
        ("error", "Rooms!H3", "ceiling-not-flat"),
    }


def test_the_second_room_is_pointed_at_in_its_own_rows():
    """A closet that does not close is shown at its first row of Walls, not the parlor's."""
    data = book(Rooms=[ROOM, CLOSET], Walls=[*walls(*RECTANGLE), *with_row(CLOSET_WALLS, 0, length="3' 8\"")])
    assert [key for key in told(data) if key[0] == "error"] == [("error", "Walls!A6", "room-does-not-close")]


def test_walls_may_share_letters_with_another_rooms():
    """Letters are a room's own: a closet with walls A to D beside a parlor with the same is sound."""
    rooms = [ROOM, CLOSET | {"Joists parallel to": "A", "First joist": "4"}]
    assert not [key for key in told(book(Rooms=rooms, Walls=[*walls(*RECTANGLE), *CLOSET_WALLS])) if key[0] == "error"]
    assert all(row["First stud"] == STUDS for row in CLOSET_WALLS)
