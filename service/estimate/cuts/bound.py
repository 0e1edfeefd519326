"""The least that boards and joints can cost, proven by plain arithmetic.

Whatever the plan, the pieces take a certain length of wood, and no inch is had for less than the best
price an inch. Every step gives something away on the cheap side, so no plan can cost less. The engine's own bound is
nearly always higher; this one holds where the engine did not look at every position.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.units import SNAP, ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.cuts.shelf import Choice, Shelf
    from service.estimate.cuts.spans import Span

HALF_SNAP = Length(Fraction(1, 2 * SNAP))


@dataclass(frozen=True, slots=True)
class Need:
    """What a profile needs at the very least: joints, wood with a kerf a piece, and pieces that stay whole."""

    joints: int
    wood: Length
    whole: tuple[Length, ...]


def lower_bound(need: Need, shelf: Shelf, kerf: Length, joint_cents: int) -> int:
    """Cost below which no lawful plan can lie. [cents]

    The larger of two bounds on the boards, each raised to what whole boards can cost (a multiple of the
    prices' greatest common divisor), and the joints that no plan can do without.

    Source: linear relaxation of the cutting stock problem, general method.

    Args:
        need: of one profile.
        shelf: what the profile can be had in.
        kerf: width of a square cut. [Length]
        joint_cents: labor of one joint.
    """
    cents = max(wood_bound(need.wood, shelf.choices, kerf), whole_piece_bound(need.whole, shelf.choices))
    step = math.gcd(*(_cents(choice) for choice in shelf.choices)) or 1
    return math.ceil(cents / step) * step + need.joints * joint_cents


def wood_bound(wood: Length, choices: Iterable[Choice], kerf: Length) -> Fraction:
    """Least price of so much wood, the cheapest inch first, limited lengths only as far as they go. [cents]

    A board gives its usable length plus one kerf, since its last piece needs no cut beside another.
    """
    rest = wood.inches
    price = Fraction(0)
    for choice in sorted(choices, key=lambda choice: _rate(choice, kerf)):
        size = (choice.usable + kerf).inches
        taken = rest if choice.available is None else min(rest, size * choice.available)
        price += taken * _rate(choice, kerf)
        rest -= taken
        if rest <= 0:
            break
    return price


def whole_piece_bound(whole: Iterable[Length], choices: Sequence[Choice]) -> Fraction:
    """Least price of the pieces of which no board holds two: one board each, the cheapest that holds it. [cents]"""
    half = max(choice.usable for choice in choices) / 2
    return Fraction(sum(_cheapest(piece, choices) for piece in whole if piece > half))


def _cheapest(piece: Length, choices: Iterable[Choice]) -> int:
    return min((_cents(choice) for choice in choices if choice.usable >= piece), default=0)


def _rate(choice: Choice, kerf: Length) -> Fraction:
    return Fraction(_cents(choice)) / (choice.usable + kerf).inches


def _cents(choice: Choice) -> int:
    return int(choice.price * 100)


def least_need(spans: Iterable[Span], whole: Iterable[Length], shelf: Shelf, kerf: Length) -> Need:
    """What the runs and given pieces of a profile need at least.

    Args:
        spans: runs that may be joined.
        whole: pieces that are the same in every plan. [Length]
        shelf: what the profile can be had in.
        kerf: width of a square cut. [Length]
    """
    pieces = list(whole)
    joints, wood = 0, ZERO
    for span in spans:
        least = least_joints(span.length - HALF_SNAP, shelf.longest, span.overlap)
        joints += least
        wood += spliced_wood(span, least, kerf)
    for piece in pieces:
        wood += piece + kerf
    return Need(joints, wood, tuple(pieces))


def least_joints(length: Length, longest: Length, overlap: Length) -> int:
    """Joints without which no pieces up to `longest` cover a run: (n + 1) pieces less n overlaps reach its length.

    A piece may have been snapped down by half of 1/64" at most.

    Source: plane geometry.
    """
    gain = longest + HALF_SNAP - overlap
    if gain <= ZERO:
        return 0
    return max(math.ceil((length - longest - HALF_SNAP) / gain), 0)


def spliced_wood(span: Span, joints: int, kerf: Length) -> Length:
    """Wood that a run takes at least when it has so many joints or more, a kerf a piece. [Length]

    A joint adds an overlap and a kerf, and may lose half of 1/64" in snapping; where it so loses more than
    it adds, as many joints are counted as there are inches.
    """
    each = span.overlap + kerf - HALF_SNAP
    count = joints if each >= ZERO else math.ceil(span.length.inches)
    return max(span.length - HALF_SNAP * 2 + kerf + each * count, ZERO)
