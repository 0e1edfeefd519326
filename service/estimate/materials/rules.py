"""Numbers of the trade that fastening and sealing need, taken from the trade book once, in small sets."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.units import Length

if TYPE_CHECKING:
    from service.trade.book import TradeBook


@dataclass(frozen=True, slots=True)
class NailRules:
    """How many nails and how far they go (trade book `fastening.*`, `framing.top-plate-depth`)."""

    per_joint: int
    per_wide_joint: int
    wide_above: Length
    per_stud: int
    per_cap_stud: int
    per_edge_backing: int
    spacing: Length
    unbacked_limit: Length
    cross_spacing: Length
    per_cross: int
    per_splice: int
    per_outside_corner: int
    per_block: int
    crown_per_block: int
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
            per_joint=_count(book, "fastening.nails-per-joint"),
            per_wide_joint=_count(book, "fastening.nails-per-wide-joint"),
            wide_above=_length(book, "fastening.wide-above"),
            per_stud=_count(book, "fastening.nails-per-stud"),
            per_cap_stud=_count(book, "fastening.cap-nails-per-stud"),
            per_edge_backing=_count(book, "fastening.edge-nails-per-backing"),
            spacing=_length(book, "fastening.nail-spacing"),
            unbacked_limit=_length(book, "fastening.unbacked-limit"),
            cross_spacing=_length(book, "fastening.cross-nail-spacing"),
            per_cross=_count(book, "fastening.nails-per-cross"),
            per_splice=_count(book, "fastening.nails-per-splice"),
            per_outside_corner=_count(book, "fastening.nails-per-outside-corner"),
            per_block=_count(book, "fastening.nails-per-block"),
            crown_per_block=_count(book, "fastening.crown-nails-per-block"),
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

    spacing: Length
    per_corner: int
    corner_inset: Length
    per_stool_place: int
    per_apron_place: int
    per_plinth_side: int

    @classmethod
    def of(cls, book: TradeBook) -> CasingRules:
        """The rules as the trade book has them."""
        return cls(
            spacing=_length(book, "fastening.casing-nail-spacing"),
            per_corner=_count(book, "fastening.nails-per-casing-corner"),
            corner_inset=_length(book, "fastening.casing-corner-inset"),
            per_stool_place=_count(book, "fastening.stool-nails-per-place"),
            per_apron_place=_count(book, "fastening.apron-nails-per-place"),
            per_plinth_side=_count(book, "fastening.plinth-nails-per-side"),
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
    """Beads, dabs and fillets (trade book `adhesive.*`). `dab_volume` in cubic inches."""

    bead_diameter: Length
    dab_volume: Fraction
    dab_spacing: Length
    fillet_leg: Length

    @classmethod
    def of(cls, book: TradeBook) -> GlueRules:
        """The rules as the trade book has them."""
        return cls(
            _length(book, "adhesive.bead-diameter"),
            _exact(book, "adhesive.dab-volume"),
            _length(book, "adhesive.dab-spacing"),
            _length(book, "adhesive.fillet-leg"),
        )


@dataclass(frozen=True, slots=True)
class FinishRules:
    """Filler and coats (trade book `finish.*`). `filler_per_hole` in cubic inches."""

    filler_per_hole: Fraction
    primer_coats: int
    paint_coats: int
    stain_coats: int

    @classmethod
    def of(cls, book: TradeBook) -> FinishRules:
        """The rules as the trade book has them."""
        return cls(
            _exact(book, "finish.filler-per-hole"),
            _count(book, "finish.primer-coats"),
            _count(book, "finish.paint-coats"),
            _count(book, "finish.stain-coats"),
        )


@dataclass(frozen=True, slots=True)
class MedallionRules:
    """What holds a medallion (trade book `features.medallion-*`)."""

    screws: int
    beads: int

    @classmethod
    def of(cls, book: TradeBook) -> MedallionRules:
        """The rules as the trade book has them."""
        return cls(_count(book, "features.medallion-screws"), _count(book, "features.medallion-beads"))


@dataclass(frozen=True, slots=True)
class Rules:
    """All sets that this stage reads."""

    nails: NailRules
    blocks: BlockRules
    holding: HoldingRules
    glue: GlueRules
    finish: FinishRules
    medallion: MedallionRules

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
        )


def _length(book: TradeBook, key: str) -> Length:
    return Length.of(book.value(key))


def _exact(book: TradeBook, key: str) -> Fraction:
    return Fraction(book.value(key))


def _count(book: TradeBook, key: str) -> int:
    return int(book.value(key))
