"""The trade's numbers: each entry with its source, how well it is known, and the firm's own value in its place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from flask import Response, jsonify, request
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from service.jobs.desk import Refused
from service.jobs.trade_book import trade_book_in_force
from service.trade.book import Grade
from service.web.access import OFFICE
from service.web.api.describing import LIST_OF_OWN_VALUES, answer, json_of
from service.web.api.operations import Words, operation
from service.web.faults import Fault, RequestCode
from service.web.problem_answers import problem_list
from service.web.wiring import desk

if TYPE_CHECKING:
    from service.jobs.trade_book import BookInForce, EntryInForce
    from service.storage.keys import Key

trade_book = Blueprint("trade book", __name__, url_prefix="/v1", description="The trade's numbers and their sources")


@operation(
    trade_book,
    "GET",
    "/trade-book",
    Words(
        "List the trade book",
        {"200": answer("Every entry", json_of("TradeBook"))},
        parameters=(LIST_OF_OWN_VALUES,),
        refusals=(RequestCode.NOT_FOUND,),
    ),
)
def list_entries(caller: Key) -> Response:
    """Answer with every entry, by key, and with what is strange about the firm's own values."""
    book = _book(caller)
    items = [_entry(entry) for entry in book.entries.values()]
    return jsonify({"items": items, "next": None, "problems": problem_list(book.problems)})


@operation(
    trade_book,
    "GET",
    "/trade-book/<entry>",
    Words(
        "One entry of the trade book",
        {"200": answer("The entry", json_of("TradeEntry"))},
        parameters=(LIST_OF_OWN_VALUES,),
        refusals=(RequestCode.NOT_FOUND,),
    ),
)
def show_entry(caller: Key, entry: str) -> Response:
    """Answer with the entry of this key."""
    found = _book(caller).entries.get(entry)
    if found is None:
        raise Fault(RequestCode.NOT_FOUND, "The trade book has no such entry; /v1/trade-book lists them.")
    return jsonify(_entry(found))


def _book(caller: Key) -> BookInForce:
    """The book that is asked for; a price list's own values are the office's alone."""
    name = request.args.get("price_list")
    if name is not None and caller.role not in OFFICE:
        raise Fault(RequestCode.ROLE_NOT_ALLOWED)
    found = trade_book_in_force(desk(), caller.firm_id, name)
    if isinstance(found, Refused):
        raise Fault(RequestCode.NOT_FOUND, "There is no such price list; /v1/price-lists lists them.")
    return found


def _entry(found: EntryInForce) -> dict[str, Any]:
    entry, source, own = found.shipped, found.source, found.own
    return {
        "key": entry.key,
        "value": str(entry.value),
        "unit": entry.unit,
        "meaning": entry.meaning,
        "low": str(entry.low),
        "high": str(entry.high),
        "grade": entry.grade,
        "source": {"id": source.id, "reference": source.reference, "page": entry.page, "seen": source.seen},
        "in_force": str(own.value if own else entry.value),
        "firm": _own(found),
    }


def _own(found: EntryInForce) -> dict[str, Any] | None:
    if found.own is None:
        return None
    return {
        "value": str(found.own.value),
        "source": found.own.source,
        "grade": Grade.FIRM,
        "in_range": found.is_in_range,
    }
