"""Blank workbooks and the check of a filled one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from flask import Response, jsonify
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from service.jobs.desk import Refused
from service.jobs.quotes import Checked, sheet_checked
from service.jobs.templates import blank_price_list, blank_room_sheet
from service.units import Units
from service.web.access import WRITERS
from service.web.api.describing import JSON, PRICE_LIST, UNITS, answer, binary, body, json_of
from service.web.api.operations import Words, operation
from service.web.bodies import XLSX, posted_source, query
from service.web.downloads import download
from service.web.faults import Fault, RequestCode
from service.web.negotiation import chosen
from service.web.problem_answers import problem_list, refused
from service.web.wiring import desk

if TYPE_CHECKING:
    from service.storage.keys import Key

sheets = Blueprint("sheets", __name__, url_prefix="/v1", description="Room sheets: blank ones, and checks")

_BODY_FAULTS = (
    RequestCode.BODY_TOO_LARGE,
    RequestCode.BODY_WRONG_TYPE,
    RequestCode.SHEET_REFUSED,
    RequestCode.BODY_NOT_UNDERSTOOD,
    RequestCode.QUERY_NOT_UNDERSTOOD,
)


@operation(
    sheets,
    "GET",
    "/templates/room-sheet.xlsx",
    Words(
        "A blank room sheet",
        {"200": answer("The workbook", binary(XLSX))},
        (UNITS,),
        refusals=(RequestCode.QUERY_NOT_UNDERSTOOD,),
    ),
)
def room_sheet_template(_caller: Key) -> Response:
    """Answer with a blank room sheet in the units asked for."""
    units = wanted_units(query("units").get("units", "imperial"))
    return download(blank_room_sheet(units), XLSX, f"room sheet {units}", "xlsx")


@operation(
    sheets,
    "GET",
    "/templates/price-list.xlsx",
    Words("A blank price list", {"200": answer("The workbook", binary(XLSX))}),
)
def price_list_template(_caller: Key) -> Response:
    """Answer with a blank price list."""
    return download(blank_price_list(), XLSX, "price list", "xlsx")


@operation(
    sheets,
    "POST",
    "/sheet-checks",
    Words(
        "Check a room sheet without making a quote",
        {"200": answer("The sheet can be quoted", json_of("SheetCheck"))},
        (PRICE_LIST,),
        body("JobDocument"),
        (*_BODY_FAULTS, RequestCode.NOT_ACCEPTABLE),
    ),
    WRITERS,
)
def check_sheet(caller: Key) -> Response:
    """Say every fault of a sheet, or that it has none."""
    chosen([JSON], "A check is answered as JSON; the marked workbook is not available yet.")
    wanted = query("price_list").get("price_list")
    checked = sheet_checked(desk(), caller.firm_id, posted_source(), wanted)
    if isinstance(checked, Refused):
        raise refused(checked.problems)
    return jsonify(_check(checked))


def wanted_units(text: str) -> Units:
    """Units named in a query.

    Raises:
        Fault: 422 for anything else.
    """
    try:
        return Units(text)
    except ValueError:
        raise Fault(RequestCode.QUERY_NOT_UNDERSTOOD, "`units` is `imperial` or `metric`.") from None


def _check(checked: Checked) -> dict[str, Any]:
    summary = checked.summary
    feet = {name: str(value) for name, value in summary.feet.items()}
    return {
        "valid": True,
        "problems": problem_list(checked.remarks),
        "summary": {"rooms": summary.rooms, "walls": summary.walls, "feet_by_assembly": feet},
    }
