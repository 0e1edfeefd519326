"""All faults at once: the sound part of a document that has faults is estimated too, for the faults only that shows.

A room with a fault in it is left out, and so is every row that names it; what remains is read and estimated as
a document of its own. Its errors are moved back to where their rows stood.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from schemas.job import survey_from
from schemas.text import folded
from service.estimate.takeoff.orders import assembly_is_known
from service.problems import Problem, Problems, pointer

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from service.firm import PriceList
    from service.survey import Survey

    Estimating = Callable[[Survey], Iterable[Problem]]

_ROWS = ("rooms", "trim", "extras")
_STAND_IN = {"job_name": "-", "customer": "-", "site_address": "-", "measured_on": "2000-01-01"}


@dataclass(frozen=True, slots=True)
class _Sound:
    """The sound part of a document, and where each of its rows stood in the whole."""

    document: dict[str, Any]
    places: dict[str, list[int]]

    def moved_back(self, problem: Problem) -> Problem:
        """The problem at its place in the whole document."""
        _, member, *rest = f"{problem.pointer}/".split("/")
        if member not in self.places or not rest[0].isdigit():
            return problem
        below = "/".join(rest[1:]).rstrip("/")
        place = pointer(member, self.places[member][int(rest[0])]) + (f"/{below}" if below else "")
        return replace(problem, pointer=place)


def second_look(
    document: object, found: Sequence[Problem], price_list: PriceList, estimating: Estimating
) -> tuple[Problem, ...]:
    """Errors in the sound part of a document that was refused.

    Args:
        document: the whole document.
        found: the errors that refused it, by pointer.
        price_list: what it would be quoted with.
        estimating: every problem that an estimate of a survey meets.
    """
    if not isinstance(document, Mapping):
        return ()
    faulty = {problem.pointer for problem in found if problem.is_error}
    problems = Problems(_unknown_assemblies(document, faulty, price_list))
    sound = _sound_part(document, faulty)
    survey = survey_from(sound.document)[0] if sound else None
    if sound and survey:
        problems.extend(sound.moved_back(problem) for problem in estimating(survey) if problem.is_error)
    return tuple(problem for problem in problems if problem.is_error)


def _unknown_assemblies(document: Mapping[str, Any], faulty: set[str], price_list: PriceList) -> Problems:
    problems = Problems()
    for place, name in _assemblies_named(document):
        if isinstance(name, str) and place not in faulty:
            assembly_is_known(place, name, price_list, problems)
    return problems


def _assemblies_named(document: Mapping[str, Any]) -> Iterator[tuple[str, object]]:
    """What the Trim rows and the openings name, each with its pointer, in faulty rooms too."""
    for number, row in enumerate(_rows(document, "trim")):
        yield pointer("trim", number, "assembly"), row.get("assembly")
    for number, room in enumerate(_rows(document, "rooms")):
        for place, opening in enumerate(_rows(room, "openings")):
            yield pointer("rooms", number, "openings", place, "casing"), opening.get("casing")


def _sound_part(document: Mapping[str, Any], faulty: set[str]) -> _Sound | None:
    if not all(_has_a_place(place, document) for place in faulty):
        return None
    places = {name: [n for n, _ in enumerate(_rows(document, name)) if not _within(name, n, faulty)] for name in _ROWS}
    rooms = _rows(document, "rooms")
    lost = {folded(str(room.get("name"))) for n, room in enumerate(rooms) if n not in places["rooms"]}
    for name in ("trim", "extras"):
        rows = _rows(document, name)
        places[name] = [n for n in places[name] if folded(str(rows[n].get("room"))) not in lost]
    kept = {name: [_rows(document, name)[n] for n in places[name]] for name in _ROWS}
    if not kept["rooms"] or not kept["trim"]:
        return None
    return _Sound({"layout": 1, "job": _sound_job(document.get("job"), faulty), **kept}, places)


def _sound_job(job: object, faulty: set[str]) -> dict[str, Any]:
    """The job's sound items, with words in place of the required ones that nothing is estimated from."""
    items = job if isinstance(job, Mapping) else {}
    return _STAND_IN | {name: value for name, value in items.items() if pointer("job", name) not in faulty}


def _rows(document: Mapping[str, Any], name: str) -> list[Mapping[str, Any]]:
    rows = document.get(name)
    return rows if isinstance(rows, list) and all(isinstance(row, Mapping) for row in rows) else []


def _has_a_place(place: str, document: Mapping[str, Any]) -> bool:
    """Whether leaving out one row, or the job's items, takes the fault with it."""
    _, member, *rest = f"{place}/".split("/")
    if member == "job":
        return True
    return member in _ROWS and rest[0].isdigit() and int(rest[0]) < len(_rows(document, member))


def _within(name: str, number: int, faulty: set[str]) -> bool:
    row = pointer(name, number)
    return any(place == row or place.startswith(row + "/") for place in faulty)
