"""Where a layer can run along a wall: between its ends and the openings that interrupt it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.firm import Position
from service.survey import OpeningKind
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.takeoff.seats import Seat
    from service.firm import PriceList
    from service.survey import Opening, Wall


@dataclass(frozen=True, slots=True)
class Gap:
    """An opening with its casing, as it stands in the way of trim.

    Attributes:
        opening: the opening itself.
        start, end: outer edges along the wall. [Length]
        low, high: outer edges above the floor. [Length]
        is_cased: a casing stands there for the trim to die into.
    """

    opening: Opening
    start: Length
    end: Length
    low: Length
    high: Length
    is_cased: bool

    def interrupts(self, seat: Seat) -> bool:
        """True when the layer's height band and the gap's overlap."""
        return self.low < seat.high and seat.low < self.high


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a wall that a layer runs along; an end at an opening names the gap, at a corner None."""

    start: Length
    end: Length
    left_gap: Gap | None = None
    right_gap: Gap | None = None


def gap_of(opening: Opening, price_list: PriceList) -> Gap:
    """Outer edges of an opening: jambs and head, plus casing width and reveal where it is cased.

    Source: common practice; base dies into the casing.
    """
    margin = _casing_margin(opening, price_list)
    sill = opening.sill_height
    return Gap(
        opening=opening,
        start=opening.from_left - margin,
        end=opening.from_left + opening.width + margin,
        low=sill - margin if sill is not None and opening.kind is OpeningKind.WINDOW else ZERO,
        high=opening.height + margin,
        is_cased=bool(margin),
    )


def _casing_margin(opening: Opening, price_list: PriceList) -> Length:
    assembly = price_list.assemblies.get(opening.casing or "")
    for layer in assembly.layers if assembly else ():
        if layer.position is Position.CASING:
            return price_list.profiles[layer.profile].width + price_list.settings.casing_reveal
    return ZERO


def stretches_of(seat: Seat, wall: Wall, gaps: Iterable[Gap]) -> tuple[Stretch, ...]:
    """Parts of the wall left to a layer between the openings that interrupt it; none where they leave nothing."""
    found: list[Stretch] = []
    start, left = ZERO, None
    for gap in sorted((gap for gap in gaps if gap.interrupts(seat)), key=lambda gap: gap.start):
        if gap.start > start:
            found.append(Stretch(start, gap.start, left, gap))
        start, left = max(start, gap.end), gap
    if start < wall.length:
        found.append(Stretch(start, wall.length, left, None))
    return tuple(found)


def gaps_of(openings: Sequence[Opening], wall: Wall, price_list: PriceList) -> tuple[Gap, ...]:
    """Gaps of one wall."""
    return tuple(gap_of(opening, price_list) for opening in openings if opening.wall == wall.name)
