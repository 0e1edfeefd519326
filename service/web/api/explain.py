"""Why a number is what it is: the story of a line, from the sheet's cells to cents."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

from flask import Response
from flask_smorest import Blueprint  # type: ignore[import-untyped] # the library ships no types

from service.jobs.explaining import line_explained
from service.web.access import OFFICE
from service.web.api.describing import ETAG, IF_NONE_MATCH, JSON, UNCHANGED, Described, answer, json_of
from service.web.api.operations import Words, operation
from service.web.api.quotes import own_quote
from service.web.bodies import query
from service.web.conditional import tag_of, unless_known
from service.web.faults import Fault, RequestCode
from service.web.wiring import desk

if TYPE_CHECKING:
    from service.storage.keys import Key

explain = Blueprint("explain", __name__, url_prefix="/v1", description="How every line of a quote was worked out")

_LINE: Described = {
    "in": "query",
    "name": "line",
    "required": True,
    "description": "Number of a line or an option of the quote.",
    "schema": {"type": "integer", "minimum": 1},
}


@operation(
    explain,
    "GET",
    "/quotes/<uuid:quote_id>/explain",
    Words(
        "How a line's quantity and price were worked out, from the sheet's cells to cents",
        {
            "200": answer("The steps, operands before results", json_of("Story"), ETAG),
            **UNCHANGED,
        },
        (_LINE, IF_NONE_MATCH),
        refusals=(RequestCode.NOT_FOUND, RequestCode.QUERY_NOT_UNDERSTOOD),
    ),
    OFFICE,
)
def explain_line(caller: Key, quote_id: object) -> Response:
    """Answer with the story of one line."""
    line = _line_asked()
    quote = own_quote(caller, quote_id)
    story = line_explained(desk(), quote, line)
    if story is None:
        raise Fault(RequestCode.NOT_FOUND, f"The quote has no line {line} whose steps were kept.")
    tag = tag_of(quote, f"explain {line}", caller.role)
    return unless_known(tag, lambda: Response(json.dumps(story, ensure_ascii=False), content_type=JSON))


def _line_asked() -> int:
    text = query("line").get("line") or ""
    if not re.fullmatch(r"[1-9][0-9]{0,5}", text):
        raise Fault(RequestCode.QUERY_NOT_UNDERSTOOD, "`line` is the number of a line, such as `?line=3`.")
    return int(text)
