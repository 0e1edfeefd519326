"""Answers that are files."""

from __future__ import annotations

from flask import Response

from service.web.headers import download_name

_SHOWN_IN_PLACE = {"application/pdf", "image/svg+xml"}


def download(data: bytes | str, media_type: str, name: str, extension: str) -> Response:
    """A file with a name; a browser shows PDF and SVG in place and saves the rest."""
    response = Response(data, content_type=f"{media_type}; charset=utf-8" if isinstance(data, str) else media_type)
    way = "inline" if media_type in _SHOWN_IN_PLACE else "attachment"
    response.headers["Content-Disposition"] = f"{way}; {download_name(name, extension)}"
    return response
