"""Which form to answer in (RFC 9110, section 12)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flask import request

from service.web.faults import Fault, RequestCode

if TYPE_CHECKING:
    from collections.abc import Sequence


def chosen(offers: Sequence[str], detail: str = "") -> str:
    """The offered media type that `Accept` likes best; the first one without the header.

    Raises:
        Fault: 406 when it likes none, with those there are.
    """
    if not request.accept_mimetypes:
        return offers[0]
    form = request.accept_mimetypes.best_match(list(offers))
    if form is None:
        raise Fault(RequestCode.NOT_ACCEPTABLE, detail, {"available": list(offers)})
    return form
