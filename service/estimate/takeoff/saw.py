"""Saw settings: miter (table swing) and bevel (blade tilt) for every way a piece meets a corner.

c is the corner reading; inside and outside corners of one reading take the same magnitudes.
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import NamedTuple

from service.firm import Position

RIGHT_ANGLE_DEG = 90.0


class Lay(StrEnum):
    """How a layer lies in the room, which decides how it is cut."""

    CEILING = "ceiling"
    WALL = "wall"
    SPRUNG = "sprung"


class Settings(NamedTuple):
    """Degrees to 0.01: flat on the table (miter, bevel), and nested or on edge against the fence (None: no such way)."""

    miter_deg: float
    bevel_deg: float
    nested_miter_deg: float | None


def lay_of(position: Position) -> Lay:
    """How a layer at this position lies."""
    if position is Position.CEILING:
        return Lay.CEILING
    return Lay.SPRUNG if position is Position.CROWN else Lay.WALL


def plain_miter_deg(corner_deg: float) -> float:
    """Half of what a corner is short of straight: 90 − c/2. [deg]

    Source: plane geometry; the miter halves the corner.
    """
    return RIGHT_ANGLE_DEG - corner_deg / 2


def sprung_miter_deg(spring_deg: float, corner_deg: float) -> float:
    """Table swing for a sprung molding lying flat: atan(sin s / tan(c/2)). [deg]

    Source: compound miter geometry; crown tables in compound saw manuals (s 38, c 90: 31.62).
    """
    return math.degrees(math.atan2(math.sin(math.radians(spring_deg)), math.tan(math.radians(corner_deg / 2))))


def sprung_bevel_deg(spring_deg: float, corner_deg: float) -> float:
    """Blade tilt for a sprung molding lying flat: asin(cos s · cos(c/2)). [deg]

    Source: compound miter geometry; crown tables in compound saw manuals (s 38, c 90: 33.86).
    """
    return math.degrees(math.asin(math.cos(math.radians(spring_deg)) * math.cos(math.radians(corner_deg / 2))))


def settings(lay: Lay, corner_deg: float, spring_deg: float | None = None) -> Settings:
    """Settings of a miter that halves a corner.

    Flat on the ceiling the blade is rotated; flat on the wall it is tilted, or the board stood on edge
    and the blade rotated; a sprung molding takes both, or a plain miter nested at its spring angle.

    Args:
        lay: how the layer lies.
        corner_deg: corner reading. [deg]
        spring_deg: spring angle from the wall, sprung moldings only. [deg]
    """
    plain = _rounded(plain_miter_deg(corner_deg))
    if lay is Lay.CEILING:
        return Settings(plain, 0.0, None)
    if lay is Lay.WALL or spring_deg is None:
        return Settings(0.0, plain, plain)
    return Settings(
        _rounded(sprung_miter_deg(spring_deg, corner_deg)), _rounded(sprung_bevel_deg(spring_deg, corner_deg)), plain
    )


def off_square_deg(interior_deg: float) -> float:
    """How far a face that a butted end lies against stands out of square: |90 − θ|, |270 − θ| outside. [deg]

    Source: plane geometry.
    """
    square = RIGHT_ANGLE_DEG if interior_deg <= 2 * RIGHT_ANGLE_DEG else 3 * RIGHT_ANGLE_DEG
    return abs(square - interior_deg)


def off_square(lay: Lay, interior_deg: float, spring_deg: float | None = None) -> Settings:
    """Settings of a butted end that lies against a face out of square.

    Its cut is a miter's that leans as much: the one of a corner reading 180° less twice the lean.

    Source: plane geometry.

    Args:
        lay: how the layer lies.
        interior_deg: angle inside the room. [deg]
        spring_deg: spring angle from the wall, sprung moldings only. [deg]
    """
    return settings(lay, 2 * (RIGHT_ANGLE_DEG - off_square_deg(interior_deg)), spring_deg)


def _rounded(angle_deg: float) -> float:
    return round(angle_deg, 2)
