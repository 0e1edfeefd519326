"""What the field lead checks in a room before the first cut: the trade's list, and what this sheet calls for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.documents.features import feature_checks
from service.documents.openings import BOTH_SIDES, cased_words
from service.documents.words import count_text, length_text, size_text
from service.estimate.takeoff.model import Member
from service.firm import Position
from service.survey import CornerKind, FeatureKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.quote.model import Quote, RoomCard
    from service.units import Length

OVERHEAD = frozenset({Position.CEILING, Position.WALL, Position.CROWN})
NEAR_FLOOR = frozenset({Position.BASE, Position.CAP, Position.SHOE})
SQUARE_DEG = 90.0


def checks(room: RoomCard, quote: Quote) -> list[str]:
    """Checks of one room, in the order in which one walks it.

    Source: common practice; the room sheet says which of them apply.
    """
    return [
        *_measure(room, quote),
        *_framing(room),
        *_around_openings(room),
        *_surfaces(room),
        *_features(room),
        *feature_checks(room, quote),
    ]


def _measure(room: RoomCard, quote: Quote) -> Iterator[str]:
    yield "Every wall measured again at the height of the trim and written in the table above"
    if any(wall.corner_deg is not None for wall in room.walls):
        off = [wall.name for wall in room.walls if wall.corner_deg not in {None, SQUARE_DEG}]
        more = f"; not square on the sheet: right end of {', '.join(off)}" if off else ""
        yield f"Every corner read with the angle finder{more}"
    if not room.closure.closed and room.closure.gap:
        gap = size_text(room.closure.gap, quote.units)
        suspects = f": {'; or '.join(room.closure.suspects)}" if room.closure.suspects else ""
        yield f"The measured walls miss closing by {gap}{suspects}"
    if any(run.position in OVERHEAD for run in room.runs):
        yield "Ceiling checked with a straightedge along each wall for humps and dips"
    if any(run.position in NEAR_FLOOR for run in room.runs):
        yield "Floor checked along each wall; shoe or scribe agreed where it is out"
    for name, top in _rails(room):
        yield f"Level line struck for the {name.lower()}, top edge {length_text(top, quote.units)} above the finished floor"
    if any(wall.corner is CornerKind.OUTSIDE for wall in room.walls):
        yield "Outside corners plumb and sound; corner bead not proud"


def _rails(room: RoomCard) -> list[tuple[str, Length]]:
    """Each rail with the height of its top edge, once."""
    rails = (run for run in room.runs if run.position is Position.RAIL and run.high is not None)
    return list(dict.fromkeys((run.assembly, run.high) for run in rails if run.high))


def _around_openings(room: RoomCard) -> Iterator[str]:
    heads = [run for run in room.runs if run.member is Member.HEAD]
    if not heads:
        return
    cased = cased_words(opening for opening in room.openings if opening.casing)
    yield (
        f"{cased} to be cased: jambs flush with the wall, plumb and square, measured at head and sill; reveal marked "
        "on the jambs; casing up before base and rail"
    )
    if any(run.member is Member.STOOL for run in room.runs):
        yield "Stools scribed to sash and wall before the legs are cut; sashes and locks move freely"
    if any(run.position is Position.PLINTH for run in room.runs):
        yield "Plinth blocks set first; base and legs cut to them"
    beyond = sum(run.side == BOTH_SIDES for run in heads)
    if beyond:
        yield f"Side 2 of {count_text(beyond, 'opening')} is in the next room: measured there"


def _framing(room: RoomCard) -> Iterator[str]:
    yield "Framing found and marked; cables and pipes located before nailing"
    if any(run.unbacked_stretches for run in room.runs):
        yield "Hatched stretches: no wood found on the sheet; probe before relying on adhesive"
    glue = [joint for run in room.runs for joint in run.joints if joint.on_glue_plate]
    if glue:
        yield f"Glue plates cut for {len(glue)} {'splice' if len(glue) == 1 else 'splices'} between framing"


def _surfaces(room: RoomCard) -> Iterator[str]:
    yield "Covering dry, sound and clean where adhesive goes; loose paint reported, not sanded, in an old house"
    if room.openings:
        yield "Doors, windows and cabinets: sizes on the plan checked; trim ends clear of hinges and doors"
    yield "Outlets, thermostats, registers and detectors clear of the trim"


def _features(room: RoomCard) -> Iterator[str]:
    kinds = {feature.feature for feature in room.features}
    if kinds & {FeatureKind.FAN, FeatureKind.LIGHT}:
        yield "Breaker off and tested dead; box listed for what hangs from it; blade height and wall distance measured"
    elif FeatureKind.MEDALLION in kinds:
        yield "Breaker off and tested dead before anything near the box is touched"


def wall_rows(room: RoomCard, quote: Quote) -> list[tuple[str, str, str, str]]:
    """Each wall as measured: name, length, corner at its right end with its angle, notes."""
    return [
        (
            wall.name,
            length_text(wall.length, quote.units),
            _corner(wall.corner, wall.corner_deg),
            wall.notes,
        )
        for wall in room.walls
    ]


def _corner(kind: CornerKind, reading: float | None) -> str:
    return kind.value if reading is None else f"{kind.value}, {reading:g}°"
