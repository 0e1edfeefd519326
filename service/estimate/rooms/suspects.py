"""Who may be to blame when walls do not close, in words an estimator can act on."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.rooms.misclosure import (
    Scatter,
    angle_excess_deg,
    corner_fit,
    misclosure,
    turn_setting_angles_right,
    turned_misclosure,
    wall_fit,
    with_inside_angle,
)
from service.estimate.rooms.walk import crosses_itself
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from service.estimate.rooms.misclosure import Fit
    from service.estimate.rooms.model import RoomRules
    from service.estimate.rooms.walk import Walk
    from service.survey import Wall
    from service.units import Units

LEAST_WALLS, MOST_WALLS = 3, 100  # past that many walls one slip is not told from another
MOST_SUSPECTS = 5
HALF_TURN_DEG = 180.0
MOST_REST = 14.0  # honest measuring leaves more than this (chi-square, two left over) once in a thousand rooms
MOST_BEHIND = 8.0  # and a wrong suspect leaves so much less than the right one about once in fifty
MOST_HONEST = 7.8  # chi-square of three, one honest room in twenty
EIGHTHS = 8
HALVES = 2


@dataclass(frozen=True, slots=True)
class WallSlip:
    """A wall taped wrong; which one of several parallel walls, the gap cannot tell.

    Attributes:
        short, long: walls that may be too short or too long by `size`, the likeliest first.
        rest: what the slip leaves unexplained, in units of honest measuring, squared.
    """

    short: tuple[str, ...]
    long: tuple[str, ...]
    size: Length
    rest: float

    def text(self, units: Units) -> str:
        """`wall A may be 2″ short, or wall C or E as much long`."""
        size = self.size.snapped(EIGHTHS).text(units)
        if not self.short or not self.long:
            return f"wall {' or '.join(self.short or self.long)} may be {size} {'short' if self.short else 'long'}"
        return f"wall {' or '.join(self.short)} may be {size} short, or wall {' or '.join(self.long)} as much long"


@dataclass(frozen=True, slots=True)
class CornerSlip:
    """A corner read wrong, at a wall's right-hand end.

    Attributes:
        written, likely: the wall as on the sheet, and with the corner that would close the room.
        rest: what the slip leaves unexplained, in units of honest measuring, squared.
    """

    written: Wall
    likely: Wall
    rest: float

    def text(self, units: Units) -> str:  # noqa: ARG002 - an angle reads the same in any units
        """`the corner after wall D is nearer 92.5° than 90°`."""
        reading = f"{round(self.likely.angle_deg * HALVES) / HALVES:g}°"
        corner = f"the corner after wall {self.written.name} is"
        if self.likely.corner is self.written.corner:
            return f"{corner} nearer {reading} than {self.written.angle_deg:g}°"
        return f"{corner} {self.likely.corner} {reading} rather than {self.written.corner} {self.written.angle_deg:g}°"


Suspect = WallSlip | CornerSlip


def suspects_of(walk: Walk, rules: RoomRules) -> tuple[Suspect, ...]:
    """Single slips that would close the room, the likeliest first.

    A mistaped wall lies along the gap and leaves the angles alone; a misread corner swings the end of the
    walk and shows in the sum of the angles; where that sum is out of all tolerance a corner is written as
    the wrong kind, or its angle was forgotten.

    Args:
        walk: the walk that does not close.
        rules: noise of tape and angle finder, tolerance of an angle.
    """
    if not LEAST_WALLS <= len(walk.room.walls) <= MOST_WALLS:
        return ()
    if abs(angle_excess_deg(walk)) > rules.angle_tolerance_deg * len(walk.room.walls):
        return _likeliest(_wrong_corners(walk, rules))
    scatter = Scatter.of(walk, rules)
    missed = misclosure(walk)
    most = min(MOST_REST, scatter.distance(missed, missed) / 2)
    return _likeliest([*_mistaped(walk, scatter, rules), *_misread(walk, scatter, rules)], most)


def is_honest(walk: Walk, rules: RoomRules) -> bool:
    """True when tape and angle finder, read with care, can leave as much as the walk misses: no slip is sure."""
    if not LEAST_WALLS <= len(walk.room.walls) <= MOST_WALLS:
        return False
    missed = misclosure(walk)
    return Scatter.of(walk, rules).distance(missed, missed) <= MOST_HONEST


def _likeliest(found: Iterable[Suspect], most: float = MOST_REST) -> tuple[Suspect, ...]:
    """Those that explain the better half and leave little, not much more than the best; so many at most."""
    ranked = sorted(found, key=lambda suspect: suspect.rest)
    kept = [suspect for suspect in ranked if suspect.rest <= min(most, ranked[0].rest + MOST_BEHIND)]
    return tuple(kept[:MOST_SUSPECTS])


def _mistaped(walk: Walk, scatter: Scatter, rules: RoomRules) -> Iterator[WallSlip]:
    """Walls taped wrong, parallel ones together."""
    fits = {place: wall_fit(walk, scatter, place) for place in range(len(walk.room.walls))}
    possible = sorted((place for place in fits if _is_possible(walk, place, fits[place])), key=lambda p: fits[p].rest)
    while possible:
        alike = [place for place in possible if _are_parallel(walk, possible[0], place, rules)]
        possible = [place for place in possible if place not in alike]
        yield _wall_slip(walk, alike, fits)


def _wall_slip(walk: Walk, alike: Sequence[int], fits: dict[int, Fit]) -> WallSlip:
    names = {place: walk.room.walls[place].name for place in alike}
    best = fits[alike[0]]
    return WallSlip(
        short=tuple(names[place] for place in alike if fits[place].size < 0),
        long=tuple(names[place] for place in alike if fits[place].size > 0),
        size=Length.measured(abs(best.size)),
        rest=best.rest,
    )


def _is_possible(walk: Walk, place: int, fit: Fit) -> bool:
    """A wall cannot be too long by more than itself."""
    return fit.rest <= MOST_REST and fit.size < float(walk.room.walls[place].length)


def _are_parallel(walk: Walk, one: int, other: int, rules: RoomRules) -> bool:
    """True when a slip of one wall is not told from one of the other: they lie within trade book `rooms.slip-parallel`."""
    apart = walk.headings_deg[one] - walk.headings_deg[other]
    return min(apart % HALF_TURN_DEG, -apart % HALF_TURN_DEG) <= rules.slip_parallel_deg


def _misread(walk: Walk, scatter: Scatter, rules: RoomRules) -> Iterator[CornerSlip]:
    """Corners read wrong by 0.5–15° (trade book `rooms.slip-turn-least`, `slip-turn-most`)."""
    for place, inside in enumerate(walk.interior_deg):
        fit = corner_fit(walk, scatter, place)
        if inside is not None and rules.slip_turn_least_deg <= abs(fit.size) <= rules.slip_turn_most_deg:
            yield _corner_slip(walk, with_inside_angle(walk, place, inside - fit.size), place, fit.rest)


def _wrong_corners(walk: Walk, rules: RoomRules) -> Iterator[CornerSlip]:
    """Corners that alone make the angles add up, where the walls then close too, without crossing."""
    near = float(rules.refused_gap(walk.perimeter))
    for place, inside in enumerate(walk.interior_deg):
        turn = turn_setting_angles_right(walk, place)
        if inside is None or turn is None:
            continue
        gap = math.hypot(*turned_misclosure(walk, place, turn)[:2])
        likely = with_inside_angle(walk, place, inside + turn)
        if gap <= near and crosses_itself(likely.drawn_points) is None:
            yield _corner_slip(walk, likely, place, gap / near)


def _corner_slip(walk: Walk, likely: Walk, place: int, rest: float) -> CornerSlip:
    return CornerSlip(walk.room.walls[place], likely.room.walls[place], rest)
