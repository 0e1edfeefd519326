"""How each length of the takeoff follows from the sheet's cells: the figures behind runs, ends and backing."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate import figures
from service.estimate.figures import DEGREE, INCH, Figure, Rule, added, given, less, snapped, times
from service.firm import Position
from service.survey import CornerKind, Framing

if TYPE_CHECKING:
    from service.firm import Profile
    from service.survey import Joists, Opening, Wall
    from service.units import Length

FULL_TURN_DEG = 360
BARE_WALL = given("the wall's face", 0, INCH, "geometry:wall-face")


def size(profile: Profile, member: str) -> Figure:
    """Width or thickness of a profile as the price list has it. [Length]"""
    return given(
        f"{member} of {profile.name}", getattr(profile, member), INCH, f"list:profiles/{profile.name}/{member}"
    )


def wall_length(wall: Wall) -> Figure:
    """Length of a wall as measured. [Length]"""
    return given(f"wall {wall.name}", wall.length, INCH, f"sheet:{wall.pointer}/length")


def interior_angle(wall: Wall, interior_deg: float) -> Figure:
    """Angle inside the room at a wall's right-hand corner: the reading inside, 360° less the reading outside. [deg]"""
    reading = given(f"reading at the right of wall {wall.name}", Fraction(wall.angle_deg), DEGREE,
                    f"sheet:{wall.pointer}/angle_deg")  # fmt: skip
    if wall.corner is not CornerKind.OUTSIDE:
        return reading
    turn = given("full turn", FULL_TURN_DEG, DEGREE, "geometry:full-turn")
    return Figure("angle inside the room", Fraction(interior_deg), DEGREE, Rule.DIFFERENCE, (turn, reading))


def offsets(position: Position, profile: Profile, stands_on: Profile | None, near: Length, far: Length) -> tuple[
    Figure, Figure
]:  # fmt: skip
    """Offsets of a layer's near and far edge from the wall's face.

    Args:
        position: where the layer sits; `profile` what it is made of.
        stands_on: the layer behind it, whose face it starts at; None on the wall itself.
        near, far: the offsets, as `seats` has them. [Length, Length]
    """
    first = size(stands_on, "thickness") if stands_on else BARE_WALL
    if position is Position.CEILING:
        return first, size(profile, "width")
    if position is not Position.CROWN:
        reach = size(profile, "thickness")
    else:
        spring = given(f"spring angle of {profile.name}", Fraction(profile.spring_angle_deg or 0), DEGREE,
                       f"list:profiles/{profile.name}/spring_angle")  # fmt: skip
        reach = Figure(f"projection of {profile.name}", (far - near).inches, INCH, Rule.PROJECTION,
                       (size(profile, "width"), spring))  # fmt: skip
    return first, added("offset of the far edge", INCH, first, reach) if stands_on else reach


def setback(what: str, value: Length, own: Figure, other: Figure, angle: Figure) -> Figure:
    """How far from a wall's end an edge stops: (o·cos θ + p) / sin θ. [Length]

    Args:
        what: which end.
        value: as `corners.setback` has it. [Length]
        own, other: offset of the edge, and of what it meets on the next wall. [Length, Length]
        angle: inside the room. [deg]
    """
    return Figure(what, value.inches, INCH, Rule.SETBACK, (own, other, angle))


def between(what: str, start: Figure | None, end: Figure, *taken: Figure | None) -> Figure:
    """Length from start to end less what both ends take, snapped to 1/64 in. [Length]"""
    parts = [part for part in (start, *taken) if part is not None]
    return snapped(what, less("before rounding", INCH, end, *parts) if parts else end)


def starting(edge: Figure | None, corner: Figure | None) -> Figure:
    """Where a layer begins along its wall: after the opening it starts at, and what the corner takes. [Length]"""
    parts = [part for part in (edge, corner) if part is not None]
    return added("left-hand end of the run", INCH, *parts)


def trim_margin(casing: Profile, reveal: Length) -> Figure:
    """How far a casing reaches beyond a jamb: reveal + width. [Length]"""
    return added("casing beyond the jamb", INCH, reveal_of(reveal), size(casing, "width"))


def reveal_of(reveal: Length) -> Figure:
    """The firm's reveal. [Length]"""
    return given("reveal", reveal, INCH, "list:firm/casing_reveal")


def opening_size(opening: Opening, member: str) -> Figure:
    """A size of an opening as measured. [Length]"""
    words = f"{member.replace('_', ' ')} of the {opening.kind}"
    return given(words, getattr(opening, member), INCH, f"sheet:{opening.pointer}/{member}")


def gap_edges(opening: Opening, margin: Figure | None) -> tuple[Figure, Figure]:
    """Where an opening with its casing begins and ends along the wall. [Length, Length]"""
    left, width = opening_size(opening, "from_left"), opening_size(opening, "width")
    start = less("outer edge of the casing", INCH, left, margin) if margin else left
    parts = (left, width, margin) if margin else (left, width)
    return start, added(f"right-hand edge of the {opening.kind}", INCH, *parts)


def stud_layout(wall: Wall, end_stud: Length) -> tuple[Figure, ...]:
    """What stud positions follow from: the list, or first stud and spacing, and the studs at ends and jambs.

    Args:
        wall: as measured; nothing stands behind it where it is not framed in wood.
        end_stud: center of the stud at each wall end and outside each jamb. [Length]
    """
    if wall.framing is not Framing.WOOD:
        return ()
    ends = given("stud from each wall end and jamb", end_stud, INCH, "trade:framing.end-stud")
    return (*_measured_studs(wall), ends)


def _measured_studs(wall: Wall) -> tuple[Figure, ...]:
    studs = wall.studs
    if studs.at:
        return tuple(given(f"stud {number}", at, INCH, f"sheet:{wall.pointer}/studs/at")
                     for number, at in enumerate(studs.at, 1))  # fmt: skip
    if studs.first is None:
        return ()
    return (
        given(f"first stud on {wall.name}", studs.first, INCH, f"sheet:{wall.pointer}/studs/first"),
        given(f"stud spacing on {wall.name}", studs.spacing, INCH, f"sheet:{wall.pointer}/studs/spacing"),
    )


def joist_layout(joists: Joists | None, room_pointer: str) -> tuple[Figure, ...]:
    """What joist positions follow from: first joist and spacing; none where they are not known."""
    if joists is None:
        return ()
    return (
        given("first joist", joists.first, INCH, f"sheet:{room_pointer}/joists/first"),
        given("joist spacing", joists.spacing, INCH, f"sheet:{room_pointer}/joists/spacing"),
    )


def doubled(what: str, figure: Figure) -> Figure:
    """Twice a length, for what stands at both sides. [Length]"""
    return times(what, INCH, given("both sides", 2, figures.EACH, "geometry:both-sides"), figure)
