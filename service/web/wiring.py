"""What the views work with: the desk and the web's own settings, kept on the Flask app."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from flask import current_app

if TYPE_CHECKING:
    from flask import Flask

    from service.jobs.desk import Desk

SHEET_LIMIT = 10 * 1024 * 1024
_EXTENSION = "trim-quote"


@dataclass(frozen=True, slots=True)
class WebSettings:
    """How the web side behaves.

    Attributes:
        page_is_open: the page may be used without a key; only for a service bound to a loopback address.
        trusted_hosts: host names a request may ask for; anything else is refused.
        build: fingerprint of the program, part of every entity tag.
        is_https: people reach the service over TLS (cookies are then marked for it).
    """

    page_is_open: bool
    trusted_hosts: tuple[str, ...]
    build: str
    is_https: bool = False


@dataclass(frozen=True, slots=True)
class Wiring:
    """Desk and settings together."""

    desk: Desk
    settings: WebSettings


def wired(app: Flask, wiring: Wiring) -> None:
    """Keep the wiring on an app."""
    app.extensions[_EXTENSION] = wiring


def desk() -> Desk:
    """The desk of the app that answers the present request."""
    return _wiring().desk


def settings() -> WebSettings:
    """The settings of the app that answers the present request."""
    return _wiring().settings


def _wiring() -> Wiring:
    wiring: Wiring = current_app.extensions[_EXTENSION]
    return wiring
