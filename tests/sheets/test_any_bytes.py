"""Whatever is uploaded, the reader answers: with a document, or with one refusal; nothing escapes."""

from __future__ import annotations

import io
import zipfile

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.problems import Code
from service.sheets.directory import declared_size
from service.sheets.guard import inspected
from service.sheets.opening import _read
from service.sheets.outside import reach_of_formula
from tests.sheets.unusual_files import PLAIN, parts_of
from tests.sheets.workbooks import by_hand, sheet_xml, zipped

SLOWLY = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
PARTS = parts_of(PLAIN)
ATTRIBUTES = st.sampled_from(["r", "s", "t", "ref", "sqref", "hidden", "x"])
NAMES = st.sampled_from(["c", "v", "f", "is", "t", "r", "rPh", "row", "mergeCell", "hyperlink", "sheetData", "x"])
VALUES = st.sampled_from(
    ["A1", "B2", "XFD1048576", "A1:B2", "1", "0", "-1", "n", "s", "b", "e", "d", "inlineStr", "str", "9" * 20, ""]
)


def understood(data):
    """What the guard and the cells make of an upload, without the net that turns any exception into a refusal."""
    inspection = inspected(data)
    if inspection.problems:
        (problem,) = inspection.problems
        assert problem.is_error
        assert problem.help
        return problem.code
    return _read(inspection)


@given(
    st.binary(max_size=300),
    st.sampled_from([b"", b"PK\x03\x04", b"PK\x05\x06", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", b"<", b"{"]),
)
def test_any_bytes_are_answered(data, start):
    """Random bytes, behind the first bytes of known kinds, are refused with a code; none is read."""
    assert isinstance(understood(start + data), Code)
    assert declared_size(start + data) == 0


@SLOWLY
@given(st.integers(0, len(PLAIN) - 1), st.binary(min_size=1, max_size=8))
def test_a_damaged_archive_is_answered(place, change):
    """A sound workbook with some bytes overwritten anywhere is read or refused."""
    understood(PLAIN[:place] + change + PLAIN[place + len(change) :])


@SLOWLY
@given(st.integers(0, len(PARTS) - 1), st.data())
def test_a_damaged_part_is_answered(number, data):
    """A sound archive one of whose parts has some bytes replaced is read or refused."""
    name, content = PARTS[number]
    place = data.draw(st.integers(0, len(content)))
    length = data.draw(st.integers(0, 20))
    new = data.draw(st.one_of(st.binary(max_size=20), st.sampled_from([b"<", b">", b'"', b"&#0;", b"NaN", b"XFD9"])))
    parts = [*PARTS]
    parts[number] = name, content[:place] + new + content[place + length :]
    understood(zipped(parts, zipfile.ZIP_STORED))


def elements():
    """Trees of elements that mean something in a sheet, in any order and nesting."""
    tags = st.tuples(NAMES, st.dictionaries(ATTRIBUTES, VALUES, max_size=3))
    leaves = st.one_of(VALUES, tags.map(lambda tag: written(*tag, "")))
    return st.recursive(
        leaves,
        lambda inner: st.builds(lambda tag, parts: written(*tag, "".join(parts)), tags, st.lists(inner, max_size=4)),
        max_leaves=15,
    )


def written(name, attributes, inside):
    """An element as text."""
    return f"<{name}{''.join(f' {key}=%{value}%' for key, value in attributes.items())}>{inside}</{name}>".replace(
        "%", '"'
    )


@SLOWLY
@given(st.lists(elements(), max_size=4))
def test_any_elements_are_answered(rows):
    """A sheet whose elements stand in any order, with any attributes, is read or refused."""
    understood(by_hand(sheet_xml("".join(f'<row r="{n}">{row}</row>' for n, row in enumerate(rows, 1)))))


@given(st.text(st.sampled_from("[]|!()\",.$AZaz019:\\'{}# "), max_size=60))
def test_any_formula_is_judged(formula):
    """Any formula is found to reach outside or not; one without brackets, bars and calls never is."""
    reach = reach_of_formula(formula)
    assert reach in {"", "another workbook", "DDE"}
    assert not reach or set("[|") & set(formula)


def test_the_parts_make_up_a_sound_workbook():
    """The workbook that is damaged above is sound before, or its tests would show nothing."""
    assert not isinstance(understood(zipped(PARTS, zipfile.ZIP_STORED)), Code)
    assert zipfile.is_zipfile(io.BytesIO(PLAIN))
