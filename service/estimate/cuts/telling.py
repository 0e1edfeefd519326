"""What a plan had to give up, and what could not be planned, told in the words of the trade."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.cuts.order import sheet_place, title
from service.estimate.cuts.spans import corners
from service.problems import Code

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from service.estimate.cuts.job import Sawable
    from service.estimate.cuts.splices import Joined, Spliced
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings
    from service.problems import Problems
    from service.units import Length, Units


def tell_unspliced(
    spliced: Spliced,
    runs: Mapping[int, Run],
    limits: Mapping[int, Length],
    settings: FirmSettings,
    problems: Problems,
) -> None:
    """Runs that no joints divide, and walls whose layers find no stagger: errors.

    Args:
        spliced: what the quick rule found.
        runs: by number.
        limits: the longest piece of each run, by run number. [Length]
        settings: units, shortest piece and stagger are printed.
        problems: takes piece-cannot-be-cut.
    """
    for span in spliced.without_plan:
        _tell_no_plan(runs[span.number], limits[span.number], settings, problems)
    for stack in spliced.without_stagger:
        _tell_no_stagger([runs[span.number] for span in stack], settings, problems)


def tell_given_up(run: Run, joined: Joined, settings: FirmSettings, problems: Problems) -> None:
    """A joint near a corner (warning), joints on glue plates (note)."""
    left, right = corners(run)
    near = [at for at in joined.at if min(at - left, right - at) < settings.joint_stagger]
    if near:
        problems.warning(
            Code.JOINT_NEAR_CORNER,
            run.wall_pointer,
            f"{title(run)}: a joint falls at {_texts(near, settings.units)} from the wall's left end, nearer to a corner than "
            f"{settings.joint_stagger.text(settings.units)}; there was no better place for it.",
            help="Offer a longer stock length, or give the studs or joists of this wall.",
        )
    if joined.course.on_plates:
        problems.note(
            Code.JOINT_ON_GLUE_PLATE,
            run.wall_pointer,
            f"{title(run)}: no framing within reach of the joint at {_texts(joined.at, settings.units)} from the wall's left end; "
            f"each such joint is backed by a glue plate.",
            help="Give the framing behind this run if there is any.",
        )


def _tell_no_plan(run: Run, limit: Length, settings: FirmSettings, problems: Problems) -> None:
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        run.wall_pointer,
        f"{title(run)} is {run.cut_length.text(settings.units)} long; no joints divide it into pieces from "
        f"{settings.shortest_piece.text(settings.units)} to {limit.text(settings.units)}, the most that a board of {run.profile.name} holds.",
        help="Offer a longer stock length of this profile, or set a shorter Shortest piece.",
        found=run.cut_length.text(settings.units),
    )


def _tell_no_stagger(runs: Sequence[Run], settings: FirmSettings, problems: Problems) -> None:
    lengths = "; ".join(
        f"layer {run.layer.number} ({run.position}) {run.cut_length.text(settings.units)}" for run in runs
    )
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        runs[0].wall_pointer,
        f"{runs[0].room_name}, wall {runs[0].wall}: no arrangement of joints was found that keeps those of stacked "
        f"layers {settings.joint_stagger.text(settings.units)} apart ({lengths}).",
        help="Offer longer stock lengths, or set a smaller Joint stagger.",
    )


def _texts(lengths: Iterable[Length], units: Units) -> str:
    return ", ".join(length.text(units) for length in lengths)


def tell_unplaced(pieces: Iterable[Sawable], runs: Mapping[int, Run], units: Units, problems: Problems) -> None:
    """Pieces for which no board is left: errors."""
    for piece in pieces:
        run = runs[piece.run]
        problems.error(
            Code.STOCK_MISSING,
            sheet_place(run),
            f"{title(run)}: no board of {piece.profile} is left for a piece of {piece.long_point.text(units)}.",
            help="Raise Available on the tab Stock, or offer a length without a limit.",
            found=piece.long_point.text(units),
        )
