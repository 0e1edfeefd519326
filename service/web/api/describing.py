"""Pieces of the OpenAPI description that several operations share."""

from __future__ import annotations

from typing import Any

from schemas.problem import MEDIA_TYPE, MOST_TOLD
from schemas.published import published_schemas
from schemas.quote import OFFICE_ONLY
from service.jobs.statuses import Step
from service.web.bodies import XLSX
from service.web.faults import KINDS, RequestCode

JSON = "application/json"
PDF = "application/pdf"
CSV = "text/csv"
SVG = "image/svg+xml"

Described = dict[str, Any]

_TEXT: Described = {"type": "string"}
_TRUTH: Described = {"type": "boolean"}
_MOMENT: Described = {"type": "string", "format": "date-time"}
_MONEY: Described = {
    "type": "object",
    "required": ["amount", "currency"],
    "properties": {
        "amount": {"type": "string", "pattern": r"^-?[0-9]+\.[0-9]{2}$"},
        "currency": {"type": "string", "pattern": "^[A-Z]{3}$"},
    },
}


def ref(name: str) -> Described:
    """Reference to a described object."""
    return {"$ref": f"#/components/schemas/{name}"}


def _object(properties: dict[str, Described], optional: tuple[str, ...] = ()) -> Described:
    required = [name for name in properties if name not in optional]
    return {"type": "object", "required": required, "properties": properties}


def _counts(description: str) -> Described:
    return {"type": "object", "description": description, "additionalProperties": {"type": "integer"}}


def _list_of(name: str) -> Described:
    return {"type": "array", "items": ref(name)}


_OWN: dict[str, Described] = {
    "Money": _MONEY,
    "Problem": _object(
        {
            "type": {"type": "string", "format": "uri"},
            "title": _TEXT,
            "status": {"type": "integer"},
            "detail": _TEXT,
            "instance": _TEXT,
            "help": _TEXT,
            "trace_id": _TEXT,
            "problems": {"type": "array", "maxItems": MOST_TOLD, "items": ref("ProblemRow")},
            "problem_count": {"type": "integer", "description": "All that were found, also those not listed."},
            "available": {"type": "array", "items": _TEXT},
        },
        optional=("problems", "problem_count", "available"),
    ),
    "Summary": _object(
        {
            "rooms": {"type": "integer"},
            "walls": {"type": "integer"},
            "feet_by_assembly": {
                "type": "object",
                "description": "Feet of wall that each assembly goes along.",
                "additionalProperties": {"type": "string"},
            },
            "openings": _counts("Openings, by kind."),
            "ceiling": _counts("What hangs on ceilings, by kind."),
            "extras": _counts("Extra lines, by kind."),
        },
    ),
    "SheetCheck": _object(
        {"valid": {"const": True}, "problems": _list_of("ProblemRow"), "summary": ref("Summary")},
    ),
    "QuoteCard": _object(
        {
            "id": {"type": "string", "format": "uuid"},
            "number": _TEXT,
            "revision": {"type": "integer"},
            "status": {"type": "string", "enum": ["draft", "issued", "accepted", "declined", "withdrawn"]},
            "created_at": _MOMENT,
            "valid_until": {"type": "string", "format": "date"},
            "job_name": _TEXT,
            "customer": _TEXT,
            "total": ref("Money"),
        },
    ),
    "QuotePage": _object({"items": _list_of("QuoteCard"), "next": {"type": ["string", "null"]}}),
    "PriceListMark": _object({"name": _TEXT, "version": {"type": "integer"}, "created_at": _MOMENT}),
    "PriceListMarks": _object({"items": _list_of("PriceListMark"), "next": {"type": ["string", "null"]}}),
    "PriceListVersion": _object(
        {
            "name": _TEXT,
            "version": {"type": "integer"},
            "created_at": _MOMENT,
            "problems": _list_of("ProblemRow"),
            "document": ref("PriceList"),
        },
    ),
    "TradeEntry": _object(
        {
            "key": _TEXT,
            "value": _TEXT,
            "unit": _TEXT,
            "meaning": _TEXT,
            "low": _TEXT,
            "high": _TEXT,
            "grade": _TEXT,
            "source": _object({"id": _TEXT, "reference": _TEXT, "page": _TEXT, "seen": _TRUTH}),
            "in_force": {
                "type": "string",
                "description": "The value that a quote is made with: the firm's, or the book's.",
            },
            "firm": {"anyOf": [ref("OwnTradeValue"), {"type": "null"}]},
        },
    ),
    "OwnTradeValue": _object(
        {"value": _TEXT, "source": _TEXT, "grade": {"const": "firm"}, "in_range": _TRUTH},
    ),
    "TradeBook": _object(
        {"items": _list_of("TradeEntry"), "next": {"type": ["string", "null"]}, "problems": _list_of("ProblemRow")},
    ),
}


def objects() -> dict[str, Described]:
    """Every described object: those of the public contract, and what answers wrap around them."""
    published = published_schemas()
    for path in OFFICE_ONLY:
        _made_optional(published, path)
    return published | _OWN


def _made_optional(published: dict[str, Described], path: str) -> None:
    """A member that only the office is answered cannot be required of every quote."""
    *way, member = path.split(".")
    described = published["Quote"]
    for name in way:
        inner = described["properties"][name]
        described = published[inner.get("items", inner)["$ref"].rsplit("/", 1)[-1]]
    described["required"] = [name for name in described["required"] if name != member]


UNCHANGED: Described = {"304": {"description": "The asker has it already"}}
ETAG: Described = {"ETag": {"description": "Strong entity tag of this form.", "schema": {"type": "string"}}}
IF_NONE_MATCH: Described = {"in": "header", "name": "If-None-Match", "schema": {"type": "string"}}
IF_MATCH: Described = {
    "in": "header",
    "name": "If-Match",
    "required": True,
    "description": "The `ETag` of the quote as it was decided on.",
    "schema": {"type": "string"},
}
REPEAT_KEY: Described = {
    "in": "header",
    "name": "Idempotency-Key",
    "description": "A name for this request, 16 to 64 characters; sent again within 24 hours it makes no second quote.",
    "schema": {"type": "string"},
}
PRICE_LIST: Described = {
    "in": "query",
    "name": "price_list",
    "description": "Name of the price list; wins over the one named on the sheet.",
    "schema": {"type": "string", "minLength": 1},
}
LIST_OF_OWN_VALUES: Described = {
    "in": "query",
    "name": "price_list",
    "description": "Name of the price list whose own values are shown beside the book's; for the office.",
    "schema": {"type": "string", "minLength": 1},
}
LIMIT: Described = {
    "in": "query",
    "name": "limit",
    "schema": {"type": "integer", "minimum": 1, "maximum": 100, "default": 20},
}
AFTER: Described = {
    "in": "query",
    "name": "after",
    "description": "The `next` of the page before.",
    "schema": {"type": "string", "format": "uuid"},
}
UNITS: Described = {
    "in": "query",
    "name": "units",
    "schema": {"type": "string", "enum": ["imperial", "metric"], "default": "imperial"},
}


def binary(*media_types: str) -> Described:
    """Content of files of these types."""
    return {media_type: {"schema": {"type": "string", "format": "binary"}} for media_type in media_types}


def json_of(name: str) -> Described:
    """JSON content of a described object."""
    return {JSON: {"schema": ref(name)}}


def answer(description: str, content: Described, headers: Described | None = None) -> Described:
    """One answer of an operation."""
    described: Described = {"description": description, "content": content}
    return {**described, "headers": headers} if headers else described


def body(document: str) -> Described:
    """A workbook, raw or as a part, or a JSON document."""
    part = {"type": "object", "required": ["file"], "properties": {"file": {"type": "string", "format": "binary"}}}
    content = {
        **binary(XLSX),
        "multipart/form-data": {"schema": {**part, "additionalProperties": False}},
        **json_of(document),
    }
    return {"required": True, "content": content}


def errors(*codes: RequestCode) -> dict[str, Described]:
    """Answers that refuse, by status; every one is a problem document."""
    titles: dict[str, list[str]] = {}
    for code in codes:
        titles.setdefault(str(KINDS[code].status), []).append(KINDS[code].title)
    content = {MEDIA_TYPE: {"schema": ref("Problem")}}
    return {status: {"description": "; ".join(words), "content": content} for status, words in titles.items()}


STEP_WORDS = {
    Step.ISSUE: "Issue a draft: from now on its content never changes",
    Step.ACCEPT: "Record that the customer accepted an issued quote",
    Step.DECLINE: "Record that the customer declined an issued quote",
    Step.WITHDRAW: "Withdraw a draft or an issued quote",
}
