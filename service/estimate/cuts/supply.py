"""Joints and boards brought together.

A quick plan comes first: joints at the last position within reach, boards by first fit; runs are joined shorter where
the long boards run out. Then the joints of profiles that share a stack are chosen together with their boards, where
that costs less, and the boards of every profile are cut at their least.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import TYPE_CHECKING

from service.estimate.cuts.boards import first_fit, packed
from service.estimate.cuts.engine.joined import Joining, Recut
from service.estimate.cuts.job import Proven
from service.estimate.cuts.joined import Group, Need, groups_of, tracks_of
from service.estimate.cuts.sawing import ends_of
from service.estimate.cuts.splices import Spliced, spliced

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from service.estimate.cuts.boards import Packing
    from service.estimate.cuts.engine.network import Plan
    from service.estimate.cuts.engine.work import Effort
    from service.estimate.cuts.job import Job, Sawable
    from service.estimate.cuts.numbering import Track
    from service.estimate.cuts.splices import Joined
    from service.units import Length

    Joints = Mapping[int, Joined]

MOST_RECUT = 1_000


@dataclass(frozen=True)
class Layout:
    """Joints, pieces and boards that go together.

    Attributes:
        job: what they are for.
        spliced: joints by run number, and the runs for which none were found.
        limits: the longest piece that each run was joined for. [Length]
        packings: boards by profile.
        proven: what profiles planned together cost at least.
        quick_cents: what the quick plan costs; None where it found no boards.
    """

    job: Job
    spliced: Spliced
    limits: Mapping[int, Length]
    packings: Mapping[str, Packing]
    proven: tuple[Proven, ...] = ()
    quick_cents: int | None = None

    @cached_property
    def unplaced(self) -> tuple[Sawable, ...]:
        """Pieces for which no board is left."""
        return tuple(piece for packing in self.packings.values() for piece in packing.unplaced)

    @property
    def is_plan(self) -> bool:
        """True when every run is joined and every piece has a board."""
        return self.spliced.is_whole and not self.unplaced

    def joints_of(self, profiles: Iterable[str]) -> int:
        """How many joints stand in runs of some profiles."""
        counts = self.joints_by_profile
        return sum(counts[profile] for profile in profiles)

    @cached_property
    def joints_by_profile(self) -> Counter[str]:
        """How many joints stand in runs of each profile."""
        counts: Counter[str] = Counter()
        for span in self.job.spans:
            joined = self.spliced.joints.get(span.number)
            counts[span.profile] += len(joined.at) if joined else 0
        return counts

    def cents(self, profiles: Iterable[str]) -> int:
        """What boards and joints of some profiles cost."""
        profiles = tuple(profiles)
        boards = sum(self.packings[profile].cents for profile in profiles)
        return boards + self.joints_of(profiles) * self.job.joint_cents


def laid_out(job: Job, effort: Effort) -> Layout:
    """Joints and boards of a job at the least cost that could be found.

    Args:
        job: runs, boards, pieces.
        effort: how hard to try.
    """
    quick = quickly_laid_out(job)
    if not quick.spliced.is_whole:
        return quick
    joints, proven = dict(quick.spliced.joints), []
    tracks = tracks_of(job.loose(), joints, job.shelves)
    pieces = _by_profile(job.pieces(joints))
    for profiles in groups_of(pieces, (track.span for track in tracks)):
        if any(track.span.profile in profiles for track in tracks):
            search = _Search(job, profiles, tracks, pieces, quick, effort)
            joints = {number: some for number, some in joints.items() if number not in search.numbers}
            found, bound = search.result()
            joints |= found
            proven.append(bound)
    return _finished(job, quick, joints, proven, effort)


def _finished(job: Job, quick: Layout, joints: Joints, proven: Sequence[Proven], effort: Effort) -> Layout:
    """The boards of all profiles cut at their least for the joints chosen."""
    packings = _packings(job, joints, partial(packed, effort=effort))
    together = {profile for bound in proven for profile in bound.profiles}
    alone = [
        Proven((profile,), packing.bound, packing.is_exact)
        for profile, packing in packings.items()
        if profile not in together
    ]
    layout = replace(quick, spliced=Spliced(joints, (), ()), packings=packings)
    kept = [replace(bound, cents=min(bound.cents, layout.cents(bound.profiles))) for bound in proven]
    quick_cents = quick.cents(quick.packings) if quick.is_plan else None
    return replace(layout, proven=tuple(sorted([*kept, *alone], key=lambda one: one.profiles)), quick_cents=quick_cents)


def quickly_laid_out(job: Job) -> Layout:
    """Joints for the longest boards there are, boards by first fit; shorter joints where the long boards run out."""
    limits = {span.number: job.shelves[span.profile].longest for span in job.spans}
    layout = _quick(job, limits)
    while layout.spliced.is_whole and (lower := _lowered(layout)):
        shorter = _quick(job, {**layout.limits, **lower})
        if not shorter.spliced.is_whole:
            break
        layout = shorter
    return layout


def _quick(job: Job, limits: Mapping[int, Length]) -> Layout:
    found = spliced(job.spans, limits, job.stagger)
    return Layout(job, found, limits, _packings(job, found.joints, first_fit) if found.is_whole else {})


def _packings(job: Job, joints: Joints, pack: Callable[..., Packing]) -> dict[str, Packing]:
    pieces = _by_profile(job.pieces(joints))
    return {profile: pack(pieces[profile], job.shelves[profile], job.kerf, job.keep) for profile in sorted(pieces)}


def _by_profile(pieces: Iterable[Sawable]) -> dict[str, list[Sawable]]:
    by_profile: defaultdict[str, list[Sawable]] = defaultdict(list)
    for piece in pieces:
        by_profile[piece.profile].append(piece)
    return dict(by_profile)


def _lowered(layout: Layout) -> dict[int, Length]:
    """Lower limits for the runs that may be joined and whose pieces found no board."""
    lower: dict[int, Length] = {}
    for piece in layout.unplaced:
        limit = layout.job.shelves[piece.profile].next_below(piece.long_point)
        if limit and not piece.is_return and piece.run in layout.limits:
            lower[piece.run] = min(limit, lower.get(piece.run, limit))
    return lower


class _Search:
    """The search for joints and boards of one group of profiles."""

    def __init__(
        self,
        job: Job,
        profiles: tuple[str, ...],
        tracks: Sequence[Track],
        pieces: Mapping[str, Sequence[Sawable]],
        quick: Layout,
        effort: Effort,
    ) -> None:
        self.job, self.profiles, self.quick, self.effort = job, profiles, quick, effort
        self.numbers = {track.span.number for track in tracks if track.span.profile in profiles}
        self.joints = {number: some for number, some in quick.spliced.joints.items() if number in self.numbers}
        mine = [piece for profile in profiles for piece in pieces[profile]]
        needs = [Need(p.profile, ends_of(p, job.kerf)) for p in mine if p.is_return or p.run not in self.numbers]
        self.group = Group(profiles, tracks, needs, job.shelves, job.stagger, job.joint_cents)

    def result(self) -> tuple[Joints, Proven]:
        """The joints of the best plan found, and what is proven of the group."""
        first = self._begun()
        joints = sum(len(joined.at) for joined in self.joints.values())
        cost = self._cost_to_beat(first)
        search = Joining(self.group.work, self.group.stacks, self._recut, self.effort, cost, joints)
        search.search(first.columns if first else (), self.group.plans(self.joints))
        chosen = self.joints if search.plans is None else self.group.joints(search.plans)
        is_thinned = any(track.is_thinned for track in self.group.tracks)
        return chosen, Proven(self.profiles, 0 if is_thinned else search.bound)

    def _begun(self) -> Recut | None:
        """The quick joints with boards at their least; with boards by first fit where the pieces are very many."""
        packings = {profile: self.quick.packings[profile] for profile in self.profiles}
        pieces = sum(len(board.pieces) for packing in packings.values() for board in packing.boards)
        if pieces <= MOST_RECUT or not self.quick.is_plan:
            return self._recut_with(self.joints)
        return Recut(self.quick.cents(self.profiles), tuple(self.group.columns(packings, self.job.kerf)))

    def _cost_to_beat(self, first: Recut | None) -> int:
        """Cost of the quick plan; where it found no boards, more than any plan can cost."""
        if first is not None:
            return first.cost
        work, stacks = self.group.work, self.group.stacks
        joints = sum(path.joint_cents * path.last for stack in stacks for path in stack.paths)
        return sum(work.most) * max(work.cents) + joints + 1

    def _recut(self, plans: Sequence[Plan]) -> Recut | None:
        return self._recut_with(self.group.joints(plans))

    def _recut_with(self, joints: Joints) -> Recut | None:
        """Boards for some joints, cut without going to the end of it; None where pieces find none."""
        job = self.job
        pieces = _by_profile(job.pieces({**_of_others(self.quick.spliced.joints, self.numbers), **joints}))
        packings = {
            profile: packed(pieces[profile], job.shelves[profile], job.kerf, job.keep, self.effort.hasty)
            for profile in self.profiles
        }
        if any(packing.unplaced for packing in packings.values()):
            return None
        count = sum(len(joined.at) for joined in joints.values())
        cost = sum(packing.cents for packing in packings.values()) + count * job.joint_cents
        return Recut(cost, tuple(self.group.columns(packings, job.kerf)))


def _of_others(joints: Joints, numbers: set[int]) -> dict[int, Joined]:
    return {number: joined for number, joined in joints.items() if number not in numbers}
