"""Runs as networks: which pieces a run may be made of, and which joints keep apart.

Run r is a path from node 0, its left end, to node N, its right end; nodes between are the places where a joint may
fall, an arc (u, v) is the piece between two of them. With y for the arcs of the path,

    Σ y(0, v) = 1,   Σ y(v, w) = Σ y(u, v) at every place v,   demand of a piece ≥ its fixed demand + Σ y of its arcs,
    Σ z ≤ 1 over every window of the stagger, z(v) = Σ y(v, w) being the joint at v.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence


class Arc(NamedTuple):
    """A piece of a run, between two of its nodes."""

    tail: int
    head: int
    item: int


class Joint(NamedTuple):
    """A joint that may be made: the run's index and its node."""

    run: int
    node: int


@dataclass(frozen=True, slots=True)
class Path:
    """One run: nodes 0 to `last`, arcs in rising order of tail and head, all of them on some path."""

    last: int
    arcs: tuple[Arc, ...]


@dataclass(frozen=True, slots=True)
class Network:
    """Runs that are to be divided.

    Attributes:
        paths: one a run.
        windows: joints of which one at most may be made.
        joint_cents: labor of one joint.
    """

    paths: tuple[Path, ...] = ()
    windows: tuple[tuple[Joint, ...], ...] = ()
    joint_cents: int = 0

    def windows_of(self) -> dict[Joint, list[int]]:
        """Windows that each joint lies in."""
        found: dict[Joint, list[int]] = {}
        for place, window in enumerate(self.windows):
            for joint in window:
                found.setdefault(joint, []).append(place)
        return found

    def keeps_apart(self, chosen: Sequence[Sequence[Arc]]) -> bool:
        """True when no window holds two joints of a choice of paths."""
        made = {Joint(run, arc.tail) for run, arcs in enumerate(chosen) for arc in arcs if arc.tail}
        return all(sum(joint in made for joint in window) <= 1 for window in self.windows)


def shortest(path: Path, prices: Sequence[int]) -> tuple[int, tuple[Arc, ...]]:
    """The cheapest path of a run for whole prices of its arcs, and its arcs."""
    best: list[int | None] = [None] * (path.last + 1)
    came: list[Arc | None] = [None] * (path.last + 1)
    best[0] = 0
    for arc, price in zip(path.arcs, prices, strict=True):
        here = best[arc.tail]
        if here is None:
            continue
        there = best[arc.head]
        if there is None or here + price < there:
            best[arc.head], came[arc.head] = here + price, arc
    arcs: list[Arc] = []
    node = path.last
    while (arc_in := came[node]) is not None:
        arcs.append(arc_in)
        node = arc_in.tail
    total = best[path.last]
    assert total is not None, "every run has a path"  # noqa: S101 - arcs off all paths are never built
    return total, tuple(reversed(arcs))
