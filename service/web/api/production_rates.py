"""Production rates compared with hours fed back, and proposed ones accepted. They hold rates: the office alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flask import Response, jsonify, url_for
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from schemas.production_rates import accepted_rates_document, production_rates_document
from service.jobs.desk import Refused
from service.jobs.production_rates import rates_accepted, rates_compared
from service.jobs.statuses import Changed
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
    from service.jobs.production_rates import AcceptedRates
    from service.storage.keys import Key

production_rates = Blueprint(
    "production rates", __name__, url_prefix="/v1", description="Hours per unit, planned against actual"
)

_PRICE_LIST = {
    "in": "query",
    "name": "price_list",
    "description": "Name of the price list whose rates are compared; `standard` when left out.",
    "schema": {"type": "string", "minLength": 1},
}
_IF_MATCH = {
    "in": "header",
    "name": "If-Match",
    "required": True,
    "description": "The `ETag` of the production rates as they were decided on: of list version, hours and proposals.",
    "schema": {"type": "string"},
}


@operation(
    production_rates,
    "GET",
    "/production-rates",
    Words(
        "Compare a price list's rates with the hours that jobs took",
        {
            "200": answer("Rates by task", json_of("ProductionRates"), ETAG),
            **UNCHANGED,
        },
        (_PRICE_LIST, IF_NONE_MATCH),
        refusals=(RequestCode.RATES_REFUSED, RequestCode.QUERY_NOT_UNDERSTOOD),
    ),
    OFFICE,
)
def compare_rates(caller: Key) -> Response:
    """Answer with every task's rate beside what jobs took."""
    table = rates_compared(desk(), caller.firm_id, query("price_list").get("price_list"))
    if isinstance(table, Refused):
        raise refused(table.problems, RequestCode.RATES_REFUSED)
    document = production_rates_document(table)
    return unless_known(body_tag(document), lambda: jsonify(document))


@operation(
    production_rates,
    "POST",
    "/production-rates/accept",
    Words(
        "Put proposed rates into a new version of their price list",
        {
            "201": answer(
                "The new version and what changed",
                json_of("AcceptedRates"),
                {"Location": {"schema": {"type": "string"}}},
            )
        },
        (_IF_MATCH,),
        {"required": True, "content": json_of("RateAcceptance")},
        (
            RequestCode.CHANGED_MEANWHILE,
            RequestCode.IF_MATCH_MISSING,
            RequestCode.BODY_TOO_LARGE,
            RequestCode.BODY_WRONG_TYPE,
            RequestCode.RATES_REFUSED,
            RequestCode.BODY_NOT_UNDERSTOOD,
            RequestCode.QUERY_NOT_UNDERSTOOD,
        ),
    ),
    OFFICE,
)
def accept_rates(caller: Key) -> Response:
    """Accept proposed rates, or say every fault of the request."""
    query()
    source = posted_document("Rates are accepted with a JSON document.")
    accepted = rates_accepted(
        desk(), caller.firm_id, source, lambda table: seen([body_tag(production_rates_document(table))])
    )
    return _created(_accepted_or_refused(accepted))


def _accepted_or_refused(accepted: AcceptedRates | Refused | Changed) -> AcceptedRates:
    match accepted:
        case Refused(problems):
            raise refused(problems, RequestCode.RATES_REFUSED)
        case Changed():
            raise Fault(RequestCode.CHANGED_MEANWHILE)
        case _:
            return accepted


def _created(accepted: AcceptedRates) -> Response:
    response = jsonify(accepted_rates_document(accepted))
    response.status_code = 201
    response.headers["Location"] = url_for(
        "price lists.show_version", name=accepted.price_list.name, version=accepted.price_list.version
    )
    return response
