"""From a job document to a survey, with every fault of the document."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Any, cast

from marshmallow import ValidationError

from schemas.faults import problems_of
from schemas.fields.lengths import READING, Reading
from schemas.job_checks import check_document
from schemas.names import Names
from schemas.records import Row, rows
from schemas.room_sheet import LAYOUTS, JobDocumentSchema
from schemas.text import folded
from schemas.trim_checks import is_all
from service import survey
from service.problems import Code, Problem, Problems, pointer
from service.units import Length, Units

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

COVERINGS: Row = {"wall_covering": Length(Fraction(1, 2)), "ceiling_covering": Length(Fraction(1, 2))}
DEFAULT_SPACING = Length(Fraction(16))
SQUARE: Row = {"angle_deg": 90.0}


def survey_from(document: object) -> tuple[survey.Survey | None, tuple[Problem, ...]]:
    """Survey of a job document, and every fault found in it.

    Args:
        document: the document as parsed JSON; any object is read without an exception.

    Returns:
        The survey, None when an error refuses the document; and the problems, warnings included.
    """
    problems = Problems()
    record = _loaded(document, problems)
    if record is None:
        return None, tuple(problems)
    check_document(record, problems)
    return (None if problems.has_errors else _survey(record)), tuple(problems)


def sound_rooms(document: object, faulty: Iterable[str] = ()) -> tuple[survey.Room, ...]:
    """Rooms of a refused document in which no error was found, so that their geometry can be judged all the same.

    Args:
        document: the document as parsed JSON.
        faulty: pointers of errors found elsewhere (by the sheet's reader), which spoil a room as well.

    Returns:
        The rooms, with their pointers; none while the units are not known.
    """
    problems = Problems()
    record = _loaded(document, problems)
    if record is None or not reading_of(document, "job").is_known:
        return ()
    check_document(record, problems)
    spoiled = [*faulty, *(problem.pointer for problem in problems.errors)]
    return tuple(
        _room(number, row, Names.of(row["walls"], "name"))
        for number, row in enumerate(rows(record, "rooms"))
        if not any(f"{place}/".startswith(f"/rooms/{number}/") for place in spoiled)
    )


def reading_of(document: object, tab: str) -> Reading:
    """How bare figures of a document are read: by its units, or unjudged when these are missing or wrong."""
    settings = document.get(tab) if isinstance(document, Mapping) else None
    units = settings.get("units") if isinstance(settings, Mapping) else None
    word = folded(units) if isinstance(units, str) else ""
    return Reading(Units(word)) if word in tuple(Units) else Reading(is_known=False)


def _loaded(document: object, problems: Problems) -> Row | None:
    if not isinstance(document, Mapping):
        problems.error(Code.DOCUMENT_UNREADABLE, "", "A job document is one JSON object.", help="Send an object.")
        return None
    with READING(reading_of(document, "job")):
        try:
            record = cast("Row", JobDocumentSchema().load(cast("Any", document)))
        except ValidationError as error:
            problems.extend(problems_of(error))
            record = error.valid_data if isinstance(error.valid_data, dict) else {}
    if record.get("layout", 1) not in LAYOUTS:
        problems.error(
            Code.LAYOUT_UNKNOWN, "/layout", "This program reads layout version 1.", help="Use the template of layout 1."
        )
    return record


def _survey(record: Row) -> survey.Survey:
    room_names = Names.of(record["rooms"], "name")
    wall_names = [Names.of(room["walls"], "name") for room in record["rooms"]]
    every_wall = Names([name for names in wall_names for name in names])
    return survey.Survey(
        job=_job(record),
        rooms=tuple(
            _room(n, row, walls) for n, (row, walls) in enumerate(zip(record["rooms"], wall_names, strict=True))
        ),
        trim=tuple(_order(n, row, room_names, wall_names, every_wall) for n, row in enumerate(record["trim"])),
        extras=tuple(_extra(n, row, room_names) for n, row in enumerate(rows(record, "extras"))),
    )


def _job(record: Row) -> survey.Job:
    job = dict(record["job"])
    return survey.Job(**job | _notes(job.get("notes"), record.get("notes")), pointer="/job")


def _notes(*texts: str | None) -> Row:
    return {"notes": "\n".join(text for text in texts if text)}


def _room(number: int, row: Row, walls: Names) -> survey.Room:
    place = pointer("rooms", number)
    joists = row.get("joists")
    members: Row = {
        "pointer": place,
        "joists": joists and _joists(joists, walls),
        "walls": tuple(_wall(f"{place}/walls/{n}", wall) for n, wall in enumerate(row["walls"])),
        "openings": tuple(
            _opening(f"{place}/openings/{n}", item, walls) for n, item in enumerate(rows(row, "openings"))
        ),
        "ceiling": tuple(_feature(f"{place}/ceiling/{n}", item) for n, item in enumerate(rows(row, "ceiling"))),
    }
    return survey.Room(**COVERINGS | row | _notes(row.get("notes"), joists and joists.get("notes")) | members)


def _feature(place: str, row: Row) -> survey.CeilingFeature:
    return survey.CeilingFeature(pointer=place, **row)


def _joists(row: Row, walls: Names) -> survey.Joists | None:
    if not {"parallel_to", "first"} <= row.keys():
        return None
    return survey.Joists(walls.spelled(row["parallel_to"]), row["first"], row.get("spacing", DEFAULT_SPACING))


def _wall(place: str, row: Row) -> survey.Wall:
    studs = row.get("studs", {})
    members: Row = {"pointer": place, "studs": _studs(studs)}
    return survey.Wall(**SQUARE | row | _notes(row.get("notes"), studs.get("notes")) | members)


def _studs(row: Row) -> survey.Studs:
    return survey.Studs(row.get("first"), row.get("spacing", DEFAULT_SPACING), tuple(row.get("at", ())))


def _opening(place: str, row: Row, walls: Names) -> survey.Opening:
    return survey.Opening(**row | {"pointer": place, "wall": walls.spelled(row["wall"])})


def _order(
    number: int, row: Row, room_names: Names, wall_names: Sequence[Names], every_wall: Names
) -> survey.TrimOrder:
    for_every_room = is_all(row["room"])
    walls = every_wall if for_every_room else wall_names[room_names.position(row["room"])]
    names = None if any(is_all(name) for name in row["walls"]) else tuple(walls.spelled(name) for name in row["walls"])
    room = None if for_every_room else room_names.spelled(row["room"])
    return survey.TrimOrder(**row | {"pointer": pointer("trim", number), "room": room, "walls": names})


def _extra(number: int, row: Row, room_names: Names) -> survey.Extra:
    room = room_names.spelled(row["room"]) if "room" in row else None
    return survey.Extra(**row | {"pointer": pointer("extras", number), "room": room})
