"""Which nail goes where: the shortest on the price list that reaches far enough."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from service.firm import SupplyKind
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.estimate.figures import Figure
    from service.estimate.materials.rules import NailRules
    from service.firm import Supply


class Into(StrEnum):
    """What a nail ends in: framing counts for holding and may hide a cable; gypsum holds nothing."""

    FRAMING = "framing"
    BOARD = "board"
    GYPSUM = "gypsum"


@dataclass(frozen=True, slots=True)
class NailGroup:
    """Nails of a run that go through the same and into the same.

    Attributes:
        use: where, in words.
        figure: how many, and how that follows.
        passes: what lies before the wood that must hold. [Length]
        into: what they end in.
        is_angled: driven at an angle (toe-nailed), so they hold less.
        is_hidden: covered later, so no hole to fill.
        is_own: the layer's own nails, for which the assembly may name a supply.
        basis: trade-book entries behind the count.
    """

    use: str
    figure: Figure
    passes: Length
    into: Into
    basis: tuple[str, ...]
    is_angled: bool = False
    is_hidden: bool = False
    is_own: bool = True

    @property
    def count(self) -> int:
        """How many."""
        return self.figure.number


@dataclass(frozen=True, slots=True)
class NailUse:
    """A group with the nail chosen for it."""

    group: NailGroup
    nail: Supply

    @property
    def penetration(self) -> Length:
        """How far the nail goes into what must hold. [Length]"""
        return (self.nail.length or ZERO) - self.group.passes


def least_penetration(diameter: Length, rules: NailRules) -> Length:
    """Least penetration: the larger of 6 shank diameters and the trade's own least.

    Source: NDS 2018 section 12.1.6.4; trade book `fastening.penetration-diameters`, `penetration-least`.
    """
    return max(diameter * rules.penetration_diameters, rules.penetration_least)


def length_needed(nail: Supply, passes: Length, rules: NailRules) -> Length:
    """Shortest length with which a nail of this shank reaches far enough. [Length]"""
    return passes + least_penetration(nail.shank_diameter or ZERO, rules)


def nails_listed(supplies: Iterable[Supply], into: Into) -> tuple[Supply, ...]:
    """Nails whose length is known, shortest first.

    Of equal lengths the thicker comes first for framing, where it holds more, the thinner elsewhere, where
    it splits less; then the listed order.

    Source: common practice.
    """
    sense = -1 if into is Into.FRAMING else 1
    nails = [supply for supply in supplies if supply.kind is SupplyKind.NAIL and supply.length is not None]
    return tuple(sorted(nails, key=lambda nail: (nail.length or ZERO, (nail.shank_diameter or ZERO) * sense)))


def chosen_nail(nails: Iterable[Supply], passes: Length, rules: NailRules) -> Supply | None:
    """The first of these nails (shortest first) that reaches far enough, None when none does.

    Args:
        nails: as `nails_listed` orders them.
        passes: what the nail goes through before it holds. [Length]
        rules: trade book, penetration.
    """
    return next((nail for nail in nails if (nail.length or ZERO) >= length_needed(nail, passes, rules)), None)
