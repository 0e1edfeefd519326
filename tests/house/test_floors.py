"""What the import contracts in pyproject.toml cannot say: whole-library rules, and what 'pure' means."""

from __future__ import annotations

import ast
import sys
from importlib.metadata import packages_distributions

PURE = (
    "service/estimate", "service/survey.py", "service/firm.py", "service/units.py", "service/money.py",
    "service/problems.py",
)  # fmt: skip
OF_THE_WORLD = {
    "asyncio", "glob", "io", "locale", "logging", "multiprocessing", "os", "pathlib", "random", "secrets", "shutil",
    "socket", "sqlite3", "subprocess", "sys", "tempfile", "threading", "time", "urllib", "warnings",
}  # fmt: skip
ENGINE, ENGINE_LIBRARIES = "service/estimate/cuts/engine", {"numpy", "highspy"}
CLOCKS = {"now", "today", "utcnow"}


def imported(file) -> set[str]:
    """Top-level names a file imports, wherever the import stands."""
    names: set[str] = set()
    for node in ast.walk(file.tree):
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.partition(".")[0])
    return names


def test_pure_part_is_standard_library_only(shipped_python):
    """The estimate and its records import the standard library and each other; the cutting engine counts with two more."""
    allowed = set(sys.stdlib_module_names) | {"service"}
    foreign = {
        str(file): imported(file) - allowed - (ENGINE_LIBRARIES if file.is_in(ENGINE) else set())
        for file in shipped_python
        if file.is_in(*PURE)
    }
    assert len(foreign) > 10
    assert {file: names for file, names in foreign.items() if names} == {}


def test_pure_part_does_not_look_at_the_world(shipped_python):
    """The estimate reads no file, clock, log, environment or chance: the same in gives the same out."""
    pure = [file for file in shipped_python if file.is_in(*PURE)]
    looks = {str(file): imported(file) & OF_THE_WORLD for file in pure}
    assert {file: names for file, names in looks.items() if names} == {}
    clocks = [
        f"{file}:{node.lineno}"
        for file in pure
        for node in ast.walk(file.tree)
        if (isinstance(node, ast.Attribute) and node.attr in CLOCKS)
        or (isinstance(node, ast.Name) and node.id in {"open", "print", "input"})
    ]
    assert clocks == []


def test_every_library_used_is_asked_for(shipped_python, root):
    """What the program imports is named in deploy/requirements.in, and what is named there is used or needed by name."""
    asked = named_in(root / "deploy" / "requirements.in")
    needed = libraries(shipped_python)
    by_name = {"tzdata", "defusedxml"}  # zoneinfo reads the one, openpyxl takes the other when it is there
    assert needed - asked == set()
    assert asked - needed - by_name == set()


def test_every_library_of_the_tests_is_asked_for(python_files, root):
    """What the tests import is named in one of the two requirements files, not just brought along by another."""
    asked = named_in(root / "deploy" / "requirements.in") | named_in(root / "deploy" / "requirements-test.in")
    assert libraries([file for file in python_files if file.is_in("tests")]) - asked == set()


def named_in(requirements):
    """Packages that a requirements file asks for."""
    return {line.partition("==")[0] for line in requirements.read_text("utf-8").splitlines() if line[:1].isalpha()}


def libraries(files):
    """Packages, as an index names them, that the files import."""
    shipped_by = packages_distributions()
    used = set().union(*(imported(file) for file in files)) - set(sys.stdlib_module_names)
    return {shipped_by[name][0].lower().replace("_", "-") for name in used if name in shipped_by}
