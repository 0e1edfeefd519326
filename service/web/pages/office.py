"""The office's page: a workbook in, its faults or its quote out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, make_response, redirect, render_template, request, url_for

from schemas.problem import MOST_TOLD
from service.jobs.desk import Refused
from service.jobs.explaining import line_explained
from service.jobs.marked import is_unreadable, sheet_marked
from service.jobs.price_lists import price_list_names
from service.jobs.quotes import quote_found, quote_made, quotes_listed
from service.jobs.reading import Workbook
from service.jobs.templates import blank_price_list, blank_room_sheet
from service.units import Units
from service.web.access import sent_from_here, sign_in, visitor
from service.web.bodies import XLSX, file_bytes
from service.web.downloads import download
from service.web.faults import Fault, RequestCode
from service.web.forms import FORMS, answered, answered_plan, answered_workbook
from service.web.marked_answers import SentSheet, marked_download, sheet_to_mark
from service.web.pages.quote_view import quote_view
from service.web.pages.story_view import story_view
from service.web.problem_answers import sheet_status
from service.web.wiring import desk

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.problems import Problem
    from service.storage.keys import Key
    from service.storage.quotes import StoredQuote

pages = Blueprint("pages", __name__, template_folder="templates")

_RECENT = 8
_FILES = ", ".join(f"'{name}'" for name in FORMS)


@pages.get("/")
def front() -> Response:
    """Show the form, or ask for a key."""
    who = visitor()
    return _front(who) if who else _sign_in_first()


@pages.post("/")
def send_sheet() -> Response:
    """Make a quote of the workbook that was sent; show its faults, or go to the quote."""
    who = visitor()
    sent_from_here()
    if who is None:
        return _sign_in_first()
    if (set(request.files) | set(request.form)) - {"file", "price_list"}:
        raise Fault(RequestCode.BODY_NOT_UNDERSTOOD)
    return _made_or_refused(who)


@pages.post("/marked-sheet")
def marked_sheet() -> Response:
    """Answer with the workbook that was sent, or that the page of its faults carried, its faults marked."""
    who = visitor()
    sent_from_here()
    if who is None:
        return _sign_in_first()
    sheet = sheet_to_mark()
    if sheet is None:
        return _nothing_chosen(who)
    made = sheet_marked(desk(), who.firm_id, Workbook(sheet.data), request.form.get("price_list") or None)
    return _refusal(who, made.problems, sheet) if isinstance(made, Refused) else marked_download(made, sheet.stem)


def _made_or_refused(who: Key) -> Response:
    file = request.files.get("file")
    if file is None or not file.filename:
        return _nothing_chosen(who)
    sheet = SentSheet(file.filename, file_bytes(file))
    made = quote_made(desk(), who.firm_id, Workbook(sheet.data), request.form.get("price_list") or None)
    if isinstance(made, Refused):
        return _refusal(who, made.problems, sheet)
    quote: StoredQuote = made  # type: ignore[assignment] # without a repeat key nothing else comes back
    return make_response(redirect(url_for("pages.quote", quote_id=quote.card.id), 303))


@pages.get("/quotes/<uuid:quote_id>")
def quote(quote_id: object) -> Response:
    """Show a quote: total, rooms, plans, documents."""
    who = visitor()
    if who is None:
        return _sign_in_first()
    stored = _own(who, quote_id)
    return make_response(render_template("quote.html", **quote_view(stored)))


@pages.get("/quotes/<uuid:quote_id>/lines/<int:number>")
def line(quote_id: object, number: int) -> Response:
    """Show why a line costs what it costs."""
    who = visitor()
    if who is None:
        return _sign_in_first()
    stored = _own(who, quote_id)
    story = line_explained(desk(), stored, number)
    if story is None:
        raise Fault(RequestCode.NOT_FOUND)
    return make_response(render_template("line.html", card=stored.card, **story_view(story)))


@pages.get(f"/quotes/<uuid:quote_id>/<any({_FILES}):name>")
def quote_file(quote_id: object, name: str) -> Response:
    """Answer with one document of a quote."""
    who = _known_visitor()
    return answered(_own(who, quote_id), name, who)


@pages.get("/quotes/<uuid:quote_id>/plans/<int:room_number>.svg")
def plan(quote_id: object, room_number: int) -> Response:
    """Answer with the plan of a room."""
    who = _known_visitor()
    return answered_plan(_own(who, quote_id), room_number, who)


@pages.get("/quotes/<uuid:quote_id>/source.xlsx")
def source(quote_id: object) -> Response:
    """Answer with the room sheet as it was sent."""
    who = _known_visitor()
    return answered_workbook(_own(who, quote_id), who)


@pages.get("/templates/room-sheet.xlsx")
def room_sheet() -> Response:
    """Answer with a blank room sheet."""
    units = Units.METRIC if request.args.get("units") == Units.METRIC else Units.IMPERIAL
    return download(blank_room_sheet(units), XLSX, f"room sheet {units}", "xlsx")


@pages.get("/templates/price-list.xlsx")
def price_list() -> Response:
    """Answer with a blank price list."""
    return download(blank_price_list(), XLSX, "price list", "xlsx")


@pages.get("/sign-in")
def sign_in_page() -> Response:
    """Ask for an office key."""
    return make_response(render_template("sign_in.html"))


@pages.post("/sign-in")
def send_key() -> Response:
    """Give the holder of an office key a cookie and the first page."""
    sent_from_here()
    response = make_response(redirect(url_for("pages.front"), 303))
    if sign_in(response, request.form.get("key", "")):
        return response
    return make_response(render_template("sign_in.html", notice="That is not a valid office key"), 403)


def _front(who: Key, status: int = 200, **words: Any) -> Response:  # noqa: ANN401 - words of a template
    recent, _ = quotes_listed(desk(), who.firm_id, None, _RECENT)
    page = render_template(
        "front.html", price_lists=price_list_names(desk(), who.firm_id), recent=recent, **words
    )  # fmt: skip
    return make_response(page, status)


def _nothing_chosen(who: Key) -> Response:
    return _front(who, 422, notice="No sheet was chosen", advice="Choose the filled room sheet, then send it.")


def _refusal(who: Key, problems: Sequence[Problem], sheet: SentSheet) -> Response:
    return _front(
        who,
        sheet_status(problems),
        faults=problems[:MOST_TOLD],
        problem_count=len(problems),
        error_count=sum(problem.is_error for problem in problems),
        file_name=sheet.name,
        can_be_marked=not is_unreadable(problems),
        carried=sheet.carried,
        chosen_list=request.form.get("price_list"),
    )


def _known_visitor() -> Key:
    who = visitor()
    if who is None:
        raise Fault(RequestCode.KEY_MISSING, headers={"WWW-Authenticate": 'Bearer realm="trim quotes"'})
    return who


def _own(who: Key, quote_id: object) -> StoredQuote:
    stored = quote_found(desk(), who.firm_id, str(quote_id))
    if stored is None:
        raise Fault(RequestCode.NOT_FOUND)
    return stored


def _sign_in_first() -> Response:
    return make_response(redirect(url_for("pages.sign_in_page"), 303))
