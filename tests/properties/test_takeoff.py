"""Properties of the takeoff over random rooms."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from service.problems import Problems
from service.survey import CornerKind, InsideJoint
from service.units import Length
from tests.invented import PROFILES, SETTINGS, opening, order, rectangle, room, runs_in, wall

sizes = st.integers(min_value=60, max_value=400).map(lambda n: Length.of(n) / 2)


@st.composite
def ells(draw, legs=sizes):
    """L-shaped rooms on a half-inch grid, all corners square, one outside."""
    b, c, d, e = (draw(legs) for _ in range(4))
    lengths = {"A": c + e, "B": b, "C": c, "D": d, "E": e, "F": b + d}
    return room(
        *(
            replace(wall(name, "1", "outside" if name == "C" else "inside"), length=length)
            for name, length in lengths.items()
        )
    )


def mirrored(item):
    """The room seen in a mirror: walls in reverse, corners moved to the other end, studs counted from it."""
    walls = []
    count = len(item.walls)
    for place in range(count - 1, -1, -1):
        before = item.walls[place - 1]
        seen = item.walls[place]
        studs = replace(seen.studs, first=Length((seen.length - seen.studs.first).inches % 16))
        walls.append(replace(seen, corner=before.corner, angle_deg=before.angle_deg, studs=studs))
    return replace(item, walls=tuple(walls))


def rotated(item, by):
    """The same room, its list beginning elsewhere."""
    return replace(item, walls=item.walls[by:] + item.walls[:by])


def bill(runs):
    """What is cut: profile, length and joints, counted without names."""
    return Counter(
        (run.profile.name, run.length, run.cut_length, tuple(sorted((run.left.joint, run.right.joint)))) for run in runs
    )


@settings(max_examples=60, deadline=None)
@given(ells(), st.integers(min_value=1, max_value=5))
def test_where_the_list_of_walls_begins_changes_nothing(item, by):
    """Rotating the list of walls gives the same runs, each with the same ends and backing."""
    one, other = (runs_in(each, order("built-up"), order("base cap shoe")) for each in (item, rotated(item, by)))
    kept = [
        {(r.wall, r.position): (r.cut_length, r.left, r.right, r.backing.at, r.splice_at) for r in runs}
        for runs in (one, other)
    ]
    assert kept[0] == kept[1]


@settings(max_examples=60, deadline=None)
@given(ells())
def test_a_mirrored_room_takes_the_same_lengths(item):
    """A mirrored room has the same mitered runs and the same number of copes."""
    orders = order("built-up mitered"), order("crown alone mitered", ())
    assert bill(runs_in(item, orders[0])) == bill(runs_in(mirrored(item), orders[0]))
    copes = [
        sum((run.left.joint, run.right.joint).count("cope") for run in runs_in(each, order("crown alone")))
        for each in (item, mirrored(item))
    ]
    assert copes[0] == copes[1] == sum(w.corner is CornerKind.INSIDE for w in item.walls)


@settings(max_examples=60, deadline=None)
@given(ells(), st.integers(min_value=1, max_value=96))
def test_a_longer_wall_never_gets_less_backing(item, more):
    """Two opposite walls made longer by the same amount never lose studs or length."""
    longer = replace(
        item,
        walls=tuple(replace(w, length=w.length + Length.of(more)) if w.name in {"B", "F"} else w for w in item.walls),
    )
    before, after = (runs_in(each, order("base")) for each in (item, longer))
    for one, other in zip(before, after, strict=True):
        assert other.length >= one.length
        assert len(other.backing.at) >= len(one.backing.at)


@st.composite
def doored_walls(draw):
    """Doors on one 40' wall, cased or not, in order, apart by at least 8"."""
    doors, at = [], Length.of(0)
    for number in range(draw(st.integers(min_value=1, max_value=4))):
        at += Length.of(draw(st.integers(min_value=64, max_value=400))) / 8
        width = Length.of(draw(st.integers(min_value=96, max_value=480))) / 8
        casing = draw(st.sampled_from(["casing", "butted casing", None]))
        item = opening("A", draw(st.sampled_from(["door", "cased opening"])), "0", "1", "80", casing=casing)
        doors.append(replace(item, pointer=f"/rooms/0/openings/{number}", from_left=at, width=width))
        at += width
    return tuple(doors)


@settings(max_examples=50, deadline=None)
@given(doored_walls(), st.sampled_from(["rail", "base"]))
def test_a_run_and_the_openings_it_skips_are_the_wall(doors, name):
    """Rail or base of a wall, with the openings and their casings and reveals between, is as long as the wall."""
    item = rectangle("40'", openings=doors)
    height = Length.of(36) if name == "rail" else None
    runs = runs_in(item, order(name, height=height, inside_joint=InsideJoint.MITER), problems=Problems())
    margin = PROFILES["casing 3"].width + SETTINGS.casing_reveal
    skipped = sum((door.width + (margin * 2 if door.casing else margin * 0) for door in doors), Length.of(0))
    assert sum((run.length for run in runs if run.wall == "A" and run.is_along_wall), skipped) == Length.of(480)
