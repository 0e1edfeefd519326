"""The invented ten-room house on paper: what is said of casings and features, and plans that stay readable."""

from __future__ import annotations

import csv
import io
from collections import Counter

import pytest

from service.documents import cut_list_csv, field_sheet_pdf, plan_svg, quote_pdf
from service.documents.openings import cased_words, marks_text, member_words, opening_names
from service.documents.plan_look import CUSTOMER, FIELD
from service.documents.plan_page import standing_studs
from service.documents.plans import plans_by_level
from service.estimate.takeoff.model import Member
from service.problems import Code
from service.survey import OpeningKind
from tests.documents.odd_rooms import drawings, unreadable
from tests.documents.papers import outside, overlaps, text_of
from tests.pipeline.estimates import sample_quote

QUOTE_MARGINS = (54.0, 54.0, 54.0, 54.0)
FIELD_MARGINS = (54.0, 39.6, 39.6, 39.6)


@pytest.fixture(scope="module")
def house():
    """The ten-room house's quote."""
    return sample_quote("ten_rooms")


@pytest.fixture(scope="module")
def quote_paper(house):
    """Its quote."""
    return quote_pdf(house)


@pytest.fixture(scope="module")
def field_paper(house):
    """Its field sheet."""
    return field_sheet_pdf(house)


@pytest.fixture(scope="module")
def said(quote_paper):
    """Text of the quote."""
    return " ".join(text_of(quote_paper))


@pytest.fixture(scope="module")
def walked(field_paper):
    """Text of the field sheet."""
    return " ".join(text_of(field_paper))


def test_the_house_prices_with_one_warning_that_it_should_have(house):
    """The bay's middle wall has no joist over its ceiling board; all else is sound, and pull-through is only noted."""
    assert {(str(item.severity), item.code, item.pointer) for item in house.warnings if item.severity != "note"} == {
        ("warning", Code.OVERHEAD_ON_ADHESIVE_ALONE, "/rooms/0/walls/2")
    }
    assert {item.code for item in house.warnings if item.severity == "note"} == {
        Code.HOLDING_NOT_CHECKED, Code.MITER_MAY_OPEN,
    }  # fmt: skip


def test_scope_counts_what_is_cased_and_hung(said, house):
    """The first page names casing by what it goes around and features in plain words, as counted off the sheet."""
    cased = Counter(o.kind for room in house.rooms for o in room.openings if o.casing)
    doors, windows = cased[OpeningKind.DOOR], cased[OpeningKind.WINDOW]
    assert (doors, windows) == (11, 13)
    assert f"casing around {doors} doors, {windows} windows and 2 cased openings, 1 of them on both sides" in said
    assert "2 ceiling medallions, 1 ceiling light and 1 ceiling fan in 10 rooms" in said


def test_rooms_of_the_price_table_name_their_casing(said):
    """Each room's heading says which casing goes around what; a code is never all that is said of a feature."""
    for words in (
        "Casing, butted head around 5 doors", "Window casing with stool around 3 windows",
        "Casing around 1 cased opening on both sides", "Casing on plinth blocks around 1 door",
        'Ceiling fan, 44", the old one taken down', "Hanging light, five arms",
    ):  # fmt: skip
        assert words in said
    assert "fan-44" not in said


def test_included_says_what_is_hung_and_what_the_electrician_does(said):
    """Hanging and taking down are in the price, wiring is not; jambs are taken as they are."""
    for words in (
        "Hanging the medallion and the light (Dining room) and the medallion and the fan (Back bedroom) is included",
        "so is taking down the old fan (Back bedroom), left at the house.",
        "Wiring, new boxes and permits are not included",
        "where the law asks for a licensed electrician to disconnect or connect, that visit is extra",
        "jamb extensions, planing and new doors are not included",
    ):  # fmt: skip
        assert words in said


def test_cut_list_names_opening_and_member(walked, house):
    """`door 1, left leg`, with the side where both are cased, beside the member's mark, on the plan too."""
    room = next(room for room in house.rooms if room.name == "Hall")
    for run in room.runs:
        if not run.is_along_wall:
            name, _, member = member_words(run, room).partition(", ")
            (mark,) = run.pieces
            assert f"{mark} {run.wall} {name}, {member} · {run.profile}".replace("\N{NO-BREAK SPACE}", " ") in walked
    for words in ("cased opening 1, left leg, side 2", "window 1, stool · ST-350", "door 1, left plinth · PL-375"):
        assert words in walked


def test_openings_are_listed_with_casing_style_and_sides(walked):
    """Size, place, casing and every mark around it; an opening without casing says so."""
    for words in (
        "window 2 B2 48″ × 6′ 10″, sill 26″ 1′ 0″ Window casing with stool, stool and apron, one side",
        "Casing, both sides side 1: left leg", "no casing", "Openings as measured", "The tub.",
    ):  # fmt: skip
        assert words in walked


def test_features_are_listed_and_checked(walked):
    """Size, weight, drop and place in a table, and the checks that belong to each.

    8' ceiling, 11" down: blades at 7' 1"; center 6' from the wall, half of 44" off it: tips at 4' 2".
    """
    for words in (
        "On the ceiling", "Take the old one down first. Box rated for a fan: yes.", "28″ 7 lb 2″ 7′ 0″",
        "blades 7′ 1″ above the floor by the sheet, measured again, tips 4′ 2″ from the nearest wall; box listed for fans",
        "box marked for 18 lb or more", "fan 44″, center 6′ 0″ from the nearest wall",
        "Level line struck for the chair rail, top edge 2′ 10″ above the finished floor",
        "Plinth blocks set first", "Side 2 of 1 opening is in the next room",
    ):  # fmt: skip
        assert words in walked


def test_nothing_leaves_the_margins_or_overlaps(quote_paper, field_paper):
    """On every page of the quote; on the first sixteen of the field sheet."""
    assert outside(quote_paper, *QUOTE_MARGINS) == []
    assert overlaps(quote_paper) == []
    pages = tuple(range(1, 17))
    assert outside(field_paper, *FIELD_MARGINS, pages=pages) == []
    assert overlaps(field_paper, pages=pages) == []


def test_labels_keep_apart_and_within_the_frame(house):
    """Every label of every plan of the house is placed, inside its frame and clear of the others (shapely)."""
    for look in (CUSTOMER, FIELD):
        for drawn in drawings(house, look):
            assert unreadable(drawn) == []


def test_trim_around_openings_is_no_line_along_the_wall(house):
    """Casing marks stand at their opening, never on a trim line; every mark along a wall stands on one."""
    for room in house.rooms:
        pieces = {piece.mark: piece for piece in house.pieces}
        plans = plans_by_level(room, pieces, house.units, FIELD, width_pt=520, most_height_pt=500, tallest_pt=600)
        keys = {label.key for drawn in plans for label in drawn.labels}
        along = {mark for run in room.runs if run.is_along_wall for mark in run.pieces}
        around = {mark for run in room.runs if not run.is_along_wall for mark in run.pieces}
        assert {f"piece {mark}" for mark in along} <= keys
        assert not {f"piece {mark}" for mark in around} & keys


def test_marks_stand_beside_their_opening(house):
    """The hall's plan shows five doors numbered in the sheet's order, each with the marks around it."""
    room = next(room for room in house.rooms if room.name == "Hall")
    svg = plan_svg(house, room.number)
    assert opening_names(room) == tuple(f"door\N{NO-BREAK SPACE}{i}" for i in range(1, 6))
    for place in range(1, 6):
        marks = [mark for run in room.runs if run.opening == place for mark in run.pieces]
        assert len(marks) == 3
        assert marks_text(marks) in svg


@pytest.mark.parametrize(
    ("marks", "text"),
    [
        ([], ""), (["1-07"], "1-07"), (["1-08", "1-09", "1-10"], "1-08…1-10"), (["1-08", "1-10"], "1-08, 1-10"),
        (["1-99", "1-100"], "1-99…1-100"), (["1-02", "2-03"], "1-02, 2-03"),
    ],
)  # fmt: skip
def test_marks_that_follow_each_other_are_drawn_together(marks, text):
    """First and last where none is left out between them, each one elsewhere."""
    assert marks_text(marks) == text


def test_no_stud_is_drawn_in_a_doorway(house):
    """A stud center on the sheet that falls between two jambs is not drawn; the others are."""
    room = next(room for room in house.rooms if room.name == "Hall")
    wall = room.walls[0]
    gaps = [opening for opening in room.openings if opening.wall == wall.name]
    drawn = standing_studs(wall, gaps)
    assert 0 < len(drawn) < len(wall.studs_at)
    hidden = set(wall.studs_at) - set(drawn)
    assert all(any(g.from_left < at < g.from_left + g.width for g in gaps) for at in hidden)


def test_cut_list_rows_for_machines_name_them_too(house):
    """Member and opening are the last two columns; a layer along a wall has no opening."""
    rows = list(csv.DictReader(io.StringIO(cut_list_csv(house).lstrip("\ufeff"), newline="")))
    runs = {run.number: run for room in house.rooms for run in room.runs}
    for row, piece in zip(rows, house.pieces, strict=True):
        assert row["member"] == runs[piece.run].member.value
        assert bool(row["opening"]) is (runs[piece.run].member is not Member.ALONG)


def test_cased_openings_are_counted_in_words(house):
    """The parlor has three windows and a cased opening, cased on both sides."""
    parlor = house.rooms[0]
    assert cased_words(parlor.openings).replace("\N{NO-BREAK SPACE}", " ") == (
        "3 windows and 1 cased opening, 1 of them on both sides"
    )
    assert not cased_words(())
