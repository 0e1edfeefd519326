"""Refusals as `application/problem+json` (RFC 9457), for every error of every address; HTML for people."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import structlog
from flask import Response, g, render_template, request
from werkzeug.exceptions import HTTPException, MethodNotAllowed

from schemas.problem import MEDIA_TYPE, MOST_TOLD, problem_rows
from service.problems import Code, Problem, Severity
from service.web.faults import KINDS, Fault, RequestCode

if TYPE_CHECKING:
    from collections.abc import Sequence

    from flask import Flask

_BY_STATUS = {
    400: RequestCode.REQUEST_NOT_UNDERSTOOD,
    404: RequestCode.NOT_FOUND,
    405: RequestCode.METHOD_NOT_ALLOWED,
    413: RequestCode.BODY_TOO_LARGE,
    415: RequestCode.BODY_WRONG_TYPE,
}
_STATUS_OF_SHEET = {
    Code.SHEET_TOO_LARGE: 413,
    Code.SHEET_UNPACKS_TOO_FAR: 413,
    Code.SHEET_WRONG_TYPE: 415,
    Code.SHEET_IS_OLD_XLS: 415,
    Code.SHEET_IS_OPEN_DOCUMENT: 415,
    Code.SHEET_IS_STRICT: 415,
    Code.SHEET_IS_CSV: 415,
    Code.SHEET_IS_PDF: 415,
    Code.SHEET_IS_WEB_PAGE: 415,
    Code.SHEET_IS_PICTURE: 415,
}
_SHEET_CODE = {RequestCode.BODY_TOO_LARGE: Code.SHEET_TOO_LARGE, RequestCode.BODY_WRONG_TYPE: Code.SHEET_WRONG_TYPE}
_SERVER_ERRORS = 500
_ERRORS = 400
_LOG = structlog.get_logger()


def answering(app: Flask) -> None:
    """Let every error of an app be answered as a problem."""
    app.register_error_handler(Fault, answer_of)
    app.register_error_handler(HTTPException, http_answer_of)
    app.register_error_handler(Exception, _unexpected)


def refused(problems: Sequence[Problem], code: RequestCode = RequestCode.SHEET_REFUSED) -> Fault:
    """The fault of a sheet or list with problems; all of them in it, 200 at most."""
    errors = sum(problem.is_error for problem in problems)
    faults = "1 fault" if errors == 1 else f"{errors} faults"
    members = {"problems": problem_list(problems), "problem_count": len(problems)}
    return Fault(code, f"It has {faults}; nothing was stored.", members, status=sheet_status(problems))


def sheet_status(problems: Sequence[Problem]) -> int:
    """HTTP status of a refused sheet: 413 when it is too large, 415 when it is no .xlsx, else 422."""
    return next((_STATUS_OF_SHEET[problem.code] for problem in problems if problem.code in _STATUS_OF_SHEET), 422)


def problem_list(problems: Sequence[Problem]) -> list[dict[str, Any]]:
    """Problems as JSON members, the first 200."""
    return problem_rows(problems[:MOST_TOLD])


def answer_of(fault: Fault) -> Response:
    """The answer that refuses a request: a page for a browser outside the API, else a problem document."""
    status = fault.status or fault.kind.status
    response = _page(fault, status) if _wants_page() else _document(fault, status)
    response.headers.update(fault.headers)
    return response


def http_answer_of(error: HTTPException) -> Response:
    """The same for an error that Flask itself raised, such as an unknown address."""
    if error.response is not None or error.code is None or error.code < _ERRORS:
        passed: Response = Response.force_type(error.get_response())  # type: ignore[assignment] # it is ours now
        return passed
    unnamed = RequestCode.UNEXPECTED if error.code >= _SERVER_ERRORS else RequestCode.REQUEST_NOT_UNDERSTOOD
    code = _BY_STATUS.get(error.code, unnamed)
    headers = {}
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        headers["Allow"] = ", ".join(sorted(error.valid_methods))
    return answer_of(Fault(code, headers=headers, status=error.code))


def problem_url(code: str) -> str:
    """Address of the page that explains a code; without a host when the request's own is not to be trusted."""
    try:
        return f"{request.url_root}problems/{code}"
    except HTTPException:
        return f"/problems/{code}"


def _sheet_members(code: RequestCode) -> dict[str, Any]:
    """A body refused before it was read still names its fault as a sheet's problem."""
    if code not in _SHEET_CODE:
        return {}
    problem = Problem(_SHEET_CODE[code], Severity.ERROR, "", KINDS[code].meaning, KINDS[code].cure)
    return {"problems": problem_list([problem]), "problem_count": 1}


def _unexpected(error: Exception) -> Response:
    _LOG.error("unexpected", exc_info=error)
    return answer_of(Fault(RequestCode.UNEXPECTED))


def _document(fault: Fault, status: int) -> Response:
    document = {
        "type": problem_url(fault.code),
        "title": fault.kind.title,
        "status": status,
        "detail": fault.detail or fault.kind.meaning,
        "instance": request.path,
        "help": fault.kind.cure,
        "trace_id": g.get("trace_id", ""),
        **_sheet_members(fault.code),
        **fault.members,
    }
    return Response(json.dumps(document, ensure_ascii=False), status, content_type=MEDIA_TYPE)


def _page(fault: Fault, status: int) -> Response:
    return Response(render_template("fault.html", fault=fault, trace_id=g.get("trace_id", "")), status)


def _wants_page() -> bool:
    if request.path.startswith("/v1/"):
        return False
    return request.accept_mimetypes.best_match([MEDIA_TYPE, "application/json", "text/html"]) == "text/html"
