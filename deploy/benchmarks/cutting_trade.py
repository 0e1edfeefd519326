"""The trade's way to join and cut: the full length of a board, a joint on the last stud before its end, then first fit."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from benchmarks.cutting_pieces import Prices, work_of
from benchmarks.cutting_runs import sixteenths

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from service.estimate.cuts.engine.work import Work
    from service.estimate.cuts.request import CutRequest, RunRow

    Joints = tuple[int, ...]  # of one run, from its left end, in sixteenths of an inch


@dataclass(frozen=True, slots=True)
class Rules:
    """Of a request: longest piece by profile, shortest, half an overlap, stagger. [sixteenths of an inch]"""

    longest: dict[str, int]
    shortest: int
    half: int
    stagger: int

    @classmethod
    def of(cls, request: CutRequest) -> Rules:
        """Rules of a request."""
        longest: defaultdict[str, int] = defaultdict(int)
        for row in request.stock:
            longest[row.profile] = max(longest[row.profile], sixteenths(row.length - request.end_trim))
        return cls(
            dict(longest),
            sixteenths(request.shortest_piece),
            sixteenths(request.scarf_overlap / 2),
            sixteenths(request.stagger),
        )


def shelf_of(request: CutRequest, profile: str) -> Prices:
    """What a profile can be had in."""
    rows = [row for row in request.stock if row.profile == profile]
    return Prices(
        tuple(sixteenths(row.length - request.end_trim) for row in rows),
        tuple(int(row.price * 100) for row in rows),
        tuple(row.available for row in rows),
    )


def works_of(request: CutRequest, joints: Sequence[Joints]) -> dict[str, Work]:
    """Pieces and boards by profile, with the joints of every run."""
    half, kerf = sixteenths(request.scarf_overlap / 2), sixteenths(request.kerf)
    pieces: defaultdict[str, list[int]] = defaultdict(list)
    for row, at in zip(request.runs, joints, strict=True):
        pieces[row.profile] += lengths_of(sixteenths(row.length), at, half)
    return {profile: work_of(lengths, shelf_of(request, profile), kerf) for profile, lengths in sorted(pieces.items())}


def lengths_of(length: int, joints: Joints, half: int) -> list[int]:
    """Pieces of a run, half an overlap added at each joint. [sixteenths of an inch]"""
    stops = (0, *joints, length)
    return [stop - start + half * ((start > 0) + (stop < length)) for start, stop in pairwise(stops)]


def last_studs(request: CutRequest) -> tuple[Joints, ...]:
    """Joints of every run, in the order of the request, each as far right as a full board reaches.

    A joint goes back a stud where a piece would be too short or the stagger broken; where that doesn't help, the joints before
    it go back, and those of the runs before it on the same wall.
    """
    rules = Rules.of(request)
    lines: defaultdict[str, list[int]] = defaultdict(list)
    for place, row in enumerate(request.runs):
        lines[row.wall].append(place)
    joints: dict[int, Joints] = {}
    for places in lines.values():
        found = next(_arranged([request.runs[place] for place in places], rules, ()), None)
        if found is None:
            raise SystemExit(f"the trade's way finds no joints on {request.runs[places[0]].wall}")
        joints |= dict(zip(places, found, strict=True))
    return tuple(joints[place] for place in range(len(request.runs)))


def _arranged(rows: Sequence[RunRow], rules: Rules, taken: Joints) -> Iterator[tuple[Joints, ...]]:
    """Joints of some runs of a wall, clear of those that are taken there."""
    if not rows:
        yield ()
        return
    start = sixteenths(rows[0].start)
    for joints in _courses(rows[0], rules, taken):
        for rest in _arranged(rows[1:], rules, (*taken, *(start + at for at in joints))):
            yield joints, *rest


def _courses(row: RunRow, rules: Rules, taken: Joints) -> Iterator[Joints]:
    """Sets of joints of a run, the trade's choice first."""
    start, length = sixteenths(row.start), sixteenths(row.length)
    longest = rules.longest[row.profile]
    if length <= longest:
        yield ()
        return
    studs = [at for at in map(sixteenths, row.backing) if all(abs(start + at - t) >= rules.stagger for t in taken)]
    yield from _onward(0, length, studs, longest, rules)


def _onward(at: int, length: int, studs: Sequence[int], longest: int, rules: Rules) -> Iterator[Joints]:
    """Joints from a joint onward."""
    half = rules.half if at else 0
    if length - at + half <= longest:
        if at and length - at + half >= rules.shortest:
            yield ()
        return
    for stud in reversed(studs):
        piece = stud - at + half + rules.half
        if rules.shortest <= piece <= longest:
            for rest in _onward(stud, length, studs, longest, rules):
                yield stud, *rest
