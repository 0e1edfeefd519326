"""Wiring: settings in, a ready service out."""

from __future__ import annotations

import ctypes
import hashlib
import signal
import sys
from contextlib import contextmanager
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import structlog
from waitress import create_server  # type: ignore[import-untyped] # the library ships no types

from service.jobs.desk import Desk, Refused, fresh_id, utc_now
from service.jobs.firms import firm_founded
from service.jobs.reading import Workbook
from service.storage.folder import opened
from service.web.flask_app import web_app
from service.web.wiring import WebSettings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from flask import Flask

    from service.config import Settings

ROOT = Path(__file__).resolve().parent.parent
SAMPLE_LIST = ROOT / "sample_sheets" / "price_list.xlsx"
_M_ARENA_MAX = -8
_REQUEST_LIMIT = 64 * 1024 * 1024  # above it the server itself refuses; below, the web side answers as a problem


class StartFault(Exception):
    """The service cannot start; the message says why and what to do."""


@contextmanager
def desk_of(folder: Path) -> Iterator[Desk]:
    """Desk over a data folder that is created, migrated and given its firm first; closed at the end.

    Raises:
        StartFault: when the folder cannot be used or the sample price list is damaged.
    """
    try:
        data = opened(folder)
    except (OSError, ValueError) as error:
        raise StartFault(f"The data folder {folder} cannot be used: {error}") from error
    desk = Desk(data.database, data.pepper, utc_now, fresh_id)
    try:
        _found_firm(desk)
        yield desk
    finally:
        data.close()


def created_app(desk: Desk, settings: Settings) -> Flask:
    """The web side for a desk."""
    return web_app(
        desk,
        WebSettings(
            page_is_open=settings.is_loopback,
            trusted_hosts=settings.known_hosts,
            build=build_fingerprint(),
            is_https=settings.https,
        ),
    )


@cache
def build_fingerprint() -> str:
    """Digest of the program's own files: what it answers can only change when this does."""
    digest = hashlib.sha256()
    for folder in ("service", "schemas"):
        for file in sorted((ROOT / folder).rglob("*")):
            if file.is_file() and "__pycache__" not in file.parts:
                digest.update(f"{file.relative_to(ROOT)}\n".encode())
                digest.update(file.read_bytes())
    return digest.hexdigest()


def _found_firm(desk: Desk) -> None:
    try:
        sample = Workbook(SAMPLE_LIST.read_bytes())
    except OSError as error:
        raise StartFault(f"The sample price list is missing: {error}") from error
    founded = firm_founded(desk, sample)
    if isinstance(founded, Refused):
        lines = "\n".join(problem.line() for problem in founded.problems)
        raise StartFault(f"The sample price list has faults:\n{lines}")


def memory_shared() -> bool:
    """Let all threads take memory from two places instead of one each; True where the C library knows how.

    glibc gives each thread an arena that keeps what one large sheet once needed; `mallopt(M_ARENA_MAX, 2)` (its manual,
    mallopt(3)) must be called before the threads start. Elsewhere nothing happens.
    """
    try:
        return bool(ctypes.CDLL(None).mallopt(_M_ARENA_MAX, 2))
    except (AttributeError, OSError, TypeError):
        return False


def served(app: Flask, settings: Settings) -> None:
    """Listen and answer until SIGTERM or Ctrl-C; requests in hand are finished first.

    Raises:
        StartFault: when the port is taken or the host is not this machine's.
    """
    memory_shared()
    try:
        server = create_server(
            app,
            host=settings.host,
            port=settings.port,
            threads=settings.threads,
            ident=None,
            channel_timeout=30,
            max_request_body_size=_REQUEST_LIMIT,
            clear_untrusted_proxy_headers=True,
        )
    except OSError as error:
        raise StartFault(f"Cannot listen on {settings.host}, port {settings.port}: {error}") from error
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    say_address(replace(settings, port=server.effective_port))
    server.run()


def say_address(settings: Settings) -> None:
    """Tell the terminal where the page is."""
    sys.stdout.write(f"Serving on {settings.address}\n")
    sys.stdout.flush()


def logging_to_stdout(level: str) -> None:
    """Log as one JSON object a line: no bodies, no keys, no contents of files."""
    structlog.configure(
        processors=[
            structlog.processors.add_log_level,
            structlog.processors.TimeStamper(fmt="iso", utc=True),
            structlog.processors.format_exc_info,
            structlog.processors.JSONRenderer(),
        ],
        wrapper_class=structlog.make_filtering_bound_logger(level),
        logger_factory=structlog.PrintLoggerFactory(sys.stdout),
        cache_logger_on_first_use=False,
    )
