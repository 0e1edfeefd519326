"""Numbers of the trade that fastening and sealing need, taken from the trade book once, in small sets.

What enters a count or a size is a `Figure` that names its entry; what is only compared with is a plain number.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from service.estimate.figures import given, rounded_up
from service.trade.reading import FromBook, exact, length, read_by, real

if TYPE_CHECKING:
    from fractions import Fraction

    from service.estimate.figures import Figure
    from service.units import Length


def figure(key: str, what: str) -> Any:  # noqa: ANN401 - stands for a member of any type
    """A member that is an entry as a figure that names it. [the entry's unit]"""
    return read_by(lambda book: given(what, book.value(key), book[key].unit, f"trade:{key}"))


def whole(key: str, what: str) -> Any:  # noqa: ANN401 - as figure
    """A member that is a count; one that a firm set to a fraction is taken as the next whole number."""
    return read_by(lambda book: _whole(given(what, book.value(key), book[key].unit, f"trade:{key}")))


def _whole(count: Figure) -> Figure:
    is_whole = count.value.denominator == 1
    return count if is_whole else rounded_up(f"{count.what}, whole", count.unit, count)


@dataclass(frozen=True, slots=True)
class CasingRules(FromBook):
    """How the trim around an opening is nailed (trade book `fastening.*`).

    `corner_inset`: what a cross-nail passes of one piece before it reaches the other. [Length]
    """

    spacing: Figure = figure("fastening.casing-nail-spacing", "spacing of casing nails")
    per_corner: Figure = whole("fastening.nails-per-casing-corner", "nails across each corner")
    corner_inset: Length = length("fastening.casing-corner-inset")
    per_stool_place: Figure = whole("fastening.stool-nails-per-place", "nails at each place, stool")
    per_apron_place: Figure = whole("fastening.apron-nails-per-place", "nails at each place, apron")
    per_plinth_side: Figure = whole("fastening.plinth-nails-per-side", "nails on each side of a plinth block")


@dataclass(frozen=True, slots=True)
class NailRules(FromBook):
    """How many nails and how far they go (trade book `fastening.*`, `framing.top-plate-depth`)."""

    per_joint: Figure = whole("fastening.nails-per-joint", "nails at each joist")
    per_wide_joint: Figure = whole("fastening.nails-per-wide-joint", "nails at each joist, wide board")
    wide_above: Length = length("fastening.wide-above")
    per_stud: Figure = whole("fastening.nails-per-stud", "nails at each stud")
    per_cap_stud: Figure = whole("fastening.cap-nails-per-stud", "nails at each stud, cap")
    per_edge_backing: Figure = whole("fastening.edge-nails-per-backing", "nails in the edge at each joist or stud")
    spacing: Figure = figure("fastening.nail-spacing", "nail spacing")
    unbacked_limit: Length = length("fastening.unbacked-limit")
    cross_spacing: Figure = figure("fastening.cross-nail-spacing", "spacing of crossed pairs")
    per_cross: Figure = whole("fastening.nails-per-cross", "nails crossed at each place")
    per_splice: Figure = whole("fastening.nails-per-splice", "nails at each scarf")
    per_outside_corner: Figure = whole("fastening.nails-per-outside-corner", "nails at each outside corner")
    per_return: Figure = whole("fastening.nails-per-return", "nails at each return")
    per_block: Figure = whole("fastening.nails-per-block", "nails in each block")
    crown_per_block: Figure = whole("fastening.crown-nails-per-block", "nails from the crown into each block")
    block_nail_share: Fraction = exact("fastening.block-nail-share")
    penetration_diameters: Fraction = exact("fastening.penetration-diameters")
    penetration_least: Length = length("fastening.penetration-least")
    cable_reach: Length = length("fastening.cable-reach")
    top_plate_depth: Length = length("framing.top-plate-depth")
    casing: CasingRules = read_by(CasingRules.of)


@dataclass(frozen=True, slots=True)
class BlockRules(FromBook):
    """Where blocks stand behind a crown and how much smaller than the gap they are."""

    from_end: Length = length("fastening.block-from-end")
    clearance: Length = length("fastening.block-clearance")


@dataclass(frozen=True, slots=True)
class HoldingRules(FromBook):
    """What a nail in wood holds: W = constant · G^exponent · D, pounds per inch of penetration.

    `overhead_adhesive_lb_per_ft`: dead weight above which nothing may hang on adhesive alone. [lb/ft]
    """

    constant: float = real("fastening.withdrawal-constant")
    exponent: float = real("fastening.withdrawal-exponent")
    gravity: float = real("fastening.framing-gravity")
    permanent_factor: float = real("fastening.permanent-load-factor")
    toe_nail_factor: float = real("fastening.toe-nail-factor")
    overhead_adhesive_lb_per_ft: Fraction = exact("fastening.overhead-adhesive-weight")


@dataclass(frozen=True, slots=True)
class GlueRules(FromBook):
    """Beads, dabs and fillets (trade book `adhesive.*`)."""

    bead_diameter: Figure = figure("adhesive.bead-diameter", "bead diameter")
    dab_volume: Figure = figure("adhesive.dab-volume", "volume of a dab")
    dab_spacing: Figure = figure("adhesive.dab-spacing", "spacing of dabs")
    fillet_leg: Figure = figure("adhesive.fillet-leg", "leg of the fillet")


@dataclass(frozen=True, slots=True)
class FinishRules(FromBook):
    """Filler and coats (trade book `finish.*`)."""

    filler_per_hole: Figure = figure("finish.filler-per-hole", "filler in a hole")
    primer_coats: Figure = whole("finish.primer-coats", "coats of primer")
    paint_coats: Figure = whole("finish.paint-coats", "coats of paint")
    stain_coats: Figure = whole("finish.stain-coats", "coats of stain")


@dataclass(frozen=True, slots=True)
class MedallionRules(FromBook):
    """What holds a medallion (trade book `features.medallion-*`)."""

    screws: Figure = whole("features.medallion-screws", "screws of a medallion")
    beads: Figure = whole("features.medallion-beads", "beads on a medallion's back")


@dataclass(frozen=True, slots=True)
class ProtectionRules(FromBook):
    """How much is masked and covered (trade book `protection.*`)."""

    masked_edges: Figure = whole("protection.masked-edges", "edges to mask")
    floor_width: Figure = figure("protection.floor-width", "width of floor to cover")


@dataclass(frozen=True, slots=True)
class Rules(FromBook):
    """All sets that this stage reads."""

    nails: NailRules = read_by(NailRules.of)
    blocks: BlockRules = read_by(BlockRules.of)
    holding: HoldingRules = read_by(HoldingRules.of)
    glue: GlueRules = read_by(GlueRules.of)
    finish: FinishRules = read_by(FinishRules.of)
    medallion: MedallionRules = read_by(MedallionRules.of)
    protection: ProtectionRules = read_by(ProtectionRules.of)
