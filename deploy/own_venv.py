"""A virtual environment of the project's own, made from a hashed lock and remade when the lock changes.

Standard library only. Whatever is missing is told with what to do about it (`SetUpFault`).
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import platform
import re
import shutil
import subprocess
import sys
import time
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

EXIT_NO_VENV = 4
EXIT_NOT_INSTALLED = 5
STAMP = "lock.sha256"

_NO_NETWORK = re.compile(
    r"name resolution|getaddrinfo|NewConnectionError|NameResolutionError|ConnectTimeout|Read timed out|"
    r"Connection refused|Network is unreachable|ProxyError|No route to host",
)
_WRONG_HASH = re.compile(r"DO NOT MATCH THE HASHES|Hashes are required")


class SetUpFault(Exception):
    """The environment cannot be made; `advice` says what to do and `status` is the exit code."""

    def __init__(self, status: int, fault: str, advice: str) -> None:
        """Keep the fault and the advice, a sentence or a few lines each."""
        super().__init__(fault)
        self.status = status
        self.advice = advice


class Say(Protocol):
    """Tells the person at the terminal how far things are; `passing` lines may be overwritten by the next one."""

    def __call__(self, text: str, *, passing: bool = False) -> None:
        """Show one line."""


def python_of(folder: Path, lock: Path, say: Say) -> Path:
    """The environment's Python, with everything in the lock installed.

    A stamp in the folder holds a checksum of the lock and of the Python it was made with; when it fits,
    nothing is done and no network is needed.

    Args:
        folder: where the environment stands or shall stand.
        lock: requirements file with a hash for each package.
        say: told about progress.

    Raises:
        SetUpFault: no venv module, no network, a package that differs from the lock, a full disk.
    """
    python = _python_in(folder)
    stamp = folder / STAMP
    wanted = _checksum(lock)
    if python.exists() and stamp.exists() and stamp.read_text("utf-8") == wanted:
        return python
    _made(folder, say)
    _installed(python, lock, say)
    stamp.write_text(wanted, "utf-8")
    return python


def clean_environment() -> dict[str, str]:
    """Environment for programs in it: this process's, less what would let foreign packages in."""
    return {name: value for name, value in os.environ.items() if name not in {"PYTHONPATH", "PYTHONHOME"}}


def _python_in(folder: Path) -> Path:
    return folder / "Scripts" / "python.exe" if os.name == "nt" else folder / "bin" / "python"


def _checksum(lock: Path) -> str:
    maker = f"{platform.python_implementation()} {platform.python_version()} {sys.base_prefix} {platform.machine()}"
    return hashlib.sha256(lock.read_bytes() + maker.encode()).hexdigest()


def _made(folder: Path, say: Say) -> None:
    if not all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
        raise SetUpFault(EXIT_NO_VENV, "This Python has no venv module.", _venv_advice())
    say(f"making a virtual environment in {folder.parent.name}/{folder.name}")
    shutil.rmtree(folder, ignore_errors=True)
    command = [sys.executable, "-m", "venv", str(folder)]
    made = subprocess.run(command, capture_output=True, text=True, check=False, env=clean_environment())
    if made.returncode:
        told = (made.stdout + made.stderr).strip()
        raise SetUpFault(EXIT_NO_VENV, f"The virtual environment could not be made.\n{told}", _venv_advice())


def _venv_advice() -> str:
    return (
        "On Debian or Ubuntu: sudo apt install python3-venv\n"
        "Elsewhere: install Python 3.11 or newer whole, as its own installer does, and see that the disk has room."
    )


def _installed(python: Path, lock: Path, say: Say) -> None:
    total = sum("==" in line for line in lock.read_text("utf-8").splitlines())
    say(f"installing {total} packages from {lock.parent.name}/{lock.name}, each checked against its hash")
    began = time.monotonic()
    command = [str(python), "-m", "pip", "install", "--disable-pip-version-check", "--no-input", "--retries", "2",
               "--progress-bar", "off", "--require-hashes", "--no-deps", "-r", str(lock)]  # fmt: skip
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=clean_environment()
    ) as pip:
        told = list(_shown(pip.stdout or (), total, say))
    if pip.returncode:
        raise _not_installed("".join(told))
    say(f"installed in {time.monotonic() - began:.0f} s")


def _shown(lines: Iterable[str], total: int, say: Say) -> Iterable[str]:
    fetched = 0
    for line in lines:
        if line.startswith("Collecting "):
            fetched += 1
            say(f"  {fetched} of {total}: {line.split()[1].partition('==')[0]}", passing=True)
        elif line.startswith("Installing collected"):
            say("  unpacking", passing=True)
        yield line


def _not_installed(told: str) -> SetUpFault:
    last = "\n".join(told.strip().splitlines()[-12:])
    if _WRONG_HASH.search(told):
        return SetUpFault(
            EXIT_NOT_INSTALLED,
            f"A package differs from what the lock says.\n{last}",
            "Nothing was installed. Look for a proxy or package index that changes files, or fetch the project anew.",
        )
    if _NO_NETWORK.search(told):
        return SetUpFault(
            EXIT_NOT_INSTALLED,
            "The package index could not be reached.",
            "The first start downloads packages: connect this computer and start again.\n"
            "Behind a proxy set HTTPS_PROXY; with an index of your own set PIP_INDEX_URL.",
        )
    return SetUpFault(
        EXIT_NOT_INSTALLED,
        f"pip could not install the packages.\n{last}",
        "Read the lines above; starting again begins afresh.",
    )
