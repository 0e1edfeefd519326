"""Trim around openings drawn in elevation by shapely: the members fill their frame, each point once."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from service.estimate.takeoff.model import UPRIGHT, Member
from service.survey import WindowStyle
from tests.invented import SETTINGS, inches, opening, order, rectangle, runs_in

FIRM = replace(SETTINGS, stool_horn=inches("3/4"))
WIDTH, REVEAL = 3.25, 0.1875
STOOL, APRON, HORN = 0.75, 2.5, 0.75
LEFT_OF = {Member.LEFT_LEG: "left", Member.RIGHT_LEG: "right"}


def door(casing, **more):
    """A door 32" × 80", its left jamb 50" along the wall."""
    return opening("A", "door", "50", "32", "80", casing=casing, **more)


def window(casing, style):
    """A window 36" wide from 30" to 84" above the floor, its left jamb 50" along the wall."""
    more = {"sill_height": inches("30"), "style": style, "casing": casing}
    return opening("A", "window", "50", "36", "84", **more)


def members(item):
    """Runs around the one opening of a room."""
    return [run for run in runs_in(rectangle(openings=(item,)), firm=FIRM) if not run.is_along_wall]


def drawn(run, left, right):
    """A member in elevation between the outer edges of its frame; the outer edge carries the long point. [in]"""
    low, long = float(run.low), float(run.cut_length)
    at_start, at_end = float(run.left_setback), float(run.right_setback)
    if run.member in UPRIGHT:
        outer, inner = (left, left + WIDTH) if LEFT_OF[run.member] == "left" else (right, right - WIDTH)
        return Polygon([(outer, low), (outer, low + long), (inner, low + long - at_end), (inner, low + at_start)])
    start = (left + right - long) / 2
    height = float(run.high - run.low)
    outer, inner = (low, low + height) if run.member is Member.SILL else (low + height, low)
    return Polygon(
        [(start, outer), (start + long, outer), (start + long - at_end, inner), (start + at_start, inner)]
    )  # fmt: skip


FRAMES = {
    "door, mitered": (door("casing"), 32, 0.0, 80.0),
    "door, butted head": (door("butted casing"), 32, 0.0, 80.0),
    "cased opening": (opening("A", "cased opening", "50", "60", "82", casing="casing"), 60, 0.0, 82.0),
    "picture frame": (window("casing", WindowStyle.PICTURE_FRAME), 36, 30.0, 84.0),
    "picture frame, style left out": (window("casing", None), 36, 30.0, 84.0),
    "picture frame, butted": (window("butted casing", WindowStyle.PICTURE_FRAME), 36, 30.0, 84.0),
    "stool and apron": (window("stool casing", WindowStyle.STOOL_AND_APRON), 36, 30.0, 84.0),
    "stool, style left out": (window("stool casing", None), 36, 30.0, 84.0),
    "stool, butted head": (window("butted stool casing", WindowStyle.STOOL_AND_APRON), 36, 30.0, 84.0),
    "frame though there is a stool layer": (window("stool casing", WindowStyle.PICTURE_FRAME), 36, 30.0, 84.0),
}
STOOLED = {name for name in FRAMES if name.startswith("stool")}


@pytest.mark.parametrize("name", FRAMES)
def test_members_fill_their_frame_once(name):
    """Legs, head, sill, stool and apron cover just what lies between opening (with its reveal) and outer edge."""
    item, width, foot, head = FRAMES[name]
    left, right = 50 - REVEAL - WIDTH, 50 + width + REVEAL + WIDTH
    is_framed = item.kind == "window" and name not in STOOLED
    hole = box(50 - REVEAL, foot - (REVEAL if is_framed else 0), 50 + width + REVEAL, head + REVEAL)
    lowest = foot - REVEAL - WIDTH if is_framed else foot
    wanted = [box(left, lowest, right, head + REVEAL + WIDTH).difference(hole)]
    if name in STOOLED:
        wanted += [
            box(left - HORN, foot - STOOL, right + HORN, foot),
            box(left, foot - STOOL - APRON, right, foot - STOOL),
        ]
    shapes = [drawn(run, left, right) for run in members(item)]
    assert unary_union(shapes).symmetric_difference(unary_union(wanted)).area < 1e-6
    assert sum(one.intersection(other).area for one, other in combinations(shapes, 2)) < 1e-6


@pytest.mark.parametrize("name", FRAMES)
def test_mitered_members_are_cut_at_45_degrees(name):
    """Where a member is mitered its inner edge is shorter by its own width, and every other end is square."""
    for run in members(FRAMES[name][0]):
        for end, setback in ((run.left, run.left_setback), (run.right, run.right_setback)):
            is_mitered = end.joint == "miter"
            assert (end.miter_deg, end.bevel_deg) == ((45.0, 0.0) if is_mitered else (0.0, 0.0))
            assert float(setback) == (WIDTH if is_mitered else 0.0)
        assert run.cut_length - run.cut_short == run.left_setback + run.right_setback


def test_a_leg_on_a_plinth_is_shorter_by_the_block():
    """Leg and block together stand as high as a leg to the floor; the block is ½" above the base beside it, or 6" alone."""
    to_floor = next(run for run in members(door("casing")) if run.member is Member.LEFT_LEG)
    for block, orders in (("6", ()), ("5 3/4", ("base",))):
        item = rectangle(openings=(door("casing on plinths"),))
        runs = runs_in(item, *map(order, orders), firm=FIRM)
        leg, plinth = (next(r for r in runs if r.member is m) for m in (Member.LEFT_LEG, Member.LEFT_PLINTH))
        assert plinth.cut_length == inches(block)
        assert leg.cut_length + plinth.cut_length == to_floor.cut_length
        assert (plinth.low, plinth.high, leg.low) == (inches("0"), inches(block), inches(block))
