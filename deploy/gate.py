"""The gate: every check a change must pass, run in an environment of its own, with the time of each step.

Standard library only. Downloads packages once; while the lock stays the same it needs no network.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import time
import xml.etree.ElementTree as ET
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from own_venv import SetUpFault, clean_environment, python_of

if TYPE_CHECKING:
    from collections.abc import Sequence

ROOT = Path(__file__).resolve().parent.parent
RUN = ROOT / ".run"
REPORT = RUN / "gate" / "tests.xml"
EXIT_FAILED = 1
EXIT_CODES = """exit codes:
  0  every step passed
  1  a step failed
  2  wrong option
  3  Python is older than 3.11
  4  no venv module, or the environment could not be made
  5  the packages could not be installed"""

# The last line a test run prints: "== 12 passed, 1 warning in 3.21s ==".
_SUMMARY = re.compile(r"^=+ .*\bin \d[\d.]*s\b.* =+$")


@dataclass(frozen=True, slots=True)
class Step:
    """One check: its name and what the environment's Python is given to run."""

    name: str
    arguments: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a step went, and how many seconds it took."""

    name: str
    passed: bool
    seconds: float
    last_summary: str = ""


_FLOORS = "from importlinter.cli import lint_imports_command; lint_imports_command()"

# One worker a core, a test file at a time; more than four would wait for each other's disk.
_WORKERS = ("-n", str(min(os.cpu_count() or 1, 4)), "--dist", "loadfile")

STEPS = (
    Step("style", ("-m", "ruff", "check", ".")),
    Step("format", ("-m", "ruff", "format", "--check", ".")),
    Step("types", ("-m", "mypy")),
    Step("floors", ("-c", _FLOORS, "--no-cache", "--no-logo")),
    Step("tests", ("-m", "pytest", *_WORKERS, "--cov", "--cov-report=", f"--junitxml={REPORT}")),
    Step("coverage", ("-m", "coverage", "report", "--skip-covered")),
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Every step, then the tables; see `--help`. Returns the exit code."""
    options = _options(arguments)
    try:
        python = python_of(RUN / "test-venv", ROOT / "deploy" / "requirements-test.txt", say)
    except SetUpFault as fault:
        print(f"\n{fault}\n{fault.advice}", file=sys.stderr)
        return fault.status
    REPORT.parent.mkdir(parents=True, exist_ok=True)
    REPORT.unlink(missing_ok=True)
    outcomes = [_run(step, python) for step in STEPS if options.only in {None, step.name}]
    _show(outcomes)
    return 0 if all(outcome.passed for outcome in outcomes) else EXIT_FAILED


def say(text: str, *, passing: bool = False) -> None:
    """Show one line; a passing one is shown on a terminal only."""
    if not passing or sys.stdout.isatty():
        print(text, flush=True)


def _options(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="deploy/test.py",
        description="Run every check a change must pass.",
        epilog=EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--only", choices=[step.name for step in STEPS], help="run this one step")
    return parser.parse_args(arguments)


def _run(step: Step, python: Path) -> Outcome:
    print(f"\n-- {step.name}", flush=True)
    began = time.monotonic()
    summary = ""
    with subprocess.Popen(
        [str(python), *step.arguments], cwd=ROOT, env=clean_environment(),
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, encoding="utf-8", errors="replace",
    ) as process:  # fmt: skip
        for line in process.stdout or ():
            print(line, end="", flush=True)
            summary = line.strip() if _SUMMARY.match(line.strip()) else summary
    return Outcome(step.name, process.returncode == 0, time.monotonic() - began, summary)


def _show(outcomes: Sequence[Outcome]) -> None:
    for kind, counts in sorted(_tests_by_kind().items()):
        told = ", ".join(f"{count} {result}" for result, count in sorted(counts.items()))
        print(f"tests/{kind:<12} {counts.total():>5}   {told}")
    print()
    for outcome in outcomes:
        print(f"{outcome.name:<10} {'passed' if outcome.passed else 'FAILED'} {outcome.seconds:8.1f} s")
    for outcome in outcomes:
        if outcome.last_summary:
            print(outcome.last_summary)


def _tests_by_kind() -> dict[str, Counter[str]]:
    """Counts of passed, failed and skipped tests by the folder under tests/."""
    kinds: dict[str, Counter[str]] = {}
    if not REPORT.exists():
        return kinds
    for case in ET.parse(REPORT).iter("testcase"):  # noqa: S314 - written a moment ago by our own test run
        place = case.get("classname", "").split(".")
        results = {child.tag for child in case} & {"failure", "error", "skipped"}
        kinds.setdefault(place[1] if len(place) > 1 else "?", Counter())[min(results, default="passed")] += 1
    return kinds
