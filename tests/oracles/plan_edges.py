"""A run drawn in plan from its record alone: where its near and its far edge begin and end."""

from __future__ import annotations

import math

from shapely.geometry import Polygon

from service.estimate.takeoff.model import Edge

NEAR = frozenset({Edge.WALL, Edge.BACK, Edge.BOTTOM})


def edge_spans(run):
    """Near and far edge of the real cut as (start, end) along the wall. [in]"""
    start, end = float(run.cut_start), float(run.cut_start + run.cut_length)
    near, far = [start, end], [start, end]
    for place, (made, setback) in enumerate(((run.left, run.left_setback), (run.right, run.right_setback))):
        shorter = far if made.long_edge in NEAR else near
        shorter[place] += float(setback) if place == 0 else -float(setback)
    return tuple(near), tuple(far)


def plan_point(plan, place, along, offset):
    """A point so far along a wall from its left end and so far off its face, to the right of the walk. [in]"""
    (x0, y0), (x1, y1) = plan.points[place], plan.points[place + 1]
    length = math.dist((x0, y0), (x1, y1))
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    return x0 + along * ux + offset * uy, y0 + along * uy - offset * ux


def wall_place(plan, run):
    """Position of a run's wall in its room."""
    return [wall.name for wall in plan.room.walls].index(run.wall)


def corners_of(plan, run):
    """Plan points of a run: near edge left and right, far edge left and right. [in]"""
    place = wall_place(plan, run)
    near, far = edge_spans(run)
    offsets = ((near, float(run.near)), (far, float(run.far)))
    return tuple(plan_point(plan, place, along, offset) for span, offset in offsets for along in span)


def footprint(plan, run):
    """A run seen from above. [in]"""
    near_left, near_right, far_left, far_right = corners_of(plan, run)
    return Polygon([near_left, near_right, far_right, far_left])


def band(plan, near, far):
    """What lies between two offsets from the walls of a closed room or around an island: mitered buffers of shapely."""
    outline = Polygon(plan.points)
    sign = 1 if plan.is_island else -1
    inner, outer = (outline.buffer(sign * float(o), join_style="mitre", mitre_limit=50) for o in (near, far))
    return inner.symmetric_difference(outer)
