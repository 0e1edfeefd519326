"""How long each stage takes, how that grows with the job, and how long an upload takes. Figures, never a verdict.

    .run/venv/bin/python deploy/benchmarks/stages.py     (after deploy/start.py has made .run/venv)

Every figure comes from one run on one machine; ratios travel better than milliseconds. The jobs are made
up here: rooms of four and of six walls in turn, every wall with a built-up crown and a base.
"""

from __future__ import annotations

import math
import os
import statistics
import sys
import tempfile
import time
from collections import defaultdict
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from first_quote import SAMPLE, Office, Service, free_port, office_key
from schemas.job import survey_from
from schemas.price_list import price_list_from
from service.documents import field_sheet_pdf, quote_pdf
from service.estimate import pipeline
from service.estimate.quote.model import Heading, Status
from service.firm import Position
from service.sheets.reader import read_price_list, read_room_sheet
from service.trade.book import shipped_book

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from service.estimate.quote.model import Quote
    from service.firm import PriceList
    from service.survey import Survey

ROOM_COUNTS = (1, 10, 60)
REPEATS = {1: 9, 10: 5, 60: 3}
UPLOADS = 15
STAGES = ("shaped_rooms", "taken_off", "cut_plan", "bought", "worked", "priced", "assembled")
HEADING = Heading("bench", None, 1, Status.DRAFT, datetime(2026, 3, 2, 15, 0, tzinfo=UTC), date(2026, 4, 1))


def main() -> None:
    """Print every table."""
    price_list = sample_price_list()
    surveys = {count: invented_survey(count, price_list) for count in ROOM_COUNTS}
    print(f"Python {sys.version.split()[0]}, {os.cpu_count()} cores; milliseconds, the best of several runs\n")
    show_stages({count: stage_times(survey, price_list, REPEATS[count]) for count, survey in surveys.items()})
    show_parts(price_list)
    show_uploads()


def sample_price_list() -> PriceList:
    """The price list that ships as a sample."""
    reading = read_price_list((SAMPLE.parent / "price_list.xlsx").read_bytes())
    price_list, problems = price_list_from(reading.document, name="standard", version=1)
    if price_list is None:
        raise SystemExit("\n".join(problem.line() for problem in problems))
    return price_list


def invented_survey(rooms: int, price_list: PriceList) -> Survey:
    """A job of so many rooms, no two of one size."""
    document = {
        "layout": 1,
        "job": {"job_name": f"{rooms} rooms", "customer": "Nobody", "site_address": "Nowhere", "measured_by": "Nobody",
                "measured_on": "2026-03-02", "units": "imperial", "year_built": "1996"},
        "rooms": [room(number) for number in range(1, rooms + 1)],
        "trim": [{"room": "all", "walls": "all", "assembly": name} for name in assemblies(price_list)],
    }  # fmt: skip
    survey, problems = survey_from(document)
    if survey is None:
        raise SystemExit("\n".join(problem.line() for problem in problems))
    return survey


def room(number: int) -> dict[str, Any]:
    """A rectangle when the number is odd, else an L with one outside corner; corners at each wall's right end."""
    long, wide = 150 + 7 * (number % 17), 120 + 5 * (number % 13)
    sides = (long, wide, long, wide) if number % 2 else (long, wide, long / 2, wide / 2, long / 2, wide / 2 + wide)
    corners = ["inside"] * len(sides)
    if len(sides) > 4:  # noqa: PLR2004 - more than a rectangle
        corners[2] = "outside"
    walls = [
        {
            "name": chr(65 + place),
            "length": f'{length}"',
            "corner": corner,
            "studs": {"first": '15 1/4"', "spacing": '16"'},
        }
        for place, (length, corner) in enumerate(zip(sides, corners, strict=True))
    ]
    joists = {"parallel_to": "A", "first": '15"', "spacing": '16"'}
    return {"name": f"Room {number}", "ceiling_height": "8'", "joists": joists, "walls": walls}


def assemblies(price_list: PriceList) -> list[str]:
    """The list's first build-up of ceiling, wall and crown, and its first base."""
    held = {name: {layer.position for layer in assembly.layers} for name, assembly in price_list.assemblies.items()}
    crown = next(name for name, held_by in held.items() if {Position.CEILING, Position.WALL, Position.CROWN} <= held_by)
    return [crown, next(name for name, held_by in held.items() if Position.BASE in held_by)]


def stage_times(survey: Survey, price_list: PriceList, repeats: int) -> dict[str, float]:
    """Best time of each stage, and of the whole. [ms]."""
    times: dict[str, list[float]] = defaultdict(list)
    for _ in range(repeats):
        with _Watched(times):
            times["whole"].append(elapsed_ms(lambda: estimate(survey, price_list)))
    return {name: min(values) for name, values in times.items()}


def estimate(survey: Survey, price_list: PriceList) -> Quote:
    """The quote; ends the program with every fault when there is none."""
    quote, problems = pipeline.estimated(survey, price_list, shipped_book(), HEADING)
    if quote is None:
        raise SystemExit("\n".join(problem.line() for problem in problems))
    return quote


class _Watched:
    """While open, each stage that the pipeline calls notes its time."""

    def __init__(self, times: dict[str, list[float]]) -> None:
        self.times = times
        self.stages = {name: getattr(pipeline, name) for name in STAGES}

    def __enter__(self) -> None:
        for name, stage in self.stages.items():
            setattr(pipeline, name, self._timed(name, stage))

    def __exit__(self, *_: object) -> None:
        for name, stage in self.stages.items():
            setattr(pipeline, name, stage)

    def _timed(self, name: str, stage: Callable[..., Any]) -> Callable[..., Any]:
        def timed(*arguments: Any) -> Any:  # noqa: ANN401 - stands in for any stage
            began = time.perf_counter()
            result = stage(*arguments)
            self.times[name].append((time.perf_counter() - began) * 1000)
            return result

        return timed


def elapsed_ms(work: Callable[[], object]) -> float:
    """How long a call takes. [ms]."""
    began = time.perf_counter()
    work()
    return (time.perf_counter() - began) * 1000


def show_stages(by_count: dict[int, dict[str, float]]) -> None:
    """Table of stage times, each stage's share of the largest job, and the growth exponent."""
    small, large = ROOM_COUNTS[-2:]
    print(f"{'stage':<14}" + "".join(f"{count:>8} rooms" for count in ROOM_COUNTS) + "   share   exponent")
    for name in (*STAGES, "whole"):
        times = [by_count[count][name] for count in ROOM_COUNTS]
        exponent = math.log(by_count[large][name] / by_count[small][name]) / math.log(large / small)
        share = by_count[large][name] / by_count[large]["whole"]
        print(f"{name:<14}" + "".join(f"{value:>14.2f}" for value in times) + f"{share:>8.0%}{exponent:>11.2f}")
    print(f"(share of the whole at {large} rooms; exponent p where time grows as rooms^p from {small} to {large})\n")


def show_parts(price_list: PriceList) -> None:
    """Times of the parts around the estimate, for the L-shaped sample, without HTTP."""
    sheet = SAMPLE.read_bytes()
    document = read_room_sheet(sheet).document
    survey, _ = survey_from(document)
    if survey is None:
        raise SystemExit("the sample is not understood")
    quote = estimate(survey, price_list)
    parts: dict[str, Callable[[], object]] = {
        "read sheet": lambda: read_room_sheet(sheet),
        "understand": lambda: survey_from(document),
        "estimate": lambda: estimate(survey, price_list),
        "quote PDF": lambda: quote_pdf(quote),
        "field sheet": lambda: field_sheet_pdf(quote),
    }
    times = {name: min(rounds) for name, rounds in in_rounds(parts).items()}
    for name, best in times.items():
        print(f"{name:<14}{best:>10.1f} ms   {best / times['estimate']:>6.2f} × the estimate")
    print()


def in_rounds(parts: dict[str, Callable[[], object]], rounds: int = 7) -> dict[str, list[float]]:
    """Times of several calls, one of each in turn, so that a busy moment falls on all alike. [ms]."""
    times: dict[str, list[float]] = {name: [] for name in parts}
    for _ in range(rounds):
        for name, work in parts.items():
            times[name].append(elapsed_ms(work))
    return times


def show_uploads() -> None:
    """Times of the L-shaped sample over HTTP, from upload to JSON and to PDF, against a bare /readyz."""
    with tempfile.TemporaryDirectory() as folder:
        for name, times in uploads(Path(folder)).items():
            low, middle, high = min(times), statistics.median(times), max(times)
            print(f"{name:<28} median {middle:>7.1f} ms   best {low:>7.1f}   worst {high:>7.1f}")


def uploads(folder: Path) -> dict[str, list[float]]:
    """Times over HTTP of a live service with a database of its own. [ms]."""
    python, port = Path(sys.executable), free_port()
    key = office_key(python, folder / "data")
    with Service(python, port, folder / "data", folder / "log") as service:
        service.wait_until_ready()
        office = Office(service.address, key)
        office.printed_quote(SAMPLE)
        return {
            "GET /readyz": list(repeated(office.is_ready)),
            "upload to JSON": list(repeated(lambda: office.quote_of(SAMPLE))),
            "upload to JSON and quote PDF": list(repeated(lambda: office.printed_quote(SAMPLE))),
        }


def repeated(work: Callable[[], object]) -> Iterator[float]:
    """Times of a call made again and again. [ms]."""
    return (elapsed_ms(work) for _ in range(UPLOADS))


if __name__ == "__main__":
    main()
