"""Rows of the cutting benchmark: what each one plans, and what it must reach."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from benchmarks.cutting_contest import job_entries, piece_entries
from benchmarks.cutting_goals import (
    Goal,
    contradictions,
    late_seconds,
    mean_gap,
    median_seconds,
    saved_on_cut,
    saved_on_rule,
    share_proven,
    share_proven_in,
)
from benchmarks.cutting_pieces import house
from benchmarks.cutting_runs import joints_job, one_room_job
from benchmarks.cutting_trials import joined, planned, tried

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from benchmarks.cutting_contest import Entry
    from benchmarks.cutting_goals import Trial
    from benchmarks.cutting_pieces import Known

LONG_SECONDS = 10
SHARE, SECONDS, COUNT, FINE = "{:.1%}", "{:.3f} s", "{:.0f}", "{:.4%}"


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table.

    Attributes:
        name: what it is asked for by.
        title: what it plans.
        trial: one job, by seed.
        seeds: how many jobs.
        goals: what it must reach.
        entries: models of one job for the general solvers; None where that is out of their reach.
    """

    name: str
    title: str
    trial: Callable[[int], Trial]
    seeds: int
    goals: tuple[Goal, ...]
    entries: Callable[[int], Iterator[Entry]] | None = None


def proven(share: float) -> Goal:
    """So large a share of the profiles, or of the instances, is proven least."""
    return Goal("proven least", share_proven, share, SHARE, is_floor=True)


def median_of(seconds: float) -> Goal:
    """The median job takes so long at most. [s]"""
    return Goal("seconds, median", median_seconds, seconds, SECONDS)


def latest(seconds: float) -> Goal:
    """Of 100 jobs 95 take so long at most. [s]"""
    return Goal("seconds, 95 of 100", late_seconds, seconds, SECONDS)


def gap(share: float) -> Goal:
    """The gap is so large at most, on average."""
    return Goal("gap, mean", mean_gap, share, FINE)


RIGHT = Goal("contradictions with a known optimum", contradictions, 0, COUNT)
SAVINGS = (
    Goal("less than last stud + first fit, mean", saved_on_rule, 0.04, SHARE, is_floor=True),
    Goal("less than last stud + least boards, mean", saved_on_cut, 0.025, SHARE, is_floor=True),
)
HARD_SETS = {"Falkenauer_T", "Hard28"}


def _house(rooms: int, offcuts: int, seed: int) -> Trial:
    return planned(house(rooms, seed, offcuts).values())


def _house_entries(rooms: int, seed: int) -> Iterator[Entry]:
    return piece_entries(house(rooms, seed).values())


PIECE_ROWS = (
    Row(
        "room",
        "fixed pieces, one room",
        partial(_house, 1, 0),
        24,
        (proven(1), median_of(0.1)),
        partial(_house_entries, 1),
    ),
    Row(
        "house",
        "fixed pieces, 8 rooms",
        partial(_house, 8, 0),
        15,
        (proven(1), median_of(0.15), latest(0.7)),
        partial(_house_entries, 8),
    ),
    Row("offcuts", "the same with 5 offcuts of each profile", partial(_house, 8, 5), 15, (proven(0.98), latest(1.5))),
    Row("sixty", "fixed pieces, 60 rooms", partial(_house, 60, 0), 9, (gap(0.00001), median_of(3))),
)


def _rooms(count: int, seconds: int | None, seed: int) -> Trial:
    return joined(joints_job(count, seed, seconds=seconds))


JOINT_ROWS = (
    Row(
        "joints-1",
        "joints and boards, one room",
        lambda seed: joined(one_room_job(seed)),
        24,
        (gap(0.001), median_of(0.1)),
        lambda seed: job_entries(one_room_job(seed)),
    ),
    Row("joints-8", "joints and boards, 8 rooms", partial(_rooms, 8, None), 6, (gap(0.0004), median_of(1.5), *SAVINGS)),
    Row("joints-20", "joints and boards, 20 rooms", partial(_rooms, 20, None), 3, (gap(0.0005), median_of(8))),
    Row(
        "joints-60-repeated",
        "joints and boards, 60 rooms, units repeated",
        lambda seed: joined(joints_job(60, seed, is_repeated=True, seconds=LONG_SECONDS)),
        3,
        (gap(0.0001), median_of(5)),
    ),
    Row(
        "joints-60",
        "joints and boards, 60 different rooms",
        partial(_rooms, 60, LONG_SECONDS),
        3,
        (gap(0.001), median_of(15)),
    ),
)


def open_rows(instances: Iterable[Known]) -> tuple[Row, ...]:
    """A row for every set among some open instances."""
    groups: dict[str, list[Known]] = {}
    for instance in instances:
        groups.setdefault(instance.group, []).append(instance)
    return tuple(
        Row("open", f"open instances, {name.replace('_', ' ')}", _nth(group), len(group), (goal_of(name), RIGHT))
        for name, group in groups.items()
    )


def goal_of(group: str) -> Goal:
    """What share of a set of open instances must be proven."""
    if group in HARD_SETS:
        return Goal("proven least in 5 s each", share_proven_in(5.0), 0.9, SHARE, is_floor=True)
    return proven(1)


def _nth(group: list[Known]) -> Callable[[int], Trial]:
    return lambda place: tried(group[place])
