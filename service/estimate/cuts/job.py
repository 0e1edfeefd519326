"""A cutting job as the planner sees it, whoever sends it: runs, boards, and how the pieces of given joints are found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from service.estimate.cuts.shelf import Shelf
    from service.estimate.cuts.spans import Span
    from service.estimate.cuts.splices import Joined
    from service.estimate.takeoff.model import End
    from service.units import Length


class Sawable(Protocol):
    """A piece to be sawn: `run` is the number of its run, negative for one of none."""

    @property
    def mark(self) -> str:
        """Unique in its job."""

    @property
    def run(self) -> int:
        """Number of its run."""

    @property
    def profile(self) -> str:
        """What it is cut from."""

    @property
    def is_return(self) -> bool:
        """True for the small piece that closes an end."""

    @property
    def long_point(self) -> Length:
        """Its length, long point to long point. [Length]"""

    @property
    def left(self) -> End:
        """How its left end is cut."""

    @property
    def right(self) -> End:
        """How its right end is cut."""

    @property
    def left_setback(self) -> Length:
        """How far its short edge stands back at the left end. [Length]"""

    @property
    def right_setback(self) -> Length:
        """How far its short edge stands back at the right end. [Length]"""


@dataclass(frozen=True, slots=True)
class Job:
    """A cutting job.

    Attributes:
        spans: runs that may be joined, in room order.
        shelves: by profile.
        pieces: every piece of the job with some joints, the joints given by run number.
        kerf: width of a square cut. [Length]
        keep: the shortest offcut that is kept. [Length]
        stagger: least distance between joints of stacked layers. [Length]
        joint_cents: labor of one joint.
        splice_short_runs: whether a run that fits a board may be joined all the same.
    """

    spans: tuple[Span, ...]
    shelves: Mapping[str, Shelf]
    pieces: Callable[[Mapping[int, Joined]], tuple[Sawable, ...]]
    kerf: Length
    keep: Length
    stagger: Length
    joint_cents: int
    splice_short_runs: bool

    def loose(self) -> tuple[Span, ...]:
        """Runs that may be joined: those that fit no board of which there is no end, or all if short ones may be."""
        return tuple(
            span for span in self.spans
            if self.splice_short_runs or span.length > self.shelves[span.profile].longest_unlimited
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Proven:
    """Profiles planned together, and what their boards and joints cost at least, in cents; see `Packing.is_exact`."""

    profiles: tuple[str, ...]
    cents: int
    is_exact: bool = True
