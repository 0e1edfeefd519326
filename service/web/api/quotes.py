"""Quotes: made, listed, shown in their forms, and led from draft to acceptance."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from flask import Response, jsonify, request, url_for
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from service.jobs.desk import Refused
from service.jobs.quotes import RepeatDiffers, quote_found, quote_made, quotes_listed
from service.jobs.statuses import Changed, Step, WrongStatus, quote_stepped
from service.web.access import WRITERS
from service.web.api.describing import (
    AFTER,
    CSV,
    ETAG,
    IF_MATCH,
    IF_NONE_MATCH,
    JSON,
    LIMIT,
    PDF,
    PRICE_LIST,
    REPEAT_KEY,
    STEP_WORDS,
    SVG,
    UNCHANGED,
    answer,
    binary,
    body,
    json_of,
)
from service.web.api.operations import Words, operation
from service.web.bodies import XLSX, cursor, page_limit, posted_source, query, repeat_of
from service.web.conditional import seen
from service.web.faults import Fault, RequestCode
from service.web.forms import FORMS, answered, answered_json, answered_plan, answered_workbook, known_tags
from service.web.moments import moment_text
from service.web.negotiation import chosen
from service.web.problem_answers import refused
from service.web.wiring import desk

if TYPE_CHECKING:
    from service.storage.keys import Key
    from service.storage.quotes import QuoteCard, StoredQuote

quotes = Blueprint("quotes", __name__, url_prefix="/v1", description="Quotes and their documents")

_OFFERS = {JSON: "quote.json", PDF: "quote.pdf", CSV: "lines.csv"}


@operation(
    quotes,
    "POST",
    "/quotes",
    Words(
        "Make a quote of a room sheet",
        {"201": answer("The quote", json_of("Quote"), ETAG | {"Location": {"schema": {"type": "string"}}})},
        (PRICE_LIST, REPEAT_KEY),
        body("JobDocument"),
        (
            RequestCode.BODY_TOO_LARGE,
            RequestCode.BODY_WRONG_TYPE,
            RequestCode.SHEET_REFUSED,
            RequestCode.BODY_NOT_UNDERSTOOD,
            RequestCode.QUERY_NOT_UNDERSTOOD,
            RequestCode.REPEAT_KEY_NOT_UNDERSTOOD,
            RequestCode.REPEAT_DIFFERS,
        ),
    ),
    WRITERS,
)
def make_quote(caller: Key) -> Response:
    """Make a quote, or say every fault of the sheet."""
    wanted = query("price_list").get("price_list")
    source = posted_source()
    made = quote_made(desk(), caller.firm_id, source, wanted, repeat_of(caller, source, wanted))
    if isinstance(made, Refused):
        raise refused(made.problems)
    if isinstance(made, RepeatDiffers):
        raise Fault(RequestCode.REPEAT_DIFFERS)
    return _created(made, caller)


@operation(
    quotes,
    "GET",
    "/quotes",
    Words(
        "List the firm's quotes, newest first",
        {"200": answer("One page", json_of("QuotePage"))},
        (LIMIT, AFTER),
        refusals=(RequestCode.QUERY_NOT_UNDERSTOOD,),
    ),
)
def list_quotes(caller: Key) -> Response:
    """Answer with one page of the firm's quotes."""
    asked = query("limit", "after")
    limit = page_limit(asked.get("limit"))
    cards, after = quotes_listed(desk(), caller.firm_id, cursor(asked.get("after")), limit)
    response = jsonify({"items": [_card(card) for card in cards], "next": after})
    if after:
        response.headers["Link"] = f'<{request.base_url}?{urlencode({"limit": limit, "after": after})}>; rel="next"'
    return response


@operation(
    quotes,
    "GET",
    "/quotes/<uuid:quote_id>",
    Words(
        "A quote, as JSON, PDF or CSV by `Accept`",
        {"200": answer("The quote", json_of("Quote") | binary(PDF, CSV), ETAG), **UNCHANGED},
        (IF_NONE_MATCH,),
        refusals=(RequestCode.NOT_FOUND, RequestCode.NOT_ACCEPTABLE),
    ),
)
def show_quote(caller: Key, quote_id: object) -> Response:
    """Answer with the quote in the form that the asker prefers."""
    quote = own_quote(caller, quote_id)
    form = chosen(list(_OFFERS))
    return answered_json(quote, caller) if form == JSON else answered(quote, _OFFERS[form], caller)


def _file_operation(name: str) -> None:
    form = FORMS[name]

    @operation(
        quotes,
        "GET",
        f"/quotes/<uuid:quote_id>/{name}",
        Words(
            f"The {form.words} as {form.extension.upper()}",
            {"200": answer("The file", binary(form.media_type), ETAG), **UNCHANGED},
            (IF_NONE_MATCH,),
            refusals=(RequestCode.NOT_FOUND,),
        ),
    )
    def show_file(caller: Key, quote_id: object) -> Response:
        """Answer with one document of the quote."""
        return answered(own_quote(caller, quote_id), name, caller)


for _name in ("quote.pdf", "field-sheet.pdf", "lines.csv", "cut-list.csv", "order-list.csv"):
    _file_operation(_name)


@operation(
    quotes,
    "GET",
    "/quotes/<uuid:quote_id>/plans/<int:room_number>.svg",
    Words(
        "The plan of one room as SVG",
        {"200": answer("The drawing", binary(SVG), ETAG), **UNCHANGED},
        (IF_NONE_MATCH,),
        refusals=(RequestCode.NOT_FOUND,),
    ),
)
def show_plan(caller: Key, quote_id: object, room_number: int) -> Response:
    """Answer with the plan of the room of this number."""
    return answered_plan(own_quote(caller, quote_id), room_number, caller)


@operation(
    quotes,
    "GET",
    "/quotes/<uuid:quote_id>/source.xlsx",
    Words(
        "The room sheet that the quote was made of",
        {"200": answer("The workbook, byte for byte", binary(XLSX), ETAG), **UNCHANGED},
        (IF_NONE_MATCH,),
        refusals=(RequestCode.NOT_FOUND,),
    ),
)
def show_workbook(caller: Key, quote_id: object) -> Response:
    """Answer with the workbook as it was sent."""
    return answered_workbook(own_quote(caller, quote_id), caller)


def _step_operation(step: Step) -> None:
    @operation(
        quotes,
        "POST",
        f"/quotes/<uuid:quote_id>/{step}",
        Words(
            STEP_WORDS[step],
            {"200": answer("The quote in its new status", json_of("Quote"), ETAG)},
            (IF_MATCH,),
            refusals=(
                RequestCode.NOT_FOUND,
                RequestCode.STATUS_DOES_NOT_FIT,
                RequestCode.CHANGED_MEANWHILE,
                RequestCode.IF_MATCH_MISSING,
            ),
        ),
        WRITERS,
    )
    def take_step(caller: Key, quote_id: object) -> Response:
        """Take the quote one step on."""
        stepped = quote_stepped(
            desk(), caller.firm_id, str(quote_id), step, lambda quote: seen(known_tags(quote, caller))
        )
        return answered_json(_stepped_or_refused(stepped), caller)


for _step in Step:
    _step_operation(_step)


def own_quote(caller: Key, quote_id: object) -> StoredQuote:
    """The caller's firm's quote of this id.

    Raises:
        Fault: 404 when there is none, or it is another firm's.
    """
    quote = quote_found(desk(), caller.firm_id, str(quote_id))
    if quote is None:
        raise Fault(RequestCode.NOT_FOUND)
    return quote


def _stepped_or_refused(stepped: StoredQuote | WrongStatus | Changed | None) -> StoredQuote:
    match stepped:
        case None:
            raise Fault(RequestCode.NOT_FOUND)
        case Changed():
            raise Fault(RequestCode.CHANGED_MEANWHILE)
        case WrongStatus(detail):
            raise Fault(RequestCode.STATUS_DOES_NOT_FIT, detail)
        case _:
            return stepped


def _created(quote: StoredQuote, caller: Key) -> Response:
    response = answered_json(quote, caller)
    response.status_code = 201
    response.headers["Location"] = url_for("quotes.show_quote", quote_id=quote.card.id)
    return response


def _card(card: QuoteCard) -> dict[str, Any]:
    amount = f"{card.total_cents // 100}.{card.total_cents % 100:02d}"
    return {
        "id": card.id,
        "number": str(card.number),
        "revision": card.revision,
        "status": card.status,
        "created_at": moment_text(card.created_at),
        "valid_until": card.valid_until.isoformat(),
        "job_name": card.job_name,
        "customer": card.customer,
        "total": {"amount": amount, "currency": card.currency},
    }
