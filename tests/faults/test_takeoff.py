"""Every fault and doubt of the takeoff, provoked by a sheet and found at its cell."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from service.estimate import rooms, takeoff
from service.firm import Assembly, Layer, Position
from service.problems import Code
from tests.faults import test_ceiling, test_rooms
from tests.faults.sheets import RECTANGLE, ROOM, book, opening, sample_list, told, trim, walls

DOOR = opening("B", "door", "40", "32", "80", casing="Casing")
WINDOW = opening("B", "window", "40", "36", "80", sill_height="30", casing="Window casing with stool")
CROWNS = [trim("Plain crown")]


def with_assembly(*layers, name="Odd"):
    """The sample price list with one more assembly, of (position, profile) layers."""
    made = tuple(Layer(number, position, profile) for number, (position, profile) in enumerate(layers, 1))
    listed = sample_list()
    return replace(listed, assemblies=dict(listed.assemblies) | {name: Assembly(name, made)})


def with_settings(**members):
    """The sample price list with some of the firm's settings changed."""
    listed = sample_list()
    return replace(listed, settings=replace(listed.settings, **members))


def unknown_studs(rows):
    """Walls rows without a stud."""
    return [{name: value for name, value in row.items() if name != "First stud"} for row in rows]


ALCOVE = (
    ("A", "12'"), ("B", "4'", "outside"), ("C", "2'"), ("D", "10"), ("E", "2'", "outside"), ("F", "5' 2\""), ("G", "12'"),
    ("H", "10'"),
)  # fmt: skip
"""A room with an alcove ten inches wide: two mitered 5½" ceiling boards leave nothing of its back wall's."""

ERRORS = {
    "assembly unknown": (
        book(Trim=[trim("Plain crown"), trim("Crown of thorns")]), None, "Trim!C3", "assembly-unknown", "Type one of:",
    ),
    "casing unknown": (
        book(Openings=[DOOR | {"Casing": "Grand casing"}]), None, "Openings!H2", "assembly-unknown", "Casing",
    ),
    "casing without its stool": (
        book(Openings=[WINDOW | {"Casing": "Casing", "Style": "stool and apron"}]),
        None, "Openings!H2", "assembly-incomplete", "no stool and no apron",
    ),
    "stool without the firm's horn": (
        book(Openings=[WINDOW]), with_settings(stool_horn=None), "Openings!I2", "assembly-incomplete", "Stool horn",
    ),
    "casing in a Trim row": (
        book(Trim=[*CROWNS, trim("Casing")]), None, "Trim!C3", "trim-on-nothing", "Casing column",
    ),
    "casing past a corner": (
        book(Openings=[DOOR | {"From left": "3"}]), None, "Openings!D2", "casing-outside-wall", "past the corner",
    ),
    "casing past the ceiling": (
        book(Openings=[DOOR | {"Height": "95"}]), None, "Openings!F2", "casing-outside-wall", "past the ceiling",
    ),
    "casing below the floor": (
        book(Openings=[WINDOW | {"Sill height": "2"}]), None, "Openings!G2", "casing-outside-wall", "past the floor",
    ),
    "window without a sill height": (
        book(Openings=[opening("B", "window", "40", "36", "80", casing="Casing")]),
        None, "Openings!G2", "casing-outside-wall", "past the floor",
    ),
    "casings that run into each other": (
        book(Openings=[DOOR, DOOR | {"From left": "78"}]), None, "Openings!D3", "openings-overlap", "trim around the door",
    ),
    "two crowns on a wall": (
        book(Trim=[*CROWNS, trim("Three-piece crown", "A")]), None, "Trim!C3", "layers-collide", "already has a crown",
    ),
    "rail without a height": (
        book(Trim=[*CROWNS, trim("Chair rail")]), None, "Trim!F3", "value-missing", "height",
    ),
    "rail above the ceiling": (
        book(Trim=[*CROWNS, trim("Chair rail", height="9'")]), None, "Trim!C3", "assembly-does-not-fit", "8′",
    ),
    "cap without a base": (
        book(Trim=[trim("Odd")]), with_assembly((Position.CAP, "BC-118")), "Trim!C2", "trim-on-nothing", "no base",
    ),
    "crown past its boards": (
        book(Trim=[trim("Odd")]), with_assembly((Position.CEILING, "SH-075"), (Position.CROWN, "CR-458")),
        "Trim!C2", "assembly-does-not-fit", "past the edge of the ceiling layer",
    ),
    "nothing left of a wall": (
        book(Walls=walls(*ALCOVE), Trim=[trim("Three-piece crown")]),
        None, "Walls!C5", "piece-cannot-be-cut", "Nothing is left of the",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", ERRORS)
def test_a_fault_is_found_at_its_cell_and_alone(name):
    """One thing wrong refuses the sheet with one error, at the cell to look at, with words that help."""
    data, price_list, cell, code, words = ERRORS[name]
    found = {key: text for key, text in told(data, price_list).items() if key[0] == "error"}
    assert list(found) == [("error", cell, code)]
    assert words in found["error", cell, code]


BAY = (
    ("A", "40", "outside", "135"), ("B1", "34", "inside", "135"), ("B2", "60", "inside", "135"),
    ("B3", "34", "outside", "135"), ("C", "40"), ("D", "13' 2\""), ("E", "15' 8 1/16\""), ("F", "13' 2\""),
)  # fmt: skip
BREAST = (
    ("A", "5'"), ("B", "14", "outside"), ("C", "4'", "outside"), ("D", "14"),
    ("E", "5'"), ("F", "12'"), ("G", "14'"), ("H", "12'"),
)  # fmt: skip

REMARKS = {
    "profiles that do not meet": (
        book(Trim=[trim("Plain crown", "A;B"), trim("Three-piece crown", "C;D")]),
        None, {("warning", "Walls!D3", "profiles-do-not-meet"), ("warning", "Walls!D5", "profiles-do-not-meet")},
    ),
    "crown interrupted": (
        book(Openings=[opening("B", "cabinet", "20", "36", "8'")]), None,
        {("warning", "Openings!F2", "crown-interrupted")},
    ),
    "short pieces of a breast": (
        book(Walls=walls(*BREAST), Trim=[trim("Base and shoe")]), None,
        {("warning", "Walls!C3", "piece-short"), ("warning", "Walls!C5", "piece-short")},
    ),
    "a short head casing": (
        book(Openings=[DOOR | {"Width": "8"}]), None, {("warning", "Openings!E2", "piece-short")},
    ),
    "joists unknown": (
        book(Rooms=[{"Room": "Parlor", "Ceiling height": "8'"}], Trim=[trim("Three-piece crown")]), None,
        {("warning", "Rooms!E2", "backing-unknown")},
    ),
    "studs unknown": (
        book(Walls=[*unknown_studs(walls(RECTANGLE[0])), *walls(*RECTANGLE[1:])]), None,
        {("warning", "Walls!F2", "backing-unknown")},
    ),
    "steel studs": (
        book(Walls=test_rooms.with_row(walls(*RECTANGLE), 3, framing="steel")), None,
        {("warning", "Walls!I5", "backing-not-wood")},
    ),
    "masonry": (
        book(Walls=test_rooms.with_row(walls(*RECTANGLE), 0, framing="masonry")), None,
        {("warning", "Walls!I2", "backing-not-wood")},
    ),
    "a crown mitered all around": (
        book(Trim=[trim("Plain crown", inside_joint="miter")]), None, {("note", "Trim!C2", "miter-may-open")},
    ),
    "saw limits": (
        book(Rooms=[ROOM | {"Joists parallel to": "D"}], Walls=walls(*BAY), Trim=[trim("Plain crown", inside_joint="miter")]),
        with_settings(saw_bevel_limit_deg=30.0), {("note", "Walls!E6", "saw-limit-passed")},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", REMARKS)
def test_a_doubt_is_found_at_its_cell(name):
    """What only needs a look is a warning or note at its cell, and the sheet is priced."""
    data, price_list, expected = REMARKS[name]
    found = set(told(data, price_list))
    assert expected <= found
    assert not [key for key in found if key[0] == "error"]


@pytest.mark.parametrize("wall", "ABCD")
def test_a_cased_door_between_sound_walls_is_no_doubt(wall):
    """A cased door well inside any wall, a window with stool in the next: nothing to say but that their miters move."""
    other = {"A": "B", "B": "C", "C": "D", "D": "A"}[wall]
    found = told(book(Openings=[DOOR | {"Wall": wall}, WINDOW | {"Wall": other}]))
    assert {(severity, code) for severity, _, code in found} == {("note", "miter-may-open")}


def test_every_code_of_rooms_and_takeoff_has_its_sheet():
    """Each code that a module of the two stages names is provoked by a case here or beside."""
    provoked = {code for _, _, code, _ in (*test_rooms.REFUSED.values(), *test_rooms.WARNED.values())}
    provoked |= {code for *_, code, _ in ERRORS.values()}
    provoked |= {code for *_, expected in REMARKS.values() for _, _, code in expected}
    provoked |= {code for _, _, _, code in test_ceiling.CASES.values()}
    assert {str(code) for code in named_in(rooms, takeoff)} - provoked == set()


def named_in(*packages):
    """Codes that stand in the source of packages."""
    files = [file for package in packages for file in Path(package.__path__[0]).glob("*.py")]
    sources = [file.read_text(encoding="utf-8") for file in files]
    return {Code[name] for source in sources for name in re.findall(r"\bCode\.([A-Z_]+)", source)}
