"""The scarf: overlap of its two pieces, and their saw settings."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.takeoff.hand import EDGES_OF, flat_hand
from service.estimate.takeoff.model import Edge, End, Joint, Side
from service.estimate.takeoff.saw import Lay

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


def right_scarf(angle_deg: float, lay: Lay = Lay.WALL) -> End:
    """Right end of the piece on the left of a scarf: set first, its long point against the wall."""
    return _scarf(angle_deg, lay, Side.RIGHT, Edge.BACK)


def left_scarf(angle_deg: float, lay: Lay = Lay.WALL) -> End:
    """Left end of the piece on the right of a scarf: it laps over the other, its long point on the face.

    Both are cut with the same edge against the fence and the blade left where it is.
    """
    return _scarf(angle_deg, lay, Side.LEFT, Edge.FACE)


def _scarf(angle_deg: float, lay: Lay, end: Side, long_edge: Edge) -> End:
    miter, bevel = 0.0, round(angle_deg, 2)
    hand = flat_hand(EDGES_OF[lay], end, long_edge, miter, bevel)
    return End(Joint.SCARF, miter_deg=miter, bevel_deg=bevel, long_edge=long_edge, hand=hand)
