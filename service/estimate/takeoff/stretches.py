"""Where a layer can run along a wall: between its ends and the openings that interrupt it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.takeoff.measured import gap_edges, trim_margin, wall_length
from service.estimate.takeoff.openings import depth_below, foot_of, layers_around
from service.firm import Position
from service.problems import Code
from service.survey import OpeningKind
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from service.estimate.figures import Figure
    from service.estimate.takeoff.seats import Seat
    from service.firm import PriceList
    from service.problems import Problems
    from service.survey import Opening, Room, Wall


@dataclass(frozen=True, slots=True)
class Gap:
    """An opening with its casing, as it stands in the way of trim.

    Attributes:
        opening: the opening itself.
        start, end: outer edges along the wall. [Length]
        low, high: outer edges above the floor. [Length]
        is_cased: a casing stands there for the trim to die into.
        edges: how start and end were worked out.
    """

    opening: Opening
    start: Length
    end: Length
    low: Length
    high: Length
    is_cased: bool
    edges: tuple[Figure, Figure]

    def interrupts(self, seat: Seat) -> bool:
        """True when the layer's height band and the gap's overlap."""
        return self.low < seat.high and seat.low < self.high


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a wall that a layer runs along; an end at an opening names the gap, at a corner None.

    `left_edge`, `right_edge`: how start and end were worked out; None at the wall's left end.
    """

    start: Length
    end: Length
    left_edge: Figure | None
    right_edge: Figure
    left_gap: Gap | None = None
    right_gap: Gap | None = None


def gap_of(opening: Opening, price_list: PriceList) -> Gap:
    """Outer edges of an opening: jambs, head and sill, plus casing width and reveal where it is cased.

    Below a window reach the casing, or its stool and apron.

    Source: common practice; base dies into the casing.
    """
    assembly = price_list.assemblies.get(opening.casing or "")
    layers = layers_around(assembly, price_list) if assembly else {}
    casing, reveal = layers.get(Position.CASING), price_list.settings.casing_reveal
    margin = casing[1].width + reveal if casing else ZERO
    has_sill = opening.kind is OpeningKind.WINDOW and opening.sill_height is not None
    return Gap(
        opening=opening,
        start=opening.from_left - margin,
        end=opening.from_left + opening.width + margin,
        low=foot_of(opening) - depth_below(opening, layers, reveal) if has_sill else ZERO,
        high=opening.height + margin,
        is_cased=bool(margin),
        edges=gap_edges(opening, trim_margin(casing[1], reveal) if casing else None),
    )


def stretches_of(seat: Seat, wall: Wall, gaps: Iterable[Gap]) -> tuple[Stretch, ...]:
    """Parts of the wall left to a layer between the openings that interrupt it; none where they leave nothing."""
    found: list[Stretch] = []
    start, left, edge = ZERO, None, None
    for gap in sorted((gap for gap in gaps if gap.interrupts(seat)), key=lambda gap: gap.start):
        if gap.start > start:
            found.append(Stretch(start, gap.start, edge, gap.edges[0], left, gap))
        if gap.end > start:
            start, edge = gap.end, gap.edges[1]
        left = gap
    if start < wall.length:
        found.append(Stretch(start, wall.length, edge, wall_length(wall), left, None))
    return tuple(found)


def gaps_of(openings: Sequence[Opening], wall: Wall, price_list: PriceList) -> tuple[Gap, ...]:
    """Gaps of one wall."""
    return tuple(gap_of(opening, price_list) for opening in openings if opening.wall == wall.name)


def gaps_told(gaps: Sequence[Gap], seats: Mapping[Position, Seat], room: Room, problems: Problems) -> None:
    """Collect casings that run into each other, and crowns that an opening interrupts."""
    for left, right in overlapping(gaps):
        if _are_apart(left.opening, right.opening):
            problems.error(
                Code.OPENINGS_OVERLAP,
                f"{right.opening.pointer}/from_left",
                f"The trim around the {right.opening.kind} runs into that of the {left.opening.kind} before it.",
                help="Check From left and Width, or leave Casing blank on one of them and trim it by hand.",
            )
    crown = seats.get(Position.CROWN)
    for gap in gaps if crown else ():
        if crown and gap.interrupts(crown):
            problems.warning(
                Code.CROWN_INTERRUPTED,
                f"{gap.opening.pointer}/height",
                f"The {gap.opening.kind} on wall {gap.opening.wall} of {room.name} reaches into the crown; the crown "
                "stops at it on both sides.",
                help="Check Height; a crown that runs over it needs a lower opening.",
            )


def overlapping(gaps: Sequence[Gap]) -> Iterator[tuple[Gap, Gap]]:
    """Pairs of gaps that share a part of the wall, the one that begins first in front."""
    before: list[Gap] = []
    for gap in sorted(gaps, key=lambda gap: gap.start):
        before = [other for other in before if other.end > gap.start]
        yield from ((other, gap) for other in before if gap.low < other.high and other.low < gap.high)
        before.append(gap)


def _are_apart(one: Opening, other: Opening) -> bool:
    """True when the openings themselves share nothing, so that only their trim is in each other's way."""
    across = one.from_left + one.width <= other.from_left or other.from_left + other.width <= one.from_left
    return across or foot_of(one) >= other.height or foot_of(other) >= one.height
