"""Corners rebuilt in three dimensions: pieces cut on a saw of plain vectors and put in place meet without a gap."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.estimate.cuts.pieces import pieces_of
from service.estimate.cuts.scarf import left_scarf, right_scarf, scarf_overlap
from service.estimate.takeoff.corners import against, mitered
from service.estimate.takeoff.model import Edge, Joint, Member, Side
from service.estimate.takeoff.runs import taken_off
from service.estimate.takeoff.saw import (
    Lay,
    lay_of,
    off_square_deg,
    plain_miter_deg,
    sprung_bevel_deg,
    sprung_miter_deg,
)
from service.firm import Position, Shape
from service.problems import Problems
from service.survey import InsideJoint, OpenEnd, OutsideJoint, WindowStyle
from service.units import Length
from tests.invented import PRICE_LIST, TAKEOFF_RULES, assembly, opening, order, profile, rectangle, room, shape, wall
from tests.oracles.on_the_saw import (
    apart,
    blade,
    cut_face,
    dot,
    keeps,
    laid_along,
    laid_around,
    onto_next_wall,
    opposite,
    put_back,
)

THOUSANDTH = 0.001
SNAP = 1 / 64
SPRINGS = (20.0, 30.0, 38.0, 45.0, 52.0, 60.0)
READINGS = (30.0, 45.0, 60.0, 67.5, 90.0, 112.5, 135.0, 170.0)
POSITIONS = (Position.CEILING, Position.WALL, Position.CROWN)


def exact_settings(lay, reading_deg, spring_deg):
    """Miter, bevel and nested miter by the rules, unrounded."""
    plain = plain_miter_deg(reading_deg)
    if lay is Lay.CEILING:
        return plain, 0.0, None
    if lay is Lay.WALL:
        return 0.0, plain, plain
    return sprung_miter_deg(spring_deg, reading_deg), sprung_bevel_deg(spring_deg, reading_deg), plain


def price_list(spring_deg):
    """Two build-ups that differ in the thickness of their wall boards alone."""
    boards = {p.name: p for p in (
        profile("lid", Shape.FLAT, "5 1/2", "3/4"), profile("thick", Shape.FLAT, "7 1/4", "3/4"),
        profile("thin", Shape.FLAT, "7 1/4", "3/8"), profile("sprung", Shape.SPRUNG, "4 5/8", "5/8", spring_deg),
    )}  # fmt: skip
    built = {name: assembly(name, (Position.CEILING, "lid"), (Position.WALL, name), (Position.CROWN, "sprung"))
             for name in ("thick", "thin")}  # fmt: skip
    return replace(
        PRICE_LIST, profiles=PRICE_LIST.profiles | boards, assemblies=PRICE_LIST.assemblies | built
    )  # fmt: skip


def corner_runs(kind, reading_deg, spring_deg, names=("thick", "thick"), joint="miter"):
    """Runs of two walls that meet at one corner, and that corner's interior angle."""
    item = room(wall("A", "10'", kind, reading_deg), wall("B", "10'", "open"))
    orders = [order(name, (letter,), inside_joint=InsideJoint(joint)) for name, letter in zip(names, "AB", strict=True)]
    plan = shape(item, Problems())
    runs = taken_off((plan,), orders, price_list(spring_deg), TAKEOFF_RULES, Problems())
    return {(run.wall, run.position): run for run in runs}, plan.interior_deg[0]


def ways(lay):
    """Lying flat, and standing against the fence where there is such a way."""
    return (False,) if lay is Lay.CEILING else (False, True)


def cut(run, side, degrees, at, *, nested):
    """Cut face and kept-side normal of one end, by its hand and these settings, the long point `at`."""
    end, laid = (run.left if side is Side.LEFT else run.right), laid_along(run)
    hand = end.nested_hand if nested else end.hand
    miter, bevel, upright = degrees
    normal = blade(hand, upright, 0.0) if nested else blade(hand, miter, bevel)
    normal = put_back(laid, hand, normal, nested=nested)
    assert keeps(laid, side, normal)
    return cut_face(laid, end.long_edge, at, normal), normal


def rebuilt_exactly(kind, reading_deg, spring_deg, position, names, *, nested):
    """Largest distance between the two cut faces' corresponding points, and how far from opposed their blades are."""
    runs, interior = corner_runs(kind, reading_deg, spring_deg, names)
    one, two = runs["A", position], runs["B", position]
    degrees = exact_settings(lay_of(position), reading_deg, spring_deg)
    own, other = (one.near, one.far), (two.near, two.far)
    faces = []
    for run, side, mine, mate in ((one, Side.RIGHT, own, other), (two, Side.LEFT, other, own)):
        end = run.right if side is Side.RIGHT else run.left
        told = (end.miter_deg, end.bevel_deg, end.nested_miter_deg)
        assert told == tuple(None if v is None else round(v, 2) for v in degrees)
        back = float(mitered(interior, mine, mate).least)
        faces.append(cut(run, side, degrees, -back if side is Side.RIGHT else back, nested=nested))
    (points, normal), (others, other_normal) = faces
    (facing,) = onto_next_wall([other_normal], interior)
    return apart(points, onto_next_wall(others, interior)), math.dist(normal, opposite(facing)), points


@pytest.mark.parametrize("kind", ["inside", "outside"])
@pytest.mark.parametrize("reading", READINGS)
@pytest.mark.parametrize("position", POSITIONS)
def test_two_pieces_meet_on_the_corners_plane(position, reading, kind):
    """Cut flat and nested, put in place: the cut faces coincide to 1/1000", on the upright plane that halves the corner."""
    for spring in SPRINGS if position is Position.CROWN else (38.0,):
        for nested in ways(lay_of(position)):
            gap, lean, points = rebuilt_exactly(kind, reading, spring, position, ("thick", "thick"), nested=nested)
            assert gap < THOUSANDTH
            assert lean < 1e-9
            interior = reading if kind == "inside" else 360.0 - reading
            bisector = math.radians(180.0 + interior / 2)  # from the corner into the room, wall A along −x
            across = (math.sin(bisector), -math.cos(bisector), 0.0)
            assert max(abs(dot(point, across)) for point in points) < THOUSANDTH


@settings(max_examples=60, deadline=None)
@given(
    kind=st.sampled_from(["inside", "outside"]),
    reading=st.floats(30.0, 170.0),
    spring=st.floats(20.0, 60.0),
    names=st.sampled_from([("thick", "thin"), ("thin", "thick"), ("thin", "thin")]),
)
def test_any_crown_meets_its_neighbor(kind, reading, spring, names):
    """Any spring angle 20–60, any reading 30–170, wall boards of unlike thickness: no gap past 1/1000", flat or nested."""
    for nested in (False, True):
        gap, lean, _ = rebuilt_exactly(kind, reading, spring, Position.CROWN, names, nested=nested)
        assert gap < THOUSANDTH
        assert lean < 1e-9


@pytest.mark.parametrize("kind", ["inside", "outside"])
@pytest.mark.parametrize("reading", READINGS)
@pytest.mark.parametrize("position", POSITIONS)
def test_printed_settings_and_lengths_meet_within_their_rounding(position, reading, kind):
    """As printed, degrees to 0.01 and lengths to 1/64": the faces meet within what that rounding can move a point.

    Each long point may stand 1/128" off along its wall; a point r across from it moves r·0.005° / sin²(c/2), and by
    as much again for the tilt.
    """
    runs, interior = corner_runs(kind, reading, 38.0)
    one, two = runs["A", position], runs["B", position]
    section = laid_along(one).section
    across = max(math.dist(a, b) for a in section for b in section)
    within = SNAP + 4 * across * math.radians(0.005) / math.sin(math.radians(reading / 2)) ** 2
    for nested in ways(lay_of(position)):
        degrees = [(e.miter_deg, e.bevel_deg, e.nested_miter_deg) for e in (one.right, two.left)]
        points, _ = cut(one, Side.RIGHT, degrees[0], float(one.cut_start + one.cut_length) - 120.0, nested=nested)
        others, _ = cut(two, Side.LEFT, degrees[1], float(two.cut_start), nested=nested)
        assert apart(points, onto_next_wall(others, interior)) < within


def test_a_wrong_hand_does_not_meet():
    """The check can fail: either end swung, tilted, turned or kept the other way leaves a gap or keeps the offcut."""
    runs, interior = corner_runs("inside", 90.0, 38.0)
    one, two = runs["A", Position.CROWN], runs["B", Position.CROWN]
    degrees, back = (
        exact_settings(Lay.SPRUNG, 90.0, 38.0),
        float(mitered(interior, (one.near, one.far), (two.near, two.far)).least),
    )
    others, _ = cut(two, Side.LEFT, degrees, back, nested=False)
    right, laid = one.right.hand, laid_along(one)
    wrongs = [
        replace(right, swing=right.swing.opposite), replace(right, tilt=right.tilt.opposite),
        replace(right, fence_edge=Edge.BOTTOM), replace(right, keep=right.keep.opposite),
    ]  # fmt: skip
    for wrong in wrongs:
        normal = put_back(laid, wrong, blade(wrong, *degrees[:2]))
        points = cut_face(laid, one.right.long_edge, -back, normal)
        gap = apart(points, onto_next_wall(others, interior))
        assert gap > 0.1 or not keeps(laid, Side.RIGHT, normal)


@pytest.mark.parametrize("kind", ["inside", "outside"])
@pytest.mark.parametrize("position", [Position.WALL, Position.CROWN])
def test_a_saw_that_tilts_right_makes_the_same_cut(position, kind):
    """As the convention says: the other edge to the fence, the same swing, the other side of the blade kept."""
    runs, _ = corner_runs(kind, 75.0, 38.0)
    for run, side in ((runs["A", position], Side.RIGHT), (runs["B", position], Side.LEFT)):
        end, laid = (run.right if side is Side.RIGHT else run.left), laid_along(run)
        other_edge = Edge.TOP if end.hand.fence_edge is Edge.BOTTOM else Edge.BOTTOM
        turned = replace(end.hand, fence_edge=other_edge, tilt=Side.RIGHT, keep=end.hand.keep.opposite)
        left_saw = put_back(laid, end.hand, blade(end.hand, end.miter_deg, end.bevel_deg))
        right_saw = put_back(laid, turned, blade(turned, end.miter_deg, end.bevel_deg))
        assert right_saw == pytest.approx(left_saw)


@pytest.mark.parametrize("reading", [60.0, 80.0, 95.0, 120.0, 150.0])
@pytest.mark.parametrize("kind", ["inside", "outside"])
@pytest.mark.parametrize("position", [Position.CEILING, Position.WALL])
def test_butted_boards_lie_flat_against_what_they_meet(position, kind, reading):
    """Every point of a butted end's cut stands at one offset from the next wall: the neighbor's face, or the face behind."""
    item = room(wall("A", "10'", kind, reading), wall("B", "10'", "open"))
    plan = shape(item, Problems())
    trim = [order("lidded" if kind == "outside" else "thick", inside_joint=InsideJoint.BUTT)]
    prices = price_list(38.0)
    butted = replace(prices.assemblies["thick"], name="lidded")
    layers = tuple(
        replace(layer, outside_joint=OutsideJoint.BUTT)
        for layer in butted.layers
        if layer.position is not Position.CROWN
    )
    prices = replace(prices, assemblies=prices.assemblies | {"lidded": replace(butted, layers=layers)})
    runs = {(r.wall, r.position): r for r in taken_off((plan,), trim, prices, TAKEOFF_RULES, Problems())}
    one, two = runs["A", position], runs["B", position]
    interior = plan.interior_deg[0]
    lean = off_square_deg(interior)
    degrees = (lean, 0.0, None) if position is Position.CEILING else (0.0, lean, lean)
    for run, side, stop in ((one, Side.RIGHT, two.near), (two, Side.LEFT, one.far)):
        end = run.right if side is Side.RIGHT else run.left
        assert end.joint is Joint.BUTT
        back = float(against(interior, (run.near, run.far), stop).least)
        for nested in ways(lay_of(position)):
            points, _ = cut(run, side, degrees, -back if side is Side.RIGHT else back, nested=nested)
            theirs = onto_next_wall(points, interior if side is Side.LEFT else -interior)
            assert [-y for _, y, _ in theirs] == pytest.approx([float(stop)] * 4, abs=THOUSANDTH)


@pytest.mark.parametrize("reading", [60.0, 75.0, 105.0, 140.0])
def test_a_crown_run_against_a_bare_skew_wall_lies_flat_on_it(reading):
    """Without a counterpart on the next wall a crown's compound cut, flat or nested, is that wall's plane."""
    item = room(wall("A", "10'", "inside", reading), wall("B", "10'", "open"))
    plan = shape(item, Problems())
    runs = taken_off((plan,), [order("crown alone", ("A",))], PRICE_LIST, TAKEOFF_RULES, Problems())
    (run,) = runs
    assert run.right.joint is Joint.BUTT
    back = float(against(reading, (run.near, run.far), Length.of(0)).least)
    degrees = exact_settings(Lay.SPRUNG, 180.0 - 2 * off_square_deg(reading), 38.0)
    assert run.right.miter_deg == round(degrees[0], 2)
    assert run.right.bevel_deg == round(degrees[1], 2)
    for nested in (False, True):
        points, _ = cut(run, Side.RIGHT, degrees, -back, nested=nested)
        assert max(abs(y) for _, y, _ in onto_next_wall(points, -reading)) < THOUSANDTH


@pytest.mark.parametrize("angle", [22.5, 45.0, 60.0])
@pytest.mark.parametrize("position", POSITIONS)
def test_the_two_halves_of_a_scarf_lie_on_each_other(position, angle):
    """Cut by their hands and pushed together over the overlap, the two faces of a scarf coincide."""
    run = corner_runs("inside", 90.0, 38.0)[0]["A", position]
    laid, lay = laid_along(run), lay_of(position)
    back = {Lay.SPRUNG: laid.section[3], Lay.CEILING: laid.section[2], Lay.WALL: laid.section[0]}[lay]
    face = {Lay.SPRUNG: laid.section[0], Lay.CEILING: laid.section[0], Lay.WALL: laid.section[1]}[lay]
    laid = replace(laid, near=back, far=face)
    half = float(scarf_overlap(run.profile.thickness, angle)) / 2
    faces = []
    for end, side, at in ((right_scarf(angle, lay), Side.RIGHT, half), (left_scarf(angle, lay), Side.LEFT, -half)):
        normal = put_back(laid, end.hand, blade(end.hand, end.miter_deg, end.bevel_deg))
        assert keeps(laid, side, normal)
        faces.append(cut_face(laid, end.long_edge, at, normal))
    assert apart(*faces) < THOUSANDTH


@pytest.mark.parametrize("trim", ["crown alone", "rail", "ceiling board"])
def test_a_return_closes_the_end_it_turns(trim):
    """A run's returned end and its return piece meet like an outside 90 whose finished face stands at the wall's end."""
    item = room(wall("A", "10'", "open"))
    plan = shape(item, Problems())
    more = {"ends": OpenEnd.RETURN} | ({"height": Length.of(36)} if trim == "rail" else {})
    (run,) = taken_off((plan,), [order(trim, **more)], PRICE_LIST, TAKEOFF_RULES, Problems())
    first, main, last = pieces_of((run,), {}, 45.0)
    corner, back = 120.0 - float(run.far), float(mitered(270.0, *[(run.near, run.far)] * 2).least)
    degrees = exact_settings(lay_of(run.position), 90.0, run.profile.spring_angle_deg)
    pairs = [((main, Side.RIGHT), (last, Side.LEFT)), ((first, Side.RIGHT), (main, Side.LEFT))]
    for (one, _), (two, _) in pairs:
        as_runs = replace(run, right=one.right), replace(run, left=two.left)
        for nested in ways(lay_of(run.position)):
            points, _ = cut(as_runs[0], Side.RIGHT, degrees, -back, nested=nested)
            others, _ = cut(as_runs[1], Side.LEFT, degrees, back, nested=nested)
            assert apart(points, onto_next_wall(others, 270.0)) < THOUSANDTH
            assert corner + max(x for x, _, _ in points) <= 120.0 + THOUSANDTH


@pytest.mark.parametrize("kind", ["door", "window"])
def test_casing_miters_meet_around_an_opening(kind):
    """Legs, head and the sill of a picture frame, cut by their hands, meet at every mitered corner."""
    more = {"sill_height": Length.of(30), "style": WindowStyle.PICTURE_FRAME} if kind == "window" else {}
    item = rectangle(openings=(opening("A", kind, "40", "32", "80", casing="casing", **more),))
    plan = shape(item, Problems())
    runs = {run.member: run for run in taken_off((plan,), (), PRICE_LIST, TAKEOFF_RULES, Problems())}
    head, foot = runs[Member.HEAD], runs.get(Member.SILL)
    width = float(head.cut_length) - float(head.profile.width)
    right_leg = replace(runs[Member.RIGHT_LEG], start=Length.measured(float(head.start) + width))
    corners = [(runs[Member.LEFT_LEG], Side.RIGHT, head, Side.LEFT), (right_leg, Side.RIGHT, head, Side.RIGHT)]
    if foot:
        corners += [(runs[Member.LEFT_LEG], Side.LEFT, foot, Side.LEFT), (right_leg, Side.LEFT, foot, Side.RIGHT)]
    assert len(corners) == (4 if kind == "window" else 2)
    for one, side, two, other_side in corners:
        faces = []
        for run, which in ((one, side), (two, other_side)):
            end, laid = (run.left if which is Side.LEFT else run.right), laid_around(run)
            normal = put_back(laid, end.hand, blade(end.hand, end.miter_deg, end.bevel_deg))
            assert keeps(laid, which, normal)
            faces.append(cut_face(laid, end.long_edge, 0.0 if which is Side.LEFT else float(run.cut_length), normal))
        assert apart(*faces) < THOUSANDTH


def test_every_end_of_a_whole_room_has_the_hand_it_needs():
    """A hand stands beside every setting that is not zero, and nowhere else."""
    runs, _ = corner_runs("inside", 100.0, 38.0, joint="cope")
    for run in runs.values():
        for end in (run.left, run.right):
            assert (end.hand is not None) == bool(end.miter_deg or end.bevel_deg)
            assert (end.nested_hand is not None) == bool(end.nested_miter_deg)
            if end.hand:
                assert (end.hand.swing is not None) == bool(end.miter_deg)
                assert (end.hand.tilt is not None) == bool(end.bevel_deg)
