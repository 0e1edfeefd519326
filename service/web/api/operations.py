"""One decorator for every operation of the API: its address, who may ask, and its description, in one place."""

from __future__ import annotations

from dataclasses import dataclass
from functools import wraps
from typing import TYPE_CHECKING, Any

from flask_smorest import Api, Blueprint  # type: ignore[import-untyped] # the library ships no types

from service.web.access import EVERYONE, caller
from service.web.api.describing import Described, errors, objects
from service.web.faults import RequestCode
from service.web.problem_answers import http_answer_of

if TYPE_CHECKING:
    from collections.abc import Callable, Collection

    from flask import Flask, Response
    from werkzeug.exceptions import HTTPException

    from service.storage.keys import Role

    View = Callable[..., Response]

_ALWAYS = (RequestCode.KEY_MISSING, RequestCode.KEY_NOT_VALID, RequestCode.ROLE_NOT_ALLOWED)
_WITH_BODY = (RequestCode.BUSY,)
SETTINGS = {
    "API_TITLE": "Trim quotes from room sheets",
    "API_VERSION": "1",
    "OPENAPI_VERSION": "3.1.0",
}


@dataclass(frozen=True, slots=True)
class Words:
    """Description of an operation: what it does, its answers by status, parameters, body, and how it may refuse."""

    summary: str
    answers: dict[str, Described]
    parameters: tuple[Described, ...] = ()
    body: Described | None = None
    refusals: tuple[RequestCode, ...] = ()


class QuoteApi(Api):  # type: ignore[misc] # the library ships no types
    """The library's API with our problem documents as its one form of error."""

    def handle_http_exception(self, error: HTTPException) -> Response:
        """Answer an error as a problem document."""
        return http_answer_of(error)


def operation(
    blueprint: Blueprint, method: str, rule: str, words: Words, roles: Collection[Role] = EVERYONE
) -> Callable[[View], View]:
    """Serve a view at an address to holders of keys with these roles; the view gets the caller's key first."""

    def registered(view: View) -> View:
        @wraps(view)
        def guarded(**parts: Any) -> Response:  # noqa: ANN401 - the parts of an address are its view's business
            return view(caller(roles), **parts)

        described = blueprint.doc(**_described(words))(guarded)
        blueprint.route(rule, methods=[method])(described)
        return view

    return registered


def described_api(app: Flask, blueprints: Collection[Blueprint]) -> dict[str, Any]:
    """Register blueprints and answer with the whole OpenAPI document."""
    app.config.update(SETTINGS)
    api = QuoteApi(app)
    api.DEFAULT_ERROR_RESPONSE_NAME = None
    api.spec.components.security_scheme("key", {"type": "http", "scheme": "bearer"})
    for name, described in objects().items():
        api.spec.components.schema(name, described)
    for blueprint in blueprints:
        api.register_blueprint(blueprint)
    document: dict[str, Any] = api.spec.to_dict()
    return document | {"security": [{"key": []}]}


def _described(words: Words) -> dict[str, Any]:
    described: dict[str, Any] = {
        "summary": words.summary,
        "responses": words.answers | errors(*_ALWAYS, *words.refusals, *(_WITH_BODY if words.body else ())),
    }
    if words.parameters:
        described["parameters"] = list(words.parameters)
    if words.body:
        described["requestBody"] = words.body
    return described
