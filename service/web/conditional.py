"""Entity tags: one for each form of each state of a quote (RFC 9110, sections 8.8.3 and 13.1)."""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING, Any

from flask import Response, request

from service.web.faults import Fault, RequestCode
from service.web.wiring import settings

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from service.storage.quotes import StoredQuote


def tag_of(quote: StoredQuote, form: str, role: str) -> str:
    """Tag of one form of a quote as one role sees it; it changes with the quote and with the program."""
    parts = (quote.card.id, str(quote.card.version), form, role, settings().build)
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:32]


def body_tag(document: Mapping[str, Any]) -> str:
    """Tag of an answer that is told apart by its very content, as this program writes it."""
    text = json.dumps(document, sort_keys=True)
    return hashlib.sha256(f"{text}\n{settings().build}".encode()).hexdigest()[:32]


def unless_known(tag: str, answer: Callable[[], Response]) -> Response:
    """The answer under its tag; 304 without a body, and without making it, when the asker has it already."""
    known = bool(request.if_none_match) and request.if_none_match.contains_weak(tag)
    response = Response(status=304) if known else answer()
    response.set_etag(tag)
    response.headers["Cache-Control"] = "private, no-cache"
    response.headers["Vary"] = "Accept, Authorization, Cookie"
    return response


def seen(tags: Iterable[str]) -> bool:
    """Whether `If-Match` names one of these tags, compared strongly; `*` matches any.

    Raises:
        Fault: 428 when there is no `If-Match`.
    """
    if "If-Match" not in request.headers:
        raise Fault(RequestCode.IF_MATCH_MISSING)
    return any(request.if_match.contains(tag) for tag in tags)
