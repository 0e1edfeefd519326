"""The figures behind a line before its price: feet of boards, what the boards cost, amounts in the firm's currency."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from service.estimate.figures import EACH, INCH, Figure, added, given, over, rounded, times
from service.units import MM_PER_INCH, Units

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.estimate.cuts.model import Piece, ProfileBoards, Purchase
    from service.estimate.figures import Number

INCHES_IN_FOOT, MM_IN_METER = 12, 1000


def long_points(profile: str, room: str, pieces: Iterable[Piece]) -> Figure:
    """Long points of one profile's pieces in a room together. [in]"""
    return added(f"{profile} in {room}, long points of all pieces", INCH, *(piece.long_figure for piece in pieces))


def in_unit(length: Figure, units: Units) -> Figure:
    """A length in feet, or in meters on a metric job, to 0.01. [ft or m]

    Source: NIST Handbook 44, Appendix C: 1 in = 25.4 mm.
    """
    if units is Units.METRIC:
        mm = times(length.what, "mm", length, given("mm in an inch", MM_PER_INCH, "mm/in", "geometry:mm-in-inch"))
        meters = over(length.what, "m", mm, given("mm in a meter", MM_IN_METER, "mm/m", "geometry:mm-in-meter"))
        return rounded("quantity", "m", meters)
    feet = over(
        length.what, "ft", length, given("inches in a foot", INCHES_IN_FOOT, "in/ft", "geometry:inches-in-foot")
    )
    return rounded("quantity", "ft", feet)


def bought_boards(boards: ProfileBoards, units: Units, currency: str) -> Figure:
    """What the boards of one profile cost: count × price, length by length, in cents. [money]"""
    bought = (_bought(boards.profile, purchase, units, currency) for purchase in boards.purchases)
    return rounded(f"boards of {boards.profile}", currency, added("before rounding", currency, *bought))


def _bought(profile: str, purchase: Purchase, units: Units, currency: str) -> Figure:
    kind, member = ("offcuts on hand", "offcut") if purchase.is_offcut else ("boards", "new")
    words = f"{kind} of {profile}, {purchase.length.text(units)}"
    count = given(f"how many {kind}", purchase.count, EACH, "plan:boards")
    where = f"list:stock/{profile}/{purchase.length.decimal()}/{member}"
    return times(words, currency, count, given("price of one", purchase.unit_price, currency, where))


def in_currency(amount: Figure, currency: str) -> Figure:
    """An amount of an earlier stage, which knows no currency, in the firm's. [money]"""
    return replace(amount, unit=currency)


def told(figure: Figure | None, what: str, value: Number, unit: str) -> Figure:
    """The figure that an earlier stage told, or its bare value where no stage is behind it."""
    return figure or given(what, value, unit, f"plan:{what}")
