"""Production rates beside the hours that jobs took, and proposed ones accepted as a new version of the price list.

Nothing is applied by itself: a rate changes when the office names its task, having seen the very figures it accepts.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from schemas.fields.answers import timestamp_text
from schemas.production_rates import acceptance_from
from schemas.text import folded
from service.estimate.calibration import CalibrationRules, Outcome, compared, observed
from service.estimate.quote.model import PriceListRef
from service.jobs.desk import Refused
from service.jobs.price_lists import STANDARD, list_name, price_list_of, understood_list
from service.jobs.reading import Document
from service.jobs.statuses import Changed
from service.problems import Code, Problems, pointer
from service.storage.accepted_rates import accepted_rates, accepted_rates_kept
from service.storage.actuals import finished_jobs
from service.storage.price_lists import PriceListDraft, price_list_kept, price_list_version
from service.trade.book import overridden, shipped_book
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from datetime import datetime
    from decimal import Decimal

    from schemas.production_rates import Acceptance
    from service.estimate.calibration import Comparison, Observation
    from service.firm import PriceList
    from service.jobs.desk import Desk
    from service.storage.database import Connection
    from service.storage.price_lists import StoredPriceList

METHOD = (
    "A job's hours per unit are its actual over its planned hours, times the rate it was priced with, so that quantity "
    "and conditions cancel. Their logarithms are compared: median, and 1.4826 times the median distance from it "
    "(Hampel 1974; Huber, Robust Statistics, 1981). The median is drawn toward the current rate with weight n/(n + k) "
    "(Efron and Morris 1973; Gelman and others, Bayesian Data Analysis); an accepted rate counts for k and the jobs that "
    "are in it, and only new ones pull. The interval holds the median of all such jobs "
    "whatever their distribution (Thompson 1936). Publications cited from memory."
)
BASIS = ("mad-scale", "prior-jobs", "least-jobs", "coverage", "rate-figures")


@dataclass(frozen=True, slots=True)
class RateTable:
    """A price list's rates beside the hours fed back; `items` in the trade's order."""

    price_list: PriceListRef
    items: tuple[Comparison, ...]
    method: str = METHOD
    basis: tuple[str, ...] = tuple(f"trade:calibration.{entry}" for entry in BASIS)
    next: None = None


@dataclass(frozen=True, slots=True)
class RateChange:
    """A rate that was changed. [h a unit]"""

    task: str
    unit: str
    before: Decimal
    after: Decimal


@dataclass(frozen=True, slots=True)
class AcceptedRates:
    """The new version of a price list, and what is different in it."""

    price_list: PriceListRef
    created_at: str
    changes: tuple[RateChange, ...]


def rates_compared(desk: Desk, firm_id: str, wanted: str | None) -> RateTable | Refused:
    """Rates of a price list, `standard` by default, beside what the firm's jobs took; a fault when there is no such list."""
    with desk.database.reading() as connection:
        return _table(connection, firm_id, list_name(wanted or STANDARD))


def rates_accepted(
    desk: Desk, firm_id: str, source: Document, is_seen: Callable[[RateTable], bool]
) -> AcceptedRates | Refused | Changed:
    """Proposed rates put into a new version of their price list; or every fault, and nothing changed.

    Args:
        desk: data and clock.
        firm_id: whose list.
        source: the request.
        is_seen: whether the caller knows the rates as they compare now.

    Returns:
        What changed; `Changed` when a rate, the list or the hours are no longer those that the caller has seen.
    """
    acceptance, found = acceptance_from(source.value)
    if acceptance.price_list is None:
        return Refused(found)
    with desk.database.writing() as connection:
        table = _table(connection, firm_id, list_name(acceptance.price_list))
        if isinstance(table, Refused):
            return Refused((*found, *table.problems))
        if not is_seen(table):
            return Changed()
        problems = Problems(found)
        changes = _changes(acceptance, table, problems)
        if problems.has_errors:
            return Refused(tuple(problems))
        return _accepted(connection, firm_id, table, changes, desk)


def _accepted(
    connection: Connection, firm_id: str, table: RateTable, changes: tuple[RateChange, ...], desk: Desk
) -> AcceptedRates | Refused:
    """The new version has no workbook: the one behind the old version holds the old rates."""
    name = table.price_list.name
    stored = price_list_version(connection, firm_id, name)
    document = stored.document if stored else {}
    checked = price_list_of(Document(with_rates(document, changes)), name)
    if isinstance(checked, Refused):
        return checked
    kept = price_list_kept(connection, firm_id, PriceListDraft(name, checked.document, None), desk.now())
    accepted_rates_kept(connection, firm_id, kept, {change.task: change.after for change in changes})
    return AcceptedRates(PriceListRef(kept.name, kept.version), timestamp_text(kept.created_at), changes)


def with_rates(document: dict[str, Any], changes: Iterable[RateChange]) -> dict[str, Any]:
    """A price-list document with new hours per unit for some tasks; everything else stays as it is."""
    rates = {change.task: format(change.after, "f") for change in changes}
    rows = [
        row | {"hours_per_unit": rates[folded(row["task"])]} if folded(row["task"]) in rates else row
        for row in document["labor"]
    ]
    return document | {"labor": rows}


def _changes(acceptance: Acceptance, table: RateTable, problems: Problems) -> tuple[RateChange, ...]:
    rates = {item.task: item for item in table.items}
    changes = []
    for position, task in enumerate(acceptance.tasks):
        rate = rates.get(task or "")
        if rate is not None and rate.proposed is not None and rate.current is not None:
            changes.append(RateChange(rate.task, rate.unit, rate.current, rate.proposed))
        elif task is not None:
            _tell_not_proposed(task, rate, pointer("tasks", position), problems)
    return tuple(changes)


_WHY = {
    Outcome.TOO_FEW_JOBS: "Too few jobs were fed back for it.",
    Outcome.UNCHANGED: "Its rate stays as it is.",
    Outcome.NO_RATE: "The price list has no rate for it.",
}


def _tell_not_proposed(task: str, rate: Comparison | None, place: str, problems: Problems) -> None:
    why = _WHY[rate.outcome if rate else Outcome.NO_RATE]
    problems.error(
        Code.RATE_NOT_PROPOSED, place, f"No rate is proposed for this task. {why}",
        help="Name tasks whose `proposed_rate` is not null.", found=task,
    )  # fmt: skip


def _table(connection: Connection, firm_id: str, name: str) -> RateTable | Refused:
    stored = price_list_version(connection, firm_id, name)
    price_list = _list_of(stored, name)
    if isinstance(price_list, Refused):
        return price_list
    seen = _observations(connection, firm_id, _accepted_at(connection, firm_id, price_list))
    book, _ = overridden(shipped_book(), {item.entry: (item.value, item.source) for item in price_list.overrides})
    rules = CalibrationRules.of(book)
    items = tuple(
        compared(task, seen.get(task.key, ()), _rate_of(price_list, task.key), rules)
        for task in TASKS.values()
        if task.key in seen or task.key in price_list.labor
    )
    return RateTable(PriceListRef(price_list.name, price_list.version), items)


def _list_of(stored: StoredPriceList | None, name: str) -> PriceList | Refused:
    if stored is not None:
        return understood_list(stored.text, stored.name, stored.version)
    problems = Problems()
    problems.error(
        Code.PRICE_LIST_UNKNOWN, "/price_list", "There is no such price list.",
        help="Name a list that /v1/price-lists lists.", found=name,
    )  # fmt: skip
    return Refused(tuple(problems))


def _rate_of(price_list: PriceList, task: str) -> Decimal | None:
    rate = price_list.labor.get(task)
    return rate.hours_per_unit if rate else None


def _accepted_at(connection: Connection, firm_id: str, price_list: PriceList) -> dict[str, datetime]:
    """When each task's present rate was accepted; a rate that the office set itself since then was not."""
    accepted = accepted_rates(connection, firm_id, price_list.name)
    return {
        task: item.created_at for task, item in accepted.items() if item.rate == _rate_of(price_list, task)
    }  # fmt: skip


def _observations(
    connection: Connection, firm_id: str, accepted_at: Mapping[str, datetime]
) -> dict[str, list[Observation]]:  # fmt: skip
    """What the firm's jobs say, by task, one observation a job; those fed back before its rate was accepted are in it."""
    seen: dict[str, list[Observation]] = {}
    for job in finished_jobs(connection, firm_id):
        for task, observation in observed(job.planned, job.tasks).items():
            is_in_rate = task in accepted_at and job.created_at <= accepted_at[task]
            seen.setdefault(task, []).append(replace(observation, is_in_rate=is_in_rate))
    return seen
