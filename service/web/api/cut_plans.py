"""Cut plans: the cutting engine alone, without a room sheet. Nothing is stored."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from flask import Response
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from service.jobs.cut_plans import cuts_planned
from service.jobs.desk import Refused
from service.web.access import WRITERS
from service.web.api.describing import JSON, answer, json_of
from service.web.api.operations import Words, operation
from service.web.bodies import query
from service.web.faults import RequestCode
from service.web.json_body import posted_document
from service.web.negotiation import chosen
from service.web.problem_answers import refused

if TYPE_CHECKING:
    from service.storage.keys import Key

cut_plans = Blueprint("cut plans", __name__, url_prefix="/v1", description="Joints and boards of given runs and pieces")


@operation(
    cut_plans,
    "POST",
    "/cut-plans",
    Words(
        "Plan joints and boards of given runs and pieces at least cost",
        {"200": answer("The plan; the same request always has the same", json_of("CutPlan"))},
        body={"required": True, "content": json_of("CutRequest")},
        refusals=(
            RequestCode.BODY_TOO_LARGE,
            RequestCode.BODY_WRONG_TYPE,
            RequestCode.CUT_PLAN_REFUSED,
            RequestCode.BODY_NOT_UNDERSTOOD,
            RequestCode.QUERY_NOT_UNDERSTOOD,
            RequestCode.NOT_ACCEPTABLE,
        ),
    ),
    WRITERS,
)
def plan_cuts(_caller: Key) -> Response:
    """Answer with the plan, or say every fault of the request."""
    chosen([JSON])
    query()
    planned = cuts_planned(posted_document("A cut plan is asked for with a JSON document."))
    if isinstance(planned, Refused):
        raise refused(planned.problems, RequestCode.CUT_PLAN_REFUSED)
    return Response(json.dumps(planned, ensure_ascii=False), content_type=JSON)
