"""Runs and boards of some profiles as the engine's whole numbers, and its choice as joints.

Each run that may be joined is a path (nodes: its ends and the positions of its course; arcs: the pieces between).
Profiles are planned together where their runs share a stack, whose joints keep the stagger; others apart, which loses
nothing. Pieces are charged as in the loose model of `sawing`, so the bound holds for every lawful set of joints of
these courses.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from service.estimate.cuts.courses import Stretch
from service.estimate.cuts.courses import course as course_through
from service.estimate.cuts.engine.network import Path, Plan, Stack
from service.estimate.cuts.engine.work import Column
from service.estimate.cuts.numbering import Numbering, Track
from service.estimate.cuts.sawing import ends_of
from service.estimate.cuts.splices import Joined, stacks
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from service.estimate.cuts.boards import Packing
    from service.estimate.cuts.courses import Course, Joinery
    from service.estimate.cuts.engine.network import Nodes
    from service.estimate.cuts.sawing import Ends
    from service.estimate.cuts.shelf import Shelf
    from service.estimate.cuts.spans import Span


MOST_POSITIONS = 500


def tracks_of(spans: Iterable[Span], joints: Mapping[int, Joined], shelves: Mapping[str, Shelf]) -> tuple[Track, ...]:
    """Tracks of all runs that may be joined.

    Args:
        spans: the runs.
        joints: of the quick plan, by run number; a run that it joins keeps to its course.
        shelves: by profile.
    """
    return tuple(_track(span, joints.get(span.number), shelves[span.profile].longest) for span in spans)


def _track(span: Span, joined: Joined | None, longest: Length) -> Track:
    one = _as_long(joined.course, longest) if joined else next(span.courses(longest), None)
    is_whole_allowed = span.length <= longest
    if one is None or len(one.at) <= MOST_POSITIONS:
        return Track(span, one, is_whole_allowed)
    thinned = _thinned(one, joined.at if joined else (), MOST_POSITIONS)
    return Track(span, thinned, is_whole_allowed, is_thinned=True)


def groups_of(profiles: Iterable[str], spans: Iterable[Span]) -> list[tuple[str, ...]]:
    """Profiles that are planned together, since runs of theirs that may be joined share a stack; rising by name."""
    group_of = {profile: {profile} for profile in profiles}
    for stack in stacks(spans):
        merged = set().union(*(group_of[span.profile] for span in stack))
        for name in merged:
            group_of[name] = merged
    return sorted({tuple(sorted(group)) for group in group_of.values()})


@dataclass(frozen=True, slots=True)
class Need:
    """One given piece: its profile, and its length with the cuts at its ends. [in]"""

    profile: str
    ends: Ends


class Group:
    """Profiles that are planned together, in the engine's numbers."""

    def __init__(
        self,
        profiles: Sequence[str],
        tracks: Iterable[Track],
        needs: Iterable[Need],
        shelves: Mapping[str, Shelf],
        stagger: Length,
        joint_cents: int,
    ) -> None:
        """Number pieces, boards and stacks.

        Args:
            profiles: of the group.
            tracks: runs of these profiles that may be joined.
            needs: pieces that are the same in every plan.
            shelves: by profile.
            stagger: least distance between joints of stacked layers. [Length]
            joint_cents: labor of one joint.
        """
        self.profiles = tuple(profiles)
        self.tracks = [track for track in tracks if track.span.profile in self.profiles]
        self._numbering = Numbering()
        needs = list(needs)
        for profile in self.profiles:
            mine = [track for track in self.tracks if track.span.profile == profile]
            given = [need.ends for need in needs if need.profile == profile]
            self._numbering.add(profile, mine, given, shelves[profile].choices)
        self.work = self._numbering.work()
        place_of = {track.span.number: place for place, track in enumerate(self.tracks)}
        self._stacked = [
            [place_of[span.number] for span in stack] for stack in stacks(track.span for track in self.tracks)
        ]
        self.stacks = [self._stack(places, stagger, joint_cents) for places in self._stacked]

    def _stack(self, places: Sequence[int], stagger: Length, joint_cents: int) -> Stack:
        tracks = [self.tracks[place] for place in places]
        marks = [position for track in tracks for position in _nodes(track)]
        scale = math.lcm(stagger.inches.denominator, *(mark.inches.denominator for mark in marks))
        layers: dict[object, int] = {}
        paths = []
        for track in tracks:
            layer = layers.setdefault(track.course.layer if track.course else (track.span.number,), len(layers))
            at = tuple(int(position.inches * scale) for position in _nodes(track))
            paths.append(Path(at, self._numbering.arcs[track.span.number], layer, joint_cents))
        return Stack(tuple(paths), int(stagger.inches * scale))

    def joints(self, plans: Iterable[Plan]) -> dict[int, Joined]:
        """Joints of some plans, by run number; runs left whole are left out."""
        found: dict[int, Joined] = {}
        for plan in plans:
            for place, nodes in zip(self._stacked[plan.stack], plan.joints, strict=True):
                track = self.tracks[place]
                if track.course and nodes:
                    at = tuple(track.course.at[node - 1] for node in nodes)
                    found[track.span.number] = Joined(track.course, at)
        return found

    def plans(self, joints: Mapping[int, Joined]) -> tuple[Plan, ...]:
        """Plans of some joints; of stacks whose runs all find theirs among their positions."""
        nodes = [_nodes_at(track, joints.get(track.span.number)) for track in self.tracks]
        return tuple(
            Plan(stack, tuple(_sure(nodes[place]) for place in places))
            for stack, places in enumerate(self._stacked)
            if all(
                (found := nodes[place]) is not None and _is_route(self.stacks[stack].paths[i], found)
                for i, place in enumerate(places)
            )
        )

    def columns(self, packings: Mapping[str, Packing], kerf: Length) -> list[Column]:
        """Patterns of boards that are cut from this group's pieces."""
        stock_of = {choice: stock for stock, choice in enumerate(self._numbering.choices)}
        found = []
        for profile in self.profiles:
            for board in packings[profile].boards:
                counts = Counter(self._numbering.item(profile, ends_of(piece, kerf)) for piece in board.pieces)
                if -1 not in counts:
                    found.append(Column(stock_of[profile, board.choice], tuple(sorted(counts.items()))))
        return found


def _sure(nodes: Nodes | None) -> Nodes:
    return nodes or ()


def _is_route(path: Path, nodes: Nodes) -> bool:
    stops = (0, *nodes, path.last)
    return all(span in path.item_of for span in pairwise(stops))


def _nodes_at(track: Track, joined: Joined | None) -> Nodes | None:
    """Nodes of a run's joints; None where a joint is not among its positions."""
    if joined is None or not joined.at:
        return ()
    at = track.course.at if track.course else ()
    node_of = {position: node for node, position in enumerate(at, start=1)}
    nodes = tuple(node_of.get(position, 0) for position in joined.at)
    return nodes if all(nodes) else None


def _nodes(track: Track) -> tuple[Length, ...]:
    """Ends and positions of a run on its wall; the ends of one that must stay whole don't matter."""
    if track.course is None:
        return Length.of(0), track.span.length
    return track.course.start, *track.course.at, track.course.stop


def _as_long(one: Course, longest: Length) -> Course:
    """A course with pieces up to the longest board, where the quick plan had to join its run shorter."""
    return _through(one, one.at, replace(one.joinery, longest=longest))


def _thinned(one: Course, joints: Sequence[Length], most: int) -> Course:
    """A course of about so many positions, spread evenly, and those of a plan that exists."""
    stride = -(-len(one.at) // most)
    return _through(one, {*one.at[stride // 2 :: stride], *joints}, one.joinery)


def _through(one: Course, at: Iterable[Length], joinery: Joinery) -> Course:
    stretch = Stretch(one.number, one.layer, one.start, one.stop)
    return course_through(stretch, at, joinery, on_plates=one.on_plates)
