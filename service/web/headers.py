"""Headers of every answer, and the names of downloads."""

from __future__ import annotations

import re
import secrets
import time
import unicodedata
from typing import TYPE_CHECKING
from urllib.parse import quote

import structlog
from flask import g, request

if TYPE_CHECKING:
    from flask import Flask, Response

_NOTHING = "default-src 'none'; base-uri 'none'; object-src 'none'; frame-ancestors 'none'; form-action 'none'"
_PAGE = (
    "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; "
    "base-uri 'none'; object-src 'none'; frame-ancestors 'none'"
)
_DRAWING = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; object-src 'none'; frame-ancestors 'none'"
_POLICY_OF = {"text/html": _PAGE, "image/svg+xml": _DRAWING}
_FIXED = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
_TRACE = re.compile(r"[0-9a-f]{2}-(?!0{32})([0-9a-f]{32})-(?!0{16})[0-9a-f]{16}-[0-9a-f]{2}")
_LOG = structlog.get_logger()


def guarding(app: Flask) -> None:
    """Give every answer its security headers and a trace id, and every request a line in the log."""
    app.before_request(_begin)
    app.after_request(_finish)


def download_name(text: str, extension: str) -> str:
    """`Content-Disposition` parameters for a file name: plain ASCII, and UTF-8 beside it (RFC 6266, RFC 8187)."""
    name = re.sub(r"[\x00-\x1f\x7f\"\\/:*?<>|]+", " ", text)
    name = " ".join(name.split())[:80].strip(" .") or "file"
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode() or "file"
    return f"filename=\"{plain}.{extension}\"; filename*=UTF-8''{quote(name, safe='')}.{extension}"


def _begin() -> None:
    match = _TRACE.fullmatch(request.headers.get("traceparent", ""))
    g.trace_id = match[1] if match else secrets.token_hex(16)
    g.started = time.perf_counter()


def _finish(response: Response) -> Response:
    response.headers.setdefault("Content-Security-Policy", _POLICY_OF.get(response.mimetype or "", _NOTHING))
    response.headers.setdefault("Cache-Control", "no-store")
    for name, value in _FIXED.items():
        response.headers.setdefault(name, value)
    _LOG.info(
        "request",
        trace_id=g.get("trace_id", ""),
        method=request.method,
        route=request.url_rule.rule if request.url_rule else None,
        status=response.status_code,
        key=g.get("key_prefix"),
        milliseconds=round((time.perf_counter() - g.get("started", time.perf_counter())) * 1000, 1),
    )
    return response
