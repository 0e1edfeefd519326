"""From nothing to a priced quote: environment, database, service, and a sample room sheet sent through it.

Standard library only, for Linux, macOS and Windows. Everything it makes is in `.run/`, which git ignores.
"""

from __future__ import annotations

import argparse
import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn, Self

from own_venv import SetUpFault, clean_environment, python_of

if TYPE_CHECKING:
    from collections.abc import Sequence

ROOT = Path(__file__).resolve().parent.parent
RUN = ROOT / ".run"
DATA = RUN / "data"
KEY_FILE = RUN / "office-key"
SAMPLE = ROOT / "sample_sheets" / "l_shaped.xlsx"
HOST = "127.0.0.1"
USUAL_PORT = 8080
PORTS_TRIED = 50
START_SECONDS = 30
TERMINAL_WIDTH = 78
SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
DOCUMENTS = ("quote.pdf", "field-sheet.pdf")

EXIT_REFUSED = 1
EXIT_PORT_TAKEN = 6
EXIT_NOT_STARTED = 7
EXIT_CODES = """exit codes:
  0  done (or stopped by Ctrl-C)
  1  the service refused the sample sheet
  2  wrong option
  3  Python is older than 3.11
  4  no venv module, or the environment could not be made
  5  the packages could not be installed
  6  the port is taken
  7  the service did not start"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Whole first start; see `--help`. Returns the exit code."""
    options = _options(arguments)
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(errors="replace")  # type: ignore[union-attr]  # a terminal's stream can
    _stop_in_order()
    try:
        return _started(options)
    except SetUpFault as fault:
        print(f"\n{fault}\n{fault.advice}", file=sys.stderr)
        return fault.status
    except KeyboardInterrupt:
        say("stopped")
        return 0
    except OSError as fault:
        print(f"\n{fault}\nLook at the disk's room and the rights on {RUN}, then start again.", file=sys.stderr)
        return EXIT_NOT_STARTED


def say(text: str, *, passing: bool = False) -> None:
    """Show one line; a passing one is overwritten on a terminal and left out of a log."""
    if not sys.stdout.isatty():
        if not passing:
            print(text, flush=True)
    elif passing:
        print(f"\r{text:<{TERMINAL_WIDTH}.{TERMINAL_WIDTH}}", end="", flush=True)
    else:
        print(f"\r{' ' * TERMINAL_WIDTH}\r{text}", flush=True)


def _stop_in_order() -> None:
    """Have a closed terminal or a `kill` stop the service too, as Ctrl-C does; what `nohup` ignores stays ignored."""
    for name in ("SIGTERM", "SIGHUP"):
        stopping = getattr(signal, name, None)
        if stopping is not None and signal.getsignal(stopping) is not signal.SIG_IGN:
            signal.signal(stopping, _stop)


def _stop(*_: object) -> NoReturn:
    raise KeyboardInterrupt


def _options(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="deploy/start.py",
        description="Start the service here and send a sample room sheet through it.",
        epilog=EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--port", type=_port, help=f"port to serve on (default {USUAL_PORT}, or the next free one)")
    parser.add_argument("--once", action="store_true", help="write the documents to .run/first-quote/ and end")
    return parser.parse_args(arguments)


def _port(text: str) -> int:
    port = int(text) if text.isdecimal() else 0
    if not 1 <= port <= 65535:  # noqa: PLR2004 - the range of TCP ports
        raise argparse.ArgumentTypeError("a port is a number from 1 to 65535")
    return port


def _started(options: argparse.Namespace) -> int:
    python = python_of(RUN / "venv", ROOT / "deploy" / "requirements.txt", say)
    port = _chosen_port(options.port, once=options.once)
    key, is_new = _office_key(python)
    say(f"starting the service on http://{HOST}:{port} (its log: .run/service.log)")
    with Service(python, port, DATA, RUN / "service.log") as service:
        service.wait_until_ready()
        office = Office(f"http://{HOST}:{port}", key)
        if not is_new and office.refuses_key():
            key, is_new = _kept(office_key(python, DATA)), True
            office = Office(office.address, key)
        return _first_quote(office, service, options, key if is_new else None)


def _first_quote(office: Office, service: Service, options: argparse.Namespace, new_key: str | None) -> int:
    quote = office.quote_of(SAMPLE)
    if quote is None:
        return EXIT_REFUSED
    _summary(office, quote, new_key)
    if options.once:
        office.save(quote, RUN / "first-quote")
        say(
            f"  saved .run/first-quote/quote.json, {', '.join(DOCUMENTS)}\n\ndone; without --once the service keeps serving"
        )
    else:
        say("\nserving; Ctrl-C stops it")
        service.wait()
    return 0


def _summary(office: Office, quote: dict[str, Any], new_key: str | None) -> None:
    total, address = quote["totals"]["total"], f"{office.address}/v1/quotes/{quote['id']}"
    say(f"\n{SAMPLE.relative_to(ROOT)}: total {total['currency']} {total['amount']} (invented prices)")
    say(f"  page  {office.address}/   (this quote: {office.address}/quotes/{quote['id']})")
    say(f"  JSON  {address}")
    say(f"  PDF   {address}/quote.pdf")
    if new_key:
        say(f"  office key, shown this once (kept in {KEY_FILE.relative_to(ROOT)}): {new_key}")
    else:
        say(f"  office key: in {KEY_FILE.relative_to(ROOT)}")
    say("  the addresses under /v1 ask for it: curl -H 'Authorization: Bearer KEY' ADDRESS")


def _chosen_port(asked: int | None, *, once: bool) -> int:
    if asked is not None:
        if not _is_free(asked):
            raise SetUpFault(
                EXIT_PORT_TAKEN,
                f"Port {asked} is taken by another program.",
                "Stop that program, or give another port with --port, or none to let one be found.",
            )
        return asked
    if once:
        return free_port()
    for port in range(USUAL_PORT, USUAL_PORT + PORTS_TRIED):
        if _is_free(port):
            if port != USUAL_PORT:
                say(f"port {USUAL_PORT} is taken by another program; taking {port}")
            return port
    raise SetUpFault(EXIT_PORT_TAKEN, f"No free port from {USUAL_PORT} on.", "Give one with --port.")


def _is_free(port: int) -> bool:
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        if os.name == "posix":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, port))
        except OSError:
            return False
    return True


def free_port() -> int:
    """A port nobody listens on."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.bind((HOST, 0))
        return int(probe.getsockname()[1])


def _office_key(python: Path) -> tuple[str, bool]:
    """The key of an earlier start, or a new one, and whether it is new."""
    if KEY_FILE.exists() and DATA.exists():
        return KEY_FILE.read_text("utf-8").strip(), False
    say("preparing the database and the sample price list")
    return _kept(office_key(python, DATA)), True


def office_key(python: Path, data: Path) -> str:
    """A new office key; the data folder is made and filled when there is none.

    Raises:
        SetUpFault: the command failed; its own words are the advice.
    """
    command = [str(python), "-m", "service", "key", "create", "--role", "office", "--data", str(data)]
    made = subprocess.run(command, cwd=ROOT, env=clean_environment(), capture_output=True, text=True, check=False)
    if made.returncode:
        raise SetUpFault(EXIT_NOT_STARTED, "No key could be made.", made.stderr.strip())
    return made.stdout.strip()


def _kept(key: str) -> str:
    with os.fdopen(os.open(KEY_FILE, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:
        file.write(key)
    return key


class Service:
    """The running service; leaving the block stops it."""

    def __init__(self, python: Path, port: int, data: Path, log: Path) -> None:
        self.address = f"http://{HOST}:{port}"
        self.log = log
        command = [str(python), "-m", "service", "serve", "--host", HOST, "--port", str(port), "--data", str(data)]
        with log.open("wb") as told:
            self.process = subprocess.Popen(
                command, cwd=ROOT, env=clean_environment(), stdout=told, stderr=subprocess.STDOUT,
                stdin=subprocess.DEVNULL, **_apart(),
            )  # fmt: skip

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.process.terminate()
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()

    def wait(self) -> None:
        """Until somebody stops this program; the service ending by itself is a fault."""
        while self.process.poll() is None:
            time.sleep(0.2)
        raise self._not_started("The service ended by itself.")

    def wait_until_ready(self) -> None:
        """Until it answers /readyz."""
        deadline = time.monotonic() + START_SECONDS
        while time.monotonic() < deadline:
            if self.process.poll() is not None:
                raise self._not_started("The service ended while starting.")
            if Office(self.address, "").is_ready():
                return
            time.sleep(0.05)
        raise self._not_started(f"The service was not ready within {START_SECONDS} s.")

    def _not_started(self, fault: str) -> SetUpFault:
        last = "\n".join(self.log.read_text("utf-8", "replace").splitlines()[-15:])
        return SetUpFault(EXIT_NOT_STARTED, fault, f"{last}\nThe whole log: {self.log}")


def _apart() -> dict[str, Any]:
    """Arguments that keep a terminal's Ctrl-C from the service: it is stopped by this program, in order."""
    if sys.platform == "win32":
        return {"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP}
    return {"start_new_session": True}


@dataclass(frozen=True)
class Office:
    """The service as an office program sees it: an address and a key."""

    address: str
    key: str

    def is_ready(self) -> bool:
        """True when the service takes requests."""
        try:
            return self._answer("/readyz")[0] == 200  # noqa: PLR2004 - HTTP's OK
        except OSError:
            return False

    def refuses_key(self) -> bool:
        """True when the key isn't known here: the data folder was made anew."""
        return self._answer("/v1/quotes")[0] in {401, 403}

    def quote_of(self, sheet: Path) -> dict[str, Any] | None:
        """The quote for a room sheet; None, with every fault shown, when it was refused."""
        status, body = self._answer("/v1/quotes", sheet.read_bytes(), SHEET_TYPE)
        answer: dict[str, Any] = json.loads(body)
        if status == 201:  # noqa: PLR2004 - HTTP's Created
            return answer
        print(f"refused ({status}): {answer.get('title', '')} {answer.get('detail', '')}", file=sys.stderr)
        for problem in answer.get("problems", ()):
            print(f"  {_told(problem)}", file=sys.stderr)
        return None

    def printed_quote(self, sheet: Path) -> bytes:
        """The quote PDF for a room sheet."""
        quote = self.quote_of(sheet)
        return self._fetched(f"/v1/quotes/{quote['id']}/quote.pdf") if quote else b""

    def save(self, quote: dict[str, Any], folder: Path) -> None:
        """Write the quote and its documents into a folder."""
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "quote.json").write_bytes(self._fetched(f"/v1/quotes/{quote['id']}"))
        for name in DOCUMENTS:
            (folder / name).write_bytes(self._fetched(f"/v1/quotes/{quote['id']}/{name}"))

    def _fetched(self, path: str) -> bytes:
        status, body = self._answer(path)
        if status != 200:  # noqa: PLR2004 - HTTP's OK
            raise SetUpFault(EXIT_REFUSED, f"GET {path} answered {status}.", body.decode("utf-8", "replace"))
        return body

    def _answer(self, path: str, body: bytes | None = None, content_type: str = "") -> tuple[int, bytes]:
        headers = {"Accept": "application/json"} if not path.endswith(".pdf") else {}
        headers |= {"Authorization": f"Bearer {self.key}"} if self.key else {}
        headers |= {"Content-Type": content_type} if body is not None else {}
        request = urllib.request.Request(self.address + path, data=body, headers=headers)  # noqa: S310 - our own address
        try:
            with _DIRECT.open(request, timeout=60) as answer:
                return answer.status, answer.read()
        except urllib.error.HTTPError as refusal:
            with refusal:
                return refusal.code, refusal.read()


def _told(problem: dict[str, Any]) -> str:
    cell = problem.get("cell") or {}
    place = "!".join((cell["sheet"], cell["address"])) if cell else problem.get("pointer", "")
    return " ".join(filter(None, (problem.get("severity"), place, problem.get("detail"), problem.get("help"))))


# A proxy set for the outside must not be asked about this computer's own address.
_DIRECT = urllib.request.build_opener(urllib.request.ProxyHandler({}))
