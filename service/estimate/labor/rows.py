"""One row a task and room: quantity, rate, factors, hours, wages."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.figures import CENT_STEP, HOUR, HUNDREDTH, added, given, rounded, times, trade_entries
from service.estimate.labor.conditions import condition_text, in_force
from service.estimate.labor.model import Factor, LaborRow
from service.estimate.labor.words import WORDS
from service.money import to_cents
from service.problems import Code
from service.trade.tasks import TASKS
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from decimal import Decimal

    from service.estimate.figures import Figure
    from service.estimate.labor.work import Work
    from service.firm import LaborRate, Position, PriceList
    from service.problems import Problems
    from service.survey import Room
    from service.trade.book import TradeBook

RATIO = "ratio"
LONG_FACTOR = "labor.long-piece-factor"
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
        above, factor = book.value("labor.long-piece"), book.value(LONG_FACTOR)
        return cls(rooms, is_occupied, price_list, Length.of(above), factor, problems)


@dataclass(frozen=True, slots=True)
class Group:
    """Work of one row: one task in one room under the same factors, `apart` what tells it from such rows beside it."""

    task: str
    room: int | None
    factors: tuple[Factor, ...]
    apart: str
    works: tuple[Work, ...]


def groups_of(works: Iterable[Work], crew: Crew) -> tuple[Group, ...]:
    """Work by room and task, rooms in order; work of one task and room under other factors is a group of its own."""
    split: dict[tuple[int | None, str], dict[tuple[Factor, ...], list[Work]]] = defaultdict(lambda: defaultdict(list))
    for alike in _alike(works):
        first = alike[0]
        split[first.room, first.task][factors_on(first, crew)] += alike
    groups = [
        Group(task, room, factors, told_apart(factors, by_factors), tuple(group))
        for (room, task), by_factors in split.items()
        for factors, group in by_factors.items()
    ]
    return tuple(sorted(groups, key=_place_of))


def _alike(works: Iterable[Work]) -> Iterable[list[Work]]:
    """Work that the same factors are in force on, so that they are looked up once."""
    groups: dict[tuple[int | None, str, Position | None, bool], list[Work]] = defaultdict(list)
    for work in works:
        groups[work.room, work.task, work.position, work.is_long].append(work)
    return groups.values()


def _place_of(group: Group) -> tuple[bool, int, int]:
    return group.room is None, group.room or 0, _ORDER.index(group.task)


def factors_on(work: Work, crew: Crew) -> tuple[Factor, ...]:
    """Factors on a piece of work: the conditions in force, and two people for a long piece that one rate counts alone.

    Source: trade book `labor.long-piece`, `labor.long-piece-factor`.
    """
    room = crew.rooms.get(work.room) if work.room is not None else None
    conditions, units = crew.price_list.conditions, crew.price_list.settings.units
    found = [
        _factor(condition_text(item, units), item.factor, f"list:conditions/{place}/factor")
        for place, item in enumerate(conditions)
        if in_force((item,), work, room, crew.is_occupied)
    ]
    rate = crew.price_list.labor.get(work.task)
    if work.is_long and (rate is None or rate.crew < TWO_PEOPLE):
        found.append(_factor(_long_text(crew), crew.long_factor, f"trade:{LONG_FACTOR}"))
    return tuple(found)


def _factor(condition: str, factor: Decimal, source: str) -> Factor:
    return Factor(condition, factor, given(condition, factor, RATIO, source))


def _long_text(crew: Crew) -> str:
    return f"two people, pieces longer than {crew.long_above.text(crew.price_list.settings.units)}"


def row_of(group: Group, crew: Crew) -> LaborRow | None:
    """The row of a group; None where the price list has no rate or wage for it, which is told."""
    rate = crew.price_list.labor.get(group.task)
    if rate is None:
        _tell_no_rate(group.task, group.works[0], crew.problems)
        return None
    wage = crew.price_list.wages.get(rate.role)
    if wage is None:
        _tell_no_wage(rate, group.works[0], crew.problems)
        return None
    room = crew.rooms.get(group.room) if group.room is not None else None
    title = f"{WORDS[group.task].lower()}{f', {room.name}' if room else ''}"
    quantity = quantity_figure(title, TASKS[group.task].unit, group.works)
    hours = hours_figure(title, quantity, rate, group.factors)
    amount = amount_figure(title, hours, rate.role, wage, crew.price_list.settings.currency)
    return LaborRow(
        task=group.task,
        room=group.room,
        room_name=room.name if room else None,
        description=f"{WORDS[group.task]} ({group.apart})" if group.apart else WORDS[group.task],
        quantity=to_cents(quantity.value),
        unit=TASKS[group.task].unit,
        rate=rate.hours_per_unit,
        factors=group.factors,
        hours=to_cents(hours.value),
        role=rate.role,
        wage=wage,
        amount=to_cents(amount.value),
        basis=tuple(dict.fromkeys((*_basis(rate, group, crew), *trade_entries(hours)))),
        hours_figure=hours,
        amount_figure=amount,
    )


def quantity_figure(title: str, unit: str, works: Iterable[Work]) -> Figure:
    """How much there is of a task, rounded half up to 0.01: what is printed is what hours are worked out from.

    Args:
        title: the task and its room in words; `unit` what it is counted in.
        works: its parts.
    """
    exact = added(f"{title}: quantity before rounding", unit, *(work.quantity for work in works))
    return rounded(f"{title}: quantity", unit, exact, HUNDREDTH)


def hours_figure(title: str, quantity: Figure, rate: LaborRate, factors: Iterable[Factor]) -> Figure:
    """Person-hours: quantity × rate × each factor, rounded half up to 0.01.

    Source: NAVEDTRA 14045 pages 2-27, 2-28: quantity over unit × man-hours × delay factor.

    Args:
        title: the task and its room in words.
        quantity: in the task's unit.
        rate: person-hours for one unit.
        factors: of the conditions in force.

    Returns:
        [hours]
    """
    one = given(f"hours of one person, {TASKS[rate.task].unit} by {TASKS[rate.task].unit}", rate.hours_per_unit, HOUR,
                f"list:labor/{rate.task}/hours_per_unit")  # fmt: skip
    by = [item.figure or given(item.condition, item.factor, RATIO, "list:conditions") for item in factors]
    return rounded(
        f"{title}: hours", HOUR, times(f"{title}: hours before rounding", HOUR, quantity, one, *by), HUNDREDTH
    )


def hours_of(quantity: Decimal, rate: Decimal, factors: Iterable[Factor]) -> Decimal:
    """The same as a plain number, for a quantity that is only thought of. [hours]"""
    return to_cents(math.prod((item.factor for item in factors), start=quantity * rate))


def amount_figure(title: str, hours: Figure, role: str, wage: Decimal, currency: str) -> Figure:
    """Wages of so many hours, rounded half up to cents. [money]"""
    hourly = given(f"wage of the {role}", wage, currency, f"list:wages/{role}")
    exact = times(f"{title}: wages before rounding", currency, hours, hourly)
    return rounded(f"{title}: wages", currency, exact, CENT_STEP)


def told_apart(factors: Iterable[Factor], split: Iterable[tuple[Factor, ...]]) -> str:
    """What sets a row apart from the others of its task and room, in words; nothing where it is alone.

    Args:
        factors: in force on this row.
        split: factors of all rows of this task and room.
    """
    shared = set.intersection(*(set(other) for other in split))
    return "; ".join(item.condition for item in factors if item not in shared)


def _basis(rate: LaborRate, group: Group, crew: Crew) -> tuple[str, ...]:
    is_long = any(item.condition == _long_text(crew) for item in group.factors)
    trade = ("trade:labor.long-piece", f"trade:{LONG_FACTOR}") if is_long else ()
    conditions = ("list:conditions",) if len(group.factors) > is_long else ()
    places = dict.fromkeys(source for work in group.works for source in work.basis)
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
