"""In which order work in a room is done, and what has to dry between."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from service.firm import Position

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator

    from service.estimate.labor.work import Work
    from service.trade.book import TradeBook


class Phase(IntEnum):
    """Phases of the work in a room, in their order; holes are filled before edges are caulked, so that filler dries meanwhile."""

    TAKE_OFF = 0
    BOARDS = 1
    HANG = 2
    LOAD = 3
    FILL = 4
    CAULK = 5
    SAND = 6
    PRIME = 7
    COAT = 8
    LAST = 9


@dataclass(frozen=True, slots=True, order=True)
class Stage:
    """A phase, and which coat of it: coats are put on one after the other."""

    phase: Phase
    coat: int = 0


PHASES = {
    "tear-out": Phase.TAKE_OFF, "medallion-out": Phase.TAKE_OFF, "fan-out": Phase.TAKE_OFF, "light-out": Phase.TAKE_OFF,
    "fill": Phase.FILL, "caulk": Phase.CAULK, "sand": Phase.SAND, "prime": Phase.PRIME, "paint": Phase.COAT,
    "stain": Phase.COAT, "fan-in": Phase.LAST, "light-in": Phase.LAST, "disposal": Phase.LAST, "clean-up": Phase.LAST,
}  # fmt: skip
LOADING = frozenset({"hang-crown", "nailing"})
NO_BOARDS = frozenset({"medallion-in"})
HUNG_LAST = frozenset({"fan-in", "light-in"})


def stages_of(work: Work, propped: Collection[int]) -> Iterator[tuple[Stage, Fraction]]:
    """In which stages a piece of work is done and how much of it in each.

    Where ceiling boards wait on props for their adhesive to cure, they go up first and the crown that they carry
    last; everything else is cut and hung meanwhile.

    Args:
        work: in one room; `propped` rooms with such boards.
    """
    phase = PHASES.get(work.task, Phase.HANG)
    if phase is Phase.HANG and work.room in propped:
        phase = _around_props(work)
    for coat in range(work.coats):
        yield Stage(phase, coat), work.quantity.value / work.coats


def _around_props(work: Work) -> Phase:
    """Layout and ceiling boards, then the rest, then what hangs on the boards."""
    if work.task == "layout" or (work.position is Position.CEILING and work.task not in NO_BOARDS):
        return Phase.BOARDS
    return Phase.LOAD if work.position is Position.CROWN and work.task in LOADING else Phase.HANG


@dataclass(frozen=True, slots=True)
class Drying:
    """Something that a stage leaves wet: what, and how long until the stage that waits for it may begin. [hours]"""

    what: str
    hours: Fraction
    entry: str


@dataclass(frozen=True, slots=True)
class DryingRules:
    """How long things dry, from the trade book `labor.*`. [hours]"""

    filler: Drying
    caulk: Drying
    primer: Drying
    paint: Drying
    stain: Drying
    adhesive: Drying

    @classmethod
    def of(cls, book: TradeBook) -> DryingRules:
        """The trade book's entries; less than nothing is nothing."""
        return cls(
            filler=_drying("filler", "labor.filler-dry", book),
            caulk=_drying("caulk", "labor.caulk-dry", book),
            primer=_drying("primer", "labor.primer-dry", book),
            paint=_drying("paint", "labor.paint-dry", book),
            stain=_drying("stain", "labor.stain-dry", book),
            adhesive=_drying("adhesive", "labor.adhesive-cure", book),
        )

    @property
    def by_task(self) -> dict[str, Drying]:
        """What a task leaves wet."""
        return {
            "fill": self.filler, "caulk": self.caulk, "prime": self.primer, "paint": self.paint, "stain": self.stain,
        }  # fmt: skip


def _drying(what: str, entry: str, book: TradeBook) -> Drying:
    return Drying(what, max(Fraction(book.value(entry)), Fraction(0)), entry)


@dataclass(frozen=True, slots=True)
class Edge:
    """What `before` leaves wet in a room and `after` waits for; None where no more is done there."""

    before: Stage
    after: Stage | None
    drying: Drying


def edges_of(tasks: Iterable[tuple[Stage, str]], is_propped: bool, rules: DryingRules) -> tuple[Edge, ...]:
    """Every wait in one room, between stages that have work there.

    Filler dries before it is sanded, caulk before primer or paint, a coat before the next one and before a fan or
    light goes up; adhesive cures before the crown loads what it holds, or, without one, before the room is left.

    Args:
        tasks: stage and key of the tasks done in the room.
        is_propped: ceiling boards there hang on adhesive and props.
        rules: how long things dry.
    """
    done = sorted(set(tasks))
    stages = sorted({stage for stage, _ in done})
    wet = rules.by_task
    edges = [
        Edge(stage, after, wet[task])
        for stage, task in done
        if task in wet and (after := _waiting(stage, task, done)) is not None
    ]
    if is_propped:
        loaded = next((stage for stage in stages if stage.phase in {Phase.LOAD, Phase.LAST}), None)
        boards = next((stage for stage in stages if stage.phase is Phase.BOARDS), None)
        edges += [Edge(boards, loaded, rules.adhesive)] if boards else []
    return tuple(edges)


def _waiting(stage: Stage, task: str, done: Iterable[tuple[Stage, str]]) -> Stage | None:
    """The first stage after a wet one that has to wait for it, None where none does."""
    first = Phase.PRIME if task == "caulk" else Phase.SAND
    for other, key in done:
        is_coating = first <= other.phase <= Phase.COAT
        hangs = key in HUNG_LAST and stage.phase is Phase.COAT
        if other > stage and (is_coating or hangs):
            return other
    return None
