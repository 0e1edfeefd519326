"""Trim around openings: what each member of a casing is as long as, from jamb, head, reveal and width.

Every function is one rule; lengths are finished opening sizes plus reveals and widths, so they are exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.units import ZERO

if TYPE_CHECKING:
    from service.units import Length


@dataclass(frozen=True, slots=True)
class Reach:
    """Long point and short point of a member, equal where both its ends are square."""

    long: Length
    short: Length


@dataclass(frozen=True, slots=True)
class Frame:
    """An opening as its casing sees it.

    Attributes:
        width: jamb face to jamb face. [Length]
        height: of the legs' inner side: finished floor (or stool, or sill) to head jamb. [Length]
        casing_width: face width of the casing. [Length]
        reveal: of the jamb's edge left showing. [Length]
        is_butted: the head stands square on the legs instead of being mitered to them.
        plinth: height of the block that a leg stands on, zero without one. [Length]
    """

    width: Length
    height: Length
    casing_width: Length
    reveal: Length
    is_butted: bool = False
    plinth: Length = ZERO

    @property
    def out_to_out(self) -> Length:
        """Outer edge of one leg to that of the other: W + 2r + 2cw."""
        return self.width + (self.reveal + self.casing_width) * 2


def head(frame: Frame) -> Reach:
    """Head casing: mitered W + 2r + 2cw at the long point, W + 2r at the short; butted square W + 2r + 2cw.

    Source: plane geometry; mitered and butted heads are common practice.
    """
    if frame.is_butted:
        return Reach(frame.out_to_out, frame.out_to_out)
    return Reach(frame.out_to_out, frame.width + frame.reveal * 2)


def leg(frame: Frame) -> Reach:
    """Leg to the floor, a plinth or a stool: mitered H + r + cw at the long point, H + r at the short; butted H + r.

    A leg on a plinth block is shorter by the block.

    Source: plane geometry; common practice.
    """
    short = frame.height + frame.reveal - frame.plinth
    return Reach(short if frame.is_butted else short + frame.casing_width, short)


def frame_leg(frame: Frame) -> Reach:
    """Leg of a picture frame, mitered at both ends: h + 2r + 2cw at the long points, h + 2r at the short.

    Source: plane geometry.
    """
    short = frame.height + frame.reveal * 2
    return Reach(short if frame.is_butted else short + frame.casing_width * 2, short)


def apron(frame: Frame) -> Reach:
    """Apron under a stool: as long as the casing out to out.

    Source: common practice.
    """
    return Reach(frame.out_to_out, frame.out_to_out)


def stool(frame: Frame, horn: Length) -> Reach:
    """Stool: the apron's length and a horn at each end.

    Source: common practice; the firm sets its horn.
    """
    long = frame.out_to_out + horn * 2
    return Reach(long, long)
