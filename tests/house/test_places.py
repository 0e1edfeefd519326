"""The project says nothing about the computers it was made on."""

from __future__ import annotations

import re

SLASH, DOT = "/", "."
HOMES = [f"{SLASH}{top}{SLASH}" for top in ("home", "root", "Users", "work", "tmp", "private", "mnt")]
HOSTS = [
    DOT.join(parts)
    for parts in (("pypi", "org"), ("pythonhosted", "org"), ("npmjs", "org"), ("deb", "debian", "org"), ("conda", "io"))
]
PLACE = re.compile("|".join(rf"(?<![\w.\-/])\.?{re.escape(place)}[\w.]" for place in HOMES))
HOST = re.compile("|".join(map(re.escape, HOSTS)))


def lines_with(pattern: re.Pattern[str], files) -> list[str]:
    """Places where a pattern stands in a text file."""
    return [
        f"{file}:{number}: {line.strip()[:80]}"
        for file in files
        if file.text is not None
        for number, line in enumerate(file.text.splitlines(), 1)
        if pattern.search(line)
    ]


def test_no_path_of_a_machine(project_files):
    """No file names a folder of somebody's computer."""
    assert lines_with(PLACE, project_files) == []


def test_no_registry_host(project_files):
    """No file names a package registry or a mirror of one: each computer has its own settings for that."""
    assert lines_with(HOST, project_files) == []


def test_the_patterns_find_what_they_are_for():
    """A path and a host of the kinds looked for are found, an address of our own API is not."""
    assert PLACE.search(f"see {SLASH}home{SLASH}ann/plan")
    assert HOST.search("https://files." + HOSTS[1] + "/x")
    assert not PLACE.search(f"GET http://127.0.0.1:8080{SLASH}v1{SLASH}quotes")
