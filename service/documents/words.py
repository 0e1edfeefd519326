"""How a quote's facts are worded on paper: names, dates, money, lengths, ends."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from service.documents.fonts import NBSP
from service.estimate.quote.model import Status
from service.estimate.takeoff.model import Edge, Joint, Side
from service.money import money_text
from service.units import Units

if TYPE_CHECKING:
    from datetime import date
    from fractions import Fraction

    from service.estimate.quote.model import Quote
    from service.estimate.takeoff.model import End, Hand
    from service.units import Length

SQUARE_METERS_PER_SQUARE_FOOT = Decimal("0.09290304")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def document_word(quote: Quote) -> str:
    """`Quote` or `Estimate`, as the firm calls it."""
    return quote.firm.document_word.strip().capitalize() or "Quote"


def identity(quote: Quote) -> str:
    """`Quote Q-0042, revision 2`, with what stands in the way of accepting it: `draft`, `withdrawn`, `declined`."""
    status = {Status.DRAFT: "draft", Status.WITHDRAWN: "withdrawn", Status.DECLINED: "declined"}.get(quote.status)
    if not quote.number:
        return f"Draft {document_word(quote).lower()}, revision {quote.revision}"
    return f"{document_word(quote)} {quote.number}, revision {quote.revision}{f', {status}' if status else ''}"


def created_on(quote: Quote) -> date:
    """Day on which the quote was made, in the firm's time zone (UTC where that zone is not known here)."""
    try:
        return quote.created_at.astimezone(ZoneInfo(quote.firm.time_zone)).date()
    except (ZoneInfoNotFoundError, ValueError):
        return quote.created_at.date()


def date_text(day: date) -> str:
    """`November 25, 2026`, with no-break spaces."""
    return f"{MONTHS[day.month - 1]}{NBSP}{day.day},{NBSP}{day.year}"


def money(amount: Decimal, currency: str) -> str:
    """Money that never breaks over a line."""
    return money_text(amount, currency).replace(" ", NBSP)


def figures(amount: Decimal) -> str:
    """An amount without its currency, for columns: `1,234.50`, with a true minus sign."""
    return money_text(amount, "USD").replace("$", "")


def share_text(share: Decimal) -> str:
    """`30%`, `33.33%`."""
    return f"{plain(share * 100)}%"


def plain(value: Decimal, places: int = 2) -> str:
    """A number for people, rounded half up, without trailing zeros, thousands grouped."""
    rounded = value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    text = f"{rounded:,.{places}f}".replace("-", "\N{MINUS SIGN}")
    return text.rstrip("0").rstrip(".") if places else text


def length_text(length: Length, units: Units) -> str:
    """A length that never breaks over a line."""
    return length.text(units).replace(" ", NBSP)


def size_text(length: Length, units: Units) -> str:
    """A small size: inches alone, or millimeters."""
    return (length.text(units) if units is Units.METRIC else length.inch_text()).replace(" ", NBSP)


def inch_decimal(length: Length) -> str:
    """Decimal inches to a thousandth, `150.5″`."""
    return f"{plain(length.decimal(), 3).replace(',', '')}\N{DOUBLE PRIME}"


def distance_text(length: Length, units: Units) -> str:
    """A rough distance for people: whole feet, or tenths of a meter."""
    if units is Units.METRIC:
        return f"{plain(_decimal(length.mm / 1000), 1)}{NBSP}m"
    return f"{plain(_decimal(length.feet), 0)}{NBSP}ft"


def area_text(square_feet: Decimal, units: Units) -> str:
    """`296 sq ft`, or square meters to a tenth (1 sq ft = 0.09290304 m² exactly, NIST Handbook 44, Appendix C)."""
    if units is Units.METRIC:
        return f"{plain(square_feet * SQUARE_METERS_PER_SQUARE_FOOT, 1)}{NBSP}m²"
    return f"{plain(square_feet, 0)}{NBSP}sq{NBSP}ft"


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / value.denominator


def degrees(angle_deg: float) -> str:
    """A saw setting to 0.1°, `33.9°`, `45°`."""
    return f"{plain(Decimal(str(angle_deg)), 1)}°"


JOINT_WORDS = {
    Joint.MITER: "miter",
    Joint.COPE: "cope",
    Joint.BUTT: "butt",
    Joint.SCARF: "scarf",
    Joint.RETURN: "return",
    Joint.SQUARE: "square",
}
EDGE_WORDS = {
    Edge.WALL: "wall edge",
    Edge.ROOM: "room edge",
    Edge.BOTTOM: "bottom edge",
    Edge.TOP: "top edge",
    Edge.BACK: "back",
    Edge.FACE: "face",
    Edge.OUTER: "outer edge",
    Edge.INNER: "inner edge",
}


SWING_WORDS = {Side.LEFT: "L", Side.RIGHT: "R"}


def swing_text(angle_deg: float | None, hand: Hand | None) -> str:
    """A miter with where the saw's handle goes, `31.6° R`; without it where the table stands at 0°, `–` if none."""
    if angle_deg is None:
        return "–"
    turn = f"{NBSP}{SWING_WORDS[hand.swing]}" if hand and hand.swing else ""
    return f"{degrees(angle_deg)}{turn}"


def upright_word(hand: Hand | None) -> str:
    """What standing against the fence is called: a board stands `on edge`, a crown is `nested`."""
    return "on edge" if hand and hand.fence_edge is Edge.BACK else "nested"


def joint_text(end: End) -> str:
    """`miter, inside 90°`: the joint and the corner it meets; a frame around an opening has corners of its own alone."""
    corner = f"{end.corner} " if end.corner and end.long_edge not in {Edge.OUTER, Edge.INNER} else ""
    reading = degrees(end.corner_deg) if end.corner_deg is not None else ""
    return f"{JOINT_WORDS[end.joint]}, {corner}{reading}".rstrip(" ,")


def list_text(items: tuple[str, ...] | list[str], most: int = 6) -> str:
    """`a, b and c`; past `most` items `a, b … and 4 more`."""
    shown = list(items[:most])
    rest = len(items) - len(shown)
    if rest:
        return f"{', '.join(shown)} and {rest} more"
    return f"{', '.join(shown[:-1])} and {shown[-1]}" if len(shown) > 1 else "".join(shown)


def count_text(count: int, one: str, many: str = "") -> str:
    """`1 room`, `3 rooms`."""
    return f"{count:,}{NBSP}{one if count == 1 else many or one + 's'}"


def part_text(part: Length, whole: Length) -> str:
    """A length as a share of another, `6.2%`; `0%` of nothing."""
    return f"{plain(_decimal(part / whole * 100), 1)}%" if whole else "0%"
