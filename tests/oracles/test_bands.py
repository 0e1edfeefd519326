"""Rooms of every kind drawn by shapely: layers cover the band along the walls, and meet at their corners."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from service.estimate.takeoff.model import Joint
from service.firm import Position
from service.problems import Problems
from service.survey import InsideJoint
from service.units import Length
from tests.invented import PROFILES, ROOMS, half_wall, inches, order, run_of, runs_in, shape
from tests.oracles.plan_edges import NEAR, band, corners_of, edge_spans, footprint

OFFSETS = ["1/4", "1 1/16", "2.847", "5 1/2", "8"]
SNAP = 1 / 64
closed_rooms = pytest.mark.parametrize("name", ROOMS)
at_offsets = pytest.mark.parametrize("offset", OFFSETS)


def boards(item, offset, joint, assembly="ceiling board"):
    """Ceiling boards of a width all around a room."""
    wide = replace(PROFILES["board 5"], width=inches(offset))
    return runs_in(item, order(assembly, inside_joint=joint), problems=Problems(), profiles=(wide,))


@closed_rooms
@at_offsets
def test_the_far_edges_are_shorter_than_the_walls_by_the_corners(name, offset):
    """Σ(L − far edge at offset o) = 2·o·Σcot(θ/2) over the walls of a closed room; the near edges are the walls. (Geometry.)"""
    plan = shape(ROOMS[name]())
    runs = boards(ROOMS[name](), offset, InsideJoint.MITER)
    near, far = (sum(span[1] - span[0] for span in spans) for spans in zip(*map(edge_spans, runs), strict=True))
    lost = 2 * float(inches(offset)) * sum(1 / math.tan(math.radians(angle / 2)) for angle in plan.interior_deg)
    walls = float(plan.perimeter)
    assert near == pytest.approx(walls, abs=len(runs) * SNAP)
    assert walls - far == pytest.approx(lost, abs=2 * len(runs) * SNAP)


@closed_rooms
@at_offsets
def test_the_far_edges_enclose_what_a_mitered_buffer_does(name, offset):
    """The area inside the far edges of the runs is that of shapely's buffer with mitered joins."""
    plan = shape(ROOMS[name]())
    corners = [corners_of(plan, run)[2] for run in boards(ROOMS[name](), offset, InsideJoint.MITER)]
    sign = 1 if plan.is_island else -1
    outline = Polygon(plan.points).buffer(sign * float(inches(offset)), join_style="mitre", mitre_limit=50)
    assert Polygon(corners).area == pytest.approx(outline.area, rel=2e-4)


@closed_rooms
@pytest.mark.parametrize("offset", ["1/4", "2.847", "8"])
@pytest.mark.parametrize(
    ("joint", "assembly"),
    [
        (InsideJoint.MITER, "ceiling board"),
        (InsideJoint.BUTT, "ceiling board"),
        (InsideJoint.COPE, "ceiling board"),
        (InsideJoint.BUTT, "ceiling board butted"),
        (InsideJoint.MITER, "ceiling board butted"),
    ],
)
def test_boards_cover_their_band_once(name, offset, joint, assembly):
    """Through, butted and mitered boards leave no gap in the band along the walls and never lie on each other."""
    plan = shape(ROOMS[name]())
    runs = boards(ROOMS[name](), offset, joint, assembly)
    prints = [footprint(plan, run) for run in runs]
    wanted = band(plan, 0, inches(offset))
    slack = len(runs) * float(inches(offset)) * SNAP * 2
    assert unary_union(prints).symmetric_difference(wanted).area < slack
    assert sum(one.intersection(other).area for one, other in combinations(prints, 2)) < slack


LAYERED = {
    "built-up": (order("built-up mitered"),),
    "crown alone": (order("crown alone mitered"),),
    "base, cap and shoe": (order("base cap shoe", inside_joint=InsideJoint.MITER),),
    "rail": (order("rail", inside_joint=InsideJoint.MITER, height=inches("36")),),
    "wall layers that differ": (order("built-up mitered", ("A", "C")), order("built-up thin", ("B", "D", "E", "F", "G", "H"))),
}  # fmt: skip


@closed_rooms
@pytest.mark.parametrize("ordered", LAYERED)
def test_mitered_neighbors_meet_at_both_edges(name, ordered):
    """At every mitered corner the near edges of both layers end in one point of the plan, and the far edges in another."""
    item = ROOMS[name]()
    plan = shape(item)
    names = {wall.name for wall in item.walls}
    orders = [
        replace(row, walls=tuple(n for n in row.walls if n in names) if row.walls else None) for row in LAYERED[ordered]
    ]
    runs = runs_in(item, *orders, problems=Problems())
    met = 0
    for place, wall in enumerate(item.walls):
        following = item.walls[(place + 1) % len(item.walls)]
        for position in {run.position for run in runs}:
            left, right = run_of(runs, wall.name, position), run_of(runs, following.name, position)
            if left.right.joint is Joint.MITER and right.left.joint is Joint.MITER:
                _, near_end, _, far_end = corners_of(plan, left)
                near_start, _, far_start, _ = corners_of(plan, right)
                assert math.dist(near_end, near_start) < 2 * SNAP
                assert math.dist(far_end, far_start) < 2 * SNAP
                met += 1
    assert met >= len(item.walls)


@closed_rooms
def test_shoe_stands_before_the_base_it_covers(name):
    """Base and shoe together fill the band from the wall to the shoe's face, each point once but for the cap above."""
    plan = shape(ROOMS[name]())
    runs = [
        run
        for run in runs_in(ROOMS[name](), *LAYERED["base, cap and shoe"], problems=Problems())
        if run.position in {Position.BASE, Position.SHOE}
    ]
    whole = band(plan, 0, inches("9/16") + inches("1/2"))
    assert unary_union([footprint(plan, run) for run in runs]).symmetric_difference(whole).area < len(runs) * SNAP * 2
    for run in runs:
        start = inches("0") if run.position is Position.BASE else inches("9/16")
        assert run.near == start


def test_a_half_wall_ends_free_on_both_sides():
    """Three walls and a half wall: returned at the first wall's left and the half wall's right end, never beyond them."""
    runs = runs_in(half_wall(), order("crown alone mitered"), order("base", inside_joint=InsideJoint.MITER))
    first, last = run_of(runs, "A", Position.CROWN), run_of(runs, "D", Position.CROWN)
    assert (first.left.joint, last.right.joint) == (Joint.RETURN, Joint.RETURN)
    assert first.cut_start == inches("0")
    assert last.cut_start + last.cut_length == inches("4'")
    assert last.right.long_edge not in NEAR
    base = run_of(runs, "D", Position.BASE)
    assert (base.right.joint, base.cut_start + base.cut_length) == (Joint.BUTT, inches("4'"))


def test_between_two_outside_corners_the_far_edge_is_longer_than_the_wall():
    """A breast 4' wide: the ceiling board on it is longer at its room edge by its width at each end."""
    breast = run_of(boards(ROOMS["chimney_breast"](), "5 1/2", InsideJoint.MITER), "C", Position.CEILING)
    assert breast.cut_length == inches("4'") + Length.of(11)
    assert breast.cut_short == inches("4'")
