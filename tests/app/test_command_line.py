from __future__ import annotations

import json
import platform
import re
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest
import requests

from service.__main__ import main
from service.app import memory_shared
from service.config import ConfigFault, Settings, settings_from_environment
from tests.web.office import SAMPLES, sheet

ROOT = Path(__file__).parents[2]


def test_a_sheet_becomes_three_files(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`quote` creates the folder, writes JSON and two PDFs, names them, and exits 0."""
    out = tmp_path / "new" / "folder"
    assert main(["quote", str(SAMPLES / "rectangle.xlsx"), "--out", str(out)]) == 0
    assert sorted(path.name for path in out.iterdir()) == ["field-sheet.pdf", "quote.json", "quote.pdf"]
    assert json.loads((out / "quote.json").read_text("utf-8"))["number"] is None
    assert len(capsys.readouterr().out.splitlines()) == 3


def test_a_refused_sheet_prints_a_line_a_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`quote` of a faulty sheet exits 1, writes nothing, and prints one line a fault on stderr alone."""
    out = tmp_path / "out"
    assert main(["quote", str(SAMPLES / "broken.xlsx"), "--out", str(out)]) == 1
    printed = capsys.readouterr()
    lines = printed.err.splitlines()
    assert printed.out == ""
    assert not out.exists()
    assert len(lines) >= 30
    assert all(re.match(r"(error|warning|note) \S.*![A-Z]+[0-9]+ [a-z-]+: ", line) for line in lines)
    assert any(line.startswith("error Walls!C2 length-not-understood: found 'twelve feet'; ") for line in lines)


@pytest.mark.parametrize(
    "arguments",
    [
        ["quote", "no-such-file.xlsx"],
        ["quote", "{sheet}", "--price-list", "no-such-list.xlsx"],
        ["quote", "{sheet}", "--out", "{sheet}"],
        ["worker"],
        ["cut-plan", "request.json"],
    ],
)
def test_what_cannot_be_done_exits_2_with_a_sentence(arguments, capsys: pytest.CaptureFixture[str]) -> None:
    """A missing file, an impossible folder, and commands that are not there yet exit 2 and say so."""
    filled = [argument.replace("{sheet}", str(SAMPLES / "rectangle.xlsx")) for argument in arguments]
    assert main(filled) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.strip().endswith(".")


@pytest.mark.parametrize(
    "arguments", [[], ["frobnicate"], ["key"], ["key", "create"], ["serve", "--port", "x"], ["quote"]]
)
def test_wrong_usage_exits_2(arguments, capsys: pytest.CaptureFixture[str]) -> None:
    """Arguments that make no command exit 2 with the usage on stderr."""
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert left.value.code == 2
    assert "usage:" in capsys.readouterr().err


def test_a_key_is_printed_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`key create` makes the data folder and prints the token and nothing else."""
    assert main(["key", "create", "--role", "field", "--data", str(tmp_path / "data")]) == 0
    assert re.fullmatch(r"tq_[0-9a-f]{12}_[\w-]{43}\n", capsys.readouterr().out)
    assert (tmp_path / "data" / "pepper").exists()


def test_a_folder_that_cannot_be_made_exits_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A data folder below a file is refused in words."""
    (tmp_path / "file").write_text("x")
    assert main(["key", "create", "--role", "office", "--data", str(tmp_path / "file" / "data")]) == 2
    assert "data folder" in capsys.readouterr().err


def test_every_wrong_setting_is_named_at_once(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """check-config exits 2 and names each wrong variable; with right ones it prints them and exits 0."""
    monkeypatch.setenv("TRIM_QUOTE_PORT", "eighty")
    monkeypatch.setenv("TRIM_QUOTE_THREADS", "0")
    assert main(["check-config"]) == 2
    told = capsys.readouterr().err
    assert "TRIM_QUOTE_PORT" in told
    assert "TRIM_QUOTE_THREADS" in told
    monkeypatch.setenv("TRIM_QUOTE_PORT", "8181")
    monkeypatch.setenv("TRIM_QUOTE_THREADS", "4")
    assert main(["check-config"]) == 0
    assert "port = 8181" in capsys.readouterr().out


def test_a_setting_may_stand_in_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A variable ending in _FILE names a file that holds the value."""
    (tmp_path / "host").write_text("192.0.2.1")
    monkeypatch.setenv("TRIM_QUOTE_HOST_FILE", str(tmp_path / "host"))
    settings = settings_from_environment()
    assert (settings.host, settings.is_loopback) == ("192.0.2.1", False)
    monkeypatch.setenv("TRIM_QUOTE_LOG_LEVEL", "loud")
    with pytest.raises(ConfigFault):
        settings_from_environment()


@pytest.mark.parametrize(
    ("host", "is_loopback", "address"),
    [
        ("127.0.0.1", True, "http://127.0.0.1:80/"),
        ("localhost", True, "http://localhost:80/"),
        ("::1", True, "http://[::1]:80/"),
        ("127.5.6.7", True, "http://127.5.6.7:80/"),
        ("0.0.0.0", False, "http://127.0.0.1:80/"),  # noqa: S104 - read, not bound
        ("::", False, "http://[::1]:80/"),
        ("office.example", False, "http://office.example:80/"),
        ("192.0.2.1", False, "http://192.0.2.1:80/"),
    ],
)
def test_only_loopback_opens_the_page(host: str, is_loopback: bool, address: str) -> None:
    """The page is open for addresses of RFC 5735's loopback block and ::1 alone."""
    settings = Settings(Path("data"), host, 80, 1, (), https=False, log_level="info")
    assert (settings.is_loopback, settings.address) == (is_loopback, address)


@pytest.fixture
def served(tmp_path: Path):
    """The service as its own process on a free port, and a key for it."""
    data = str(tmp_path / "data")
    key = subprocess.run(  # noqa: S603 - our own program by our own interpreter
        [sys.executable, "-m", "service", "key", "create", "--role", "office", "--data", data],
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout.strip()  # fmt: skip
    command = [sys.executable, "-m", "service", "serve", "--port", "0", "--data", data]
    process = subprocess.Popen(  # noqa: S603 - our own program by our own interpreter
        command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    address = process.stdout.readline().split()[-1]
    yield process, address, {"Authorization": f"Bearer {key}"}
    process.kill()
    process.communicate()


def test_the_service_answers_and_ends_in_order(served) -> None:
    """A served process answers over the wire, logs JSON without the key, and exits 0 on SIGTERM."""
    process, address, headers = served
    assert requests.get(f"{address}readyz", timeout=10).json()["status"] == "pass"
    made = requests.post(f"{address}v1/quotes", data=sheet("rectangle.xlsx"), headers=headers, timeout=30)
    assert made.status_code == 201
    assert "Server" not in made.headers or not re.search(r"\d", made.headers["Server"])
    process.send_signal(signal.SIGTERM)
    output, errors = process.communicate(timeout=15)
    assert (process.returncode, errors) == (0, "")
    lines = [json.loads(line) for line in output.splitlines()]
    assert [line["status"] for line in lines if line["event"] == "request"] == [200, 201]
    assert headers["Authorization"].rsplit("_", 1)[-1] not in output


def test_refusals_over_the_wire_are_problems(served) -> None:
    """20 MB, chunked 20 MB, and a wrong Host are problems over the wire too; a request without a Host is refused."""
    _, address, headers = served
    whole = requests.post(f"{address}v1/quotes", data=bytes(20_000_000), headers=headers, timeout=30)
    pieces = (bytes(1_000_000) for _ in range(20))
    chunked = requests.post(f"{address}v1/quotes", data=pieces, headers=headers, timeout=30)
    strange = requests.get(address, headers={"Host": "evil.example"}, timeout=10)
    assert [r.status_code for r in (whole, chunked, strange)] == [413, 413, 400]
    for response in (whole, chunked, strange):
        assert response.headers["Content-Type"] == "application/problem+json"


def test_a_hanging_upload_holds_up_nobody(served) -> None:
    """While ten uploads hang half-sent, another request is answered within a second."""
    _, address, _ = served
    host, port = address.removeprefix("http://").rstrip("/").split(":")
    hanging = [socket.create_connection((host, int(port))) for _ in range(10)]
    for connection in hanging:
        connection.sendall(b"POST /v1/quotes HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100000\r\n\r\nhalf")
    start = time.monotonic()
    assert requests.get(f"{address}livez", timeout=10).status_code == 200
    assert time.monotonic() - start < 1
    for connection in hanging:
        connection.close()


def test_a_taken_port_exits_2(served, tmp_path: Path) -> None:
    """A second service on the same port is refused in words."""
    _, address, _ = served
    port = address.rstrip("/").rsplit(":", 1)[-1]
    command = [sys.executable, "-m", "service", "serve", "--port", port, "--data", str(tmp_path / "other")]
    second = subprocess.run(  # noqa: S603 - our own program by our own interpreter
        command, cwd=ROOT, capture_output=True, text=True, timeout=30, check=False
    )
    assert second.returncode == 2
    assert f"port {port}" in second.stderr


def test_threads_share_their_memory() -> None:
    """Where the C library is glibc its arenas are limited (mallopt(3)); elsewhere nothing is done and nothing fails."""
    is_glibc = platform.libc_ver()[0] == "glibc"
    assert memory_shared() is is_glibc
