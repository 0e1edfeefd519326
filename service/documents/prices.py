"""The customer's price, room by room: the quote's lines gathered into rows that a customer can read.

Rows add up to their section, sections to the price before tax, because every line stands in exactly one row.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.documents.features import feature_scope, features_counted
from service.documents.fonts import NBSP
from service.documents.openings import cased_words, casings_by_assembly
from service.documents.words import count_text, distance_text, list_text, money, plain
from service.estimate.price import LineKind
from service.money import ZERO
from service.units import ZERO as NO_LENGTH
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Iterable
    from decimal import Decimal

    from service.estimate.price import Line
    from service.estimate.quote.model import Quote, RoomCard

BOARDS = "Moldings and boards"
SUPPLIES = "Nails, adhesive, filler and finish"
FIXTURES = "Medallions, fans and lights"
INSTALLING = "Cutting and installing"
PREPARING = "Setting up, protecting and cleaning up"
TEAR_OUT = "Taking off the old trim"
TRIPS = "Trips to the site"
FINISHING = "Caulking, filling and finishing"
TASK_ROWS = {
    **dict.fromkeys(("set-up", "layout", "clean-up"), PREPARING),
    "tear-out": TEAR_OUT,
    "trip": TRIPS,
    **dict.fromkeys(("caulk", "fill", "sand", "prime", "paint", "stain"), FINISHING),
    **dict.fromkeys(("medallion-in", "medallion-out", "fan-in", "fan-out", "light-in", "light-out"), FIXTURES),
}
FIXTURE_KINDS = frozenset({"medallion", "fan", "light"})
ROW_ORDER = (BOARDS, SUPPLIES, FIXTURES, PREPARING, TEAR_OUT, INSTALLING, FINISHING, TRIPS)
CLOSING = frozenset({LineKind.DISCOUNT, LineKind.MINIMUM})
WHOLE_JOB = "Whole job"
MOST_NAMES = 14
MOST_TRIMS = 12


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a section: what, in how much of it, for how much."""

    title: str
    detail: str
    quantity: str
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Section:
    """A room, or what is bought or done once for the whole job. `scope`: what goes where, in words."""

    title: str
    scope: str
    rows: tuple[Row, ...]

    @property
    def subtotal(self) -> Decimal:
        """Sum of the rows."""
        return sum((row.amount for row in self.rows), ZERO)


def sections(quote: Quote) -> tuple[Section, ...]:
    """Rooms in the sheet's order, then the whole job; discount and minimum charge left out."""
    rooms = {room.name: room for room in quote.rooms}
    lines = [line for line in quote.lines if line.kind not in CLOSING]
    titles = [*rooms, *(line.room for line in lines if line.room and line.room not in rooms), None]
    return tuple(
        Section(title or WHOLE_JOB, _scope(rooms[title], quote) if title in rooms else "", rows)
        for title in dict.fromkeys(titles)
        if (rows := _rows([line for line in lines if line.room == title], quote))
    )


def closing_rows(quote: Quote) -> tuple[Row, ...]:
    """Discount and what was added to reach the minimum charge."""
    return tuple(Row(line.description, "", "", line.amount) for line in quote.lines if line.kind in CLOSING)


def option_rows(quote: Quote) -> tuple[Row, ...]:
    """What the customer may add; not in any sum."""
    return tuple(_own_row(line, quote.currency, with_room=True) for line in quote.options)


def _rows(lines: list[Line], quote: Quote) -> tuple[Row, ...]:
    fixtures = {supply.code for supply in quote.supplies if supply.kind in FIXTURE_KINDS}
    profiles = {boards.profile for boards in quote.boards}
    gathered: dict[str, list[Line]] = {title: [] for title in ROW_ORDER}
    for line in lines:
        if line.cost is not None:
            gathered[_row_of(line, profiles, fixtures)].append(line)
    rows = [_gathered_row(title, items) for title, items in gathered.items() if items]
    return (*rows, *(_own_row(line, quote.currency) for line in lines if line.cost is None))


def _row_of(line: Line, profiles: set[str], fixtures: set[str]) -> str:
    if line.kind is LineKind.LABOR:
        return TASK_ROWS.get(line.code, INSTALLING)
    if line.code in fixtures:
        return FIXTURES
    return BOARDS if line.code in profiles or line.code == "spare-stock" else SUPPLIES


def _gathered_row(title: str, lines: list[Line]) -> Row:
    """Lines of one kind as one row; what is bought is named, boards with their length."""
    bought = [line for line in lines if line.kind is LineKind.MATERIAL]
    names = list(dict.fromkeys(_named(line, with_length=title == BOARDS) for line in bought))
    more = f"; and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
    detail = "; ".join(names[:MOST_NAMES]) + more
    return Row(title, detail, "", sum((line.amount for line in lines), ZERO))


def _named(line: Line, *, with_length: bool) -> str:
    if not with_length or line.unit not in {"ft", "m"}:
        return line.description
    return f"{line.description}, {plain(line.quantity, 0 if line.unit == 'ft' else 1)}{NBSP}{line.unit}"


def _own_row(line: Line, currency: str, *, with_room: bool = False) -> Row:
    """An extra as the estimator wrote it, with its own price for one."""
    place = f"{line.room}: " if with_room and line.room else ""
    quantity = f"{plain(line.quantity)}{NBSP}{line.unit}"
    word = " (allowance)" if line.kind is LineKind.ALLOWANCE else ""
    detail = f"at {money(line.unit_price, currency)} per {line.unit}" if line.quantity != 1 else ""
    return Row(f"{place}{line.description}{word}", detail, quantity, line.amount)


def trimmed_lengths(rooms: Iterable[RoomCard]) -> dict[str, Length]:
    """Length of wall that each assembly trims, by name, in order of appearance.

    Of an assembly's layers along one wall the longest counts.
    """
    along: dict[tuple[str, int, str, int], Length] = {}
    for room in rooms:
        for run in (run for run in room.runs if run.is_along_wall):
            key = run.assembly, room.number, run.wall, run.layer
            along[key] = along.get(key, NO_LENGTH) + run.length
    longest: dict[tuple[str, int, str], Length] = {}
    for (assembly, number, wall, _), length in along.items():
        longest[assembly, number, wall] = max(length, longest.get((assembly, number, wall), NO_LENGTH))
    totals: dict[str, Length] = {}
    for (assembly, _, _), length in longest.items():
        totals[assembly] = totals.get(assembly, NO_LENGTH) + length
    return totals


def _scope(room: RoomCard, quote: Quote) -> str:
    """`Three-piece crown, 58 ft; base, 50 ft`."""
    parts = [f"{name}, {distance_text(length, quote.units)}" for name, length in trimmed_lengths([room]).items()]
    parts += [*casings_by_assembly(room), *(feature_scope(item, quote) for item in room.features)]
    return "; ".join(parts)


def scope_sentences(quote: Quote) -> str:
    """The whole job in two sentences: what goes where, and what the price covers."""
    trims = [f"{name} ({distance_text(length, quote.units)})" for name, length in trimmed_lengths(quote.rooms).items()]
    cased = cased_words(opening for room in quote.rooms for opening in room.openings)
    casings = [f"casing around {cased}"] if cased else []
    names = [room.name for room in quote.rooms]
    where = list_text(names) if len(names) <= 4 else count_text(len(names), "room")  # noqa: PLR2004 - names past that are a list
    work = list_text([*trims, *casings, *features_counted(quote.rooms)], most=MOST_TRIMS) or "the work listed below"
    extra = " Options are priced apart and are not in the total." if quote.options else ""
    return (
        f"We supply and install {work} in {where}. The price covers the material, labor and clean-up listed below; "
        f"what it leaves out is said under “Included and not included”.{extra}"
    )
