"""How near to the least cost the cutting plan comes, how fast, and against what. Figures, never a verdict on a build.

    .run/venv/bin/python deploy/benchmarks/cutting.py [--rows room,house] [--seeds 3] [--data FOLDER] [--quick]

Every row plans invented jobs from fixed seeds, in one process and one thread; seconds are processor time. Beside each
goal stand the figure and whether it is met; under them the same jobs by the trade's rules, and a few of them by general
solvers on a direct model. `--data` names a folder of open cutting-stock instances, JSON lines of `name`, `set`,
`capacity`, `items` as [length, demand] and `opt`, or `lb` and `ub`, where they are known; without it those rows are left out.
"""

from __future__ import annotations

import argparse
import math
import os
import statistics
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.cutting_contest import contest_lines
from benchmarks.cutting_goals import median_seconds, savings
from benchmarks.cutting_pieces import open_instances
from benchmarks.cutting_rows import JOINT_ROWS, PIECE_ROWS, Row, open_rows
from benchmarks.cutting_solvers import by_cp_sat, by_highs, has_cp_sat

if TYPE_CHECKING:
    from collections.abc import Sequence

    from benchmarks.cutting_contest import Solver
    from benchmarks.cutting_goals import Trial

OWN_ROWS = (*PIECE_ROWS, *JOINT_ROWS)
MOST_OF_A_SET, MOST_CONTESTS = 60, 3
QUICK_ROWS = frozenset({"open", "room", "joints-1"})
CONTESTS, QUICK_CONTESTS = frozenset({"room", "house", "joints-1"}), frozenset({"room"})
GROWTH = ("joints-8", 8), ("joints-60", 60)


@dataclass(frozen=True, slots=True)
class Scope:
    """How much to run.

    Attributes:
        names: of the rows.
        jobs: of each row; 0: its own number.
        contests: rows of which some jobs go to general solvers.
        seconds: of each solver's run.
    """

    names: frozenset[str]
    jobs: int
    contests: frozenset[str] = CONTESTS
    seconds: float = 8.0

    @classmethod
    def of(cls, options: argparse.Namespace) -> Scope:
        """What the command line asks for."""
        names = frozenset(filter(None, options.rows.split(",")))
        if options.quick:
            return cls(names or QUICK_ROWS, options.seeds or 1, QUICK_CONTESTS, 0.5)
        return cls(names or frozenset({"open", *(row.name for row in OWN_ROWS)}), options.seeds)


def main(words: Sequence[str] | None = None) -> None:
    """Print the table."""
    options = options_of(words)
    scope = Scope.of(options)
    print(f"Python {sys.version.split()[0]}, {os.cpu_count()} cores; processor seconds of one thread")
    print(
        ""
        if has_cp_sat()
        else "OR-Tools is not installed here, so CP-SAT is left out; no lock of the project holds it\n"
    )
    opened = open_rows(open_instances(options.data, scope.jobs or MOST_OF_A_SET)) if options.data else ()
    shown = {row.name: shown_row(row, scope) for row in (*opened, *OWN_ROWS) if row.name in scope.names}
    print(growth_line(shown))


def options_of(words: Sequence[str] | None) -> argparse.Namespace:
    """The command line."""
    names = ("open", *(row.name for row in OWN_ROWS))
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--rows", default="", help=f"names, by commas: {', '.join(names)}")
    parser.add_argument(
        "--seeds", type=int, default=0, help="jobs of each row, instances of each set; default: its own"
    )
    parser.add_argument("--data", type=Path, help="folder of open instances")
    parser.add_argument("--quick", action="store_true", help="one small job of a few rows")
    options = parser.parse_args(words)
    if unknown := set(filter(None, options.rows.split(","))) - set(names):
        parser.error(f"no such row: {', '.join(sorted(unknown))}")
    return options


def shown_row(row: Row, scope: Scope) -> list[Trial]:
    """Plan the jobs of a row and print it."""
    jobs = row.seeds if row.name == "open" else scope.jobs or row.seeds
    trials = [row.trial(seed) for seed in range(jobs)]
    print(f"{row.title} ({jobs} jobs, median {statistics.median(t.size for t in trials):g} pieces or runs)")
    for line in (*(goal.line(trials) for goal in row.goals), time_line(trials), *rule_lines(trials)):
        print(line, flush=True)
    if row.entries and row.name in scope.contests:
        entries = [entry for seed in range(min(MOST_CONTESTS, jobs)) for entry in row.entries(seed)]
        print(*contest_lines(entries, solvers(), scope.seconds), sep="\n")
    print(flush=True)
    return trials


def solvers() -> dict[str, Solver]:
    """General solvers at hand, by name."""
    found: dict[str, Solver] = {"direct model, HiGHS": by_highs}
    return found | {"direct model, CP-SAT": by_cp_sat} if has_cp_sat() else found


def time_line(trials: Sequence[Trial]) -> str:
    """Spread of time and gap."""
    times, gaps = [trial.seconds for trial in trials], [trial.gap for trial in trials]
    return (
        f"  seconds: median {statistics.median(times):.3f}, mean {statistics.fmean(times):.3f}, most {max(times):.3f}; "
        f"gap: mean {statistics.fmean(gaps):.4%}, most {max(gaps):.4%}"
    )


def rule_lines(trials: Sequence[Trial]) -> list[str]:
    """What the trade's rules cost more, and how much sooner they are there."""
    ratio = statistics.median(trial.seconds / max(trial.rule_seconds, 1e-6) for trial in trials)
    if not any(trial.cut_cost for trial in trials):
        return [
            spread_line("first fit decreasing", savings(trials, "rule_cost")) + f"; takes {ratio:.0f} times as long"
        ]
    return [
        spread_line("last stud + first fit", savings(trials, "rule_cost")) + f"; takes {ratio:.0f} times as long",
        spread_line("last stud + least boards", savings(trials, "cut_cost")),
    ]


def spread_line(name: str, saved: Sequence[float]) -> str:
    """How much less a plan costs than by another way."""
    return f"  against {name}: {statistics.fmean(saved):.2%} less ({min(saved):.2%} … {max(saved):.2%})"


def growth_line(shown: dict[str, list[Trial]]) -> str:
    """Exponent p where time grows as rooms^p from 8 to 60 rooms; needs both rows."""
    (small, few), (large, many) = GROWTH
    if small not in shown or large not in shown:
        return f"growth of time: needs the rows {small} and {large}"
    exponent = math.log(median_seconds(shown[large]) / median_seconds(shown[small])) / math.log(many / few)
    return f"growth of time from {few} to {many} different rooms: rooms^{exponent:.2f}"


if __name__ == "__main__":
    main()
