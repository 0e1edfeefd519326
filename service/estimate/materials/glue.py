"""Adhesive and sealant of one run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.figures import (
    CUBIC_INCH,
    EACH,
    INCH,
    Figure,
    added,
    given,
    less,
    over,
    rounded_up,
    times,
)
from service.estimate.materials.counts import places_along, stretch_lengths, unbacked_stretches
from service.estimate.materials.geometry import BOTH_SIDES
from service.estimate.materials.volumes import bead_volume
from service.firm import AdhesiveUse, Position

if TYPE_CHECKING:
    from service.estimate.materials.rules import GlueRules
    from service.estimate.takeoff.model import Run
    from service.units import Length


def bead_length(run: Run, limit: Length) -> Figure:
    """Length of all adhesive beads of a run.

    A layer glued with beads, or on steel studs or masonry, has them all along; any other on its unbacked
    stretches. A shoe, a stool and a crown between boards end in wood and need none for what stands behind the
    wall.

    Source: common practice.

    Args:
        run: with its backing and its layer's beads.
        limit: trade book `fastening.unbacked-limit`. [Length]

    Returns:
        Beads × length; a layer that is glued for want of backing has one bead where it tells none. [Length]
    """
    is_whole = run.adhesive is AdhesiveUse.BEAD or (not run.backing.is_wood and not _ends_in_wood(run))
    glued = run.length_figure if is_whole else _without_backing(run, limit)
    if run.layer.beads <= 1:
        return glued
    beads = given("beads side by side", run.layer.beads, EACH, _layer_place(run, "beads"))
    return times("all beads together", INCH, glued, beads)


def _without_backing(run: Run, limit: Length) -> Figure:
    stretches = stretch_lengths(run, unbacked_stretches(run, limit))
    return stretches[0] if len(stretches) == 1 else added("stretches without backing", INCH, *stretches)


def _layer_place(run: Run, member: str) -> str:
    return f"list:assemblies/{run.assembly}/{run.layer.number}/{member}"


def _ends_in_wood(run: Run) -> bool:
    is_between_boards = run.over_wall_layer is not None and run.under_ceiling_layer is not None
    return run.position in {Position.SHOE, Position.STOOL} or (run.position is Position.CROWN and is_between_boards)


def dab_count(run: Run, blocks: Figure, spacing: Figure) -> Figure:
    """Dabs of adhesive: one a block, and along a layer glued with dabs one at each end and at the spacing.

    Source: common practice; trade book `adhesive.dab-spacing`.
    """
    if run.adhesive is not AdhesiveUse.DABS:
        return blocks
    along = places_along("dabs along the layer", run.length_figure, spacing)
    return added("dabs, along the layer and on blocks", EACH, along, blocks) if blocks.value else along


def adhesive_volume(run: Run, beads: Figure, dabs: Figure, rules: GlueRules) -> Figure:
    """Adhesive of a run: beads of the layer's diameter, and dabs. [cu in]"""
    parts = []
    if beads.value:
        parts.append(bead_volume(_bead_diameter(run, rules), beads))
    if dabs.value:
        parts.append(times("volume of the dabs", CUBIC_INCH, dabs, rules.dab_volume))
    return parts[0] if len(parts) == 1 else added("volume of beads and dabs", CUBIC_INCH, *parts)


def _bead_diameter(run: Run, rules: GlueRules) -> Figure:
    set_by_layer = run.layer.bead_diameter
    if not set_by_layer:
        return rules.bead_diameter
    return given("bead diameter of the layer", set_by_layer, INCH, _layer_place(run, "bead_diameter"))


def caulked_length(run: Run, title: str) -> Figure:
    """Length of all edges caulked; of a mitered frame the outer edge is the long one, the inner the short. [Length]

    Of an odd number of edges around an opening the outer ones are the more.
    """
    what, edges = f"edges to caulk, {title}", _caulked_edges(run)
    if run.is_along_wall or not edges.value:
        return times(what, INCH, run.length_figure, edges)
    outer = rounded_up("outer edges to caulk", EACH, over("half of the edges", EACH, edges, BOTH_SIDES))
    inner = less("inner edges to caulk", EACH, edges, outer)
    long_edges = times("outer edges", INCH, run.length_figure, outer)
    return added(what, INCH, long_edges, times("inner edges", INCH, run.short_figure, inner))


def _caulked_edges(run: Run) -> Figure:
    return given("edges to caulk", run.layer.caulked_edges, EACH, _layer_place(run, "caulk_edges"))
