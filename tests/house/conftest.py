"""What the house tests look at: the project's own files, as git would keep them."""

from __future__ import annotations

import ast
import shutil
import subprocess
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
_LEFT_OUT = {".git", ".run", "__pycache__", ".mypy_cache", ".ruff_cache", ".pytest_cache", ".hypothesis", "htmlcov"}


@dataclass(frozen=True)
class ProjectFile:
    """One file of the project: its path from the project's root, and what stands in it."""

    path: Path

    def __str__(self) -> str:
        return self.path.as_posix()

    @cached_property
    def text(self) -> str | None:
        """Its text; None for pictures, workbooks, fonts and the like."""
        try:
            return (ROOT / self.path).read_text("utf-8")
        except UnicodeDecodeError:
            return None

    @cached_property
    def tree(self) -> ast.Module:
        """Its syntax tree, for a Python file."""
        return ast.parse(self.text or "", filename=str(self.path))

    def is_in(self, *folders: str) -> bool:
        """True when it stands in or under one of the folders (or is one of the files)."""
        return any(self.path == Path(folder) or Path(folder) in self.path.parents for folder in folders)


@pytest.fixture(scope="session")
def root() -> Path:
    """Folder of the project."""
    return ROOT


@pytest.fixture(scope="session")
def project_files() -> tuple[ProjectFile, ...]:
    """Every file that is or would be committed."""
    return tuple(ProjectFile(path) for path in sorted(_kept_by_git() or _walked()))


@pytest.fixture(scope="session")
def python_files(project_files) -> tuple[ProjectFile, ...]:
    """Every Python file."""
    return tuple(file for file in project_files if file.path.suffix == ".py")


@pytest.fixture(scope="session")
def shipped_python(python_files) -> tuple[ProjectFile, ...]:
    """Python files of the program itself."""
    return tuple(file for file in python_files if file.is_in("service", "schemas"))


def _kept_by_git() -> set[Path]:
    git = shutil.which("git")
    if not git or not (ROOT / ".git").exists():
        return set()
    listed = subprocess.run(  # noqa: S603 - git, found on the path, with fixed arguments
        [git, "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    return {Path(name) for name in listed.stdout.split("\0") if name and (ROOT / name).is_file()}


def _walked() -> set[Path]:
    found = (path.relative_to(ROOT) for path in ROOT.rglob("*") if path.is_file())
    return {path for path in found if not _LEFT_OUT & set(path.parts) and path.suffix != ".pyc"}
