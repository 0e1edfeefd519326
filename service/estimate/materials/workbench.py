"""What every run's fastening is worked out with, sorted once."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.materials.nails import Into, nails_listed
from service.firm import Position

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from service.estimate.cuts.model import CutPlan, Piece, Splice
    from service.estimate.materials.rules import Rules
    from service.estimate.takeoff.model import Run
    from service.firm import PriceList, Supply
    from service.problems import Problems
    from service.units import Length

Spot = tuple[int, str, str]


@dataclass(frozen=True, slots=True)
class Workbench:
    """What every run's fastening is worked out with.

    Attributes:
        pieces, splices: by number of their run.
        nails: of the price list, shortest first, by what they go into.
        hanging: crowns under a ceiling layer, by room, wall and assembly.
    """

    pieces: Mapping[int, Sequence[Piece]]
    splices: Mapping[int, Sequence[Splice]]
    hanging: Mapping[Spot, Sequence[Run]]
    nails: Mapping[Into, Sequence[Supply]]
    price_list: PriceList
    rules: Rules
    problems: Problems

    @classmethod
    def of(
        cls, runs: Iterable[Run], plan: CutPlan, price_list: PriceList, rules: Rules, problems: Problems
    ) -> Workbench:
        """Sort pieces, splices and crowns once, so that no run searches them all."""
        pieces: dict[int, list[Piece]] = defaultdict(list)
        splices: dict[int, list[Splice]] = defaultdict(list)
        hanging: dict[Spot, list[Run]] = defaultdict(list)
        for piece in plan.pieces:
            pieces[piece.run].append(piece)
        for splice in plan.splices:
            splices[splice.run].append(splice)
        for run in runs:
            if run.position is Position.CROWN and run.under_ceiling_layer:
                hanging[spot_of(run)].append(run)
        nails = {into: nails_listed(price_list.supplies.values(), into) for into in Into}
        return cls(dict(pieces), dict(splices), dict(hanging), nails, price_list, rules, problems)

    def text(self, length: Length) -> str:
        """A length for people, in the firm's units."""
        return length.text(self.price_list.settings.units)


def spot_of(run: Run) -> Spot:
    """Room, wall and assembly of a run: what stands together."""
    return run.room, run.wall, run.assembly
