"""Blank workbooks and the check of a filled one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from flask import Response, jsonify
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from service.jobs.desk import Refused
from service.jobs.marked import sheet_faults_csv, sheet_marked
from service.jobs.quotes import Checked, sheet_checked
from service.jobs.reading import Document, Workbook
from service.jobs.templates import blank_price_list, blank_room_sheet, room_sheet_for_list
from service.units import Units
from service.web.access import WRITERS
from service.web.api.describing import CSV, JSON, PRICE_LIST, UNITS, Described, answer, binary, body, json_of
from service.web.api.operations import Words, operation
from service.web.bodies import XLSX, posted_source, query
from service.web.downloads import download
from service.web.faults import Fault, RequestCode
from service.web.marked_answers import marked_download
from service.web.negotiation import chosen
from service.web.problem_answers import problem_list, refused
from service.web.wiring import desk

if TYPE_CHECKING:
    from service.storage.keys import Key

sheets = Blueprint("sheets", __name__, url_prefix="/v1", description="Room sheets: blank ones, and checks")

OFFERED_LIST: Described = {
    "in": "query",
    "name": "price_list",
    "description": "Name of a price list that the sheet names, and whose assemblies its dropdowns offer.",
    "schema": {"type": "string", "minLength": 1},
}
_NO_WORKBOOK = "A check is answered as JSON or CSV, and of a workbook as that workbook with its faults marked."
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
        (UNITS, OFFERED_LIST),
        refusals=(RequestCode.QUERY_NOT_UNDERSTOOD, RequestCode.SHEET_REFUSED),
    ),
)
def room_sheet_template(caller: Key) -> Response:
    """Answer with a blank room sheet in the units asked for, offering the assemblies of a price list if one is named."""
    asked = query("units", "price_list")
    units, name = wanted_units(asked.get("units", "imperial")), asked.get("price_list")
    blank = room_sheet_for_list(desk(), caller.firm_id, units, name) if name else blank_room_sheet(units)
    if isinstance(blank, Refused):
        raise refused(blank.problems)
    return download(blank, XLSX, f"room sheet {units}", "xlsx")


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
        "Check a room sheet without making a quote; as JSON, as CSV, or as the workbook with its faults marked",
        {
            "200": answer(
                "As JSON: the sheet can be quoted. As CSV: every fault, one a line, none of them if it can. As a workbook: "
                "the one that was sent, each faulty cell colored and noted, all faults listed on a last tab, which a check "
                "of the copy skips.",
                json_of("SheetCheck") | binary(CSV, XLSX),
            )
        },
        (PRICE_LIST,),
        body("JobDocument"),
        (*_BODY_FAULTS, RequestCode.NOT_ACCEPTABLE),
    ),
    WRITERS,
)
def check_sheet(caller: Key) -> Response:
    """Say every fault of a sheet, or that it has none, in the form that is accepted best."""
    source, wanted = posted_source(), query("price_list").get("price_list")
    form = chosen([JSON, CSV] if isinstance(source, Document) else [JSON, CSV, XLSX], _NO_WORKBOOK)
    if form == CSV:
        return _faults_table(sheet_faults_csv(desk(), caller.firm_id, source, wanted))
    if form == XLSX and isinstance(source, Workbook):
        return marked_download(sheet_marked(desk(), caller.firm_id, source, wanted), "room sheet")
    checked = sheet_checked(desk(), caller.firm_id, source, wanted)
    if isinstance(checked, Refused):
        raise refused(checked.problems)
    return jsonify(_check(checked))


def _faults_table(table: str | Refused) -> Response:
    if isinstance(table, Refused):
        raise refused(table.problems)
    return download(table, CSV, "faults", "csv")


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
        "summary": {
            "rooms": summary.rooms,
            "walls": summary.walls,
            "feet_by_assembly": feet,
            "openings": dict(summary.openings),
            "ceiling": dict(summary.ceiling),
            "extras": dict(summary.extras),
        },
    }
