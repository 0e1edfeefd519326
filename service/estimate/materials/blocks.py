"""Blocks behind a crown: how big, and where."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from service.estimate.figures import Figure, counted
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.cuts.model import Piece, Splice
    from service.estimate.materials.rules import BlockRules
    from service.estimate.takeoff.model import Run
    from service.firm import Profile


def block_legs(profile: Profile, clearance: Length) -> tuple[Length, Length]:
    """Legs of the triangle behind a sprung molding, on the wall and on the ceiling.

    Wall leg w·cos s − t/sin s, ceiling leg w·sin s − t/cos s, each less the clearance. A 4 5/8 in crown
    5/8 in thick at 38 degrees: 2.63 × 2.05 in before clearance.

    Source: plane geometry: the back of the molding lies t behind its face.

    Args:
        profile: sprung molding; its spring angle is read from the wall. [deg]
        clearance: trade book `fastening.block-clearance`. [Length]

    Returns:
        Wall leg and ceiling leg; not positive where no block fits. [Length, Length]
    """
    spring = math.radians(profile.spring_angle_deg or 0.0)
    if not 0 < spring < math.pi / 2:
        return ZERO, ZERO
    width, thickness = float(profile.width), float(profile.thickness)
    wall = width * math.cos(spring) - thickness / math.sin(spring)
    ceiling = width * math.sin(spring) - thickness / math.cos(spring)
    return Length.measured(wall) - clearance, Length.measured(ceiling) - clearance


def block_positions(
    run: Run, pieces: Iterable[Piece], splices: Iterable[Splice], rules: BlockRules
) -> tuple[Length, ...]:
    """Where blocks stand: at each stud, thinned out to the layer's spacing, never at less than the pieces need.

    Each piece has one within reach of its ends and on each splice, as far as a stud stands there.

    Source: common practice; trade book `fastening.block-from-end`.

    Args:
        run: the crown; `wall_studs` are what a block can stand on.
        pieces, splices: of this run.
        rules: trade book, reach from a piece's end.

    Returns:
        Wall coordinates, left to right. [Length]
    """
    studs = sorted(dict.fromkeys(run.wall_studs))
    needed = _needed(studs, _joint_places(pieces, splices), rules.from_end)
    return thinned(studs, needed, run.layer.block_spacing)


def blocks_behind(
    run: Run, pieces: Iterable[Piece], splices: Iterable[Splice], rules: BlockRules, title: str
) -> Figure:
    """Blocks of one crown, counted where they stand, which follows from the studs behind it."""
    return counted(f"blocks behind the {title}", block_positions(run, pieces, splices, rules), run.stud_layout)


def thinned(studs: Sequence[Length], needed: set[Length], spacing: Length | None) -> tuple[Length, ...]:
    """Studs kept so that neighbors stand no farther apart than the spacing where the studs allow it.

    Args:
        studs: centers, sorted. [Length]
        needed: studs kept in any case. [Length]
        spacing: largest distance, None to keep every stud. [Length]
    """
    if spacing is None or not studs:
        return tuple(studs)
    kept = [studs[0]]
    for stud, following in pairwise([*studs[1:], studs[-1] + spacing * 2]):
        if stud in needed or following - kept[-1] > spacing:
            kept.append(stud)
    return tuple(kept)


def _needed(studs: Sequence[Length], places: Iterable[Length], reach: Length) -> set[Length]:
    nearest = ((place, min(studs, key=lambda stud: abs(stud - place))) for place in places if studs)
    return {stud for place, stud in nearest if abs(stud - place) <= reach}


def _joint_places(pieces: Iterable[Piece], splices: Iterable[Splice]) -> tuple[Length, ...]:
    ends = [place for piece in pieces if not piece.is_return for place in (piece.start, piece.start + piece.long_point)]
    return (*ends, *(splice.at for splice in splices))
