"""Numbers of the trade that the takeoff needs, taken from the trade book once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.takeoff.movement import WoodRules
from service.trade.reading import FromBook, length, read_by, real

if TYPE_CHECKING:
    from service.units import Length


@dataclass(frozen=True, slots=True)
class TakeoffRules(FromBook):
    """Framing and joint numbers (trade book `framing.*`, `joints.*`, `wood.*`, `fastening.unbacked-limit`).

    Attributes:
        joist_width: width of a joist's edge. [Length]
        joist_overlap_least: how much of a joist must lie under a layer that runs along it. [Length]
        end_stud: center of the stud at each wall end and outside each jamb. [Length]
        top_plate_depth: how far the top plate reaches down from the ceiling framing. [Length]
        parallel_within_deg: a run within this of the joists' direction runs along them. [deg]
        cope_low_deg, cope_high_deg: corner readings between which a cope is made. [deg]
        plinth_above_base, plinth_without_base: height of a plinth block over its base, and on a wall
            without one. [Length, Length]
        unbacked_limit: a longer stretch without backing counts as unbacked. [Length]
        edge_grid, plate_spacing: distance of the places where a joint may lie along a joist's edge, and where a
            run without backing may be joined on a glue plate. [Length, Length]
        wood: how wood moves.
    """

    joist_width: Length = length("framing.joist-width")
    joist_overlap_least: Length = length("framing.joist-overlap-least")
    end_stud: Length = length("framing.end-stud")
    top_plate_depth: Length = length("framing.top-plate-depth")
    parallel_within_deg: float = real("framing.parallel-within")
    cope_low_deg: float = real("joints.cope-low")
    cope_high_deg: float = real("joints.cope-high")
    unbacked_limit: Length = length("fastening.unbacked-limit")
    plinth_above_base: Length = length("joints.plinth-above-base")
    plinth_without_base: Length = length("joints.plinth-without-base")
    edge_grid: Length = length("joints.edge-grid")
    plate_spacing: Length = length("joints.glue-plate-spacing")
    wood: WoodRules = read_by(WoodRules.of)
