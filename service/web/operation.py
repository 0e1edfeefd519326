"""What is open to everybody: the description, the explanations of faults, and the state of the service."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, current_app, make_response, render_template

from service.jobs.readiness import is_ready
from service.web.explanations import explained, request_titles, sheet_titles
from service.web.faults import Fault, RequestCode
from service.web.wiring import desk

if TYPE_CHECKING:
    from flask import Flask

operation = Blueprint("operation", __name__, template_folder="pages/templates")

_DESCRIPTION = "openapi"
_HEALTH = "application/health+json"


def described(app: Flask, document: dict[str, Any]) -> None:
    """Keep the OpenAPI document that an app serves."""
    app.extensions[_DESCRIPTION] = document


def openapi_text(app: Flask) -> str:
    """The OpenAPI document of an app, as it is served and committed."""
    return json.dumps(app.extensions[_DESCRIPTION], indent=2, ensure_ascii=False) + "\n"


@operation.get("/openapi.json")
def openapi() -> Response:
    """Answer with the OpenAPI document."""
    return Response(openapi_text(current_app), content_type="application/json")


@operation.get("/docs")
def docs() -> Response:
    """Show the OpenAPI document as a page."""
    groups: dict[str, list[dict[str, Any]]] = {}
    for path, operations in current_app.extensions[_DESCRIPTION]["paths"].items():
        for method, words in operations.items():
            if method != "parameters":
                groups.setdefault(words["tags"][0], []).append(_listed(path, method, words))
    return make_response(render_template("docs.html", groups=list(groups.items())))


@operation.get("/problems")
def problem_index() -> Response:
    """List every code."""
    return make_response(
        render_template("problem_index.html", sheet_codes=sheet_titles(), request_codes=request_titles())
    )


@operation.get("/problems/<code>")
def problem(code: str) -> Response:
    """Explain a code."""
    words = explained(code)
    if words is None:
        raise Fault(RequestCode.NOT_FOUND, "There is no such code; /problems lists them all.")
    return make_response(render_template("problem.html", **words))


@operation.get("/livez")
def livez() -> Response:
    """Say that the process answers."""
    return Response('{"status": "pass"}', content_type=_HEALTH)


@operation.get("/readyz")
def readyz() -> Response:
    """Say whether the service can do its work."""
    ready = is_ready(desk())
    state = "pass" if ready else "fail"
    body = {"status": state, "checks": {"database": [{"status": state}]}}
    return Response(json.dumps(body), 200 if ready else 503, content_type=_HEALTH)


def _listed(path: str, method: str, words: dict[str, Any]) -> dict[str, Any]:
    answers = [
        (status, {"description": told["description"], "content": list(told.get("content", ()))})
        for status, told in sorted(words["responses"].items())
    ]
    parameters = words.get("parameters", [])
    return {
        "path": path,
        "method": method.upper(),
        "summary": words["summary"],
        "parameters": parameters,
        "answers": answers,
    }
