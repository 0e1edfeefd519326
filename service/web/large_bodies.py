"""Large sheets are answered one after another, so that a dozen of them never keep a small one waiting.

A filled room sheet unpacks to some 0.1 MiB, a house of a hundred rooms to 0.3 MiB. Above 1 MiB one sheet is worked
on and one may wait; a third is told to come back, because a request that waits keeps a thread of the server busy.
"""

from __future__ import annotations

from threading import BoundedSemaphore, Lock
from typing import TYPE_CHECKING

from flask import current_app, g

from service.sheets.directory import declared_size
from service.web.faults import Fault, RequestCode

if TYPE_CHECKING:
    from flask import Flask

LARGE_FROM = 1024 * 1024
PLACES = 2
RETRY_SECONDS = 5
_EXTENSION = "large-bodies"


class Turns:
    """Who works on a large body, and who waits: one and one."""

    def __init__(self) -> None:
        self._places = BoundedSemaphore(PLACES)
        self._turn = Lock()

    def taken(self) -> bool:
        """Wait for a turn; False when too many wait already."""
        if not self._places.acquire(blocking=False):
            return False
        self._turn.acquire()
        return True

    def given_back(self) -> None:
        """Let the next one in."""
        self._turn.release()
        self._places.release()


def taking_turns(app: Flask) -> None:
    """Let large bodies of an app take turns."""
    app.extensions[_EXTENSION] = Turns()
    app.teardown_request(_leave)


def await_turn(data: bytes) -> None:
    """Go on with a small body at once; with a large one when its turn has come, until the request ends.

    Raises:
        Fault: 503 when too many large bodies wait already.
    """
    if g.get("has_turn") or _size(data) <= LARGE_FROM:
        return
    turns: Turns = current_app.extensions[_EXTENSION]
    if not turns.taken():
        raise Fault(RequestCode.BUSY, headers={"Retry-After": str(RETRY_SECONDS)})
    g.has_turn = True


def _size(data: bytes) -> int:
    """What a workbook unpacks to; of anything else, what it is."""
    return declared_size(data) if data.startswith(b"PK") else len(data)


def _leave(_error: BaseException | None) -> None:
    if g.pop("has_turn", False):
        current_app.extensions[_EXTENSION].given_back()
