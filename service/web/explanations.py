"""Every code explained, a sheet's and a request's, as the pages at `/problems` show them."""

from __future__ import annotations

from typing import Any

from schemas.codes import EXPLANATIONS
from service.problems import Code
from service.web.faults import KINDS, RequestCode


def explained(code: str) -> dict[str, Any] | None:
    """Words of a page about a code; None when there is no such code."""
    if code in {member.value for member in Code}:
        words = EXPLANATIONS[Code(code)]
        return {
            "code": code,
            "title": words.title,
            "meaning": words.meaning,
            "wrong": words.wrong,
            "right": words.right,
        }
    if code in {member.value for member in RequestCode}:
        kind = KINDS[RequestCode(code)]
        return {"code": code, "title": kind.title, "meaning": kind.meaning, "cure": kind.cure, "status": kind.status}
    return None


def sheet_titles() -> list[tuple[str, str]]:
    """Codes of a sheet's faults with their titles, by code."""
    return sorted((code.value, EXPLANATIONS[code].title) for code in Code)


def request_titles() -> list[tuple[str, str]]:
    """Codes of a request's faults with their titles, by code."""
    return sorted((code.value, kind.title) for code, kind in KINDS.items())
