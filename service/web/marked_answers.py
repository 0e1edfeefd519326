"""The user's own workbook as an answer, its faults marked.

The page of faults carries the sheet in its form, so that one press of a button gets it back marked: a browser never
fills in a file again by itself, and nothing of a refused sheet is stored here. A large sheet is chosen once more.
"""

from __future__ import annotations

import base64
import binascii
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flask import request

from service.jobs.desk import Refused
from service.web.bodies import XLSX, file_bytes
from service.web.downloads import download
from service.web.faults import Fault, RequestCode
from service.web.problem_answers import refused

if TYPE_CHECKING:
    from flask import Response

    from service.jobs.marked import Marked

MOST_CARRIED = 1_000_000
_FORM_LIMIT = MOST_CARRIED * 3 // 2
_ENDINGS = (".xlsx", ".xlsm", ".xltx")


@dataclass(frozen=True, slots=True)
class SentSheet:
    """A workbook as the page got it: the name of its file and its bytes."""

    name: str
    data: bytes

    @property
    def stem(self) -> str:
        """The name without its ending."""
        ending = next((ending for ending in _ENDINGS if self.name.lower().endswith(ending)), "")
        return self.name[: -len(ending)] if ending else self.name

    @property
    def carried(self) -> str:
        """The bytes as a form's field holds them (RFC 4648, 4); "" when they are too many for a page."""
        return base64.b64encode(self.data).decode("ascii") if len(self.data) <= MOST_CARRIED else ""


def sheet_to_mark() -> SentSheet | None:
    """The sheet in the form: chosen as a file, or carried by the page of its faults; None: neither.

    Raises:
        Fault: 422 when the form was not made by the page.
    """
    request.max_form_memory_size = _FORM_LIMIT
    if (set(request.files) | set(request.form)) - {"file", "price_list", "sheet", "name"}:
        raise Fault(RequestCode.BODY_NOT_UNDERSTOOD)
    file = request.files.get("file")
    if file is not None and file.filename:
        return SentSheet(file.filename, file_bytes(file))
    try:
        data = base64.b64decode(request.form.get("sheet", ""), validate=True)
    except (binascii.Error, ValueError):
        raise Fault(RequestCode.BODY_NOT_UNDERSTOOD) from None
    return SentSheet(request.form.get("name", "") or "room sheet", data) if data else None


def marked_download(made: Marked | Refused, name: str) -> Response:
    """The marked copy as a file named after the sheet.

    Raises:
        Fault: 413, 415 or 422 with the problems when the file could not be opened.
    """
    if isinstance(made, Refused):
        raise refused(made.problems)
    return download(made.workbook, XLSX, f"{name} marked", "xlsx")
