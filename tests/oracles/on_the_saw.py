"""A saw and a room of plain vectors, to cut pieces by their settings and hand alone and put them on their walls.

Room: x along the wall to the right, y into the wall (a layer at offset o stands at y = −o), z up.
Saw: x to the operator's right, y toward the fence, z up from the table. Both are right-handed, and a piece goes from
one to the other by a rotation alone, so a mirrored cut cannot pass. Nothing of the settings' derivation is used here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest

from service.estimate.takeoff.model import Edge, Member, Side
from service.estimate.takeoff.saw import Lay, lay_of

Vector = tuple[float, ...]
RIGHTWARD, WALLWARD, UP = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


def added(one: Vector, *more: Vector) -> Vector:
    """Sum of vectors."""
    return tuple(sum(parts, start=0.0) for parts in zip(one, *more, strict=True))


def times(factor: float, vector: Vector) -> Vector:
    """A vector made longer."""
    return tuple(factor * v for v in vector)


def opposite(vector: Vector) -> Vector:
    """The other way."""
    return times(-1.0, vector)


def dot(one: Vector, two: Vector) -> float:
    """Scalar product."""
    return sum(a * b for a, b in zip(one, two, strict=True))


def cross(one: Vector, two: Vector) -> Vector:
    """Vector product, right-handed."""
    (a, b, c), (d, e, f) = one, two
    return (b * f - c * e, c * d - a * f, a * e - b * d)


def apart(points, others) -> float:
    """Largest distance between points that should coincide."""
    return max(math.dist(a, b) for a, b in zip(points, others, strict=True))


@dataclass(frozen=True)
class Laid:
    """A piece in its own room: the way from its left end to its right, edges as directions, and its section."""

    along: Vector
    edges: dict[Edge, Vector]
    section: list[Vector]
    near: Vector
    far: Vector


def level(offset, height):
    """A point of a section."""
    return (0.0, -float(offset), float(height))


def laid_along(run) -> Laid:
    """A layer along a wall as it sits there; a crown on its spring plane, its back a thickness behind it."""
    near, far, low, high = (float(v) for v in (run.near, run.far, run.low, run.high))
    face = opposite(WALLWARD)
    match lay_of(run.position):
        case Lay.SPRUNG:
            s, t = math.radians(run.profile.spring_angle_deg), float(run.profile.thickness)
            top = (0.0, -math.sin(s), math.cos(s))
            edges = {Edge.TOP: top, Edge.BOTTOM: opposite(top), Edge.FACE: (0.0, -math.cos(s), -math.sin(s))}
            section = [(near, low), (far, high), (far - t / math.cos(s), high), (near, low + t / math.sin(s))]
            points = level(near, low), level(far, high)
        case Lay.CEILING:
            edges = {Edge.WALL: WALLWARD, Edge.ROOM: face, Edge.FACE: opposite(UP), Edge.BACK: UP}
            section = [(near, low), (far, low), (far, high), (near, high)]
            points = level(near, high), level(far, high)
        case _:
            edges = {Edge.TOP: UP, Edge.BOTTOM: opposite(UP), Edge.FACE: face, Edge.BACK: WALLWARD}
            section = [(near, low), (far, low), (far, high), (near, high)]
            points = level(near, low), level(far, low)
    return Laid(RIGHTWARD, edges, [level(*p) for p in section], *points)


NESTED = {  # fence for wall; a crown with its bottom edge up, a board with its top edge up
    "fence": {Edge.BOTTOM: WALLWARD, Edge.BACK: WALLWARD},
    "up": {Edge.BOTTOM: opposite(UP), Edge.TOP: UP},
}


def blade(hand, swing_deg, tilt_deg):
    """Normal of the blade's plane at the saw, toward the piece that is kept."""
    swing = math.radians(swing_deg) * (-1 if hand.swing is Side.LEFT else 1)
    tilt = math.radians(tilt_deg) * (-1 if hand.tilt is Side.RIGHT else 1)
    kerf = (math.sin(swing), -math.cos(swing), 0.0)  # from the fence to the operator
    left = (-math.cos(swing), -math.sin(swing), 0.0)
    upward = added(times(math.cos(tilt), UP), times(math.sin(tilt), left))
    to_left = cross(kerf, upward)
    return to_left if hand.keep is Side.LEFT else opposite(to_left)


def put_back(laid, hand, normal, *, nested=False):
    """The blade's normal in the room, after the piece is turned from the saw to its place."""
    fence, up = (NESTED["fence"], NESTED["up"]) if nested else (laid.edges, laid.edges)
    to_fence, upward = fence[hand.fence_edge], up[hand.up]
    to_right = cross(to_fence, upward)
    assert dot(to_right, to_right) == pytest.approx(1.0)
    x, y, z = normal
    return added(times(x, to_right), times(y, to_fence), times(z, upward))


def cut_face(laid, long_edge, at, normal):
    """The section's points moved along the piece onto the cut, whose long point stands `at` along it."""
    anchor = laid.near if long_edge in {Edge.WALL, Edge.BOTTOM, Edge.BACK, Edge.INNER} else laid.far
    anchor = added(anchor, times(at, laid.along))
    speed = dot(laid.along, normal)
    return [added(p, times((dot(anchor, normal) - dot(p, normal)) / speed, laid.along)) for p in laid.section]


def keeps(laid, side, normal):
    """True when the piece lies on the kept side of the blade: inward of the end that is cut."""
    return dot(laid.along, normal) * (1 if side is Side.LEFT else -1) > 0


def onto_next_wall(points, interior_deg):
    """Points of the next wall's room in the room of the wall before, both counted from their common corner."""
    turn = math.radians(interior_deg - 180.0)
    c, s = math.cos(turn), math.sin(turn)
    return [(c * x - s * y, s * x + c * y, z) for x, y, z in points]


def laid_around(run) -> Laid:
    """A member of a casing in its wall: a leg from foot to head, head and sill from left to right."""
    cw, t, x, low = (float(v) for v in (run.profile.width, run.profile.thickness, run.start, run.low))
    face = opposite(WALLWARD)
    outward = {
        Member.LEFT_LEG: opposite(RIGHTWARD), Member.RIGHT_LEG: RIGHTWARD, Member.HEAD: UP, Member.SILL: opposite(UP),
    }[run.member]  # fmt: skip
    upright = run.member in {Member.LEFT_LEG, Member.RIGHT_LEG}
    origin = {
        Member.LEFT_LEG: (x + cw, 0.0, low), Member.RIGHT_LEG: (x, 0.0, low),
        Member.HEAD: (x, 0.0, low), Member.SILL: (x, 0.0, low + cw),
    }[run.member]  # fmt: skip
    outer, out = added(origin, times(cw, outward)), times(t, face)
    section = [origin, outer, added(outer, out), added(origin, out)]
    edges = {Edge.OUTER: outward, Edge.INNER: opposite(outward), Edge.FACE: face, Edge.BACK: WALLWARD}
    return Laid(UP if upright else RIGHTWARD, edges, section, origin, outer)
