"""Rates, wages and conditions for tests of labor. Firm and every figure are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from service.estimate.labor import Labor, LaborRow, worked
from service.firm import Condition, ConditionKind, LaborRate, PriceList
from service.problems import Problems
from service.survey import Access, Job, Room, Survey
from service.trade.tasks import TASKS
from service.units import Length, Units
from tests.materials import examples as made

if TYPE_CHECKING:
    from service.estimate.cuts.model import CutPlan
    from service.trade.book import TradeBook

D = Decimal
RATE = D("0.1")
WAGE = D("30.00")


def rates(**hours: str) -> dict[str, LaborRate]:
    """A rate of a tenth of an hour for every task, other hours where given: `hang_crown="0.05"`."""
    given = {key.replace("_", "-"): D(value) for key, value in hours.items()}
    return {key: LaborRate(key, task.unit, given.get(key, RATE), "carpenter") for key, task in TASKS.items()}


def prices(*conditions: Condition, labor: dict[str, LaborRate] | None = None, **settings: object) -> PriceList:
    """A price list with rates, one wage and these conditions."""
    plain = made.price_list(**settings)
    return replace(
        plain, wages={"carpenter": WAGE}, labor=rates() if labor is None else labor, conditions=tuple(conditions)
    )


def tall(low: str | None, high: str | None, factor: str, *applies_to: str) -> Condition:
    """A band of ceiling heights in inches."""
    limits = [Length.of(limit) if limit else None for limit in (low, high)]
    return Condition(ConditionKind.CEILING_HEIGHT, D(factor), applies_to or ("all",), limits[0], limits[1])


def occupied(factor: str, *applies_to: str, label: str | None = "yes") -> Condition:
    """The condition of an occupied house, or of an empty one."""
    return Condition(ConditionKind.OCCUPIED, D(factor), applies_to or ("all",), label=label)


def access(label: Access, factor: str, *applies_to: str) -> Condition:
    """A condition of access."""
    return Condition(ConditionKind.ACCESS, D(factor), applies_to or ("all",), label=str(label))


def labor(
    *runs: object,
    price_list: PriceList | None = None,
    cuts: CutPlan | None = None,
    place: Room | None = None,
    is_occupied: bool = False,
    problems: Problems | None = None,
    book: TradeBook = made.BOOK,
) -> Labor:
    """Labor of some runs; without a collector any error fails the test."""
    found = problems if problems is not None else Problems()
    listed, plan = price_list or prices(), cuts or made.plan(*runs)
    materials = made.materials(*runs, prices=listed, cuts=plan, place=place, book=book)
    job = Job("/job", "Parlor trim", "A. Customer", "1 Nowhere Lane", Units.IMPERIAL, occupied=is_occupied)
    survey = Survey(job, (place or made.room(),), ())
    shapes = (made.shape(place),)
    result = worked(shapes, runs, plan, materials, survey, listed, book, found)
    if problems is None:
        assert not found.has_errors, [problem.line() for problem in found.errors]
    return result or Labor((), D(0), D(0))


def rows(found: Labor, task: str) -> list[LaborRow]:
    """Rows of one task."""
    return [row for row in found.rows if row.task == task]


def quantity(found: Labor, task: str) -> Decimal:
    """Quantity of one task, all its rows."""
    return sum((row.quantity for row in rows(found, task)), D(0))
