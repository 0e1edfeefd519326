"""Adhesive and sealant of one run."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from service.estimate.materials.counts import unbacked_stretches
from service.estimate.materials.volumes import bead_volume
from service.firm import AdhesiveUse, Position
from service.units import ZERO, Length

if TYPE_CHECKING:
    from fractions import Fraction

    from service.estimate.materials.rules import GlueRules
    from service.estimate.takeoff.model import Run


def bead_length(run: Run, limit: Length) -> Length:
    """Length of all adhesive beads of a run.

    A layer glued with beads, or on steel studs or masonry, has them all along; any other on its unbacked
    stretches. A shoe, a stool and a crown between boards end in wood and need none for what stands behind the
    wall.

    Source: common practice.

    Args:
        run: with its backing and its layer's beads.
        limit: trade book `fastening.unbacked-limit`. [Length]

    Returns:
        Beads × length. [Length]
    """
    is_whole = run.adhesive is AdhesiveUse.BEAD or (not run.backing.is_wood and not _ends_in_wood(run))
    glued = run.length if is_whole else sum((span.length for span in unbacked_stretches(run, limit)), ZERO)
    return glued * max(run.layer.beads, 1)


def _ends_in_wood(run: Run) -> bool:
    is_between_boards = run.over_wall_layer is not None and run.under_ceiling_layer is not None
    return run.position in {Position.SHOE, Position.STOOL} or (run.position is Position.CROWN and is_between_boards)


def dab_count(run: Run, blocks: int, spacing: Length) -> int:
    """Dabs of adhesive: one a block, and along a layer glued with dabs one at each end and at the spacing.

    Source: common practice; trade book `adhesive.dab-spacing`.
    """
    along = math.ceil(run.length / spacing) + 1 if run.adhesive is AdhesiveUse.DABS else 0
    return along + blocks


def adhesive_volume(run: Run, beads: Length, dabs: int, rules: GlueRules) -> Fraction:
    """Adhesive of a run: beads of the layer's diameter, and dabs. [cu in]"""
    diameter = run.layer.bead_diameter or rules.bead_diameter
    return bead_volume(diameter, beads) + dabs * rules.dab_volume


def caulked_length(run: Run) -> Length:
    """Length of all edges caulked; of a mitered frame the outer edge is the long one, the inner the short. [Length]"""
    edges = run.layer.caulked_edges
    inner = 0 if run.is_along_wall else edges // 2
    return run.length * (edges - inner) + run.cut_short * inner
