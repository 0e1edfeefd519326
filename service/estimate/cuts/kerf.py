"""What the saw turns into dust."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.cuts.job import Sawable
    from service.estimate.takeoff.model import End


def kerf_at(end: End, kerf: Length) -> Length:
    """Width of the cut at one end, along the board: kerf / (cos miter · cos bevel). [Length]

    Source: plane geometry; a blade set at an angle crosses the board's length on a slant.

    Args:
        end: saw settings for the piece lying flat; None counts as square.
        kerf: width of a square cut. [Length]
    """
    if not end.miter_deg and not end.bevel_deg:
        return kerf
    slant = math.cos(math.radians(end.miter_deg or 0.0)) * math.cos(math.radians(end.bevel_deg or 0.0))
    return Length.measured(float(kerf) / slant)


def kerf_between(pieces: Sequence[Sawable], kerf: Length) -> Length:
    """Cuts between neighbors on one board, in cutting order: the wider of the two ends that meet. [Length]"""
    cuts = (max(kerf_at(one.right, kerf), kerf_at(other.left, kerf)) for one, other in pairwise(pieces))
    return sum(cuts, start=ZERO)
