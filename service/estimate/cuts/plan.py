"""The cutting stage: from runs to joints, pieces and boards, at a known distance from the least cost."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.cuts.cost import cutting_of
from service.estimate.cuts.engine.work import effort_of
from service.estimate.cuts.job import Job
from service.estimate.cuts.model import CutPlan, Splice
from service.estimate.cuts.order import cuttable, in_room_order
from service.estimate.cuts.patterns import boards_of, with_boards
from service.estimate.cuts.pieces import pieces_of
from service.estimate.cuts.shelf import shelves_of
from service.estimate.cuts.spans import span_of
from service.estimate.cuts.supply import laid_out
from service.estimate.cuts.telling import tell_given_up, tell_unplaced, tell_unspliced
from service.problems import Problems

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from decimal import Decimal

    from service.estimate.cuts.model import Piece
    from service.estimate.cuts.shelf import Shelf
    from service.estimate.cuts.splices import Joined
    from service.estimate.cuts.supply import Layout
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings, PriceList

    Splices = dict[int, tuple[Splice, ...]]


def cut_plan(runs: tuple[Run, ...], price_list: PriceList, joint_cost: Decimal, problems: Problems) -> CutPlan | None:
    """Pieces, joints and boards of a job.

    Args:
        runs: all runs of the job, in any order.
        price_list: stock lengths and the firm's kerf, end trim, shortest piece, offcut, stagger, scarf angle.
        joint_cost: labor of one splice, burden included. [money]
        problems: takes every fault: stock-missing, piece-cannot-be-cut (errors), joint-near-corner (warning),
            joint-on-glue-plate (note).

    Returns:
        The plan, or None when a run of it cannot be cut or stocked.
    """
    found = Problems()
    settings = price_list.settings
    ordered = in_room_order(runs)
    shelves = shelves_of(ordered, price_list, found)
    sound = cuttable(ordered, shelves, settings.units, found)
    layout = laid_out(job_of(sound, shelves, settings, joint_cost), effort_of(settings.solver_seconds))
    _tell(layout, sound, settings, found)
    problems.extend(found)
    return None if found.has_errors else _plan(layout, sound, settings)


def job_of(runs: Sequence[Run], shelves: Mapping[str, Shelf], settings: FirmSettings, joint_cost: Decimal) -> Job:
    """The runs of a job as the planner sees them.

    Args:
        runs: in room order, each with a shelf.
        shelves: by profile.
        settings: kerf, shortest piece, shortest offcut, stagger and scarf angle are read.
        joint_cost: labor of one splice. [money]
    """

    def pieces(joints: Mapping[int, Joined]) -> tuple[Piece, ...]:
        return pieces_of(runs, _splices(joints), settings.scarf_angle_deg)

    return Job(
        spans=tuple(span_of(run, settings) for run in runs if run.is_along_wall),
        shelves=shelves,
        pieces=pieces,
        kerf=settings.kerf,
        keep=settings.shortest_offcut_to_keep,
        stagger=settings.joint_stagger,
        joint_cents=int(joint_cost * 100),
        splice_short_runs=settings.splice_short_runs,
    )


def _splices(joints: Mapping[int, Joined]) -> Splices:
    return {
        number: tuple(Splice(number, at, joined.course.on_plates) for at in joined.at)
        for number, joined in sorted(joints.items())
    }


def _tell(layout: Layout, runs: Sequence[Run], settings: FirmSettings, problems: Problems) -> None:
    by_number = {run.number: run for run in runs}
    tell_unspliced(layout.spliced, by_number, layout.limits, settings, problems)
    for number, joined in sorted(layout.spliced.joints.items()):
        tell_given_up(by_number[number], joined, settings, problems)
    tell_unplaced(layout.unplaced, by_number, settings.units, problems)


def _plan(layout: Layout, runs: Sequence[Run], settings: FirmSettings) -> CutPlan:
    splices = _splices(layout.spliced.joints)
    pieces = pieces_of(runs, splices, settings.scarf_angle_deg)
    counts = layout.joints_by_profile
    boards = tuple(
        boards_of(profile, packing, settings.kerf, settings.shortest_offcut_to_keep, counts[profile])
        for profile, packing in layout.packings.items()
    )
    return CutPlan(
        pieces=with_boards(pieces, layout.packings),
        boards=boards,
        splices=tuple(splice for some in splices.values() for splice in some),
        cutting=cutting_of(layout, boards),
    )
