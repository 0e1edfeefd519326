"""Numbers of the trade that fastening and sealing need, taken from the trade book once, in small sets.

What enters a count or a size is a `Figure` that names its entry; what is only compared with is a plain number.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import Figure, given, rounded_up
from service.units import Length

if TYPE_CHECKING:
    from service.trade.book import TradeBook


@dataclass(frozen=True, slots=True)
class NailRules:
    """How many nails and how far they go (trade book `fastening.*`, `framing.top-plate-depth`)."""

    per_joint: Figure
    per_wide_joint: Figure
    wide_above: Length
    per_stud: Figure
    per_cap_stud: Figure
    per_edge_backing: Figure
    spacing: Figure
    unbacked_limit: Length
    cross_spacing: Figure
    per_cross: Figure
    per_splice: Figure
    per_outside_corner: Figure
    per_return: Figure
    per_block: Figure
    crown_per_block: Figure
    block_nail_share: Fraction
    penetration_diameters: Fraction
    penetration_least: Length
    cable_reach: Length
    top_plate_depth: Length
    casing: CasingRules

    @classmethod
    def of(cls, book: TradeBook) -> NailRules:
        """The rules as the trade book has them."""
        return cls(
            per_joint=_whole(book, "fastening.nails-per-joint", "nails at each joist"),
            per_wide_joint=_whole(book, "fastening.nails-per-wide-joint", "nails at each joist, wide board"),
            wide_above=_length(book, "fastening.wide-above"),
            per_stud=_whole(book, "fastening.nails-per-stud", "nails at each stud"),
            per_cap_stud=_whole(book, "fastening.cap-nails-per-stud", "nails at each stud, cap"),
            per_edge_backing=_whole(
                book, "fastening.edge-nails-per-backing", "nails in the edge at each joist or stud"
            ),
            spacing=_figure(book, "fastening.nail-spacing", "nail spacing"),
            unbacked_limit=_length(book, "fastening.unbacked-limit"),
            cross_spacing=_figure(book, "fastening.cross-nail-spacing", "spacing of crossed pairs"),
            per_cross=_whole(book, "fastening.nails-per-cross", "nails crossed at each place"),
            per_splice=_whole(book, "fastening.nails-per-splice", "nails at each scarf"),
            per_outside_corner=_whole(book, "fastening.nails-per-outside-corner", "nails at each outside corner"),
            per_return=_whole(book, "fastening.nails-per-return", "nails at each return"),
            per_block=_whole(book, "fastening.nails-per-block", "nails in each block"),
            crown_per_block=_whole(book, "fastening.crown-nails-per-block", "nails from the crown into each block"),
            block_nail_share=_exact(book, "fastening.block-nail-share"),
            penetration_diameters=_exact(book, "fastening.penetration-diameters"),
            penetration_least=_length(book, "fastening.penetration-least"),
            cable_reach=_length(book, "fastening.cable-reach"),
            top_plate_depth=_length(book, "framing.top-plate-depth"),
            casing=CasingRules.of(book),
        )


@dataclass(frozen=True, slots=True)
class CasingRules:
    """How the trim around an opening is nailed (trade book `fastening.*`).

    `corner_inset`: what a cross-nail passes of one piece before it reaches the other. [Length]
    """

    spacing: Figure
    per_corner: Figure
    corner_inset: Length
    per_stool_place: Figure
    per_apron_place: Figure
    per_plinth_side: Figure

    @classmethod
    def of(cls, book: TradeBook) -> CasingRules:
        """The rules as the trade book has them."""
        return cls(
            spacing=_figure(book, "fastening.casing-nail-spacing", "spacing of casing nails"),
            per_corner=_whole(book, "fastening.nails-per-casing-corner", "nails across each corner"),
            corner_inset=_length(book, "fastening.casing-corner-inset"),
            per_stool_place=_whole(book, "fastening.stool-nails-per-place", "nails at each place, stool"),
            per_apron_place=_whole(book, "fastening.apron-nails-per-place", "nails at each place, apron"),
            per_plinth_side=_whole(book, "fastening.plinth-nails-per-side", "nails on each side of a plinth block"),
        )


@dataclass(frozen=True, slots=True)
class BlockRules:
    """Where blocks stand behind a crown and how much smaller than the gap they are."""

    from_end: Length
    clearance: Length

    @classmethod
    def of(cls, book: TradeBook) -> BlockRules:
        """The rules as the trade book has them."""
        return cls(_length(book, "fastening.block-from-end"), _length(book, "fastening.block-clearance"))


@dataclass(frozen=True, slots=True)
class HoldingRules:
    """What a nail in wood holds: W = constant · G^exponent · D, pounds per inch of penetration.

    `overhead_adhesive_lb_per_ft`: dead weight above which nothing may hang on adhesive alone. [lb/ft]
    """

    constant: float
    exponent: float
    gravity: float
    permanent_factor: float
    toe_nail_factor: float
    overhead_adhesive_lb_per_ft: Fraction

    @classmethod
    def of(cls, book: TradeBook) -> HoldingRules:
        """The rules as the trade book has them."""
        return cls(
            constant=float(book.value("fastening.withdrawal-constant")),
            exponent=float(book.value("fastening.withdrawal-exponent")),
            gravity=float(book.value("fastening.framing-gravity")),
            permanent_factor=float(book.value("fastening.permanent-load-factor")),
            toe_nail_factor=float(book.value("fastening.toe-nail-factor")),
            overhead_adhesive_lb_per_ft=_exact(book, "fastening.overhead-adhesive-weight"),
        )


@dataclass(frozen=True, slots=True)
class GlueRules:
    """Beads, dabs and fillets (trade book `adhesive.*`)."""

    bead_diameter: Figure
    dab_volume: Figure
    dab_spacing: Figure
    fillet_leg: Figure

    @classmethod
    def of(cls, book: TradeBook) -> GlueRules:
        """The rules as the trade book has them."""
        return cls(
            _figure(book, "adhesive.bead-diameter", "bead diameter"),
            _figure(book, "adhesive.dab-volume", "volume of a dab"),
            _figure(book, "adhesive.dab-spacing", "spacing of dabs"),
            _figure(book, "adhesive.fillet-leg", "leg of the fillet"),
        )


@dataclass(frozen=True, slots=True)
class FinishRules:
    """Filler and coats (trade book `finish.*`)."""

    filler_per_hole: Figure
    primer_coats: Figure
    paint_coats: Figure
    stain_coats: Figure

    @classmethod
    def of(cls, book: TradeBook) -> FinishRules:
        """The rules as the trade book has them."""
        return cls(
            _figure(book, "finish.filler-per-hole", "filler in a hole"),
            _whole(book, "finish.primer-coats", "coats of primer"),
            _whole(book, "finish.paint-coats", "coats of paint"),
            _whole(book, "finish.stain-coats", "coats of stain"),
        )


@dataclass(frozen=True, slots=True)
class MedallionRules:
    """What holds a medallion (trade book `features.medallion-*`)."""

    screws: Figure
    beads: Figure

    @classmethod
    def of(cls, book: TradeBook) -> MedallionRules:
        """The rules as the trade book has them."""
        return cls(
            _whole(book, "features.medallion-screws", "screws of a medallion"),
            _whole(book, "features.medallion-beads", "beads on a medallion's back"),
        )


@dataclass(frozen=True, slots=True)
class ProtectionRules:
    """How much is masked and covered (trade book `protection.*`)."""

    masked_edges: Figure
    floor_width: Figure

    @classmethod
    def of(cls, book: TradeBook) -> ProtectionRules:
        """The rules as the trade book has them."""
        return cls(
            _whole(book, "protection.masked-edges", "edges to mask"),
            _figure(book, "protection.floor-width", "width of floor to cover"),
        )


@dataclass(frozen=True, slots=True)
class Rules:
    """All sets that this stage reads."""

    nails: NailRules
    blocks: BlockRules
    holding: HoldingRules
    glue: GlueRules
    finish: FinishRules
    medallion: MedallionRules
    protection: ProtectionRules

    @classmethod
    def of(cls, book: TradeBook) -> Rules:
        """The rules as the trade book has them."""
        return cls(
            NailRules.of(book),
            BlockRules.of(book),
            HoldingRules.of(book),
            GlueRules.of(book),
            FinishRules.of(book),
            MedallionRules.of(book),
            ProtectionRules.of(book),
        )


def _length(book: TradeBook, key: str) -> Length:
    return Length.of(book.value(key))


def _exact(book: TradeBook, key: str) -> Fraction:
    return Fraction(book.value(key))


def _figure(book: TradeBook, key: str, what: str) -> Figure:
    entry = book[key]
    return given(what, entry.value, entry.unit, f"trade:{key}")


def _whole(book: TradeBook, key: str, what: str) -> Figure:
    """A count; one that a firm set to a fraction is taken as the next whole number."""
    figure = _figure(book, key, what)
    return figure if figure.value.denominator == 1 else rounded_up(f"{what}, whole", figure.unit, figure)
