"""In how many rooms with one planted slip the program names the right wall or corner. Figures, never a verdict.

    .run/venv/bin/python deploy/benchmarks/suspects.py     (after deploy/start.py has made .run/venv)

The rooms are made up here from a fixed seed: rectangles, L, T and U shapes, bays and cut corners of four to
twelve walls, lengths on the eighth of an inch. They are then measured as people measure: the tape is off by up
to 1/16" in a wall, the angle finder by up to 0.3° in a corner and read to half a degree. Into each room one slip
is planted: a wall one foot short or long, or a corner 3° off. A wall counts as named when it is, with the right
sense and within 3"; a corner when its likely reading is within 1° of the true one. Of parallel walls a gap cannot
tell which is wrong; naming the set counts, and how many walls and corners an answer names is printed too.
"""

from __future__ import annotations

import math
import random
import statistics
import sys
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from service.estimate.rooms import RoomRules, shaped_rooms
from service.estimate.rooms.suspects import CornerSlip, Suspect, WallSlip, suspects_of
from service.estimate.rooms.walk import Walk
from service.problems import Problems
from service.survey import CornerKind, Room, Studs, Wall
from service.trade.book import shipped_book
from service.units import Length, Units

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

ROOMS = 500
SEED = 20260302
FOOT, DEGREES = 12.0, 3.0
SIZE_WITHIN, READING_WITHIN = 3.0, 1.0
TAPE_OFF, FINDER_OFF = 1 / 16, 0.3
RULES = RoomRules.of(shipped_book())
STUDS = Studs(None, Length.of(16))

Corner = tuple[float, float]


@dataclass(frozen=True)
class Slip:
    """What was planted: a wall by so many inches, or a corner by so many degrees of its reading."""

    place: int
    by: float
    is_wall: bool


@dataclass(frozen=True)
class Outcome:
    """What the program said of one room: `rank` of the right suspect (None: not named), `size` walls and corners named."""

    rank: int | None
    size: int
    walls: int
    is_told: bool


def main() -> None:
    """Print the figures."""
    for title, skew in (
        ("square corners and 135° corners", 0.0),
        ("the same, every corner of the house up to 2° out", 2.0),
    ):
        print(title)
        for name, plant in (("1 ft slip of a wall", wall_slip), ("3° slip of a corner", corner_slip)):
            print(line(name, list(outcomes(plant, skew))))
        print(quiet_line(skew))


def line(name: str, found: list[Outcome]) -> str:
    """One row of figures."""
    named, first = sum(o.rank is not None for o in found), sum(o.rank == 0 for o in found)
    told, median = sum(o.is_told for o in found), statistics.median(o.size for o in found)
    return (
        f"  {name}: right suspect named in {named} of {len(found)} rooms ({named / len(found):.1%}), first in {first}; "
        f"some fault is told in {told}; walls and corners named, median {median:g} "
        f"of {statistics.median(2 * o.walls for o in found):g}, most {max(o.size for o in found)}"
    )


def quiet_line(skew: float) -> str:
    """How many of the rooms are told of, and how many refused, without any slip."""
    rng = random.Random(SEED)  # noqa: S311 - a repeatable sample, nothing secret
    told = [remarks(measured(skewed(corners(rng), skew, rng), rng)) for _ in range(ROOMS)]
    refused = sum(problems.has_errors for problems in told)
    return (
        f"  no slip at all: {sum(map(bool, map(len, told)))} of {ROOMS} rooms warned of, {refused} of these refused\n"
    )


def outcomes(plant: Callable[[Room, random.Random], tuple[Room, Slip]], skew: float) -> Iterator[Outcome]:
    """One outcome a room, from the fixed seed."""
    rng = random.Random(SEED)  # noqa: S311 - a repeatable sample, nothing secret
    for _ in range(ROOMS):
        sound = measured(skewed(corners(rng), skew, rng), rng)
        spoiled, slip = plant(sound, rng)
        yield outcome(spoiled, sound, slip)


def outcome(spoiled: Room, sound: Room, slip: Slip) -> Outcome:
    """What is said of a spoiled room, the sound one beside it; a suspect that no problem carries is not named."""
    suspects, told = suspects_of(Walk.along(spoiled), RULES), len(remarks(spoiled)) > 0
    ranks = (rank for rank, suspect in enumerate(suspects) if told and is_right(suspect, sound, slip))
    return Outcome(next(ranks, None), sum(names(suspect) for suspect in suspects), len(spoiled.walls), told)


def is_right(suspect: Suspect, sound: Room, slip: Slip) -> bool:
    """Whether a suspect is the planted slip."""
    wall = sound.walls[slip.place]
    if isinstance(suspect, CornerSlip):
        near = abs(suspect.likely.angle_deg - wall.angle_deg) <= READING_WITHIN
        return not slip.is_wall and suspect.written.name == wall.name and near
    blamed = suspect.short if slip.by < 0 else suspect.long
    return slip.is_wall and wall.name in blamed and abs(float(suspect.size) - abs(slip.by)) <= SIZE_WITHIN


def names(suspect: Suspect) -> int:
    """Walls and corners in one suspect."""
    return len(suspect.short) + len(suspect.long) if isinstance(suspect, WallSlip) else 1


def remarks(room: Room) -> Problems:
    """What the estimator is told of a room."""
    problems = Problems()
    shaped_rooms((room,), Units.IMPERIAL, RULES, problems)
    return problems


def wall_slip(room: Room, rng: random.Random) -> tuple[Room, Slip]:
    """One wall a foot short or long; one of less than two feet is not taken shorter."""
    place = rng.randrange(len(room.walls))
    wall = room.walls[place]
    by = FOOT if float(wall.length) < 2 * FOOT else rng.choice((FOOT, -FOOT))
    return with_wall(room, place, replace(wall, length=wall.length + Length.of(int(by)))), Slip(place, by, is_wall=True)


def corner_slip(room: Room, rng: random.Random) -> tuple[Room, Slip]:
    """One corner read 3° too small or too large."""
    place, by = rng.randrange(len(room.walls)), rng.choice((DEGREES, -DEGREES))
    wall = room.walls[place]
    return with_wall(room, place, replace(wall, angle_deg=wall.angle_deg + by)), Slip(place, by, is_wall=False)


def with_wall(room: Room, place: int, wall: Wall) -> Room:
    """The room with one wall replaced."""
    return replace(room, walls=(*room.walls[:place], wall, *room.walls[place + 1 :]))


def measured(plan: list[Corner], rng: random.Random) -> Room:
    """A plan as tape and angle finder read it."""
    count = len(plan)
    walls = []
    for place in range(count):
        length = math.dist(plan[place], plan[(place + 1) % count]) + rng.uniform(-TAPE_OFF, TAPE_OFF)
        inside = inside_deg(plan, (place + 1) % count)
        kind = CornerKind.INSIDE if inside < 180 else CornerKind.OUTSIDE  # noqa: PLR2004 - a straight wall
        reading = min(inside, 360 - inside) + rng.uniform(-FINDER_OFF, FINDER_OFF)
        name = chr(65 + place)
        sixteenths = Length(Fraction(round(length * 16), 16))
        walls.append(Wall(f"/rooms/0/walls/{place}", name, sixteenths, kind, round(reading * 2) / 2, STUDS))
    half = Length.of("1/2")
    return Room("/rooms/0", "Benchmark room", Length.of(96), half, half, tuple(walls))


def inside_deg(plan: list[Corner], place: int) -> float:
    """Inside angle at a corner of a plan walked clockwise. [deg]"""
    (x0, y0), (x1, y1), (x2, y2) = plan[place - 1], plan[place], plan[(place + 1) % len(plan)]
    back, ahead = math.atan2(y0 - y1, x0 - x1), math.atan2(y2 - y1, x2 - x1)
    return math.degrees((ahead - back) % math.tau)


def skewed(plan: list[Corner], most_deg: float, rng: random.Random) -> list[Corner]:
    """The plan with every corner moved, so that its angles are out by up to so many degrees."""
    sides = [math.dist(plan[place - 1], plan[place]) for place in range(len(plan))]
    reach = min(sides) * math.tan(math.radians(most_deg)) / 4
    return [(x + rng.uniform(-reach, reach), y + rng.uniform(-reach, reach)) for x, y in plan]


def corners(rng: random.Random) -> list[Corner]:
    """A room of a random kind, clockwise, begun at a random corner."""
    plan = rng.choice((rectangle, ell, tee, you, bay, cut))(rng)
    start = rng.randrange(len(plan))
    return plan[start:] + plan[:start]


def eighths(rng: random.Random, low: int, high: int) -> float:
    """A length on the eighth of an inch. [in]"""
    return rng.randrange(low * 8, high * 8) / 8


def rectangle(rng: random.Random) -> list[Corner]:
    """Four walls."""
    w, d = eighths(rng, 60, 300), eighths(rng, 60, 300)
    return [(0, 0), (0, d), (w, d), (w, 0)]


def ell(rng: random.Random) -> list[Corner]:
    """Six walls."""
    (a, b), (c, d) = ((eighths(rng, 36, 200), eighths(rng, 36, 200)) for _ in range(2))
    return [(0, 0), (0, b + d), (a, b + d), (a, b), (a + c, b), (a + c, 0)]


def tee(rng: random.Random) -> list[Corner]:
    """Eight walls."""
    a, b, c = (eighths(rng, 30, 150) for _ in range(3))
    d, stem = eighths(rng, 48, 150), eighths(rng, 36, 150)
    return [(0, 0), (0, d), (a + b + c, d), (a + b + c, 0), (a + b, 0), (a + b, -stem), (a, -stem), (a, 0)]


def you(rng: random.Random) -> list[Corner]:
    """Eight walls around a court."""
    a, b, c = (eighths(rng, 36, 150) for _ in range(3))
    deep, left, right = (eighths(rng, 36, 150) for _ in range(3))
    return [
        (0, 0), (0, deep + left), (a, deep + left), (a, deep), (a + b, deep), (a + b, deep + right),
        (a + b + c, deep + right), (a + b + c, 0),
    ]  # fmt: skip


def bay(rng: random.Random) -> list[Corner]:
    """Eight walls, or twelve with a chimney breast on the far side: a bay of two slants at 45°."""
    a, b, c = eighths(rng, 24, 80), eighths(rng, 36, 80), eighths(rng, 24, 80)
    out, d = eighths(rng, 14, 30), eighths(rng, 96, 200)
    w = a + out + b + out + c
    far = [(w, 0.0), (0.0, 0.0)]
    if rng.random() < 0.5:  # noqa: PLR2004 - half of them
        x, deep = eighths(rng, 18, int(w / 3)), eighths(rng, 12, 24)
        wide = eighths(rng, 40, 70)
        far = [(w, 0.0), (x + wide, 0.0), (x + wide, deep), (x, deep), (x, 0.0), (0.0, 0.0)]
    return [(0, d), (a, d), (a + out, d + out), (a + out + b, d + out), (a + 2 * out + b, d), (w, d), *far]


def cut(rng: random.Random) -> list[Corner]:
    """Five to eight walls: a rectangle with some corners cut at 45°."""
    w, d = eighths(rng, 120, 300), eighths(rng, 120, 300)
    plan: list[Corner] = []
    must = rng.randrange(4)
    for place, (x, y, before, after) in enumerate(
        ((0, 0, (1, 0), (0, 1)), (0, d, (0, -1), (1, 0)), (w, d, (-1, 0), (0, -1)), (w, 0, (0, 1), (-1, 0)))
    ):
        off = eighths(rng, 18, 50)
        ends = [(x + off * before[0], y + off * before[1]), (x + off * after[0], y + off * after[1])]
        plan += ends if place == must or rng.random() < 0.5 else [(x, y)]  # noqa: PLR2004 - half of them
    return plan


if __name__ == "__main__":
    main()
