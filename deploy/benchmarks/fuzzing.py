"""Coverage-guided fuzzing of what reads uploads: the guard, guard and reader, the grammar of lengths. Needs atheris.

    python3 -m venv .run/fuzzing && .run/fuzzing/bin/pip install -r deploy/requirements.txt atheris
    .run/fuzzing/bin/python deploy/benchmarks/fuzzing.py --minutes 10

atheris is in no lock: it is only for this. Seeds are the samples and the small ones among tests/sheets/attacks.py.
A find is any exception (a refusal is none), an answer that takes more than 5 s, or more than 512 MB; each is kept
once, by the place where it happened, under --keep. Prints executions and finds of each target.
"""

from __future__ import annotations

import argparse
import io
import json
import random
import re
import resource
import subprocess
import sys
import tempfile
import time
import traceback
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))
MOST_SECONDS, MOST_MEGABYTES = 5.0, 512
SHARES = {"guard": 0.3, "book": 0.5, "lengths": 0.2}
LONGEST = {"guard": 60_000, "book": 120_000, "lengths": 80}
LARGEST_SEED = 40_000
LENGTHS = (
    "12' 6 1/2\"", "12'-6-1/2\"", "12 ft 6.5 in", '150.5"', "150 1/2", "12.54'", "½", "6½", "12′ 6½″", "3.81 m", "381 cm",
    "3 810 mm", "12,5", "1,250", "1.250,5", "-3", "−3", "6 × 4", "1/0", "12'' 6", "5'6", "1e400", "٣", "12 6", "1⁄2", "",
)  # fmt: skip


def main() -> None:
    """Fuzz each target for its share of the time; or one target, in the process made for it."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--keep", type=Path, help="folder that finds are kept in")
    parser.add_argument("--target", choices=SHARES, help=argparse.SUPPRESS)
    parser.add_argument("--folder", type=Path, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.target:
        fuzz(options.target, options.folder, options.minutes * 60)
        return
    with tempfile.TemporaryDirectory() as folder:
        for target, share in SHARES.items():
            report(target, options.keep or Path(folder) / "finds", share * options.minutes)


def report(target: str, keep: Path, minutes: float) -> None:
    """Fuzz one target in a process of its own and print what came of it."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "seeds").mkdir()
        for number, seed in enumerate(seeds(target)):
            (Path(folder) / "seeds" / f"{number:04}").write_bytes(seed)
        command = [sys.executable, __file__, "--target", target, "--folder", folder, "--minutes", f"{minutes}"]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        runs = re.search(r"Done (\d+) runs in (\d+) second", done.stderr)
        covered = re.findall(r"cov: (\d+)", done.stderr)
        finds = sorted((Path(folder) / "finds").glob("*.txt"))
        kept_in(keep, finds)
    print(
        f"{target}: {runs[1] if runs else '?'} executions in {runs[2] if runs else '?'} s, {covered[-1] if covered else '?'} places covered, {len(finds)} finds"
    )
    for find in finds:
        print(f"  {find.stem}")
    if not runs:
        print(done.stderr[-2_000:])


def kept_in(keep: Path, finds: list[Path]) -> None:
    """Copy finds to where they are kept."""
    if finds:
        keep.mkdir(parents=True, exist_ok=True)
    for find in finds:
        for path in (find, find.with_suffix(".bin")):
            (keep / path.name).write_bytes(path.read_bytes())


def seeds(target: str) -> list[bytes]:
    """Where a target starts from."""
    if target == "lengths":
        return [text.encode() for text in LENGTHS]
    from tests.sheets.attacks import ATTACKS  # noqa: PLC0415 - not needed for lengths
    from tests.sheets.unusual_files import PLAIN, in_utf_16, streamed, with_prefix, with_zip64_end  # noqa: PLC0415 - the same

    books = [PLAIN, streamed(PLAIN), with_zip64_end(PLAIN), in_utf_16(PLAIN), with_prefix(PLAIN)]
    books += [path.read_bytes() for path in sorted((ROOT / "sample_sheets").glob("*.xlsx"))]
    if target == "guard":
        books += [data for data in (attack.data() for attack in ATTACKS) if len(data) <= LARGEST_SEED]
    return [stored(book) if target == "book" else book for book in books]


def stored(data: bytes) -> bytes:
    """The workbook without compression, so that a change of a byte is a change of its text."""
    return rezipped(parts_of(data))


def parts_of(data: bytes) -> list[tuple[str, bytes]]:
    """Names and contents of an archive's entries."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return [(entry.filename, archive.read(entry)) for entry in archive.infolist()]


def rezipped(parts: list[tuple[str, bytes]]) -> bytes:
    """A sound archive of them."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as archive:
        for name, content in parts:
            archive.writestr(zipfile.ZipInfo(name), content)
    return stream.getvalue()


def fuzz(target: str, folder: Path, seconds: float) -> None:
    """Run one target under the fuzzer until the time is over; finds are written down and don't stop it."""
    import atheris  # type: ignore[import-untyped]  # noqa: PLC0415 - only here, and in no lock

    with atheris.instrument_imports(include=["service", "schemas"]):
        work = {"guard": guard_work, "book": book_work, "lengths": lengths_work}[target]()
    watch = Watch(work, folder / "finds")

    def mutated(data: bytes, most: int, seed: int) -> bytes:
        return changed_part(data, most, seed, atheris.Mutate)

    command = [
        sys.argv[0],
        str(folder / "seeds"),
        f"-max_total_time={int(seconds)}",
        f"-max_len={LONGEST[target]}",
        "-rss_limit_mb=4096",
        "-timeout=60",
        "-print_final_stats=1",
    ]
    more: dict[str, Any] = {"custom_mutator": mutated} if target == "book" else {}
    atheris.Setup(command, watch.once, **more)
    atheris.Fuzz()


def changed_part(data: bytes, most: int, seed: int, mutate: Callable[[bytes, int], bytes]) -> bytes:
    """The workbook with one of its parts changed, zipped anew, so that the change gets past the archive's checks."""
    dice = random.Random(seed)  # noqa: S311 - dice for a test
    try:
        parts = parts_of(data)
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError):
        return mutate(data, most)
    if not parts:
        return mutate(data, most)
    place = dice.randrange(len(parts))
    name, content = parts[place]
    parts[place] = name, altered(content, dice, mutate)
    return rezipped(parts)[:most]


def altered(content: bytes, dice: random.Random, mutate: Callable[[bytes, int], bytes]) -> bytes:
    """A part with a few bytes changed, or one of its attributes or texts; the fuzzer's own changes among them."""
    if dice.random() < 0.5:  # noqa: PLR2004 - one of two ways
        return mutate(content, len(content) + 64)
    found = list(re.finditer(rb'"[^"<>]*"|>[^<>]+<|<[^<>]+>', content))
    if not found:
        return mutate(content, len(content) + 64)
    match = dice.choice(found)
    inner = content[match.start() + 1 : match.end() - 1]
    kinds = (
        lambda: mutate(inner, len(inner) + 16),
        lambda: dice.choice(
            [
                b"",
                b"0",
                b"-1",
                b"1e308",
                b"9" * 30,
                b"NaN",
                b"\xc2\xa0",
                b"_x000D_",
                b"XFD1048576",
                b"A1:XFD9",
                b"&#0;",
                b"1/2",
            ]
        ),
        lambda: inner * 2,
        lambda: bytes(reversed(inner)),
    )
    return content[: match.start() + 1] + dice.choice(kinds)() + content[match.end() - 1 :]


def guard_work() -> Callable[[bytes], object]:
    """The guard alone."""
    from service.sheets.guard import inspected  # noqa: PLC0415 - imported under the instrument

    return inspected


def book_work() -> Callable[[bytes], object]:
    """Guard, cells and reader, without the net under them that turns any exception into a refusal."""
    from service.sheets import guard, opening, reader  # noqa: PLC0415 - imported under the instrument
    from service.sheets.layout_price_list import PRICE_LIST  # noqa: PLC0415 - the same
    from service.sheets.layout_room_sheet import ROOM_SHEET  # noqa: PLC0415 - the same

    def work(data: bytes) -> None:
        inspection = guard.inspected(data)
        if not inspection.problems:
            book = opening._read(inspection)  # noqa: SLF001 - below the net
            layout = PRICE_LIST if "Firm" in inspection.book.tabs else ROOM_SHEET
            reader._document(book, layout)  # noqa: SLF001 - below the net

    return work


def lengths_work() -> Callable[[bytes], object]:
    """The grammar of lengths; what is accepted prints back to the same length."""
    from service.units import LengthFault, Units, parsed_length  # noqa: PLC0415 - imported under the instrument

    def work(data: bytes) -> None:
        text = data.decode("utf-8", "replace")
        for bare in Units:
            try:
                length = parsed_length(text, bare)
            except LengthFault:
                continue
            if length.inches < 0:
                raise AssertionError(f"negative: {text!r}")

    return work


class Watch:
    """Runs the work, notes what must not happen, and goes on."""

    def __init__(self, work: Callable[[bytes], object], finds: Path) -> None:
        """Memory counts from here."""
        self.work, self.finds = work, finds
        self.limit = peak() + MOST_MEGABYTES
        finds.mkdir(parents=True, exist_ok=True)

    def once(self, data: bytes) -> None:
        """One execution."""
        start = time.perf_counter()
        try:
            self.work(data)
        except Exception as fault:  # noqa: BLE001 - any is a find
            last = traceback.extract_tb(fault.__traceback__)[-1]
            self.keep(
                f"{type(fault).__name__} in {Path(last.filename).name} {last.lineno}", data, traceback.format_exc()
            )
        took = time.perf_counter() - start
        if took > MOST_SECONDS:
            self.keep(f"slow {took:.0f} s", data, "")
        if peak() > self.limit:
            self.keep(f"memory over {MOST_MEGABYTES} MB", data, "")
            self.limit = peak() + MOST_MEGABYTES

    def keep(self, name: str, data: bytes, words: str) -> None:
        """Write a find down, once."""
        path = self.finds / f"{name}.txt"
        if not path.exists():
            path.write_text(words + json.dumps(len(data)), "utf-8")
            path.with_suffix(".bin").write_bytes(data)


def peak() -> float:
    """Most memory held so far. [MB]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


if __name__ == "__main__":
    main()
