"""Trim around openings: members, lengths, where it does not fit; hand-worked from a 3¼" casing and a 3/16" reveal."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.estimate.takeoff.model import Edge, Joint, Member
from service.firm import Position
from service.problems import Code, Problems, Severity
from service.survey import Framing, WindowStyle
from tests.invented import PRICE_LIST, SETTINGS, inches, opening, order, rectangle, runs_in

FIRM = replace(SETTINGS, stool_horn=inches("3/4"))
NO_HORN = SETTINGS
STOOL = {"sill_height": inches("30"), "style": WindowStyle.STOOL_AND_APRON}
FRAME = {"sill_height": inches("30"), "style": WindowStyle.PICTURE_FRAME}


def around(item, *orders, firm=FIRM, problems=None):
    """Runs around the one opening of a 12' × 14' room, by member, side 1 alone."""
    runs = runs_in(rectangle(openings=(item,)), *orders, firm=firm, problems=problems)
    return {run.member: run for run in runs if not run.is_along_wall and run.side == 1}


def lengths(runs):
    """Long and short point of each member. [in]"""
    return {str(member): (float(run.cut_length), float(run.cut_short)) for member, run in runs.items()}


def faults(*openings, orders=(), firm=FIRM, room=rectangle):
    """Code, severity and pointer of every problem of a room with these openings."""
    problems = Problems()
    numbered = tuple(replace(o, pointer=f"/rooms/0/openings/{n}") for n, o in enumerate(openings))
    runs_in(room(openings=numbered), *orders, firm=firm, problems=problems)
    return [(p.code, p.severity, p.pointer) for p in problems]


def errors(*openings, **more):
    """The same, errors alone, without severity."""
    return [(code, place) for code, severity, place in faults(*openings, **more) if severity is Severity.ERROR]


def test_a_mitered_door():
    """32" × 80": head 32 + 2·(3/16 + 3¼) = 38⅞, inner 32⅜; legs 80 + 3/16 + 3¼ = 83 7/16, inner 80 3/16."""
    assert lengths(around(opening("A", "door", "50", "32", "80", casing="casing"))) == {
        "left leg": (83.4375, 80.1875), "head": (38.875, 32.375), "right leg": (83.4375, 80.1875),
    }  # fmt: skip


def test_a_butted_door():
    """The head lies on legs of 80 3/16, square, and is as long as the casing is wide out to out."""
    runs = around(opening("A", "door", "50", "32", "80", casing="butted casing"))
    assert lengths(runs) == {
        "left leg": (80.1875, 80.1875), "head": (38.875, 38.875), "right leg": (80.1875, 80.1875),
    }  # fmt: skip
    assert {end.joint for run in runs.values() for end in (run.left, run.right)} == {Joint.BUTT}


def test_a_picture_frame():
    """36" between jambs, 54" from sill to head: 36 + 6⅞ and 54 + 6⅞ at the long points, mitered at all four corners."""
    runs = around(opening("A", "window", "50", "36", "84", casing="casing", **FRAME))
    across, up = (42.875, 36.375), (60.875, 54.375)
    assert lengths(runs) == {"left leg": up, "head": across, "right leg": up, "sill": across}
    assert {end.joint for run in runs.values() for end in (run.left, run.right)} == {Joint.MITER}
    assert {end.long_edge for run in runs.values() for end in (run.left, run.right)} == {Edge.OUTER}


def test_a_window_on_stool_and_apron():
    """Legs from the stool: 54 + 3 7/16; apron 42⅞ out to out; stool with two ¾" horns 44⅜; its top at the sill's height."""
    runs = around(opening("A", "window", "50", "36", "84", casing="stool casing", **STOOL))
    assert lengths(runs) == {
        "left leg": (57.4375, 54.1875), "head": (42.875, 36.375), "right leg": (57.4375, 54.1875),
        "stool": (44.375, 44.375), "apron": (42.875, 42.875),
    }  # fmt: skip
    assert (runs[Member.LEFT_LEG].left.joint, runs[Member.LEFT_LEG].right.joint) == (Joint.BUTT, Joint.MITER)
    assert runs[Member.STOOL].high == runs[Member.LEFT_LEG].low == inches("30")
    assert runs[Member.APRON].high == runs[Member.STOOL].low == inches("29 1/4")
    assert runs[Member.APRON].low == inches("26 3/4")


@pytest.mark.parametrize(
    ("casing", "style", "members"),
    [
        ("casing", None, {"sill"}),
        ("stool casing", None, {"stool", "apron"}),
        ("stool casing", WindowStyle.PICTURE_FRAME, {"sill"}),
        ("stool casing", WindowStyle.STOOL_AND_APRON, {"stool", "apron"}),
        ("casing on plinths", WindowStyle.PICTURE_FRAME, {"sill"}),
    ],
)
def test_style_and_assembly_tell_how_a_window_is_trimmed(casing, style, members):
    """Style wins; left blank, an assembly with a stool makes a stool, another a frame; a window has no plinths."""
    runs = around(opening("A", "window", "50", "36", "84", casing=casing, sill_height=inches("30"), style=style))
    assert set(map(str, runs)) == {"left leg", "head", "right leg"} | members


@pytest.mark.parametrize("kind", ["door", "cased opening"])
def test_doors_and_cased_openings_stand_on_plinths_where_the_assembly_has_them(kind):
    """A 6" block on a wall without base; ½" above a 5¼" base, which dies into the casing above it."""
    item = opening("A", kind, "50", "32", "80", casing="casing on plinths")
    alone, based = around(item), around(item, order("base"))
    assert [float(runs[Member.LEFT_PLINTH].length) for runs in (alone, based)] == [6.0, 5.75]
    assert [float(runs[Member.RIGHT_LEG].length) for runs in (alone, based)] == [83.4375 - 6, 83.4375 - 5.75]
    assert based[Member.LEFT_PLINTH].position is Position.PLINTH


def test_a_block_is_not_warned_of_as_a_short_piece():
    """A plinth block is meant to be short; a leg of a low opening is not."""
    door = opening("A", "door", "50", "32", "80", casing="casing on plinths")
    assert faults(door) == []
    low = opening("A", "cased opening", "50", "32", "20", casing="casing on plinths")
    assert set(faults(low)) == {(Code.PIECE_SHORT, Severity.WARNING, "/rooms/0/openings/0/height")}


def test_both_sides_are_cased_alike():
    """Sides 2: every member twice, side by side, numbered apart."""
    item = opening("A", "cased opening", "50", "60", "82", casing="casing", sides=2)
    runs = [run for run in runs_in(rectangle(openings=(item,)), firm=FIRM) if not run.is_along_wall]
    assert [(str(run.member), run.side) for run in runs] == [
        (member, side) for side in (1, 2) for member in ("left leg", "head", "right leg")
    ]
    assert len({run.number for run in runs}) == 6
    assert [run.length for run in runs[:3]] == [run.length for run in runs[3:]]


def test_casing_is_never_spliced_and_points_at_its_opening():
    """No joint position; the opening's row is where it came from; its wood is known without studs."""
    run = around(opening("A", "door", "50", "32", "80", casing="casing"))[Member.HEAD]
    assert (run.splice_at, run.trim_pointer, run.opening) == ((), "/rooms/0/openings/0", 1)
    assert run.backing.is_continuous
    assert run.start == inches("50") - inches("3 7/16")


def test_casing_on_steel_has_no_wood():
    """Behind steel studs a casing's nails hold in the jamb alone, and the wall is warned of."""
    item = rectangle(openings=(opening("A", "door", "50", "32", "80", casing="casing"),))
    walls = (replace(item.walls[0], framing=Framing.STEEL), *item.walls[1:])
    problems = Problems()
    runs = runs_in(replace(item, walls=walls), problems=problems)
    assert not any(run.backing.is_wood for run in runs)
    assert [(p.code, p.pointer) for p in problems] == [(Code.BACKING_NOT_WOOD, "/walls/A/framing")]


def test_casing_alone_asks_for_no_studs():
    """A wall with nothing but a casing is not warned of for studs that are not known."""
    item = rectangle(openings=(opening("A", "door", "50", "32", "80", casing="casing"),))
    walls = tuple(replace(wall, studs=replace(wall.studs, first=None)) for wall in item.walls)
    problems = Problems()
    runs_in(replace(item, walls=walls), problems=problems)
    assert list(problems) == []


@pytest.mark.parametrize(
    ("casing", "missing"), [("base", "casing"), ("casing", "stool and no apron"), ("stool without apron", "apron")]
)
def test_an_assembly_that_lacks_a_member_is_refused(casing, missing):
    """A window on a stool takes casing, stool and apron; what is missing is named at Casing."""
    problems = Problems()
    item = opening("A", "window", "50", "36", "84", casing=casing, **STOOL)
    assert around(item, problems=problems) == {}
    (problem,) = problems.errors
    assert (problem.code, problem.pointer) == (Code.ASSEMBLY_INCOMPLETE, "/rooms/0/openings/0/casing")
    assert f"no {missing}" in problem.detail


def test_a_stool_needs_the_firms_horn():
    """Without Stool horn on the price list a stool cannot be measured: said at Style, naming the price list's cell."""
    problems = Problems()
    around(opening("A", "window", "50", "36", "84", casing="stool casing", **STOOL), firm=NO_HORN, problems=problems)
    (problem,) = problems
    assert (problem.code, problem.pointer) == (Code.ASSEMBLY_INCOMPLETE, "/rooms/0/openings/0/style")
    assert "Stool horn on the Firm tab" in problem.help


@pytest.mark.parametrize(
    ("item", "member"),
    [
        (opening("A", "door", "3 3/8", "32", "80", casing="casing"), "from_left"),
        (opening("A", "door", "108 5/8", "32", "80", casing="casing"), "from_left"),
        (opening("A", "door", "50", "32", "92 5/8", casing="casing"), "height"),
        (opening("A", "window", "4", "36", "84", casing="stool casing", **STOOL), "from_left"),
        (opening("A", "window", "50", "36", "84", casing="casing", sill_height=inches("3 3/8")), "sill_height"),
        (opening("A", "window", "50", "36", "84", casing="stool casing", sill_height=inches("3 1/8")), "sill_height"),
        (opening("A", "window", "50", "36", "84", casing="casing"), "sill_height"),
    ],
    ids=["left corner", "right corner", "ceiling", "horn", "frame to floor", "apron to floor", "no sill height"],
)
def test_trim_that_reaches_past_its_wall_is_refused(item, member):
    """3 7/16" of reveal and casing need room at both corners, under the ceiling and above the floor; a horn ¾" more."""
    assert errors(item) == [(Code.CASING_OUTSIDE_WALL, f"/rooms/0/openings/0/{member}")]


@pytest.mark.parametrize(
    "item",
    [
        opening("A", "door", "3 7/16", "32", "80", casing="casing"),
        opening("A", "door", "108 9/16", "32", "80", casing="casing"),
        opening("A", "door", "50", "32", "92 9/16", casing="casing"),
        opening("A", "window", "4 3/16", "36", "84", casing="stool casing", **STOOL),
        opening("A", "window", "50", "36", "84", casing="casing", sill_height=inches("3 7/16")),
        opening("A", "window", "50", "36", "84", casing="stool casing", sill_height=inches("3 1/4")),
    ],
    ids=["left corner", "right corner", "ceiling", "horn", "frame to floor", "apron to floor"],
)
def test_trim_that_just_fits_is_taken(item):
    """The same trim with its edge on the corner, the ceiling or the floor is no fault."""
    assert faults(item) == []


def test_an_opening_outside_its_wall_is_told_once():
    """A door past the wall's end is the opening's fault; its casing adds none."""
    assert errors(opening("A", "door", "120", "32", "80", casing="casing")) == [
        (Code.OPENING_OUTSIDE_WALL, "/rooms/0/openings/0/from_left")
    ]


def test_casings_that_run_into_each_other_are_refused():
    """Two cased doors 6⅞" apart touch and pass; an eighth nearer and the second is at fault."""
    first = opening("A", "door", "10", "32", "80", casing="casing")
    near, apart = (opening("A", "door", text, "32", "80", casing="casing") for text in ("48 3/4", "48 7/8"))
    assert errors(first, apart) == []
    assert errors(first, near) == [(Code.OPENINGS_OVERLAP, "/rooms/0/openings/1/from_left")]
    assert errors(near, first) == [(Code.OPENINGS_OVERLAP, "/rooms/0/openings/0/from_left")]


def test_a_casing_is_compared_with_every_opening_beside_it():
    """A wide window over a low cabinet hides no clash with the door after both: pairs, not neighbors, are looked at."""
    window = opening("A", "window", "10", "60", "84", casing="casing", **FRAME)
    cabinet = opening("A", "cabinet", "20", "20", "20")
    door = opening("A", "door", "74", "32", "80", casing="casing")
    assert errors(window, cabinet, door) == [(Code.OPENINGS_OVERLAP, "/rooms/0/openings/2/from_left")]


def test_the_trim_of_a_window_over_a_cabinet_needs_its_room():
    """An apron that reaches down to 26¾" clears a cabinet of 26" and runs into one of 28"."""
    window = opening("A", "window", "50", "36", "84", casing="stool casing", **STOOL)
    low, high = (opening("A", "cabinet", "50", "36", text) for text in ("26", "28"))
    assert errors(low, window) == []
    assert errors(high, window) == [(Code.OPENINGS_OVERLAP, "/rooms/0/openings/0/from_left")]


def test_overlapping_openings_are_told_once():
    """Two doors that overlap by themselves are one fault, not a second for their casings."""
    first, second = (opening("A", "door", text, "32", "80", casing="casing") for text in ("10", "30"))
    assert errors(first, second) == [(Code.OPENINGS_OVERLAP, "/rooms/0/openings/1/from_left")]


def test_a_rail_is_cut_by_an_apron_in_its_way():
    """An apron reaches down to 26¾": a rail up to there passes under it, one ¾" higher stops on both sides."""
    window = opening("A", "window", "50", "36", "84", casing="stool casing", **STOOL)
    item = rectangle(openings=(window,))
    for height, parts in (("27 1/2", 2), ("26 3/4", 1)):
        runs = runs_in(item, order("rail", height=inches(height)), firm=FIRM)
        assert len([run for run in runs if run.wall == "A" and run.position is Position.RAIL]) == parts


def test_a_crown_that_an_opening_reaches_into_is_interrupted_with_a_warning():
    """A 4⅝" crown hangs 3.645" down from 96": a head at 88¾" with 3 7/16" of trim reaches 92 3/16", below it; 89¼" into it."""
    crown = (order("crown alone"),)
    below, into = (opening("A", "door", "50", "32", text, casing="casing") for text in ("88 3/4", "89 1/4"))
    assert faults(below, orders=crown) == []
    assert faults(into, orders=crown) == [(Code.CROWN_INTERRUPTED, Severity.WARNING, "/rooms/0/openings/0/height")]
    parts = [
        run
        for run in runs_in(rectangle(openings=(into,)), *crown)
        if run.wall == "A" and run.position is Position.CROWN
    ]
    assert len(parts) == 2
    assert parts[0].right.joint is parts[1].left.joint is Joint.BUTT


def test_a_casing_in_a_trim_row_is_refused():
    """Trim rows go along walls: a casing there would price nothing and says where it belongs."""
    problems = Problems()
    runs = runs_in(rectangle(), order("casing"), problems=problems)
    (problem,) = problems
    assert (runs, problem.code, problem.pointer) == ((), Code.TRIM_ON_NOTHING, "/trim/casing/assembly")
    assert "Casing column" in problem.help


def test_an_unknown_casing_is_refused_with_the_list():
    """A casing that the price list lacks is a fault at the opening's Casing; help lists what there is."""
    problems = Problems()
    around(opening("A", "door", "50", "32", "80", casing="Grand casing"), problems=problems)
    (problem,) = problems
    assert (problem.code, problem.pointer, problem.found) == (
        Code.ASSEMBLY_UNKNOWN, "/rooms/0/openings/0/casing", "Grand casing",
    )  # fmt: skip
    assert "butted casing" in problem.help
    assert set(PRICE_LIST.assemblies) >= {"butted casing", "casing"}


def test_a_blank_casing_leaves_the_opening_untrimmed():
    """A door without casing takes nothing around it and is no fault."""
    assert around(opening("A", "door", "50", "32", "80")) == {}
