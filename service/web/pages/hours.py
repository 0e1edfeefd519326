"""The office's pages for hours: what a job took, and rates compared with it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, make_response, redirect, render_template, request, url_for

from schemas.production_rates import production_rates_document
from service.jobs.actuals import actuals_posted, actuals_shown
from service.jobs.desk import Refused
from service.jobs.price_lists import STANDARD, price_list_names
from service.jobs.production_rates import rates_accepted, rates_compared
from service.jobs.quotes import quote_found
from service.jobs.reading import Document
from service.jobs.statuses import Changed, WrongStatus
from service.web.access import sent_from_here, visitor
from service.web.conditional import body_tag
from service.web.faults import KINDS, Fault, RequestCode
from service.web.pages.hours_view import hours_document, hours_view, rates_view
from service.web.wiring import desk

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.jobs.actuals import QuoteActuals
    from service.jobs.production_rates import RateTable
    from service.problems import Problem
    from service.storage.keys import Key

hours_pages = Blueprint("hours", __name__, template_folder="templates")

_CHANGED = KINDS[RequestCode.CHANGED_MEANWHILE]


@hours_pages.get("/quotes/<uuid:quote_id>/hours")
def hours(quote_id: object) -> Response:
    """Show the hours of a quote's job, planned beside actual, to be typed in."""
    who = visitor()
    return _hours(who, str(quote_id)) if who else _sign_in_first()


@hours_pages.post("/quotes/<uuid:quote_id>/hours")
def send_hours(quote_id: object) -> Response:
    """Keep the hours that were typed in; show their faults, or the page with them."""
    who = visitor()
    sent_from_here()
    if who is None:
        return _sign_in_first()
    document = Document(hours_document(request.form))
    posted = actuals_posted(desk(), who.firm_id, str(quote_id), document, _is_version_seen)
    match posted:
        case Refused(problems):
            return _hours(who, str(quote_id), 422, problems=problems)
        case WrongStatus(detail):
            return _hours(who, str(quote_id), 409, notice=detail)
        case Changed():
            return _hours(who, str(quote_id), _CHANGED.status, notice="Somebody else posted hours for it meanwhile.")
    return make_response(redirect(url_for("hours.hours", quote_id=quote_id), 303))


@hours_pages.get("/production-rates")
def rates() -> Response:
    """Show a price list's rates beside the hours that jobs took."""
    who = visitor()
    return _rates(who, request.args.get("price_list", STANDARD)) if who else _sign_in_first()


@hours_pages.post("/production-rates")
def send_rates() -> Response:
    """Put the ticked rates into a new version of their price list."""
    who = visitor()
    sent_from_here()
    if who is None:
        return _sign_in_first()
    name = request.form.get("price_list", "")
    document = Document({"price_list": name, "tasks": request.form.getlist("task")})
    accepted = rates_accepted(desk(), who.firm_id, document, _are_rates_seen)
    match accepted:
        case Refused(problems):
            return _rates(who, name, 422, problems=problems)
        case Changed():
            return _rates(who, name, _CHANGED.status, notice="Rates or hours have changed meanwhile.")
    return make_response(redirect(url_for("hours.rates", price_list=name, made=accepted.price_list.version), 303))


def _is_version_seen(shown: QuoteActuals) -> bool:
    return request.form.get("version") == str(shown.version)


def _are_rates_seen(table: RateTable) -> bool:
    return request.form.get("tag") == body_tag(production_rates_document(table))


def _hours(
    who: Key, quote_id: str, status: int = 200, problems: Sequence[Problem] = (), notice: str = ""
) -> Response:  # fmt: skip
    stored, shown = quote_found(desk(), who.firm_id, quote_id), actuals_shown(desk(), who.firm_id, quote_id)
    if stored is None or shown is None:
        raise Fault(RequestCode.NOT_FOUND)
    words = hours_view(shown, problems, request.form if problems else None)
    return make_response(render_template("hours.html", card=stored.card, notice=notice, **words), status)


def _rates(who: Key, name: str, status: int = 200, **words: Any) -> Response:  # noqa: ANN401 - words of a template
    table = rates_compared(desk(), who.firm_id, name)
    if isinstance(table, Refused):
        raise Fault(RequestCode.NOT_FOUND, "There is no such price list.")
    tag = body_tag(production_rates_document(table))
    lists = price_list_names(desk(), who.firm_id)
    made = request.args.get("made") == str(table.price_list.version)
    page = render_template("rates.html", tag=tag, lists=lists, made=made, **rates_view(table), **words)
    return make_response(page, status)


def _sign_in_first() -> Response:
    return make_response(redirect(url_for("pages.sign_in_page"), 303))
