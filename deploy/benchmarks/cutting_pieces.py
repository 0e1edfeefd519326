"""Work for the cutting benchmark: pieces of given length, of invented houses and of the open instances.

The houses. A room is a rectangle of 7 to 15¾ ft, one in seven an L; most have one door, some two, up to three windows. Base
and shoe stop at the doors' casings, the shoe is short of the base by its thickness at every corner; a crown runs
along every wall, a rail in two rooms of five. Doors are cased on both faces, windows on one, with an apron. Lengths
lie on the sixteenth of an inch; each profile comes in five or six lengths, a foot of each up to 4% dearer or cheaper
than the profile's usual price. That follows the recipe by which the figures to reach were found: about 33 pieces and 12
new lengths a room, and first fit costs about 3% too much.
"""

from __future__ import annotations

import json
import random
from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from service.estimate.cuts.engine.work import Work, single

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence
    from pathlib import Path

GRID = 16
KERF, END_TRIM = 2, 8  # sixteenths
SHOE_THICK = 9
CASING_WIDE, REVEAL = 40, 3
FEET = {
    "base": (8, 10, 12, 14, 16),
    "shoe": (8, 10, 12, 14, 16),
    "crown": (8, 10, 12, 14, 16),
    "rail": (8, 10, 12, 14, 16),
    "casing": (7, 8, 10, 12, 14, 16),
    "apron": (7, 8, 10, 12, 14, 16),
}
DOLLARS_A_FOOT = {"base": 2.4, "shoe": 0.9, "crown": 3.6, "rail": 1.9, "casing": 1.7, "apron": 1.5}
DOORS, WINDOWS = (28, 30, 32, 36), (24, 28, 30, 36, 42, 48)
DOOR_HIGH, WINDOW_HIGH = (80, 84), (36, 48, 54, 60)


class Prices(NamedTuple):
    """What a profile can be had in: lengths less the end trim, in sixteenths of an inch, cents, limits."""

    usable: tuple[int, ...]
    cents: tuple[int, ...]
    limits: tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class Known:
    """One open instance with what is known of its optimum: at least and at most so many boards."""

    name: str
    group: str
    work: Work
    least: int
    most: int


def house(rooms: int, seed: int, offcuts: int = 0) -> dict[str, Work]:
    """Work of a house by profile; `offcuts`: how many of each profile are on hand, at no cost."""
    rng = random.Random(f"house {rooms} {seed}")  # noqa: S311 - a repeatable sample, nothing secret
    pieces: defaultdict[str, list[int]] = defaultdict(list)
    for _ in range(rooms):
        for profile, length in room_pieces(rng):
            pieces[profile].append(length)
    shelves = {profile: prices(profile, rng) for profile in FEET}
    rack = random.Random(f"offcuts {rooms} {seed}")  # noqa: S311 - same
    return {
        profile: work_of(lengths, with_offcuts(shelves[profile], offcuts, rack))
        for profile, lengths in sorted(pieces.items())
    }


def work_of(lengths: Iterable[int], shelf: Prices, kerf: int = KERF) -> Work:
    """Pieces and boards in sixteenths as the engine takes them: every piece with a kerf, every board with one more."""
    counts = sorted(Counter(lengths).items(), reverse=True)
    return single(
        tuple(length + kerf for length, _ in counts),
        tuple(count for _, count in counts),
        tuple(length + kerf for length in shelf.usable),
        shelf.cents,
        shelf.limits,
    )


def prices(profile: str, rng: random.Random) -> Prices:
    """Lengths of a profile and an arbitrary price of each, to the cent."""
    feet = FEET[profile]
    cents = tuple(round(100 * DOLLARS_A_FOOT[profile] * each * rng.uniform(0.96, 1.04)) for each in feet)
    return Prices(tuple(each * 12 * GRID - END_TRIM for each in feet), cents, (None,) * len(feet))


def with_offcuts(shelf: Prices, count: int, rng: random.Random) -> Prices:
    """The shelf with so many offcuts of two to nine feet, one of each, at no cost."""
    offcuts = tuple(sorted(rng.randrange(24 * GRID, 108 * GRID) - END_TRIM for _ in range(count)))
    return Prices(shelf.usable + offcuts, shelf.cents + (0,) * count, shelf.limits + (1,) * count)


def room_pieces(rng: random.Random) -> Iterator[tuple[str, int]]:
    """Profile and length of every piece of one room. [sixteenths of an inch]"""
    walls = room_walls(rng)
    doors = [rng.choice(DOORS) for _ in range(rng.choice((1, 1, 2)))]
    door_on = dict(zip(longest_first(walls), doors, strict=False))
    stretches = [parts(wall, door_on.get(place), rng) for place, wall in enumerate(walls)]
    yield from (("crown", wall) for wall in walls)
    for wall in stretches:
        yield from (("base", stretch) for stretch in wall)
        yield from (("shoe", stretch - 2 // len(wall) * SHOE_THICK) for stretch in wall)
    if rng.random() < 0.4:  # noqa: PLR2004 - two rooms of five
        yield from (("rail", stretch) for wall in stretches for stretch in wall)
    for door in doors:
        yield from 2 * casing(door, rng.choice(DOOR_HIGH))
    for wide in rng.choices(WINDOWS, k=rng.choice((0, 1, 1, 2, 3))):
        yield from casing(wide, rng.choice(WINDOW_HIGH))
        yield "apron", wide * GRID + 2 * (CASING_WIDE + REVEAL)


def room_walls(rng: random.Random) -> tuple[int, ...]:
    """Walls of a rectangle, or of an L. [sixteenths of an inch]"""
    wide, deep = (rng.randrange(84 * GRID, 189 * GRID) for _ in range(2))
    if rng.random() < 1 / 7:
        across, back = (rng.randrange(30 * GRID, 50 * GRID) for _ in range(2))
        return wide, deep, wide - across, back, across, deep - back
    return wide, deep, wide, deep


def longest_first(walls: Sequence[int]) -> list[int]:
    """Places of the walls, the longest first: doors stand in these."""
    return sorted(range(len(walls)), key=lambda place: (-walls[place], place))


def parts(wall: int, door: int | None, rng: random.Random) -> tuple[int, ...]:
    """What a door of so many inches and its casing leave of a wall, none shorter than 8 inches. [sixteenths of an inch]"""
    if door is None:
        return (wall,)
    rest = wall - door * GRID - 2 * (CASING_WIDE + REVEAL)
    left = rng.randrange(8 * GRID, rest - 8 * GRID)
    return left, rest - left


def casing(wide: int, high: int) -> list[tuple[str, int]]:
    """Head and two legs around an opening of so many inches, mitered. [sixteenths of an inch]"""
    head, leg = wide * GRID + 2 * (CASING_WIDE + REVEAL), high * GRID + CASING_WIDE + REVEAL
    return [("casing", head), ("casing", leg), ("casing", leg)]


def open_instances(folder: Path, most: int) -> Iterator[Known]:
    """Instances of every set in a folder of JSON lines, so many of each at most, evenly spread over it."""
    groups: defaultdict[str, list[Mapping[str, Any]]] = defaultdict(list)
    for file in sorted(folder.glob("*.jsonl")):
        for row in map(json.loads, file.read_text("utf-8").splitlines()):
            groups[row["set"]].append(row)
    for rows in groups.values():
        yield from (known(row) for row in spread(rows, most))


def spread(rows: Sequence[Mapping[str, Any]], most: int) -> list[Mapping[str, Any]]:
    """So many rows at most, at even distances."""
    count = min(most, len(rows))
    return [rows[place * len(rows) // count] for place in range(count)]


def known(row: Mapping[str, Any]) -> Known:
    """One instance: a board of one length at one cent each."""
    items = sorted((tuple(item) for item in row["items"]), reverse=True)
    work = single(
        tuple(size for size, _ in items), tuple(count for _, count in items), (row["capacity"],), (1,), (None,)
    )
    best = row.get("opt")
    return Known(row["name"], row["set"], work, best or row.get("lb", 0), best or row.get("ub", sum(work.demands)))
