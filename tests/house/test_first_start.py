"""The first command and the gate: what they say when something is missing, and when they do nothing."""

from __future__ import annotations

import ast
import http.server
import json
import os
import runpy
import socket
import sys
import threading
from pathlib import Path

import pytest

import first_quote
import gate
import own_venv

NO_NETWORK = "Failed to establish a new connection: [Errno -2] Name or service not known: NameResolutionError"
WRONG_HASH = "ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE."


def silent(text, *, passing=False):
    """Say nothing."""


@pytest.fixture
def taken_port():
    """A port that another program listens on."""
    with socket.socket() as listener:
        listener.bind((first_quote.HOST, 0))
        listener.listen()
        yield listener.getsockname()[1]


@pytest.mark.parametrize("name", ["start.py", "test.py"])
def test_any_python_can_read_the_start(root, name):
    """The commands are plain ASCII and use no syntax that an old Python lacks."""
    source = (root / "deploy" / name).read_bytes().decode("ascii")
    tree = ast.parse(source, feature_version=(3, 4))
    modern = (ast.JoinedStr, ast.AnnAssign, ast.Match, ast.NamedExpr, ast.FunctionDef)
    assert not [node for node in ast.walk(tree) if isinstance(node, modern)]


@pytest.mark.parametrize("name", ["start.py", "test.py"])
def test_old_python_is_told_in_words(root, name, monkeypatch, capsys):
    """A Python before 3.11 is named, with what to do, and ends with 3."""
    monkeypatch.setattr(sys, "version_info", (3, 10, 2))
    with pytest.raises(SystemExit) as ended:
        runpy.run_path(str(root / "deploy" / name))
    told = capsys.readouterr().err
    assert ended.value.code == 3
    assert "this is Python 3.10" in told
    assert "python3.12 deploy/" + name in told


def test_missing_venv_module_is_named(tmp_path, root, monkeypatch):
    """Without the venv module nothing is made, and the package that brings it is named."""
    monkeypatch.setattr("own_venv.importlib.util.find_spec", lambda name: None if name == "ensurepip" else name)
    with pytest.raises(own_venv.SetUpFault) as fault:
        own_venv.python_of(tmp_path / "venv", root / "deploy/requirements.txt", silent)
    assert fault.value.status == 4
    assert "python3-venv" in fault.value.advice
    assert not (tmp_path / "venv").exists()


def ready_venv(folder: Path, lock: Path) -> Path:
    """A folder that looks like an environment made from the lock."""
    python = own_venv._python_in(folder)
    python.parent.mkdir(parents=True)
    python.touch()
    (folder / own_venv.STAMP).write_text(own_venv._checksum(lock), "utf-8")
    return python


def test_ready_environment_is_left_alone(tmp_path, monkeypatch):
    """An environment made from this very lock is used as it stands, without pip and without network."""
    lock = tmp_path / "lock.txt"
    lock.write_text("pkg==1 \\\n", "utf-8")
    python = ready_venv(tmp_path / "venv", lock)
    monkeypatch.setattr("own_venv.subprocess.run", None)
    monkeypatch.setattr("own_venv.subprocess.Popen", None)
    assert own_venv.python_of(tmp_path / "venv", lock, silent) == python


def test_changed_lock_makes_it_anew(tmp_path, monkeypatch):
    """A lock with other packages than those installed makes the environment anew, and says so."""
    lock = tmp_path / "lock.txt"
    lock.write_text("pkg==1 \\\n", "utf-8")
    ready_venv(tmp_path / "venv", lock)
    lock.write_text("pkg==2 \\\n", "utf-8")
    made = []
    monkeypatch.setattr(own_venv, "_made", lambda folder, say: made.append(folder))
    monkeypatch.setattr(own_venv, "_installed", lambda python, lock, say: made.append(lock))
    own_venv.python_of(tmp_path / "venv", lock, silent)
    assert made == [tmp_path / "venv", lock]
    assert (tmp_path / "venv" / own_venv.STAMP).read_text("utf-8") == own_venv._checksum(lock)


@pytest.mark.parametrize(
    ("told", "fault", "advice"),
    [
        (NO_NETWORK, "could not be reached", "connect this computer"),
        (WRONG_HASH, "differs from what the lock says", "Nothing was installed"),
        ("ERROR: no space left", "no space left", "starting again begins afresh"),
    ],
)
def test_failed_installation_is_explained(told, fault, advice):
    """No network, a changed package and anything else are told apart, each with what to do."""
    found = own_venv._not_installed(told)
    assert found.status == 5
    assert fault in str(found)
    assert advice in found.advice


def test_taken_port_is_named(taken_port):
    """A port asked for that is taken ends with 6 and says how to go on."""
    with pytest.raises(own_venv.SetUpFault, match=str(taken_port)) as fault:
        first_quote._chosen_port(taken_port, once=False)
    assert fault.value.status == 6
    assert "--port" in fault.value.advice


def test_next_free_port_is_taken_and_told(taken_port, monkeypatch, capsys):
    """When the usual port is taken and none was asked for, a later one is taken and told."""
    monkeypatch.setattr(first_quote, "USUAL_PORT", taken_port)
    port = first_quote._chosen_port(None, once=False)
    assert taken_port < port < taken_port + first_quote.PORTS_TRIED
    assert f"taking {port}" in capsys.readouterr().out


@pytest.mark.parametrize("port", ["0", "65536", "-1", "http", "8080.5"])
def test_wrong_port_is_a_usage_fault(port):
    """A port that can't be one ends with 2, as every wrong option does."""
    with pytest.raises(SystemExit) as ended:
        first_quote.main(["--port", port])
    assert ended.value.code == 2


class Refusing(http.server.BaseHTTPRequestHandler):
    """A service that refuses every sheet with one fault."""

    def do_POST(self):
        """Answer 422."""
        self.rfile.read(int(self.headers["Content-Length"]))
        problem = {"severity": "error", "cell": {"sheet": "Walls", "address": "C5"}, "detail": "It is not one length."}
        body = json.dumps({"title": "Refused", "problems": [problem]}).encode()
        self.send_response(422)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_):
        """Keep quiet."""


@pytest.fixture
def refusing_service():
    """Address of a service that refuses every sheet."""
    with http.server.HTTPServer((first_quote.HOST, 0), Refusing) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://{first_quote.HOST}:{server.server_port}"
        server.shutdown()
        thread.join()


def test_refused_sheet_shows_its_faults(refusing_service, tmp_path, monkeypatch, capsys):
    """A refused sheet shows each fault with its cell; a proxy set for the outside is not asked."""
    monkeypatch.setitem(os.environ, "http_proxy", "http://127.0.0.1:9")
    sheet = tmp_path / "sheet.xlsx"
    sheet.write_bytes(b"PK")
    assert first_quote.Office(refusing_service, "key").quote_of(sheet) is None
    assert "error Walls!C5 It is not one length." in capsys.readouterr().err


def test_silent_address_is_not_ready():
    """A port that nobody listens on is not a service that is ready."""
    assert not first_quote.Office(f"http://{first_quote.HOST}:{first_quote.free_port()}", "").is_ready()


def test_failed_step_fails_the_gate(monkeypatch, capsys):
    """One failed step fails the whole, the others still run, and each is named with its outcome."""
    steps = (gate.Step("first", ("-c", "raise SystemExit(1)")), gate.Step("second", ("-c", "print('ran')")))
    monkeypatch.setattr(gate, "STEPS", steps)
    outcomes = [gate._run(step, Path(sys.executable)) for step in steps]
    assert [outcome.passed for outcome in outcomes] == [False, True]
    assert "ran" in capsys.readouterr().out


def test_summary_of_the_test_run_is_kept(capsys):
    """The test runner's last line is kept, so that the gate can end with it."""
    line = "=========== 2 failed, 12 passed, 1 warning in 3.21s ==========="
    outcome = gate._run(gate.Step("tests", ("-c", f"print({line!r}); print('more')")), Path(sys.executable))
    assert outcome.last_summary == line
    gate._show([outcome])
    assert capsys.readouterr().out.rstrip().endswith(line)


def test_tests_are_counted_by_kind(tmp_path, monkeypatch):
    """Results are counted by the folder under tests/ that a test stands in."""
    report = tmp_path / "tests.xml"
    report.write_text(
        "<testsuites><testsuite>"
        '<testcase classname="tests.published.test_saw" name="a"/>'
        '<testcase classname="tests.published.test_saw" name="b"><failure/></testcase>'
        '<testcase classname="tests.web.test_keys.TestKeys" name="c"><skipped/></testcase>'
        "</testsuite></testsuites>",
        "utf-8",
    )
    monkeypatch.setattr(gate, "REPORT", report)
    assert gate._tests_by_kind() == {"published": {"passed": 1, "failure": 1}, "web": {"skipped": 1}}
