"""What an upload costs: the slowest answers, memory, reading time against the workbook library, uploads under fire.

    .run/venv/bin/python deploy/benchmarks/reading.py          (after deploy/start.py has made .run/venv)
    .run/venv/bin/python deploy/benchmarks/reading.py --only files        (or ratio, or fire)

Figures of one run on one machine, never a verdict. Every file is read in a process of its own, whose time counts
from the bytes to the answer and whose memory is the most it ever held, the program itself included. The files are
those of tests/sheets/attacks.py and of reading_worst.py. Budget: 2 s and 256 MB.
"""

from __future__ import annotations

import argparse
import io
import json
import statistics
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "deploy")]

SECONDS, MEGABYTES = 2.0, 256
SHOWN = 12
BOMBS, ROUNDS = 12, 7
ROWS = (200, 5_000)


def main() -> None:
    """Print the parts asked for."""
    parts = {"files": show_files, "ratio": show_ratio, "fire": show_fire}
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", choices=parts)
    parser.add_argument("--make", type=Path, help=argparse.SUPPRESS)
    parser.add_argument("--read", type=Path, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.make:
        make_files(options.make)
    elif options.read:
        read_file(options.read)
    else:
        for name in [options.only] if options.only else parts:
            parts[name]()
            print()


def make_files(folder: Path) -> None:
    """Write every hostile and every heavy file into a folder."""
    from benchmarks.reading_worst import worst_cases  # noqa: PLC0415 - the measuring process stays small
    from tests.sheets.attacks import ATTACKS  # noqa: PLC0415 - the same

    named = [
        *((attack.what, attack.data) for attack in ATTACKS),
        *((name, lambda data=data: data) for name, data in worst_cases()),
    ]
    for number, (name, data) in enumerate(named):
        (folder / f"{number:03}").write_bytes(data())
        (folder / f"{number:03}.name").write_text(name, "utf-8")


def read_file(path: Path) -> None:
    """Read one file as a room sheet; print what it took, as JSON."""
    import resource  # noqa: PLC0415 - not on every system

    from service.sheets.reader import read_room_sheet  # noqa: PLC0415 - a process of its own for each file

    data = path.read_bytes()
    start, worked = time.perf_counter(), time.process_time()
    reading = read_room_sheet(data)
    took, worked = time.perf_counter() - start, time.process_time() - worked
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    code = "read" if reading.document is not None else str(reading.problems[0].code)
    print(json.dumps({"seconds": took, "processor": worked, "megabytes": most, "code": code, "size": len(data)}))


def ran(*arguments: str) -> str:
    """Output of this program, run again with other arguments."""
    command = [sys.executable, __file__, *arguments]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def show_files() -> None:
    """Slowest answers and greatest memory over all files."""
    with tempfile.TemporaryDirectory() as folder:
        ran("--make", folder)
        found = {
            path.with_suffix(".name").read_text("utf-8"): json.loads(ran("--read", str(path)))
            for path in sorted(Path(folder).glob("[0-9][0-9][0-9]"))
        }
    over = [name for name, it in found.items() if it["seconds"] > SECONDS or it["megabytes"] > MEGABYTES]
    print(f"{len(found)} files; over {SECONDS} s or {MEGABYTES} MB: {', '.join(over) or 'none'}")
    print(f"median answer {statistics.median(it['seconds'] for it in found.values()) * 1000:.1f} ms")
    for measure in ("seconds", "megabytes"):
        print(f"most {measure}:")
        for name, it in sorted(found.items(), key=lambda item: -item[1][measure])[:SHOWN]:
            size = it["size"] / (1 << 20)
            print(
                f"  {it['seconds']:6.2f} s ({it['processor']:.2f} s of a processor) {it['megabytes']:5.0f} MB {size:6.2f} MiB  {name}: {it['code']}"
            )


def filled(rows: int) -> bytes:
    """A room sheet of so many walls, twelve columns, as openpyxl writes it."""
    import openpyxl  # noqa: PLC0415 - only this part needs it

    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Walls"
    sheet.append(
        ["Room", "Wall", "Length", "Corner", "Angle", "First stud", "Stud spacing", "Framing", "Notes", "a", "b", "c"]
    )
    for number in range(rows):
        room, wall = divmod(number, 4)
        length = f"{12 + wall}' {number % 12}\""
        sheet.append(
            [
                f"Room {room}",
                "ABCD"[wall],
                length,
                "inside",
                90.0,
                '8"',
                16,
                "wood",
                f"note {number}",
                number,
                number / 8,
                None,
            ]
        )
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def show_ratio() -> None:
    """Guard and reader against one load by openpyxl, in turn, so that a busy moment falls on both. [ms]."""
    import openpyxl  # noqa: PLC0415 - only this part needs it

    from service.sheets.guard import inspected  # noqa: PLC0415 - only this part needs it
    from service.sheets.reader import read_room_sheet  # noqa: PLC0415 - only this part needs it

    for rows in ROWS:
        data = filled(rows)
        works = {
            "openpyxl": lambda data=data: openpyxl.load_workbook(io.BytesIO(data)),
            "guard": lambda data=data: inspected(data),
            "guard and reader": lambda data=data: read_room_sheet(data),
        }
        times: dict[str, list[float]] = {name: [] for name in works}
        for _ in range(ROUNDS):
            for name, work in works.items():
                times[name].append(elapsed(work) * 1000)
        best = {name: min(rounds) for name, rounds in times.items()}
        print(
            f"{rows} rows: "
            + ", ".join(f"{name} {value:.0f} ms ({value / best['openpyxl']:.2f} ×)" for name, value in best.items())
        )


def elapsed(work: Any) -> float:  # noqa: ANN401 - any call
    """How long a call takes. [s]."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def show_fire() -> None:
    """A normal upload alone, and while twelve bombs and then twelve heavy sheets are being answered. [ms]."""
    from benchmarks.reading_worst import book as book_of  # noqa: PLC0415 - only this part needs it
    from benchmarks.reading_worst import grid, number, sheet, under_headings  # noqa: PLC0415 - only this part needs it
    from benchmarks.reading_worst import text as text_of  # noqa: PLC0415 - only this part needs it
    from first_quote import SAMPLE, Office, Service, free_port, office_key  # noqa: PLC0415 - only this part needs it
    from tests.sheets.attacks import ATTACKS  # noqa: PLC0415 - only this part needs it

    bombs = [attack.data() for attack in ATTACKS if attack.code in {"sheet-unpacks-too-far", "sheet-too-large"}]
    heavy = [
        book_of({"Walls": sheet(under_headings(text_of, 4_990, 19))}),
        book_of({"Walls": sheet(grid(990, 100, number))}),
    ]
    with tempfile.TemporaryDirectory() as folder:
        python, data = Path(sys.executable), Path(folder) / "data"
        key = office_key(python, data)
        with Service(python, free_port(), data, Path(folder) / "log") as service:
            service.wait_until_ready()
            office = Office(service.address, key)
            normal = SAMPLE.read_bytes()
            answered(office, normal)
            alone = [answered(office, normal)[1] for _ in range(ROUNDS)]
            print(f"a normal upload alone: median {statistics.median(alone):.0f} ms, worst {max(alone):.0f} ms")
            for name, files in (("12 bombs", bombs), ("12 sheets of 99,000 cells", heavy)):
                under_fire(office, name, [files[n % len(files)] for n in range(BOMBS)], normal)


def under_fire(office: Any, name: str, files: list[bytes], normal: bytes) -> None:  # noqa: ANN401 - the office program of another script
    """Post twelve files at once, again and again for as long as normal uploads are being measured."""
    with ThreadPoolExecutor(BOMBS) as pool:
        fired = [pool.submit(answered, office, data) for data in files]
        time.sleep(0.05)
        times = [answered(office, normal) for _ in range(ROUNDS)]
        bombs = [future.result() for future in fired]
    statuses = sorted({status for status, _ in bombs})
    spent = [took for _, took in times]
    print(
        f"a normal upload while {name} are answered: first {spent[0]:.0f} ms, median {statistics.median(spent):.0f} ms, "
        f"worst {max(spent):.0f} ms, status {sorted({status for status, _ in times})}; "
        f"theirs: {statuses}, worst {max(took for _, took in bombs):.0f} ms"
    )


def answered(office: Any, data: bytes) -> tuple[int, float]:  # noqa: ANN401 - the office program of another script
    """Status and time of a check of a sheet. [ms]."""
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    start = time.perf_counter()
    status, _ = office._answer("/v1/sheet-checks", data, kind)  # noqa: SLF001 - a script of the same folder
    return status, (time.perf_counter() - start) * 1000


if __name__ == "__main__":
    main()
