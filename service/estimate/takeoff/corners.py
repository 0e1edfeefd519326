"""How far from a wall's end each edge of a layer stops at a corner."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from service.units import ZERO, Length

if TYPE_CHECKING:
    from service.estimate.figures import Figure

SQUARE_DEG = 90.0
STRAIGHT_DEG = 180.0
SQUARE_OUTSIDE_DEG = 270.0


def cot_half(interior_deg: float) -> Fraction:
    """Cotangent of half the interior angle: exact at 90° and 270°, else the float carried exactly.

    Source: plane geometry.
    """
    exact = {SQUARE_DEG: Fraction(1), STRAIGHT_DEG: Fraction(0), SQUARE_OUTSIDE_DEG: Fraction(-1)}
    if interior_deg in exact:
        return exact[interior_deg]
    return Fraction(1 / math.tan(math.radians(interior_deg / 2)))


def setback(interior_deg: float, own: Length, other: Length) -> Length:
    """Where this layer's line at offset `own` meets the next wall's line at offset `other`, back from the wall's end.

    (o·cos θ + p) / sin θ, which is o·cot(θ/2) when both offsets are equal; negative beyond the end, as
    at an outside corner.

    Source: plane geometry, two lines parallel to the walls.

    Args:
        interior_deg: angle inside the room. [deg]
        own, other: offsets from the two wall faces. [Length, Length]

    Returns:
        Distance back from the wall's end along the wall. [Length]
    """
    if own == other:
        return own * cot_half(interior_deg)
    if interior_deg == SQUARE_DEG:
        return other
    if interior_deg == SQUARE_OUTSIDE_DEG:
        return -other
    angle = math.radians(interior_deg)
    return own * Fraction(math.cos(angle) / math.sin(angle)) + other * Fraction(1 / math.sin(angle))


@dataclass(frozen=True, slots=True)
class Reach:
    """How far back from the wall's end the near and the far edge of a layer stop; `why`: the figures behind both."""

    near: Length = ZERO
    far: Length = ZERO
    why: tuple[Figure, Figure] | None = field(default=None, compare=False)

    @property
    def least(self) -> Length:
        """Setback of the long point."""
        return min(self.near, self.far)

    @property
    def least_figure(self) -> Figure | None:
        """How the setback of the long point was worked out, None where nothing sets it back."""
        return self.why[int(self.far < self.near)] if self.why and self.least else None

    @property
    def most(self) -> Length:
        """Setback of the short point."""
        return max(self.near, self.far)

    @property
    def skew(self) -> Length:
        """Long point less short point at this end."""
        return self.most - self.least

    def squared(self) -> Reach:
        """Cut square so that no edge reaches farther than either did."""
        farther = self.why[int(self.far > self.near)] if self.why else None
        return Reach(self.most, self.most, (farther, farther) if farther else None)


def mitered(interior_deg: float, own: tuple[Length, Length], other: tuple[Length, Length]) -> Reach:
    """Both edges run to the same edge of the next wall's layer.

    Source: plane geometry; a crown standing on a wall layer starts at that layer's face, t·cot(θ/2) short
    of an inside corner and past an outside one.
    """
    return Reach(setback(interior_deg, own[0], other[0]), setback(interior_deg, own[1], other[1]))


def against(interior_deg: float, own: tuple[Length, Length], face: Length) -> Reach:
    """Both edges run to one face of the next wall's build-up, cut to lie against it.

    The through piece runs to the face behind the neighbor's layer, the butted piece stops at its face.
    """
    return Reach(setback(interior_deg, own[0], face), setback(interior_deg, own[1], face))
