"""What a request brings: a workbook or a JSON document, and the words after the question mark."""

from __future__ import annotations

import hashlib
import json
import math
import re
from contextlib import closing
from typing import TYPE_CHECKING, Any
from uuid import UUID

from flask import request
from werkzeug.exceptions import RequestEntityTooLarge

from service.jobs.reading import Document, Source, Workbook
from service.storage.repeats import Repeat
from service.web.faults import Fault, RequestCode
from service.web.large_bodies import await_turn
from service.web.wiring import SHEET_LIMIT

if TYPE_CHECKING:
    from collections.abc import Iterable

    from werkzeug.datastructures import FileStorage

    from service.storage.keys import Key

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_RAW = {"", XLSX, "application/octet-stream"}
_REPEAT_KEY = re.compile(r'"?([A-Za-z0-9_-]{16,64})"?')


def posted_source() -> Source:
    """The one workbook or JSON document in the body.

    Raises:
        Fault: 413, 415 or 422 when it is not one.
    """
    if request.headers.get("Content-Encoding", "identity") != "identity":
        raise Fault(RequestCode.BODY_WRONG_TYPE, "A compressed body is not read; send it as it is.")
    if request.mimetype == "multipart/form-data":
        return Workbook(_only_part())
    data = _limited(request.get_data(parse_form_data=False))
    if request.mimetype == "application/json":
        return Document(parsed_json(data))
    if request.mimetype in _RAW:
        return Workbook(data)
    raise Fault(RequestCode.BODY_WRONG_TYPE, f"A body of type {request.mimetype} is not read here.")


def parsed_json(data: bytes) -> object:
    """JSON value in UTF-8 without what JSON does not have: NaN, infinities, a member twice.

    Raises:
        Fault: 422 with the reason.
    """
    try:
        return json.loads(
            data.decode("utf-8"),
            parse_constant=_no_constant,
            parse_float=_finite,
            object_pairs_hook=_members_once,
        )
    except (ValueError, RecursionError) as error:
        reason = "it is nested too deeply" if isinstance(error, RecursionError) else str(error)
        raise Fault(RequestCode.BODY_NOT_UNDERSTOOD, f"The body is not a JSON document: {reason}.") from None


def query(*allowed: str) -> dict[str, str]:
    """The parameters after the question mark, each at most once.

    Raises:
        Fault: 422 for one that this address does not have, or that stands there twice.
    """
    for name, values in request.args.lists():
        if name not in allowed:
            known = ", ".join(allowed) or "none"
            raise Fault(
                RequestCode.QUERY_NOT_UNDERSTOOD, f"There is no parameter {name[:64]!r} here; there is: {known}."
            )
        if len(values) > 1:
            raise Fault(RequestCode.QUERY_NOT_UNDERSTOOD, f"The parameter {name!r} stands there more than once.")
    return {name: value for name, value in request.args.items() if value}


def page_limit(text: str | None) -> int:
    """How many items a page of a list has, 1 to 100; 20 when nothing was asked.

    Raises:
        Fault: 422 for anything else.
    """
    if text is None:
        return 20
    if not re.fullmatch(r"[1-9][0-9]{0,2}", text) or int(text) > 100:  # noqa: PLR2004 - the limit told in words
        raise Fault(RequestCode.QUERY_NOT_UNDERSTOOD, "`limit` is a whole number from 1 to 100.")
    return int(text)


def cursor(text: str | None) -> str | None:
    """Where a page starts: the id of the last item of the page before.

    Raises:
        Fault: 422 when it is no id.
    """
    if text is None:
        return None
    try:
        return str(UUID(text))
    except ValueError:
        raise Fault(RequestCode.QUERY_NOT_UNDERSTOOD, "`after` is taken from the `next` of the page before.") from None


def repeat_of(key: Key, source: Source, wanted_list: str | None) -> Repeat | None:
    """What `Idempotency-Key` names, with a fingerprint of what is asked; None without the header.

    Raises:
        Fault: 422 when the header is malformed.
    """
    text = request.headers.get("Idempotency-Key")
    if text is None:
        return None
    match = _REPEAT_KEY.fullmatch(text.strip())
    if not match:
        raise Fault(RequestCode.REPEAT_KEY_NOT_UNDERSTOOD)
    return Repeat(key.prefix, match[1], _fingerprint(source, wanted_list))


def _fingerprint(source: Source, wanted_list: str | None) -> str:
    body = source.data if isinstance(source, Workbook) else json.dumps(source.value, sort_keys=True).encode()
    return hashlib.sha256(f"{type(source).__name__}\n{wanted_list}\n".encode() + body).hexdigest()


def _only_part() -> bytes:
    files = list(request.files.items(multi=True))
    names = {name for name, _ in files} | set(request.form)
    if len(files) != 1 or names != {"file"}:
        found = ", ".join(sorted(names)) or "nothing"
        raise Fault(RequestCode.BODY_NOT_UNDERSTOOD, f"One part named `file` is wanted; found: {found[:200]}.")
    return file_bytes(files[0][1])


def file_bytes(file: FileStorage) -> bytes:
    """Content of an uploaded file, 10 MiB at most.

    Raises:
        RequestEntityTooLarge: when it is larger.
    """
    with closing(file.stream):
        return _limited(file.stream.read())


def _limited(data: bytes) -> bytes:
    if len(data) > SHEET_LIMIT:
        raise RequestEntityTooLarge
    await_turn(data)
    return data


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is not a JSON number")


def _finite(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise ValueError(f"{text[:40]} is too large a number")
    return value


def _members_once(pairs: Iterable[tuple[str, Any]]) -> dict[str, Any]:
    members: dict[str, Any] = {}
    for name, value in pairs:
        if name in members:
            raise ValueError(f"the member {name[:64]!r} stands there twice")
        members[name] = value
    return members
