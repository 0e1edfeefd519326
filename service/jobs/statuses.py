"""Where a quote stands: issued, accepted, declined, withdrawn. An issued quote's content never changes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from service.estimate.quote.model import Status
from service.storage.quotes import StoredQuote, quote_of, status_kept

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date

    from service.jobs.desk import Desk


class Step(StrEnum):
    """What can happen to a quote."""

    ISSUE = "issue"
    ACCEPT = "accept"
    DECLINE = "decline"
    WITHDRAW = "withdraw"


@dataclass(frozen=True, slots=True)
class WrongStatus:
    """The step does not fit where the quote stands; `detail` says so for people."""

    detail: str


@dataclass(frozen=True, slots=True)
class Changed:
    """The quote is no longer the version that the caller has seen."""


_FROM = {
    Step.ISSUE: {Status.DRAFT},
    Step.ACCEPT: {Status.ISSUED},
    Step.DECLINE: {Status.ISSUED},
    Step.WITHDRAW: {Status.DRAFT, Status.ISSUED},
}
_TO = {
    Step.ISSUE: Status.ISSUED,
    Step.ACCEPT: Status.ACCEPTED,
    Step.DECLINE: Status.DECLINED,
    Step.WITHDRAW: Status.WITHDRAWN,
}
_WHILE_VALID = {Step.ISSUE, Step.ACCEPT}


def quote_stepped(
    desk: Desk, firm_id: str, quote_id: str, step: Step, is_seen: Callable[[StoredQuote], bool]
) -> StoredQuote | WrongStatus | Changed | None:
    """Take a quote one step on.

    Args:
        desk: data and clock.
        firm_id: whose quote.
        quote_id: which quote.
        step: what happens to it.
        is_seen: whether the caller knows the quote as it is stored now.

    Returns:
        The quote in its new status; `Changed` when the caller's view is old, `WrongStatus` when the step does not
        fit, None when the firm has no such quote.
    """
    with desk.database.writing() as connection:
        quote = quote_of(connection, firm_id, quote_id)
        if quote is None:
            return None
        if not is_seen(quote):
            return Changed()
        refusal = _refusal(quote, step, desk)
        return refusal or status_kept(connection, firm_id, quote, _TO[step].value) or Changed()


def _refusal(quote: StoredQuote, step: Step, desk: Desk) -> WrongStatus | None:
    status = Status(quote.card.status)
    if status not in _FROM[step]:
        allowed = " or ".join(sorted(_FROM[step]))
        return WrongStatus(f"The quote is {status}; to {step} it, it must be {allowed}.")
    today = _today(quote, desk)
    if step in _WHILE_VALID and today > quote.card.valid_until:
        return WrongStatus(f"The quote was valid through {quote.card.valid_until.isoformat()}; make a new one.")
    return None


def _today(quote: StoredQuote, desk: Desk) -> date:
    return desk.now().astimezone(ZoneInfo(quote.document["firm"]["time_zone"])).date()
