"""The work put into days, in the order in which it can be done.

One pass from the first hour to the last. At every moment the crew takes the first work that is ready, by phase and
then by room in the sheet's order, so that what dries in one room passes while it works in another. Where nothing is
ready it waits a little, goes home for the night, or leaves the job for a day and more: that ends the visit. Set-up is
put in when a room is first worked in on a visit; as only what came before decides which visit it is, no second pass
is needed for the number of set-ups to agree with the days that they lengthen.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.labor.clock import Hours, Moment

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from service.estimate.labor.stages import Edge, Stage

SET_UP = "set-up"


@dataclass(frozen=True, slots=True)
class Chunk:
    """Person-hours of one row in one room at one stage, in hundredths; `coat` where there is more than one."""

    task: str
    description: str
    hundredths: int
    coat: int | None = None


@dataclass(frozen=True, slots=True)
class RoomWork:
    """What is done in one room: chunks by stage, the stages in order, and what dries between them."""

    room: int
    name: str
    stages: Mapping[Stage, Sequence[Chunk]]
    edges: tuple[Edge, ...]

    @property
    def hundredths(self) -> int:
        """Person-hours of all its work, in hundredths."""
        return sum(chunk.hundredths for chunks in self.stages.values() for chunk in chunks)


@dataclass(frozen=True, slots=True)
class Placed:
    """A chunk, or part of one, on a day (from 0) and a visit (from 1)."""

    day: int
    visit: int
    room: RoomWork
    chunk: Chunk
    hundredths: int


@dataclass(slots=True)
class Site:
    """How far the crew has come: elapsed day from 0, hundredths used of it, visit from 1.

    Attributes:
        placed: work by day, in order.
        ended: when each stage of each room was done; `begun` when it was taken up.
        set_up: in how many visits each room was worked in; `ready` rooms set up on this visit.
    """

    hours: Hours
    set_up_of: Callable[[int, int], Chunk]
    day: int = 0
    used: int = 0
    visit: int = 1
    placed: list[Placed] = field(default_factory=list)
    begun: dict[tuple[int, Stage], Moment] = field(default_factory=dict)
    ended: dict[tuple[int, Stage], Moment] = field(default_factory=dict)
    set_up: dict[int, int] = field(default_factory=dict)
    ready: set[int] = field(default_factory=set)

    @property
    def reached(self) -> Moment:
        """The moment reached on the last day of work."""
        return self.hours.moment(self.day, self.used)

    @property
    def next_free(self) -> Moment:
        """When work can go on at the earliest: now, or in the morning after a full day."""
        return Moment(self.day + 1, Fraction(0)) if self.used >= self.hours.capacity else self.reached

    def work_on(self, room: RoomWork, stage: Stage) -> None:
        """Do a whole stage of a room, over nights where it takes more than is left of the day."""
        if room.room not in self.ready:
            self.ready.add(room.room)
            self.set_up[room.room] = self.set_up.get(room.room, 0) + 1
            self._put(room, self.set_up_of(room.room, self.set_up[room.room]))
        self._past_a_full_day()
        self.begun[room.room, stage] = self.reached
        for chunk in room.stages[stage]:
            self._put(room, chunk)
        self.ended[room.room, stage] = self.reached

    def _put(self, room: RoomWork, chunk: Chunk) -> None:
        left = chunk.hundredths
        while left:
            self._past_a_full_day()
            part = min(left, self.hours.capacity - self.used)
            self.placed.append(Placed(self.day, self.visit, room, chunk, part))
            self.used += part
            left -= part

    def _past_a_full_day(self) -> None:
        if self.used >= self.hours.capacity:
            self.day, self.used = self.day + 1, 0

    def wait_until(self, moment: Moment) -> None:
        """Let time pass: on the job where it is short, else till the next day that is worth coming for."""
        target = moment
        if moment.day == self.day:
            is_short = moment.hour - self.reached.hour <= self.hours.longest_idle
            target = moment if is_short else Moment(self.day + 1, Fraction(0))
        elif not self.hours.is_worth_coming(moment):
            target = Moment(moment.day + 1, Fraction(0))
        if target.day > self.day + 1:
            self.visit += 1
            self.ready.clear()
        self.day, self.used = target.day, self.hours.used(target)


def put_into_days(rooms: Iterable[RoomWork], hours: Hours, set_up_of: Callable[[int, int], Chunk]) -> Site:
    """All work in days.

    Args:
        rooms: in the sheet's order, each with its stages in order.
        hours: how the crew's time runs.
        set_up_of: set-up of a room (its number) for the n-th time, n from 1.

    Returns:
        The site when everything is done.
    """
    site = Site(hours, set_up_of)
    found = list(rooms)
    left = [sorted(room.stages) for room in found]
    next_up = {i: _next_of(found[i], stages, site) for i, stages in enumerate(left) if stages}
    while next_up:
        free = site.next_free
        ready = [(stage, i) for i, (stage, at) in next_up.items() if at <= free]
        if not ready:
            site.wait_until(min(at for _, at in next_up.values()))
            continue
        stage, i = min(ready)
        site.work_on(found[i], stage)
        left[i].pop(0)
        if left[i]:
            next_up[i] = _next_of(found[i], left[i], site)
        else:
            del next_up[i]
    return site


def _next_of(room: RoomWork, stages: Sequence[Stage], site: Site) -> tuple[Stage, Moment]:
    """The next stage of a room and when it may begin; nothing that happens elsewhere changes this."""
    return stages[0], ready_at(room, stages[0], site)


def ready_at(room: RoomWork, stage: Stage, site: Site) -> Moment:
    """When a stage may begin: what it waits for is dry."""
    dry = (
        site.hours.dry(site.ended[room.room, edge.before], edge.drying.hours)
        for edge in room.edges
        if edge.after == stage
    )
    return max(dry, default=Moment(0, Fraction(0)))
