"""The cutting engine alone: from a request to a plan, for the API and the command line."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from schemas.cut_plan import cut_order_from
from schemas.cut_plan_answer import cut_plan_document
from service.estimate.cuts.direct import direct_plan
from service.jobs.desk import Refused
from service.problems import Problems

if TYPE_CHECKING:
    from service.jobs.reading import Document


def cuts_planned(source: Document) -> dict[str, Any] | Refused:
    """The plan of a request as the contract's JSON, the same for the same request; or every fault found."""
    order, found = cut_order_from(source.value)
    problems = Problems(found)
    answer = direct_plan(order.request, problems) if order else None
    if order is None or answer is None or problems.has_errors:
        return Refused(tuple(problems))
    return cut_plan_document(answer, order)
