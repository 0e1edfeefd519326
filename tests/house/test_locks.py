"""The locks install the same packages everywhere and name no place to take them from."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

LOCKS = ("requirements.txt", "requirements-test.txt")
PINNED = re.compile(r"^(?P<name>[a-z0-9][a-z0-9-]*)(\[[a-z0-9,-]+\])?==(?P<version>[0-9][^ ;\\]*)( ; [^\\]+)? \\$")
HASH = re.compile(r"^    --hash=sha256:[0-9a-f]{64}( \\)?$")


def versions(text: str) -> dict[str, str]:
    """Package name to pinned version."""
    return {found["name"]: found["version"] for line in text.splitlines() if (found := PINNED.match(line))}


@pytest.mark.parametrize("name", LOCKS)
def test_lock_names_no_place(root, name):
    """A lock holds no address, path or option, only pinned packages and their hashes."""
    text = (root / "deploy" / name).read_text("utf-8")
    assert "://" not in text
    assert [line for line in text.splitlines() if not PINNED.match(line) and not HASH.match(line)] == []


@pytest.mark.parametrize("name", LOCKS)
def test_every_package_has_a_hash(root, name):
    """Each pinned package is followed by at least one hash."""
    lines = (root / "deploy" / name).read_text("utf-8").splitlines()
    followed = [HASH.match(after) is not None for line, after in pairwise(lines) if PINNED.match(line)]
    assert len(followed) > 20
    assert all(followed)


def test_tests_run_on_what_is_shipped(root):
    """The gate's lock holds every package of the service's lock at the same version."""
    service, gate = (versions((root / "deploy" / name).read_text("utf-8")) for name in LOCKS)
    assert service.items() <= gate.items()


@pytest.mark.parametrize("name", ["requirements.in", "requirements-test.in"])
def test_everything_asked_for_is_locked(root, name):
    """Each package a requirements file asks for stands in its lock."""
    asked = (root / "deploy" / name).read_text("utf-8").splitlines()
    locked = versions((root / "deploy" / name).with_suffix(".txt").read_text("utf-8"))
    assert {line.partition("==")[0] for line in asked if line[:1].isalpha()} <= locked.keys()
    assert {tuple(line.split("==")) for line in asked if "==" in line} <= locked.items()
