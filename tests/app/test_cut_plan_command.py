from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from service.__main__ import main
from tests.web.office import SAMPLES

if TYPE_CHECKING:
    from pathlib import Path

SAMPLE = SAMPLES / "cut_plan.json"


def test_a_request_becomes_one_document(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    """`cut-plan` prints the plan as one JSON document, exits 0 and writes nothing."""
    monkeypatch.chdir(tmp_path)
    assert main(["cut-plan", str(SAMPLE)]) == 0
    printed = capsys.readouterr()
    plan = json.loads(printed.out)
    request = json.loads(SAMPLE.read_text("utf-8"))
    assert printed.err == ""
    assert (plan["currency"], len(plan["runs"])) == ("USD", len(request["runs"]))
    assert list(tmp_path.iterdir()) == []


def test_a_refused_request_prints_a_line_a_fault(tmp_path: Path, capsys) -> None:
    """A faulty request exits 1 with one stderr line a fault: severity, pointer, code, what was found, what to type."""
    request = json.loads(SAMPLE.read_text("utf-8")) | {"kerf": 0.125}
    request["runs"][0]["length"] = "9'"
    request["pieces"][0]["id"] = "two\nlines"
    request["pieces"][1]["id"] = "two\nlines"
    (tmp_path / "request.json").write_text(json.dumps(request), "utf-8")
    assert main(["cut-plan", str(tmp_path / "request.json")]) == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert [line.split(": ")[0] for line in printed.err.splitlines()] == [
        "error /kerf length-not-understood",
        "error /runs/0/length length-not-understood",
        "error /pieces/1/id item-duplicate",
    ]
    assert 'found "9\'"; ' in printed.err


@pytest.mark.parametrize("text", ["", "{", "[" * 50_000, '{"kerf": 1e400}', '{"kerf": "0", "kerf": "1"}', "\x80"])
def test_a_file_that_is_not_json_is_refused(tmp_path: Path, capsys, text: str) -> None:
    """Broken, endless, infinite or doubled JSON exits 1 with one line."""
    (tmp_path / "request.json").write_bytes(text.encode("latin-1"))
    assert main(["cut-plan", str(tmp_path / "request.json")]) == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert [line.split(": ")[0] for line in printed.err.splitlines()] == ["error document document-unreadable"]


def test_a_missing_file_exits_2(tmp_path: Path, capsys) -> None:
    """A file that cannot be read is a wrong use of the command."""
    assert main(["cut-plan", str(tmp_path / "nothing.json")]) == 2
    assert capsys.readouterr().err.startswith("Cannot read ")
