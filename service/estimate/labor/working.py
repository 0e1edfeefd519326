"""The labor stage: hours of every task, crew days, trips."""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, TypeVar

from service.estimate.figures import EACH, HOUR, added, given, over, rounded_up, times
from service.estimate.labor.model import Labor
from service.estimate.labor.overhead import feature_work
from service.estimate.labor.plan import PlanRules, planned, propped_walls
from service.estimate.labor.rows import Crew, groups_of, hours_of, row_of
from service.estimate.labor.work import Work, fastening_work, room_work, run_work
from service.money import ZERO, to_cents
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from service.estimate.cuts.model import CutPlan
    from service.estimate.figures import Figure
    from service.estimate.labor.model import LaborRow
    from service.estimate.labor.plan import Planned
    from service.estimate.materials.model import Materials
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings, PriceList
    from service.problems import Problems
    from service.survey import Room, Survey
    from service.trade.book import TradeBook

TENTH = Fraction(1, 10)
DAYS = "days"
Item = TypeVar("Item")


def joint_cost(price_list: PriceList) -> Decimal:
    """What one scarf costs the firm in labor: hours × wage × (1 + burden share), in cents; 0 without a rate.

    A missing rate is told by `worked`, where a scarf is really made.
    """
    rate = price_list.labor.get("scarf")
    wage = price_list.wages.get(rate.role) if rate else None
    if rate is None or wage is None:
        return ZERO
    return to_cents(rate.hours_per_unit * wage * (1 + price_list.settings.burden_share))


def worked(
    shapes: Sequence[RoomShape],
    runs: Sequence[Run],
    plan: CutPlan,
    materials: Materials,
    survey: Survey,
    price_list: PriceList,
    book: TradeBook,
    problems: Problems,
) -> Labor | None:
    """Person-hours by task and room, the days they are done on, and the crew days they fill.

    Args:
        shapes: rooms; `runs` what is hung in them.
        plan: pieces and splices; `materials` nails, blocks, edges, areas and what hangs on ceilings.
        survey: whether the house is occupied.
        price_list: rates, wages, conditions, crew.
        book: trade book, rule for long pieces, what dries how long.
        problems: receives rate-missing and role-unknown (errors).

    Returns:
        The labor, None when this stage found an error.
    """
    errors_before = len(problems.errors)
    rooms = {shape.number: shape.room for shape in shapes}
    crew = Crew.of(rooms, survey.job.occupied, price_list, book, problems)
    works = [work for work in _work(shapes, runs, plan, materials, crew) if is_priced(work, price_list)]
    groups = groups_of(works, crew)
    rows = [row_of(group, crew) for group in groups]
    places = {work.room: rooms[work.room] for work in works if work.room is not None}
    first = {number: _set_up(number, room, 1, (), crew) for number, room in places.items()}
    if len(problems.errors) > errors_before:
        return None
    timed = [(group, row) for group, row in zip(groups, rows, strict=True) if row is not None]
    propped = propped_walls(materials.fastening, {run.number: run for run in runs})
    found = planned(timed, propped, set_up_hours(first), PlanRules.of(price_list.settings, book))
    set_ups = [
        _set_up(number, room, found.set_ups.get(number, 1), found.entries, crew) for number, room in places.items()
    ]
    on_site = sorted((row for row in (*set_ups, *(row for _, row in timed)) if row is not None), key=_room_of)
    trips = _trips(found, crew)
    if len(problems.errors) > errors_before:
        return None
    hours = sum((row.hours for row in (*on_site, *trips)), Decimal(0))
    days = crew_days(on_site, price_list.settings)
    return Labor((*on_site, *trips), hours, decimal_of(days), found.plan, days)


def is_priced(work: Work, price_list: PriceList) -> bool:
    """True but for an optional task that the price list has no rate for: that is not included in the price."""
    return work.task in price_list.labor or not TASKS[work.task].is_optional


def _room_of(row: LaborRow) -> int:
    return row.room or 0


def set_up_hours(once: Mapping[int, LaborRow | None]) -> Callable[[int, int], Decimal]:
    """Hours of setting a room up so many times, from its row for one time. [hours]"""

    def hours(room: int, times: int) -> Decimal:
        row = once[room]
        return hours_of(Decimal(times), row.rate, row.factors) if row else Decimal(0)

    return hours


def _set_up(number: int, room: Room, visits: int, entries: tuple[str, ...], crew: Crew) -> LaborRow | None:
    """Set-up of one room, once for each visit on which there is work in it."""
    count = given(f"visits with work in {room.name}", visits, EACH, "plan:visits")
    work = Work("set-up", number, count, (room.pointer,), trade=entries if visits > 1 else ())
    return row_of(groups_of([work], crew)[0], crew)


def _trips(found: Planned, crew: Crew) -> tuple[LaborRow, ...]:
    """One round trip for each day with work."""
    if not found.plan.working_days:
        return ()
    count = given("days with work", found.plan.working_days, EACH, "plan:days")
    work = Work("trip", None, count, ("/job/site_address",), trade=found.entries)
    row = row_of(groups_of([work], crew)[0], crew)
    return (row,) if row else ()


def _work(
    shapes: Sequence[RoomShape], runs: Sequence[Run], plan: CutPlan, materials: Materials, crew: Crew
) -> Iterator[Work]:
    settings = crew.price_list.settings
    by_number = {run.number: run for run in runs}
    by_room, pieces, splices = _by(runs, "room"), _by(plan.pieces, "run"), _by(plan.splices, "run")
    for shape in shapes:
        yield from room_work(shape, by_room[shape.number])
    for run in runs:
        yield from run_work(run, pieces[run.number], splices[run.number], crew.long_above, settings)
    for fastening in materials.fastening:
        yield from fastening_work(fastening, by_number[fastening.run])
    for fitting in materials.features:
        yield from feature_work(fitting)


def _by(items: Iterable[Item], member: str) -> dict[int, list[Item]]:
    """Items by a number of theirs."""
    groups: dict[int, list[Item]] = defaultdict(list)
    for item in items:
        groups[getattr(item, member)].append(item)
    return groups


def days_of(hours: Figure, settings: FirmSettings) -> Figure:
    """Days that a crew takes for so many person-hours on site: hours / (crew × productive hours a day).

    Source: NAVEDTRA 14045 page 2-28: duration is man-days over crew size and availability.

    Args:
        hours: person-hours on site. [hours]
        settings: crew size and productive hours a day.

    Returns:
        [days]
    """
    people = given("people in the crew", settings.crew_size, EACH, "list:firm/crew_size")
    day = given("productive hours a day", settings.productive_hours_a_day, HOUR, "list:firm/productive_hours_a_day")
    return over("crew days before rounding", DAYS, hours, times("person-hours of a day", HOUR, people, day))


def crew_days(rows: Iterable[LaborRow], settings: FirmSettings) -> Figure:
    """Days that the crew takes for these rows, rounded up to a tenth. [days]"""
    figures = (row.hours_figure for row in rows)
    hours = added("hours on site", HOUR, *(figure for figure in figures if figure is not None))
    return rounded_up("crew days", DAYS, days_of(hours, settings), TENTH)


def decimal_of(figure: Figure) -> Decimal:
    """A figure that is a multiple of a tenth, as a decimal."""
    return Decimal(figure.value.numerator) / figure.value.denominator
