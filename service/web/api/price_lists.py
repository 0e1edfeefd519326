"""Price lists: put as workbook or JSON, shown by version. They hold wages and rates: the office alone."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from flask import Response, jsonify
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from service.jobs.desk import Refused
from service.jobs.price_lists import NAME, price_list_names, price_list_put, price_list_shown, price_list_versions
from service.web.access import OFFICE
from service.web.api.describing import JSON, answer, binary, body, json_of
from service.web.api.operations import Words, operation
from service.web.bodies import XLSX, posted_source
from service.web.downloads import download
from service.web.faults import Fault, RequestCode
from service.web.moments import moment_text
from service.web.negotiation import chosen
from service.web.problem_answers import problem_list, refused
from service.web.wiring import desk

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.problems import Problem
    from service.storage.keys import Key
    from service.storage.price_lists import StoredPriceList, VersionMark

price_lists = Blueprint("price lists", __name__, url_prefix="/v1", description="What the firm charges and buys")

_VERSION = answer("The price list", json_of("PriceListVersion") | binary(XLSX))


@operation(
    price_lists,
    "GET",
    "/price-lists",
    Words("List the firm's price lists", {"200": answer("The newest versions", json_of("PriceListMarks"))}),
    OFFICE,
)
def list_price_lists(caller: Key) -> Response:
    """Answer with the newest version of each price list."""
    return jsonify(_marks(price_list_names(desk(), caller.firm_id)))


@operation(
    price_lists,
    "GET",
    "/price-lists/<name>",
    Words(
        "The newest version of a price list, as JSON or workbook by `Accept`",
        {"200": _VERSION},
        refusals=(RequestCode.NOT_FOUND, RequestCode.NOT_ACCEPTABLE),
    ),
    OFFICE,
)
def show_price_list(caller: Key, name: str) -> Response:
    """Answer with the newest version."""
    return _shown(price_list_shown(desk(), caller.firm_id, name))


@operation(
    price_lists,
    "PUT",
    "/price-lists/<name>",
    Words(
        "Keep a workbook or document as the newest version of a price list",
        {"200": answer("The version kept", json_of("PriceListVersion"))},
        body=body("PriceList"),
        refusals=(
            RequestCode.BODY_TOO_LARGE,
            RequestCode.BODY_WRONG_TYPE,
            RequestCode.PRICE_LIST_REFUSED,
            RequestCode.BODY_NOT_UNDERSTOOD,
            RequestCode.NAME_NOT_UNDERSTOOD,
        ),
    ),
    OFFICE,
)
def put_price_list(caller: Key, name: str) -> Response:
    """Keep a price list, or say every fault in it."""
    if not NAME.fullmatch(name):
        raise Fault(RequestCode.NAME_NOT_UNDERSTOOD)
    kept = price_list_put(desk(), caller.firm_id, name, posted_source())
    if isinstance(kept, Refused):
        raise refused(kept.problems, RequestCode.PRICE_LIST_REFUSED)
    return jsonify(_version(kept.stored, kept.remarks))


@operation(
    price_lists,
    "GET",
    "/price-lists/<name>/versions",
    Words(
        "List the versions of a price list, newest first",
        {"200": answer("The versions", json_of("PriceListMarks"))},
        refusals=(RequestCode.NOT_FOUND,),
    ),
    OFFICE,
)
def list_versions(caller: Key, name: str) -> Response:
    """Answer with every version of one price list."""
    marks = price_list_versions(desk(), caller.firm_id, name)
    if not marks:
        raise Fault(RequestCode.NOT_FOUND)
    return jsonify(_marks(marks))


@operation(
    price_lists,
    "GET",
    "/price-lists/<name>/versions/<int:version>",
    Words(
        "One version of a price list, as JSON or workbook by `Accept`",
        {"200": _VERSION},
        refusals=(RequestCode.NOT_FOUND, RequestCode.NOT_ACCEPTABLE),
    ),
    OFFICE,
)
def show_version(caller: Key, name: str, version: int) -> Response:
    """Answer with one version."""
    return _shown(price_list_shown(desk(), caller.firm_id, name, version))


def _shown(stored: StoredPriceList | None) -> Response:
    if stored is None:
        raise Fault(RequestCode.NOT_FOUND)
    offers = [JSON, XLSX] if stored.workbook else [JSON]
    form = chosen(offers)
    if form == XLSX and stored.workbook:
        response = download(stored.workbook, XLSX, f"price list {stored.name} {stored.version}", "xlsx")
    else:
        response = jsonify(_version(stored, ()))
    response.headers["Vary"] = "Accept, Authorization"
    return response


def _version(stored: StoredPriceList, remarks: Sequence[Problem]) -> dict[str, Any]:
    return {
        "name": stored.name,
        "version": stored.version,
        "created_at": moment_text(stored.created_at),
        "problems": problem_list(remarks),
        "document": stored.document,
    }


def _marks(marks: Iterable[VersionMark]) -> dict[str, Any]:
    items = [{"name": m.name, "version": m.version, "created_at": moment_text(m.created_at)} for m in marks]
    return {"items": items, "next": None}
