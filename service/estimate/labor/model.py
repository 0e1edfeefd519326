"""Records of the labor stage."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from service.estimate.figures import Figure


@dataclass(frozen=True, slots=True)
class Factor:
    """A condition in force and what it multiplies hours by; `figure` tells where that is set."""

    condition: str
    factor: Decimal
    figure: Figure | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class LaborRow:
    """Person-hours of one task in one room (`room` None: the whole job).

    hours = quantity × rate × product of the factors; amount = hours × wage, before burden. `hours_figure` and
    `amount_figure` tell this step by step from the sheet on; quantity, hours and amount are read off them.
    """

    task: str
    room: int | None
    room_name: str | None
    description: str
    quantity: Decimal
    unit: str
    rate: Decimal
    factors: tuple[Factor, ...]
    hours: Decimal
    role: str
    wage: Decimal
    amount: Decimal
    basis: tuple[str, ...]
    hours_figure: Figure | None = field(default=None, compare=False)
    amount_figure: Figure | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class DayTask:
    """Person-hours of one task in one room on one day; `coat` counts coats of one kind, None where there is one."""

    task: str
    room: int
    room_name: str
    description: str
    hours: Decimal
    coat: int | None = None


@dataclass(frozen=True, slots=True)
class LaborDay:
    """One day of work.

    Attributes:
        number: of the working day, from 1.
        elapsed_day: counted from 1 on the first day of work, days without work counted too.
        visit: from 1; the crew stays on the job over nights and leaves it over a day without work.
        tasks: in the order in which they are done.
    """

    number: int
    elapsed_day: int
    visit: int
    tasks: tuple[DayTask, ...]

    @property
    def hours(self) -> Decimal:
        """Person-hours of the day."""
        return sum((task.hours for task in self.tasks), Decimal(0))


@dataclass(frozen=True, slots=True)
class Wait:
    """Something that dries or cures in a room before work there goes on.

    Attributes:
        room, room_name: where.
        what: `adhesive`, `filler`, `caulk`, `primer`, `paint` or `stain`.
        hours: how long it takes. [hours]
        from_day, until_day: elapsed days on which it begins and has passed.
        text: what to do, in words.
        basis: the trade-book entry.
    """

    room: int
    room_name: str
    what: str
    hours: Decimal
    from_day: int
    until_day: int
    text: str
    basis: str


@dataclass(frozen=True, slots=True)
class LaborPlan:
    """The work by day: every hour on site stands on exactly one day, in the order in which it can be done.

    `working_days` with work, `elapsed_days` from the first to the last of them, `visits` between days without work.
    A job longer than the trade book plans by day has no `days`.
    """

    working_days: int
    elapsed_days: int
    visits: int
    days: tuple[LaborDay, ...]
    waits: tuple[Wait, ...]


@dataclass(frozen=True, slots=True)
class Labor:
    """Result of the labor stage.

    `hours`: of all rows. `crew_days`: hours on site over crew size × productive hours a day, rounded up to
    a tenth; travel (task `trip`) is no productive time. `plan`: the same hours by day, with what dries between.
    """

    rows: tuple[LaborRow, ...]
    hours: Decimal
    crew_days: Decimal
    plan: LaborPlan | None = None
    days_figure: Figure | None = field(default=None, compare=False)
