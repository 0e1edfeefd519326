"""One row a task and room: quantity, rate, factors, hours, wages."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.labor.conditions import condition_text, in_force
from service.estimate.labor.model import Factor, LaborRow
from service.estimate.labor.words import WORDS
from service.money import to_cents
from service.problems import Code
from service.trade.tasks import TASKS
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from service.estimate.labor.work import Work
    from service.firm import LaborRate, Position, PriceList
    from service.problems import Problems
    from service.survey import Room
    from service.trade.book import TradeBook

HUNDREDTH = Decimal("0.01")
TWO_PEOPLE = 2
_ORDER = list(TASKS)


@dataclass(frozen=True, slots=True)
class Crew:
    """What work is priced with: the rooms it is done in, the firm's rates, the trade's factors."""

    rooms: Mapping[int, Room]
    is_occupied: bool
    price_list: PriceList
    long_above: Length
    long_factor: Decimal
    problems: Problems

    @classmethod
    def of(
        cls, rooms: Mapping[int, Room], is_occupied: bool, price_list: PriceList, book: TradeBook, problems: Problems
    ) -> Crew:
        """With the trade book's rule for long pieces."""
        above, factor = book.value("labor.long-piece"), book.value("labor.long-piece-factor")
        return cls(rooms, is_occupied, price_list, Length.of(above), factor, problems)


def labor_rows(works: Iterable[Work], crew: Crew) -> tuple[LaborRow, ...]:
    """Rows by room and task; work of one task and room under other factors has a row of its own."""
    groups: dict[tuple[int | None, str], dict[tuple[Factor, ...], list[Work]]] = defaultdict(lambda: defaultdict(list))
    for alike in _alike(works):
        first = alike[0]
        groups[first.room, first.task][factors_on(first, crew)] += alike
    rows = [
        _row(task, factors, group, described(task, factors, split), crew)
        for (_, task), split in groups.items()
        for factors, group in split.items()
    ]
    return tuple(sorted((row for row in rows if row is not None), key=_place_of))


def _alike(works: Iterable[Work]) -> Iterable[list[Work]]:
    """Work that the same factors are in force on, so that they are looked up once."""
    groups: dict[tuple[int | None, str, Position | None, bool], list[Work]] = defaultdict(list)
    for work in works:
        groups[work.room, work.task, work.position, work.is_long].append(work)
    return groups.values()


def _place_of(row: LaborRow) -> tuple[bool, int, int]:
    return row.room is None, row.room or 0, _ORDER.index(row.task)


def factors_on(work: Work, crew: Crew) -> tuple[Factor, ...]:
    """Factors on a piece of work: the conditions in force, and two people for a long piece that one rate counts alone.

    Source: trade book `labor.long-piece`, `labor.long-piece-factor`.
    """
    room = crew.rooms.get(work.room) if work.room is not None else None
    conditions = in_force(crew.price_list.conditions, work, room, crew.is_occupied)
    units = crew.price_list.settings.units
    factors = tuple(Factor(condition_text(item, units), item.factor) for item in conditions)
    rate = crew.price_list.labor.get(work.task)
    if work.is_long and (rate is None or rate.crew < TWO_PEOPLE):
        return (*factors, Factor(_long_text(crew), crew.long_factor))
    return factors


def _long_text(crew: Crew) -> str:
    return f"two people, pieces longer than {crew.long_above.text(crew.price_list.settings.units)}"


def _row(
    task: str, factors: tuple[Factor, ...], group: Sequence[Work], description: str, crew: Crew
) -> LaborRow | None:
    rate = crew.price_list.labor.get(task)
    if rate is None:
        _tell_no_rate(task, group[0], crew.problems)
        return None
    wage = crew.price_list.wages.get(rate.role)
    if wage is None:
        _tell_no_wage(rate, group[0], crew.problems)
        return None
    room = crew.rooms.get(group[0].room) if group[0].room is not None else None
    quantity = hundredths(sum((work.quantity for work in group), Fraction(0)))
    hours = hours_of(quantity, rate.hours_per_unit, factors)
    return LaborRow(
        task=task,
        room=group[0].room,
        room_name=room.name if room else None,
        description=description,
        quantity=quantity,
        unit=TASKS[task].unit,
        rate=rate.hours_per_unit,
        factors=factors,
        hours=hours,
        role=rate.role,
        wage=wage,
        amount=to_cents(hours * wage),
        basis=_basis(rate, factors, group, crew),
    )


def hours_of(quantity: Decimal, rate: Decimal, factors: Iterable[Factor]) -> Decimal:
    """Person-hours: quantity × rate × each factor, rounded half up to 0.01.

    Source: NAVEDTRA 14045 pages 2-27, 2-28: quantity over unit × man-hours × delay factor.

    Args:
        quantity: in the task's unit.
        rate: person-hours for one unit. [hours]
        factors: of the conditions in force.

    Returns:
        [hours]
    """
    hours = quantity * rate * math.prod((item.factor for item in factors), start=Decimal(1))
    return hours.quantize(HUNDREDTH, rounding=ROUND_HALF_UP)


def hundredths(quantity: Fraction) -> Decimal:
    """Quantity rounded half up to 0.01: what is printed is what hours are worked out from."""
    return to_cents(quantity)


def described(task: str, factors: Iterable[Factor], split: Iterable[tuple[Factor, ...]]) -> str:
    """The task in words, with what sets the row apart where a task of one room has several.

    Args:
        task: published key.
        factors: in force on this row.
        split: factors of all rows of this task and room.
    """
    shared = set.intersection(*(set(other) for other in split))
    apart = "; ".join(item.condition for item in factors if item not in shared)
    return f"{WORDS[task]} ({apart})" if apart else WORDS[task]


def _basis(rate: LaborRate, factors: Iterable[Factor], group: Iterable[Work], crew: Crew) -> tuple[str, ...]:
    is_long = any(item.condition == _long_text(crew) for item in factors)
    trade = ("trade:labor.long-piece", "trade:labor.long-piece-factor") if is_long else ()
    conditions = ("list:conditions",) if len(tuple(factors)) > is_long else ()
    places = dict.fromkeys(f"sheet:{source}" for work in group for source in work.sources)
    return (f"list:labor/{rate.task}", f"list:wages/{rate.role}", *conditions, *trade, *places)


def _tell_no_rate(task: str, work: Work, problems: Problems) -> None:
    problems.error(
        Code.RATE_MISSING,
        work.sources[0] if work.sources else "",
        f"The work takes the task {task} ({TASKS[task].driver}), and the price list has no rate for it.",
        help=f"Add {task} to the price list's Labor tab, in hours per {TASKS[task].unit}.",
        found=task,
    )


def _tell_no_wage(rate: LaborRate, work: Work, problems: Problems) -> None:
    problems.error(
        Code.ROLE_UNKNOWN,
        work.sources[0] if work.sources else "",
        f"The task {rate.task} is done by {rate.role}, for whom the price list has no wage.",
        help=f"Add {rate.role} to the price list's Wages tab.",
        found=rate.role,
    )
