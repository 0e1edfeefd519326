"""Joints and boards brought together: runs are spliced shorter where the long boards run out."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.cuts.boards import packed
from service.estimate.cuts.order import sheet_place, title
from service.estimate.cuts.pieces import pieces_of
from service.estimate.cuts.splices import spliced
from service.problems import Code, Problems

if TYPE_CHECKING:
    from collections.abc import Container, Mapping, Sequence

    from service.estimate.cuts.boards import Packing
    from service.estimate.cuts.model import Piece, Splice
    from service.estimate.cuts.shelf import Shelf
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings
    from service.units import Length, Units


@dataclass(frozen=True, slots=True)
class Layout:
    """Joints, pieces and boards that go together; `found` says what could not be had."""

    splices: Mapping[int, tuple[Splice, ...]]
    pieces: tuple[Piece, ...]
    packings: Mapping[str, Packing]
    found: Problems

    @property
    def unplaced(self) -> tuple[Piece, ...]:
        """Pieces for which no board is left."""
        return tuple(piece for packing in self.packings.values() for piece in packing.unplaced)

    def all_splices(self) -> tuple[Splice, ...]:
        """Splices of all runs, by run number, from left to right."""
        return tuple(splice for number in sorted(self.splices) for splice in self.splices[number])

    def joints_by_profile(self) -> Counter[str]:
        """How many splices stand between the pieces of each profile."""
        profile_of = {piece.run: piece.profile for piece in self.pieces}
        return Counter(profile_of[splice.run] for splice in self.all_splices())


def laid_out(runs: Sequence[Run], shelves: Mapping[str, Shelf], settings: FirmSettings, problems: Problems) -> Layout:
    """Joints for the longest boards there are; runs left without such a board are spliced for the next shorter one.

    Args:
        runs: in room order, each with a shelf.
        shelves: by profile.
        settings: kerf, shortest piece, shortest offcut, stagger and scarf angle are read.
        problems: takes piece-cannot-be-cut, stock-missing where too few boards are left, and joints' notes.
    """
    limits = {run.number: shelves[run.profile.name].longest for run in runs}
    layout = _layout(runs, shelves, settings, limits)
    spliceable = {run.number for run in runs if run.is_along_wall}
    while lower := _lowered(layout, shelves, spliceable):
        limits |= lower
        shorter = _layout(runs, shelves, settings, limits)
        if shorter.found.has_errors:
            break
        layout = shorter
    problems.extend(layout.found)
    _tell_unplaced(layout.unplaced, runs, settings.units, problems)
    return layout


def _layout(
    runs: Sequence[Run], shelves: Mapping[str, Shelf], settings: FirmSettings, limits: Mapping[int, Length]
) -> Layout:
    found = Problems()
    splices = spliced(runs, limits, settings, found)
    pieces = pieces_of(_with_plan(runs, splices, limits), splices, settings.scarf_angle_deg)
    by_profile: defaultdict[str, list[Piece]] = defaultdict(list)
    for piece in pieces:
        by_profile[piece.profile].append(piece)
    packings = {
        profile: packed(by_profile[profile], shelves[profile], settings.kerf, settings.shortest_offcut_to_keep)
        for profile in sorted(by_profile)
    }
    return Layout(splices, pieces, packings, found)


def _with_plan(runs: Sequence[Run], splices: Mapping[int, object], limits: Mapping[int, Length]) -> list[Run]:
    return [run for run in runs if run.number in splices or run.cut_length.snapped() <= limits[run.number]]


def _lowered(layout: Layout, shelves: Mapping[str, Shelf], spliceable: Container[int]) -> dict[int, Length]:
    """Lower limits for the runs that may be spliced and whose pieces found no board."""
    lower: dict[int, Length] = {}
    for piece in layout.unplaced:
        limit = shelves[piece.profile].next_below(piece.long_point)
        if limit and not piece.is_return and piece.run in spliceable:
            lower[piece.run] = min(limit, lower.get(piece.run, limit))
    return lower


def _tell_unplaced(pieces: Sequence[Piece], runs: Sequence[Run], units: Units, problems: Problems) -> None:
    by_number = {run.number: run for run in runs}
    for piece in pieces:
        run = by_number[piece.run]
        problems.error(
            Code.STOCK_MISSING,
            sheet_place(run),
            f"{title(run)}: no board of {piece.profile} is left for a piece of {piece.long_point.text(units)}.",
            help="Raise Available on the tab Stock, or offer a length without a limit.",
            found=piece.long_point.text(units),
        )
