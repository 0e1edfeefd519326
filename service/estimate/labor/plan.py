"""The labor plan: rows of hours put into days, with what dries between them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING

from service.estimate.labor.clock import HUNDREDTHS, Hours
from service.estimate.labor.days import Chunk, RoomWork, put_into_days
from service.estimate.labor.model import DayTask, LaborDay, LaborPlan
from service.estimate.labor.stages import DryingRules, Phase, Stage, edges_of, stages_of
from service.estimate.labor.waits import waits_of
from service.estimate.labor.words import WORDS
from service.firm import Position
from service.money import shared_out
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from service.estimate.labor.days import Placed
    from service.estimate.labor.model import LaborRow
    from service.estimate.labor.rows import Group
    from service.estimate.materials.model import RunFastening
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings
    from service.trade.book import TradeBook

Timed = tuple["Group", "LaborRow"]
NO_PLAN = LaborPlan(0, 0, 0, (), ())
_ORDER = list(TASKS)
PARTS = {Phase.BOARDS: ", ceiling boards", Phase.LOAD: ", crown"}
CLOCK_ENTRIES = ("labor.overnight", "labor.longest-idle", "labor.shortest-stay")


@dataclass(frozen=True, slots=True)
class PlanRules:
    """How the crew's time runs, how long things dry, and up to how many days a job is planned by day."""

    hours: Hours
    drying: DryingRules
    longest_days: int

    @classmethod
    def of(cls, settings: FirmSettings, book: TradeBook) -> PlanRules:
        """The firm's crew and day, and the trade book's `labor.*`."""
        return cls(Hours.of(settings, book), DryingRules.of(book), int(book.value("labor.longest-plan")))


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan, how often each room is set up, and the trade-book entries that both rest on."""

    plan: LaborPlan
    set_ups: Mapping[int, int]
    entries: tuple[str, ...]


def propped_walls(fastening: Iterable[RunFastening], runs: Mapping[int, Run]) -> dict[int, tuple[str, ...]]:
    """By room: walls whose ceiling boards hang on adhesive along a stretch without backing, so that props stay under them.

    Source: trade book `fastening.cross-nail-spacing`: nails at opposing angles only hold until the adhesive cures.

    Args:
        fastening: of all runs; `runs` by number.
    """
    found: dict[int, tuple[str, ...]] = {}
    for held in fastening:
        run = runs[held.run]
        if held.cross_nailed and run.position is Position.CEILING and run.wall not in found.get(run.room, ()):
            found[run.room] = (*found.get(run.room, ()), run.wall)
    return found


def planned(
    timed: Sequence[Timed],
    propped: Mapping[int, tuple[str, ...]],
    set_up_hours: Callable[[int, int], Decimal],
    rules: PlanRules,
) -> Planned:
    """All hours on site by day.

    Args:
        timed: rows with the work they count, set-up and trips not among them.
        propped: walls of each room whose ceiling boards wait on props.
        set_up_hours: person-hours of setting a room (its number) up n times. [hours]
        rules: how the crew's time runs and how long things dry.
    """
    rooms = [*_rooms(timed, propped, rules.drying)]
    total = sum(_hundredths(set_up_hours(room.room, 1)) + room.hundredths for room in rooms)
    if not total:
        return Planned(NO_PLAN, {room.room: 1 for room in rooms}, ())
    if total > rules.longest_days * rules.hours.capacity:
        count = -(-total // rules.hours.capacity)
        return Planned(LaborPlan(count, count, 1, (), ()), {room.room: 1 for room in rooms}, ())
    site = put_into_days(rooms, rules.hours, lambda room, time: _set_up(room, time, set_up_hours))
    edges = {edge.drying.entry for room in rooms for edge in room.edges}
    days = tuple(_days(site.placed))
    plan = LaborPlan(len(days), days[-1].elapsed_day, days[-1].visit, days, waits_of(rooms, propped, site))
    return Planned(plan, site.set_up, (*sorted(edges), *CLOCK_ENTRIES) if edges else ())


def _set_up(room: int, time: int, hours: Callable[[int, int], Decimal]) -> Chunk:
    """What the n-th set-up adds to those before it, so that all of them make the row's hours."""
    return Chunk("set-up", WORDS["set-up"], _hundredths(hours(room, time) - hours(room, time - 1)))


def _hundredths(hours: Decimal) -> int:
    return int(hours * HUNDREDTHS)


def _rooms(timed: Iterable[Timed], propped: Mapping[int, tuple[str, ...]], drying: DryingRules) -> Iterator[RoomWork]:
    """Rooms in the sheet's order with their work by stage; rows of one task under other factors are one task here."""
    hours: dict[int, dict[tuple[Stage, str], Decimal]] = defaultdict(lambda: defaultdict(Decimal))
    names: dict[int, str] = {}
    for group, row in timed:
        if row.room is not None:
            names[row.room] = row.room_name or ""
            for stage, part in _parts(group, row.hours, propped):
                hours[row.room][stage, row.task] += part
    for room in sorted(names):
        done = {key: part for key, part in hours[room].items() if part}
        yield RoomWork(room, names[room], _stages(done), edges_of(done, room in propped, drying))


def _parts(group: Group, hours: Decimal, propped: Mapping[int, tuple[str, ...]]) -> Iterator[tuple[Stage, Decimal]]:
    """A row's hours by stage, in proportion to the work done in each."""
    weights: dict[Stage, Fraction] = defaultdict(Fraction)
    for work in group.works:
        for stage, weight in stages_of(work, propped):
            weights[stage] += weight
    return zip(weights, shared_out(hours, [*weights.values()]), strict=True)


def _stages(hours: Mapping[tuple[Stage, str], Decimal]) -> dict[Stage, list[Chunk]]:
    """Tasks with hours by stage, in the published order of tasks; without any, one stage that the room is set up for."""
    stages: dict[Stage, list[Chunk]] = defaultdict(list, {} if hours else {Stage(Phase.HANG): []})
    for (stage, task), part in sorted(hours.items(), key=lambda item: (item[0][0], _ORDER.index(item[0][1]))):
        others = {other for other, key in hours if key == task}
        where = PARTS.get(stage.phase, "") if len(others) > 1 else ""
        coat = stage.coat + 1 if any(other.coat for other in others) else None
        stages[stage].append(Chunk(task, f"{WORDS[task]}{where}", _hundredths(part), coat))
    return stages


def _days(placed: Iterable[Placed]) -> Iterator[LaborDay]:
    """Placed work as days, numbered from 1."""
    for number, (day, items) in enumerate(groupby(placed, lambda item: item.day), start=1):
        of_day = tuple(items)
        yield LaborDay(number, day + 1, of_day[0].visit, tuple(_day_task(item) for item in of_day))


def _day_task(item: Placed) -> DayTask:
    hours = Decimal(item.hundredths) / HUNDREDTHS
    return DayTask(item.chunk.task, item.room.room, item.room.name, item.chunk.description, hours, item.chunk.coat)
