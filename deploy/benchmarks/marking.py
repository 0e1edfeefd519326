"""Time and memory of marking a large sheet, beside opening and saving it with the workbook library, in one run."""

from __future__ import annotations

import io
import sys
import time
import tracemalloc
from pathlib import Path
from typing import TYPE_CHECKING

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

import openpyxl  # noqa: E402 - found by the line above

from service.problems import Cell, Code, Problem, Severity  # noqa: E402 - same
from service.sheets.layout_room_sheet import ROOM_SHEET  # noqa: E402 - same
from service.sheets.marks import marked  # noqa: E402 - same
from service.sheets.template import filled_book  # noqa: E402 - same
from service.units import Units  # noqa: E402 - same

if TYPE_CHECKING:
    from collections.abc import Callable

RUNS = 5
SIZES = ((200, 30), (5_000, 200), (5_000, 1_000))


def sheet(rows: int) -> bytes:
    """A room sheet with that many walls, ten filled columns each."""
    walls = [
        {
            "Room": "Hall", "Wall": f"W{number}", "Length": f"{number % 30 + 1}' 6 1/2\"", "Corner": "inside", "Angle": "90",
            "First stud": '15 1/4"', "Stud spacing": '16"', "Framing": "wood", "Notes": f"invented wall {number}",
        }
        for number in range(rows)
    ]  # fmt: skip
    return filled_book(ROOM_SHEET, Units.IMPERIAL, {"Walls": walls})


def faults(rows: int, count: int) -> tuple[Problem, ...]:
    """Faults spread over the rows."""
    return tuple(
        Problem(
            Code.LENGTH_NOT_UNDERSTOOD, Severity.ERROR, f"/rooms/0/walls/{number}/length", "It is not one length.",
            "Type a length such as 12' 6 1/2\".", "twelve", Cell("Walls", f"C{2 + number * rows // count}"),
        )
        for number in range(count)
    )  # fmt: skip


def best(work: Callable[[], object]) -> float:
    """Shortest of several runs, in milliseconds."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1000)
    return min(times)


def peak(work: Callable[[], object]) -> float:
    """Most memory that Python held at once, in MiB."""
    tracemalloc.start()
    work()
    held = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return held / (1 << 20)


def loaded_and_saved(data: bytes) -> None:
    """What the workbook library takes to open and save the sheet."""
    openpyxl.load_workbook(io.BytesIO(data)).save(io.BytesIO())


def main() -> None:
    """Print a line for each size."""
    print("rows   marks   marking ms   marked again ms   peak MiB   open and save ms   ratio")
    for rows, count in SIZES:
        data, found = sheet(rows), faults(rows, count)
        copy = marked(data, found)
        once, again = best(lambda: marked(data, found)), best(lambda: marked(copy, found))  # noqa: B023 - used at once
        held = peak(lambda: marked(data, found))  # noqa: B023 - same
        library = best(lambda: loaded_and_saved(data))  # noqa: B023 - same
        print(f"{rows:5,} {count:7,} {once:12.0f} {again:17.0f} {held:10.1f} {library:18.0f} {once / library:7.2f}")


if __name__ == "__main__":
    main()
