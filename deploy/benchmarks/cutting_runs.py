"""Work for the cutting benchmark: runs to be joined on studs, of invented houses.

A room is a rectangle; half of all pairs of walls are 17 to 38 ft long, half 7 to 16 ft. Studs stand 16″ apart, behind
one wall in four 24″, the first anywhere. Base and shoe run along the floor, interrupted by one door a room, the shoe
short of the corners by the base's thickness; in seven rooms of ten a crown and its backer run along the ceiling, the
crown short of the corners by the backer's thickness. Joints of base and shoe keep apart, and those of crown and backer.
Lengths lie on the sixteenth of an inch; a joint costs $6; each profile comes in five lengths, a foot of each up to 8%
dearer or cheaper than the profile's usual price. That follows the recipe by which the figures to reach were found: 15
runs a room, two of five longer than any board. The recipe does not say how far prices stray, and the saving depends on
it: with one price a foot there is half as much to save on first fit as at 8%.
"""

from __future__ import annotations

import random
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from service.estimate.cuts.request import CutRequest, RunRow, StockRow
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

GRID = 16
FOOT = 12 * GRID
STOCK_FEET = (8, 10, 12, 14, 16)
DOLLARS_A_FOOT = {"base": 2.4, "shoe": 0.9, "crown": 3.6, "backer": 1.5}
BASE_THICK, BACKER_THICK = 9, 12
DOORS, CASING = (28, 30, 32, 36), 43
UNIT_ROOMS, OWN_SHARE = 4, 0.15


class Wall(NamedTuple):
    """Its length, its studs from the left end, and a door's edges. [sixteenths of an inch]"""

    length: int
    studs: tuple[int, ...]
    door: tuple[int, int] | None


class Room(NamedTuple):
    """Its walls, and whether molding runs along its ceiling."""

    walls: tuple[Wall, ...]
    has_crown: bool


def joints_job(rooms: int, seed: int, *, is_repeated: bool = False, seconds: int | None = None) -> CutRequest:
    """Runs of so many rooms; `is_repeated`: all but 15 of 100 rooms are those of one unit of four."""
    rng = random.Random(f"joints {rooms} {seed}")  # noqa: S311 - a repeatable sample, nothing secret
    shelf = tuple(stock(rng))
    unit = [room(rng) for _ in range(UNIT_ROOMS)]
    own = round(OWN_SHARE * rooms) if is_repeated else rooms
    plan = [room(rng) for _ in range(own)] + [unit[place % UNIT_ROOMS] for place in range(rooms - own)]
    return request(shelf, plan, seconds)


def one_room_job(seed: int) -> CutRequest:
    """Runs of one room without a door; every other job has the layers of the ceiling too, so 12 runs on average."""
    rng = random.Random(f"joints, one room, {seed}")  # noqa: S311 - same
    shelf = tuple(stock(rng))
    return request(shelf, [Room(tuple(walls(rng)), has_crown=seed % 2 == 0)], None)


def request(shelf: Sequence[StockRow], plan: Sequence[Room], seconds: int | None) -> CutRequest:
    """The cutting job of some rooms."""
    return CutRequest(
        currency="USD",
        kerf=Length.of("1/8"),
        end_trim=Length.of("1/2"),
        scarf_overlap=Length.of("3/4"),
        shortest_piece=Length.of(24),
        stagger=Length.of(24),
        joint_cost=Decimal(6),
        splice_short_runs=False,
        stock=tuple(shelf),
        runs=tuple(run for number, one in enumerate(plan) for run in runs(f"r{number + 1}", one)),
        seconds=None if seconds is None else Decimal(seconds),
    )


def stock(rng: random.Random) -> Iterator[StockRow]:
    """Every profile's lengths, each at a price of its own."""
    for profile, dollars in DOLLARS_A_FOOT.items():
        for feet in STOCK_FEET:
            cents = round(100 * dollars * feet * rng.uniform(0.92, 1.08))
            yield StockRow(profile, Length.of(12 * feet), Decimal(cents) / 100)


def room(rng: random.Random) -> Room:
    """One room with a door somewhere in one of its longest walls."""
    some = list(walls(rng))
    wide = rng.choice(DOORS) * GRID + 2 * CASING
    place = max(range(len(some)), key=lambda place: some[place].length)
    left = rng.randrange(8 * GRID, some[place].length - wide - 8 * GRID)
    some[place] = some[place]._replace(door=(left, left + wide))
    return Room(tuple(some), rng.random() < 0.7)  # noqa: PLR2004 - seven of ten


def walls(rng: random.Random) -> Iterator[Wall]:
    """Four walls of a rectangle with their studs."""
    for length in 2 * (side(rng), side(rng)):
        spacing = (24 if rng.random() < 1 / 4 else 16) * GRID
        yield Wall(length, tuple(range(rng.randrange(spacing), length, spacing)), None)


def side(rng: random.Random) -> int:
    """Length of a pair of walls, long or short as a coin falls."""
    low, high = (17, 38) if rng.random() < 1 / 2 else (7, 16)
    return rng.randrange(low * FOOT, high * FOOT)


def runs(name: str, one: Room) -> Iterator[RunRow]:
    """Runs of all layers of a room."""
    for place, wall in enumerate(one.walls):
        title = f"{name}{chr(65 + place)}"
        for start, stop, inset in floor_stretches(wall):
            left, right = inset
            yield run(f"{title}-floor", "base", start, stop, wall)
            yield run(f"{title}-floor", "shoe", start + left, stop - right, wall)
        if one.has_crown:
            yield run(f"{title}-ceiling", "backer", 0, wall.length, wall)
            yield run(f"{title}-ceiling", "crown", BACKER_THICK, wall.length - BACKER_THICK, wall)


def floor_stretches(wall: Wall) -> Iterator[tuple[int, int, tuple[int, int]]]:
    """Ends of each stretch of the floor's runs, and how far a shoe stands back at its ends."""
    if wall.door is None:
        yield 0, wall.length, (BASE_THICK, BASE_THICK)
        return
    yield 0, wall.door[0], (BASE_THICK, 0)
    yield wall.door[1], wall.length, (0, BASE_THICK)


def run(line: str, profile: str, start: int, stop: int, wall: Wall) -> RunRow:
    """One run of a profile along a line of a wall."""
    backing = tuple(inches(stud - start) for stud in wall.studs if start < stud < stop)
    return RunRow(f"{line}-{profile}-{start}", profile, line, inches(start), inches(stop - start), backing)


def inches(sixteenths: int) -> Length:
    """A length on the grid."""
    return Length(Fraction(sixteenths, GRID))


def sixteenths(length: Length) -> int:
    """The same back; lengths of the recipe all lie on the grid."""
    whole = length.inches * GRID
    if whole.denominator != 1:
        raise ValueError(f"{length} is off the grid")
    return int(whole)
