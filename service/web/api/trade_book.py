"""The trade's numbers: each entry with its source and how well it is known."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from flask import Response, jsonify
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from service.trade.book import shipped_book
from service.web.api.describing import answer, json_of
from service.web.api.operations import Words, operation
from service.web.faults import Fault, RequestCode

if TYPE_CHECKING:
    from service.storage.keys import Key
    from service.trade.book import Entry

trade_book = Blueprint("trade book", __name__, url_prefix="/v1", description="The trade's numbers and their sources")


@operation(
    trade_book,
    "GET",
    "/trade-book",
    Words("List the trade book", {"200": answer("Every entry", json_of("TradeBook"))}),
)
def list_entries(_caller: Key) -> Response:
    """Answer with every entry, by key."""
    return jsonify({"items": [_entry(entry) for entry in shipped_book()], "next": None})


@operation(
    trade_book,
    "GET",
    "/trade-book/<entry>",
    Words(
        "One entry of the trade book",
        {"200": answer("The entry", json_of("TradeEntry"))},
        refusals=(RequestCode.NOT_FOUND,),
    ),
)
def show_entry(_caller: Key, entry: str) -> Response:
    """Answer with the entry of this key."""
    if entry not in shipped_book():
        raise Fault(RequestCode.NOT_FOUND, "The trade book has no such entry; /v1/trade-book lists them.")
    return jsonify(_entry(shipped_book()[entry]))


def _entry(entry: Entry) -> dict[str, Any]:
    source = shipped_book().sources.get(entry.source)
    return {
        "key": entry.key,
        "value": str(entry.value),
        "unit": entry.unit,
        "meaning": entry.meaning,
        "low": str(entry.low),
        "high": str(entry.high),
        "grade": entry.grade,
        "source": {
            "id": entry.source,
            "reference": source.reference if source else "",
            "page": entry.page,
            "seen": source.seen if source else False,
        },
    }
