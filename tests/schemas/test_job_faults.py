"""Each fault of a job document: its code, its pointer, what was found and what to type."""

from __future__ import annotations

import pytest

from schemas.job import survey_from
from service.problems import Code, Severity
from tests.schemas.examples import Document, changed, imperial, metric

# pointer set, value put there (None: member taken away), code, pointer told ("" for the same)
FAULTS: list[tuple[str, object, Code, str]] = [
    ("/job/customer", None, Code.VALUE_MISSING, ""),
    ("/job/customer", "  ", Code.VALUE_MISSING, ""),
    ("/job/measured_on", None, Code.VALUE_MISSING, ""),
    ("/job/units", None, Code.VALUE_MISSING, ""),
    ("/job/units", "imperal", Code.VALUE_NOT_IN_LIST, ""),
    ("/job/job_name", "x" * 121, Code.TEXT_TOO_LONG, ""),
    ("/job/job_name", ["x"], Code.TEXT_NOT_UNDERSTOOD, ""),
    ("/job/job_name", True, Code.TEXT_NOT_UNDERSTOOD, ""),
    ("/job/customer", "Ida\x07", Code.TEXT_NOT_UNDERSTOOD, ""),
    ("/job/customer", "Ida\ud800", Code.TEXT_NOT_UNDERSTOOD, ""),
    ("/job/measured_on", "3/14/2026", Code.DATE_NOT_UNDERSTOOD, ""),
    ("/job/measured_on", "2026-02-30", Code.DATE_NOT_UNDERSTOOD, ""),
    ("/job/measured_on", "20260314", Code.DATE_NOT_UNDERSTOOD, ""),
    ("/job/measured_on", "1026-03-14", Code.DATE_NOT_UNDERSTOOD, ""),
    ("/job/measured_on", 45000, Code.DATE_NOT_UNDERSTOOD, ""),
    ("/job/year_built", "1599", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/job/year_built", "1962.5", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/job/year_built", "old", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/job/occupied", "maybe", Code.VALUE_NOT_IN_LIST, ""),
    ("/job/occupied", 1, Code.VALUE_NOT_IN_LIST, ""),
    ("/job/valid_for_days", 0, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/job/discount", "cheap", Code.SHARE_NOT_UNDERSTOOD, ""),
    ("/job/discount", "130%", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/job/discount", "-5", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/job/discount", 0.5, Code.SHARE_NOT_UNDERSTOOD, ""),
    ("/job/discunt", "5%", Code.MEMBER_UNKNOWN, ""),
    ("/job", "Tern Street", Code.DOCUMENT_UNREADABLE, ""),
    ("/job", None, Code.VALUE_MISSING, ""),
    ("/layout", 2, Code.LAYOUT_UNKNOWN, ""),
    ("/jobb", {}, Code.MEMBER_UNKNOWN, ""),
    ("/rooms", None, Code.VALUE_MISSING, ""),
    ("/rooms", [], Code.VALUE_MISSING, ""),
    ("/rooms", {"name": "Dining"}, Code.DOCUMENT_UNREADABLE, ""),
    ("/rooms", [{}] * 501, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/rooms/1", "Hall", Code.DOCUMENT_UNREADABLE, ""),
    ("/rooms/0/name", "all", Code.TEXT_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling_height", "8 foot 1 or so", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling_height", True, Code.LENGTH_IS_BOOLEAN, ""),
    ("/rooms/0/ceiling_height", 97.5, Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling_height", {"in": 97.5}, Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling_height", {"in": "97", "mm": "2463.8"}, Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling_height", {"ft": "8"}, Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling_height", {"in": "-97"}, Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling_height", {"in": "9_7"}, Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling_height", ["97"], Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling_height", "8", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/rooms/0/wall_covering", "12", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/rooms/0/ceiling_shape", "vaulted", Code.VALUE_NOT_IN_LIST, ""),
    ("/rooms/0/access", 3, Code.VALUE_NOT_IN_LIST, ""),
    ("/rooms/0/joists/parallel_to", "Z", Code.WALL_UNKNOWN, ""),
    ("/rooms/0/joists/spacing", "1", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/rooms/0/walls", None, Code.ROOM_WITHOUT_WALLS, ""),
    ("/rooms/0/walls", [], Code.ROOM_WITHOUT_WALLS, ""),
    ("/rooms/0/walls/3/name", "a ", Code.WALL_DUPLICATE, ""),
    ("/rooms/0/walls/3/name", "ALL", Code.TEXT_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/0/length", "0", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/rooms/0/walls/0/length", "1001'", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/rooms/0/walls/0/length", "-5'", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/0/corner", "inisde", Code.VALUE_NOT_IN_LIST, ""),
    ("/rooms/0/walls/0/angle_deg", 180, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/rooms/0/walls/0/angle_deg", "0", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/rooms/0/walls/0/angle_deg", float("nan"), Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/0/angle_deg", True, Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/0/angle_deg", "90°°", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/1/studs/at/2", "36x", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/2/studs/at", "4; 20x", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/2/studs/first", "4", Code.VALUES_CONTRADICT, "/rooms/0/walls/2/studs/at"),
    ("/rooms/0/openings/0/wall", "E", Code.WALL_UNKNOWN, ""),
    ("/rooms/0/openings/0/kind", "portal", Code.VALUE_NOT_IN_LIST, ""),
    ("/rooms/0/openings/0/sides", 3, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/rooms/0/openings/0/from_left", "-1", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling/0/weight", "heavy", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/rooms/0/ceiling/0/weight", "-5", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/trim", None, Code.VALUE_MISSING, ""),
    ("/trim/0/room", "Dinning", Code.ROOM_UNKNOWN, ""),
    ("/trim/0/walls", ["A", "F"], Code.WALL_UNKNOWN, ""),
    ("/trim/0/walls", [], Code.VALUE_MISSING, ""),
    ("/trim/0/walls", ["A", 3.5], Code.TEXT_NOT_UNDERSTOOD, "/trim/0/walls/1"),
    ("/trim/1/walls", ["F"], Code.WALL_UNKNOWN, ""),
    ("/trim/1/assembly", "three-part  CROWN", Code.TRIM_DUPLICATE, ""),
    ("/trim/0/walls", "A;a", Code.TRIM_DUPLICATE, "/trim/0/assembly"),
    ("/trim/0/coats", 6, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/trim/0/inside_joint", "dovetail", Code.VALUE_NOT_IN_LIST, ""),
    ("/extras/0/room", "Attic", Code.ROOM_UNKNOWN, ""),
    ("/extras/0/quantity", "0", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/extras/0/quantity", "1,500", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/extras/0/quantity", "1,5,5", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/extras/0/unit_price", "1,250", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/job/discount", "1,250", Code.SHARE_NOT_UNDERSTOOD, ""),
    ("/job/discount", "1,250%", Code.SHARE_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/0/length", "1,250", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/2/studs/at", "14,30", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/rooms/0/walls/2/studs/at", "14, 30, 46", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/extras/0/unit_price", 65.5, Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/extras/0/unit_price", "65.005", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/extras/0/unit_price", "1_000", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/extras/0/unit_price", "-65", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/extras/0/unit", "x" * 21, Code.TEXT_TOO_LONG, ""),
    ("/trim/0/finish", "varnish", Code.VALUE_NOT_IN_LIST, ""),
    ("/extras/0/kind", "bribe", Code.VALUE_NOT_IN_LIST, ""),
]  # fmt: skip

REFERENCES = {Code.WALL_UNKNOWN, Code.ROOM_UNKNOWN, Code.TRIM_DUPLICATE, Code.WALL_DUPLICATE, Code.DOCUMENT_UNREADABLE}


def faults(document: object) -> list[tuple[str, str]]:
    """Code and pointer of every error."""
    return [(problem.code, problem.pointer) for problem in survey_from(document)[1] if problem.is_error]


@pytest.mark.parametrize(("pointer", "value", "code", "told"), FAULTS)
def test_one_fault_is_told_once_at_its_place(pointer: str, value: object, code: Code, told: str) -> None:
    """A document with one fault gives that one error and no survey."""
    document = changed(imperial(), pointer, value)
    if pointer in {"/rooms", "/rooms/0/name"}:
        document["trim"] = [{"room": "all", "walls": "all", "assembly": "X"}]
        document["extras"] = []
    if pointer == "/job/units":
        document["rooms"][0]["ceiling_height"] = "97"  # bare figures are read, not judged
    assert faults(document) == [(code, told or pointer)]
    assert survey_from(document)[0] is None


@pytest.mark.parametrize(("pointer", "value", "code", "told"), FAULTS)
def test_every_fault_says_what_to_do(pointer: str, value: object, code: Code, told: str) -> None:
    """Detail and help are sentences for people."""
    del told
    problems = [item for item in survey_from(changed(imperial(), pointer, value))[1] if item.code == code]
    assert problems
    for problem in problems:
        assert problem.detail.endswith(".")
        assert problem.help.endswith((".", "?"))


def test_two_rooms_of_one_name_are_told() -> None:
    """The second room carries the fault; its missing walls are no second one."""
    document = imperial()
    document["rooms"].append({"name": " dining", "ceiling_height": "8'"})
    assert faults(document) == [(Code.ROOM_DUPLICATE, "/rooms/1/name")]


def test_the_nearest_word_is_suggested() -> None:
    """A mistyped member, room, wall and member name are met with the one that was meant."""
    document = changed(imperial(), "/rooms/0/walls/0/corner", "inisde")
    document = changed(document, "/trim/0/room", "Dinning")
    document["rooms"][0]["walls"][1]["lenght"] = "12'"
    hints = {problem.pointer: problem.help for problem in survey_from(document)[1]}
    assert "“inside”" in hints["/rooms/0/walls/0/corner"]
    assert "“Dining”" in hints["/trim/0/room"]
    assert "“length”" in hints["/rooms/0/walls/1/lenght"]


def test_all_faults_come_at_once() -> None:
    """Thirty faults in one document are thirty problems, none hidden by another."""
    document = imperial()
    wanted: dict[str, Code] = {}
    for pointer, value, code, told in FAULTS:
        is_leaf = isinstance(value, (str, int, float)) and pointer.count("/") > 1 and pointer != "/job/units"
        if is_leaf and not told and pointer not in wanted and code not in REFERENCES:
            document = changed(document, pointer, value)
            wanted[pointer] = code
    assert len(wanted) >= 30
    answered = {problem.pointer: problem.code for problem in survey_from(document)[1]}
    assert {pointer: answered.get(pointer) for pointer in wanted} == wanted


def test_a_bare_fraction_on_a_metric_document_needs_its_unit() -> None:
    """Inches typed on a metric sheet are asked about, not read as millimeters."""
    assert faults(changed(metric(), "/rooms/0/walls/0/length", "150 1/2")) == [
        (Code.LENGTH_UNIT_MISSING, "/rooms/0/walls/0/length")
    ]


def test_unknown_units_raise_one_fault_not_a_hundred() -> None:
    """Sizes are not judged while it is not known what bare figures mean."""
    document = changed(metric(), "/job/units", "meters")
    assert faults(document) == [(Code.VALUE_NOT_IN_LIST, "/job/units")]


def test_a_wall_that_some_rooms_lack_is_a_warning() -> None:
    """An order for wall A of every room leaves out rooms without such a wall, and says so."""
    document = changed(imperial(), "/trim/1/walls", ["A"])
    wall = {"name": "N", "length": "3'", "corner": "open"}
    document["rooms"].append({"name": "Study", "ceiling_height": "8'", "walls": [wall]})
    found, problems = survey_from(document)
    assert found is not None
    assert [(problem.code, problem.severity, problem.pointer) for problem in problems] == [
        (Code.WALL_UNKNOWN, Severity.WARNING, "/trim/1/walls")
    ]
    assert "Study" in problems[0].detail


def test_a_reference_to_a_room_whose_name_was_refused_is_no_second_fault() -> None:
    """One cause, one fault."""
    assert faults(changed(imperial(), "/rooms/0/name", 3.5)) == [(Code.TEXT_NOT_UNDERSTOOD, "/rooms/0/name")]


@pytest.mark.parametrize("document", [None, 3, "job", [], [imperial()], True, float("inf"), object(), b"{}"])
def test_anything_else_than_an_object_is_unreadable(document: object) -> None:
    """The whole document is the place of the fault."""
    assert faults(document) == [(Code.DOCUMENT_UNREADABLE, "")]


def test_pointers_escape_member_names() -> None:
    """RFC 6901: `~` is written `~0`, `/` is written `~1`."""
    document: Document = imperial()
    document["a/b~c"] = 1
    document["_schema"] = 2
    assert faults(document) == [(Code.MEMBER_UNKNOWN, "/_schema"), (Code.MEMBER_UNKNOWN, "/a~1b~0c")]
