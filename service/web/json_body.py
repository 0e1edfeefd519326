"""A request's body where only a JSON document is taken."""

from __future__ import annotations

from flask import request

from service.jobs.reading import Document
from service.problems import Code, Problem, Severity
from service.web.bodies import posted_source
from service.web.faults import Fault, RequestCode
from service.web.problem_answers import problem_list

JSON = "application/json"


def posted_document(detail: str) -> Document:
    """The JSON document in the body; `detail` says what is asked for with one.

    Raises:
        Fault: 413, 415 or 422 when there is none.
    """
    source = posted_source() if request.mimetype == JSON else None
    if not isinstance(source, Document):
        problem = Problem(
            Code.DOCUMENT_UNREADABLE, Severity.ERROR, "", detail, "Send the document as application/json."
        )
        members = {"problems": problem_list([problem]), "problem_count": 1}
        raise Fault(RequestCode.BODY_WRONG_TYPE, detail, members)
    return source
