"""What the takeoff has to say of its runs: impossible and short pieces, unknown framing, saw limits."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.takeoff.model import UPRIGHT
from service.firm import Position
from service.problems import Code
from service.survey import Framing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import End, Run
    from service.firm import FirmSettings
    from service.problems import Problems


def remarks_told(runs: Sequence[Run], shapes: Sequence[RoomShape], settings: FirmSettings, problems: Problems) -> None:
    """Collect everything worth saying about the runs of a job."""
    for run in runs:
        _length_told(run, settings, problems)
        for side, end in (("left", run.left), ("right", run.right)):
            _saw_told(run, side, end, settings, problems)
    for shape in shapes:
        in_room = [run for run in runs if run.room == shape.number]
        _joists_told(shape, in_room, problems)
        _walls_told(shape, in_room, problems)


def _length_told(run: Run, settings: FirmSettings, problems: Problems) -> None:
    if run.cut_short.inches <= 0:
        problems.error(
            Code.PIECE_CANNOT_BE_CUT,
            _measured_at(run),
            f"Nothing is left of the {_named(run)} on wall {run.wall} of {run.room_name} between its ends.",
            help="Check what was measured here, or leave this trim out.",
            found=run.cut_length.text(settings.units),
        )
    elif run.cut_length < settings.shortest_piece and run.position is not Position.PLINTH:
        problems.warning(
            Code.PIECE_SHORT,
            _measured_at(run),
            f"The {_named(run)} on wall {run.wall} of {run.room_name} is {run.cut_length.text(settings.units)}, "
            f"shorter than the firm's shortest piece {settings.shortest_piece.text(settings.units)}.",
            help="Cut it from a longer piece held safely, or fit it as a glued block.",
        )


def _named(run: Run) -> str:
    return str(run.position) if run.is_along_wall else f"{run.member} around the {run.opening_kind}"


def _measured_at(run: Run) -> str:
    """The member that sets a run's length: the wall's, or the opening's width or height."""
    if run.is_along_wall:
        return f"{run.wall_pointer}/length"
    return f"{run.trim_pointer}/{'height' if run.member in UPRIGHT else 'width'}"


def _saw_told(run: Run, side: str, end: End, settings: FirmSettings, problems: Problems) -> None:
    if not past_saw(end, settings):
        return
    nested = end.nested_miter_deg
    limit = settings.saw_miter_limit_deg
    if nested is not None and (limit is None or nested <= limit):
        way = f"cut it standing against the fence at {nested:g}°"
    else:
        way = "cut it in a jig or by hand; the time for it is priced"
    problems.note(
        Code.SAW_LIMIT_PASSED,
        f"{run.wall_pointer}/angle_deg",
        f"The {side} end of the {run.position} on wall {run.wall} of {run.room_name} is past the saw's limits lying flat: "
        f"{way}.",
        found=f"miter {end.miter_deg:g}°, bevel {end.bevel_deg:g}°",
    )


def past_saw(end: End, settings: FirmSettings) -> bool:
    """True when an end lying flat needs more miter or bevel than the firm's saw gives."""
    return _past(end.miter_deg, settings.saw_miter_limit_deg) or _past(end.bevel_deg, settings.saw_bevel_limit_deg)


def _past(angle_deg: float | None, limit_deg: float | None) -> bool:
    return angle_deg is not None and limit_deg is not None and angle_deg > limit_deg


def _joists_told(shape: RoomShape, runs: Sequence[Run], problems: Problems) -> None:
    if shape.room.joists is None and any(run.position is Position.CEILING for run in runs):
        problems.warning(
            Code.BACKING_UNKNOWN,
            f"{shape.room.pointer}/joists",
            f"The joists over {shape.room.name} are not known; its ceiling layers are priced as unbacked.",
            help="Fill Joists parallel to and First joist.",
        )


def _walls_told(shape: RoomShape, runs: Sequence[Run], problems: Problems) -> None:
    on_walls = [run for run in runs if run.position is not Position.CEILING]
    trimmed = {run.wall for run in on_walls}
    on_studs = {run.wall for run in on_walls if run.is_along_wall}
    for wall in shape.room.walls:
        if wall.name not in trimmed:
            continue
        if wall.framing is not Framing.WOOD:
            problems.warning(
                Code.BACKING_NOT_WOOD,
                f"{wall.pointer}/framing",
                f"Wall {wall.name} of {shape.room.name} is {wall.framing}: finish nails do not hold there.",
                help="Screws or adhesive take the place of nails; look at it on site.",
                found=wall.framing,
            )
        elif wall.name in on_studs and not wall.studs.is_known:
            problems.warning(
                Code.BACKING_UNKNOWN,
                f"{wall.pointer}/studs",
                f"The studs of wall {wall.name} in {shape.room.name} are not known; only its ends are counted on.",
                help="Fill First stud, or Studs at.",
            )
