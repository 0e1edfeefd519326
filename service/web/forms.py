"""The forms of a stored quote: which there are, what each is called, and how it is made."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flask import Response

from service.jobs import documents
from service.jobs.explaining import quote_ledger
from service.jobs.quotes import quote_workbook
from service.storage.keys import Role
from service.web.bodies import XLSX
from service.web.conditional import tag_of, unless_known
from service.web.downloads import download
from service.web.faults import Fault, RequestCode
from service.web.wiring import desk

if TYPE_CHECKING:
    from collections.abc import Callable

    from service.storage.keys import Key
    from service.storage.quotes import StoredQuote

JSON = "application/json"
PDF = "application/pdf"
CSV = "text/csv"
SVG = "image/svg+xml"


@dataclass(frozen=True, slots=True)
class Form:
    """One form of a quote: media type, words for its file name, extension, and how it is made for a role."""

    media_type: str
    words: str
    extension: str
    made: Callable[[StoredQuote, Role], bytes | str]


def _json_text(quote: StoredQuote, role: Role) -> str:
    is_office = role is Role.OFFICE
    answer = documents.quote_json(quote, office=is_office)
    ledger = quote_ledger(desk(), quote) if is_office else None
    explained = {"explain": ledger} if ledger else {}
    return json.dumps(answer | explained | {"documents": _addresses(quote)}, ensure_ascii=False)


def _addresses(quote: StoredQuote) -> dict[str, str]:
    """Where each document of a quote is, from the service's root."""
    plans = [f"plans/{room['number']}.svg" for room in quote.document["rooms"]]
    source = ["source.xlsx"] if quote.has_workbook else []
    names = (*(name for name in FORMS if name != "quote.json"), *plans, *source)
    return {name: f"/v1/quotes/{quote.card.id}/{name}" for name in names}


FORMS: dict[str, Form] = {
    "quote.json": Form(JSON, "quote", "json", _json_text),
    "quote.pdf": Form(PDF, "quote", "pdf", lambda quote, _role: documents.quote_as_pdf(quote)),
    "field-sheet.pdf": Form(PDF, "field sheet", "pdf", lambda quote, _role: documents.field_sheet(quote)),
    "lines.csv": Form(CSV, "lines", "csv", lambda quote, role: documents.lines(quote, office=role is Role.OFFICE)),
    "cut-list.csv": Form(CSV, "cut list", "csv", lambda quote, _role: documents.cut_list(quote)),
    "order-list.csv": Form(CSV, "order list", "csv", lambda quote, _role: documents.order_list(quote)),
}


def answered(quote: StoredQuote, name: str, caller: Key) -> Response:
    """A form of a quote as a file, or 304 when the asker has it."""
    form = FORMS[name]
    file_name = f"{quote.card.number} {form.words} {quote.card.job_name}"
    return unless_known(
        tag_of(quote, name, caller.role),
        lambda: download(form.made(quote, caller.role), form.media_type, file_name, form.extension),
    )


def answered_json(quote: StoredQuote, caller: Key) -> Response:
    """The quote itself as JSON, or 304 when the asker has it."""
    return unless_known(
        tag_of(quote, "quote.json", caller.role),
        lambda: Response(_json_text(quote, caller.role), content_type=JSON),
    )


def answered_plan(quote: StoredQuote, room_number: int, caller: Key) -> Response:
    """Plan of a room as SVG, or 304 when the asker has it.

    Raises:
        Fault: 404 when the quote has no such room.
    """
    drawing = documents.plan(quote, room_number)
    if drawing is None:
        raise Fault(RequestCode.NOT_FOUND, f"The quote has no room number {room_number}.")
    words = f"{quote.card.number} plan {room_number}"
    tag = tag_of(quote, f"plan {room_number}", caller.role)
    return unless_known(tag, lambda: download(drawing, SVG, words, "svg"))


def answered_workbook(quote: StoredQuote, caller: Key) -> Response:
    """The room sheet that the quote was made of, byte for byte, or 304 when the asker has it.

    Raises:
        Fault: 404 when it came as JSON.
    """
    if not quote.has_workbook:
        raise Fault(RequestCode.NOT_FOUND, "This quote was made of a JSON document; there is no workbook.")
    data = quote_workbook(desk(), caller.firm_id, quote.card.id) or b""
    words = f"{quote.card.number} room sheet {quote.card.job_name}"
    return unless_known(tag_of(quote, "source.xlsx", caller.role), lambda: download(data, XLSX, words, "xlsx"))


def known_tags(quote: StoredQuote, caller: Key) -> list[str]:
    """Tags of every form of the quote as it is now and as the caller sees it."""
    return [tag_of(quote, name, caller.role) for name in (*FORMS, "source.xlsx")]
