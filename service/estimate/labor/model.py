"""Records of the labor stage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Factor:
    """A condition in force and what it multiplies hours by."""

    condition: str
    factor: Decimal


@dataclass(frozen=True, slots=True)
class LaborRow:
    """Person-hours of one task in one room (`room` None: the whole job).

    hours = quantity × rate × product of the factors; amount = hours × wage, before burden.
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


@dataclass(frozen=True, slots=True)
class Labor:
    """Result of the labor stage.

    `hours`: of all rows. `crew_days`: hours on site over crew size × productive hours a day, rounded up to
    a tenth; travel (task `trip`) is no productive time.
    """

    rows: tuple[LaborRow, ...]
    hours: Decimal
    crew_days: Decimal
