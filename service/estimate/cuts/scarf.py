"""The scarf: overlap of its two pieces, and their saw settings."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.takeoff.model import Edge, End, Joint

if TYPE_CHECKING:
    from service.units import Length

HALF_RIGHT_ANGLE_DEG = 45.0


def scarf_overlap(thickness: Length, angle_deg: float) -> Length:
    """How far the two pieces of a scarf overlap along the run: thickness · tan(angle). [Length]

    At 45° the overlap is the thickness, exactly; any other tangent is carried at full binary precision.

    Source: plane geometry; 45° and a joint over framing are common practice.

    Args:
        thickness: of the profile as it lies flat on the saw. [Length]
        angle_deg: saw setting from square. [deg]
    """
    if angle_deg == HALF_RIGHT_ANGLE_DEG:
        return thickness
    return thickness * Fraction(math.tan(math.radians(angle_deg)))


def right_scarf(angle_deg: float) -> End:
    """Right end of the piece on the left of a scarf: set first, its long point against the wall."""
    return _scarf(angle_deg, Edge.BACK)


def left_scarf(angle_deg: float) -> End:
    """Left end of the piece on the right of a scarf: it laps over the other, its long point on the face."""
    return _scarf(angle_deg, Edge.FACE)


def _scarf(angle_deg: float, long_edge: Edge) -> End:
    return End(Joint.SCARF, miter_deg=0.0, bevel_deg=round(angle_deg, 2), long_edge=long_edge)
