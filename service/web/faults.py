"""Faults of a request, as data: stable code, status, title, and what to do instead."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping


class RequestCode(StrEnum):
    """Names of what can be wrong with a request; a sheet's own faults have the codes of `service.problems`."""

    SHEET_REFUSED = "sheet-refused"
    PRICE_LIST_REFUSED = "price-list-refused"
    CUT_PLAN_REFUSED = "cut-plan-refused"
    ACTUALS_REFUSED = "actuals-refused"
    RATES_REFUSED = "rates-refused"
    BODY_NOT_UNDERSTOOD = "body-not-understood"
    BODY_TOO_LARGE = "body-too-large"
    BODY_WRONG_TYPE = "body-wrong-type"
    QUERY_NOT_UNDERSTOOD = "query-not-understood"
    NAME_NOT_UNDERSTOOD = "name-not-understood"
    REPEAT_KEY_NOT_UNDERSTOOD = "repeat-key-not-understood"
    REPEAT_DIFFERS = "repeat-differs"
    REQUEST_NOT_UNDERSTOOD = "request-not-understood"
    KEY_MISSING = "key-missing"
    KEY_NOT_VALID = "key-not-valid"
    ROLE_NOT_ALLOWED = "role-not-allowed"
    SENT_FROM_ELSEWHERE = "sent-from-elsewhere"
    NOT_FOUND = "not-found"
    METHOD_NOT_ALLOWED = "method-not-allowed"
    NOT_ACCEPTABLE = "not-acceptable"
    STATUS_DOES_NOT_FIT = "status-does-not-fit"
    CHANGED_MEANWHILE = "changed-meanwhile"
    IF_MATCH_MISSING = "if-match-missing"
    BUSY = "busy"
    UNEXPECTED = "unexpected"


@dataclass(frozen=True, slots=True)
class FaultKind:
    """A kind of fault: HTTP status, title (the same each time), what it means, what to do."""

    status: int
    title: str
    meaning: str
    cure: str


KINDS: dict[RequestCode, FaultKind] = {
    RequestCode.SHEET_REFUSED: FaultKind(
        422,
        "The room sheet has faults",
        "At least one cell or member is wrong or missing. All faults found are in `problems`; nothing was stored.",
        "Correct every problem whose severity is `error`, then send the sheet again.",
    ),
    RequestCode.PRICE_LIST_REFUSED: FaultKind(
        422,
        "The price list has faults",
        "At least one cell or member is wrong or missing. All faults found are in `problems`; nothing was stored.",
        "Correct every problem whose severity is `error`, then send the price list again.",
    ),
    RequestCode.CUT_PLAN_REFUSED: FaultKind(
        422,
        "The cut plan cannot be made",
        "At least one member of the request is wrong or missing, or no plan keeps to it. All faults found are in `problems`.",
        "Correct every problem whose severity is `error`, then send the request again.",
    ),
    RequestCode.ACTUALS_REFUSED: FaultKind(
        422,
        "The hours have faults",
        "At least one task or its hours are wrong or missing. All faults found are in `problems`; nothing was stored.",
        "Correct every problem whose severity is `error`, then send the hours again.",
    ),
    RequestCode.RATES_REFUSED: FaultKind(
        422,
        "The rates cannot be compared or accepted",
        "There is no such price list, or a task is named whose rate cannot be accepted. All faults found are in `problems`.",
        "Correct every problem whose severity is `error`, then send the request again.",
    ),
    RequestCode.BODY_NOT_UNDERSTOOD: FaultKind(
        422,
        "The body cannot be read",
        "The body is not the one document or the one file that this address takes.",
        "Send a workbook as the raw body, or as one multipart part named `file`, or a JSON document.",
    ),
    RequestCode.BODY_TOO_LARGE: FaultKind(
        413,
        "The body is too large",
        "A workbook or document may have 10 MiB (10,485,760 bytes).",
        "Send a smaller workbook: remove pictures and tabs that are not of the room sheet.",
    ),
    RequestCode.BODY_WRONG_TYPE: FaultKind(
        415,
        "The body is of a type that is not read here",
        "Only .xlsx workbooks and JSON documents are read.",
        "Save the sheet as .xlsx and send it with its own media type, or send JSON as application/json.",
    ),
    RequestCode.QUERY_NOT_UNDERSTOOD: FaultKind(
        422,
        "The query is not understood",
        "A parameter after the question mark is unknown, repeated or has a value outside its range.",
        "See the description at /docs for the parameters of this address.",
    ),
    RequestCode.NAME_NOT_UNDERSTOOD: FaultKind(
        422,
        "The name cannot be used",
        "A price list's name is 1 to 64 lower-case letters, digits, dots, hyphens and underscores, a letter or digit first.",
        "Choose another name, such as `standard` or `winter-2027`.",
    ),
    RequestCode.REPEAT_KEY_NOT_UNDERSTOOD: FaultKind(
        422,
        "The Idempotency-Key is not understood",
        "An Idempotency-Key is 16 to 64 letters, digits, hyphens and underscores, with or without quotation marks.",
        "Use a fresh UUID for each quote you want made.",
    ),
    RequestCode.REPEAT_DIFFERS: FaultKind(
        422,
        "The Idempotency-Key was used for another request",
        "In the last 24 hours this key's owner sent the same Idempotency-Key with another sheet or query.",
        "Use a fresh Idempotency-Key for each quote, and the same one only to repeat a request.",
    ),
    RequestCode.REQUEST_NOT_UNDERSTOOD: FaultKind(
        400,
        "The request is not understood",
        "Host, headers or framing of the request are not as HTTP wants them, or the host name is not one of ours.",
        "Ask for the service by the name it was set up with.",
    ),
    RequestCode.KEY_MISSING: FaultKind(
        401,
        "A key is needed",
        "This address is only answered to holders of a key.",
        "Send the header `Authorization: Bearer KEY`. `python -m service key create` makes a key.",
    ),
    RequestCode.KEY_NOT_VALID: FaultKind(
        401,
        "The key is not valid",
        "The key is misspelled, unknown or was revoked.",
        "Check the key; it starts with `tq_`. Make a new one if it is lost.",
    ),
    RequestCode.ROLE_NOT_ALLOWED: FaultKind(
        403,
        "The key may not do this",
        "Keys have a role: `office` may do everything, `integration` reads and makes quotes, `field` reads documents.",
        "Use a key whose role allows it.",
    ),
    RequestCode.SENT_FROM_ELSEWHERE: FaultKind(
        403,
        "The form was sent from another site",
        "The page only takes what was sent from the page itself.",
        "Open the page and send the sheet from there.",
    ),
    RequestCode.NOT_FOUND: FaultKind(
        404,
        "There is nothing here",
        "No such address, or nothing of that name that belongs to your firm.",
        "Check the address; /docs lists all there are.",
    ),
    RequestCode.METHOD_NOT_ALLOWED: FaultKind(
        405,
        "The method is not allowed here",
        "The address exists, but not for this method; the `Allow` header lists those there are.",
        "Use one of the methods in `Allow`.",
    ),
    RequestCode.NOT_ACCEPTABLE: FaultKind(
        406,
        "None of the accepted types is available",
        "The `Accept` header excludes every form in which this can be answered; `available` lists them.",
        "Accept one of the types in `available`.",
    ),
    RequestCode.STATUS_DOES_NOT_FIT: FaultKind(
        409,
        "The quote's status does not allow this",
        "A draft can be issued or withdrawn; an issued quote accepted, declined or withdrawn; others are final. "
        "Past its last day a quote can be neither issued nor accepted.",
        "Look at the quote's `status` and `valid_until` first.",
    ),
    RequestCode.CHANGED_MEANWHILE: FaultKind(
        412,
        "It has changed meanwhile",
        "The entity tag in `If-Match` is not that of the quote, the hours or the rates as they are now.",
        "Get them again, look at what changed, and send the new `ETag`.",
    ),
    RequestCode.IF_MATCH_MISSING: FaultKind(
        428,
        "If-Match is needed",
        "A change of status, or of rates, must say which state of the quote or the rates it was decided on.",
        "Get the quote or the rates and send the `ETag` as `If-Match`.",
    ),
    RequestCode.BUSY: FaultKind(
        503,
        "Other large sheets are being worked on",
        "Sheets that unpack to more than 1 MiB, and documents as large, are answered one after another, and two are there already.",
        "Send it again after the seconds in `Retry-After`.",
    ),
    RequestCode.UNEXPECTED: FaultKind(
        500,
        "Something went wrong here",
        "The service failed in a way it should not. The log has the details under the `trace_id`.",
        "Try again; if it stays, report the `trace_id`.",
    ),
}


@dataclass
class Fault(Exception):
    """A request refused.

    Attributes:
        code: the kind of fault.
        detail: this case in words; the kind's meaning when empty.
        members: more members of the problem document.
        headers: more headers of the answer.
        status: beats the kind's status.
    """

    code: RequestCode
    detail: str = ""
    members: Mapping[str, Any] = field(default_factory=dict)
    headers: Mapping[str, str] = field(default_factory=dict)
    status: int | None = None

    @property
    def kind(self) -> FaultKind:
        """Title, status and words of this kind."""
        return KINDS[self.code]
