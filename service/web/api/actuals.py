"""Hours fed back for quotes. They tell what work costs the firm: the office alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flask import Response, jsonify, request
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from schemas.actuals import actuals_document
from service.jobs.actuals import actuals_posted, actuals_shown
from service.jobs.desk import Refused
from service.jobs.statuses import Changed, WrongStatus
from service.web.access import OFFICE
from service.web.api.describing import ETAG, IF_NONE_MATCH, UNCHANGED, answer, json_of
from service.web.api.operations import Words, operation
from service.web.bodies import query
from service.web.conditional import body_tag, seen, unless_known
from service.web.faults import Fault, RequestCode
from service.web.json_body import posted_document
from service.web.problem_answers import refused
from service.web.wiring import desk

if TYPE_CHECKING:
    from service.jobs.actuals import QuoteActuals
    from service.storage.keys import Key

actuals = Blueprint("actuals", __name__, url_prefix="/v1", description="Hours that jobs took")

_ACTUALS = answer("The hours, planned beside actual by task", json_of("Actuals"), ETAG)
_IF_MATCH = {
    "in": "header",
    "name": "If-Match",
    "description": "The `ETag` of the hours that these take the place of; without it they do so whatever they are.",
    "schema": {"type": "string"},
}


@operation(
    actuals,
    "GET",
    "/quotes/<uuid:quote_id>/actuals",
    Words(
        "The hours that a quote's job took, beside those planned",
        {"200": _ACTUALS, **UNCHANGED},
        (IF_NONE_MATCH,),
        refusals=(RequestCode.NOT_FOUND, RequestCode.QUERY_NOT_UNDERSTOOD),
    ),
    OFFICE,
)
def show_actuals(caller: Key, quote_id: object) -> Response:
    """Answer with the newest hours; version 0 when none were posted."""
    query()
    return _answered(actuals_shown(desk(), caller.firm_id, str(quote_id)))


@operation(
    actuals,
    "POST",
    "/quotes/<uuid:quote_id>/actuals",
    Words(
        "Feed back the hours that a job took, in the place of those posted before",
        {"200": _ACTUALS},
        (_IF_MATCH,),
        {"required": True, "content": json_of("ActualsRequest")},
        (
            RequestCode.NOT_FOUND,
            RequestCode.STATUS_DOES_NOT_FIT,
            RequestCode.CHANGED_MEANWHILE,
            RequestCode.BODY_TOO_LARGE,
            RequestCode.BODY_WRONG_TYPE,
            RequestCode.ACTUALS_REFUSED,
            RequestCode.BODY_NOT_UNDERSTOOD,
            RequestCode.QUERY_NOT_UNDERSTOOD,
        ),
    ),
    OFFICE,
)
def post_actuals(caller: Key, quote_id: object) -> Response:
    """Keep hours, or say every fault in them."""
    query()
    source = posted_document("Hours are fed back with a JSON document.")
    posted = actuals_posted(desk(), caller.firm_id, str(quote_id), source, _is_seen)
    return _answered(_kept_or_refused(posted))


def _is_seen(shown: QuoteActuals) -> bool:
    """Whether `If-Match`, where it is sent, names the hours as they are: nothing is lost without it, all versions stay."""
    return "If-Match" not in request.headers or seen([body_tag(actuals_document(shown))])


def _kept_or_refused(posted: QuoteActuals | Refused | WrongStatus | Changed | None) -> QuoteActuals | None:
    match posted:
        case Refused(problems):
            raise refused(problems, RequestCode.ACTUALS_REFUSED)
        case WrongStatus(detail):
            raise Fault(RequestCode.STATUS_DOES_NOT_FIT, detail)
        case Changed():
            raise Fault(RequestCode.CHANGED_MEANWHILE)
        case _:
            return posted


def _answered(shown: QuoteActuals | None) -> Response:
    if shown is None:
        raise Fault(RequestCode.NOT_FOUND)
    document = actuals_document(shown)
    return unless_known(body_tag(document), lambda: jsonify(document))
