"""The secret kept beside the database: key digests and page cookies depend on it."""

from __future__ import annotations

import os
import secrets
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

_SIZE = 32


class PepperFault(ValueError):
    """The pepper file is damaged."""


def pepper_in(folder: Path) -> bytes:
    """The folder's secret, 32 random bytes; made on first use, readable by its owner alone.

    Raises:
        PepperFault: when the file is not 32 bytes long. Keys made with another pepper would never match.
    """
    path = folder / "pepper"
    if not path.exists():
        _create(path)
    pepper = path.read_bytes()
    if len(pepper) != _SIZE:
        raise PepperFault(f"{path} is damaged: it should hold {_SIZE} bytes. Restore it from a backup.")
    return pepper


def _create(path: Path) -> None:
    fresh = path.with_name(f"{path.name}.{secrets.token_hex(8)}")
    descriptor = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "wb") as file:
        file.write(secrets.token_bytes(_SIZE))
    try:
        os.link(fresh, path)
    except FileExistsError:
        pass  # another starter was first; its pepper holds
    finally:
        fresh.unlink()
