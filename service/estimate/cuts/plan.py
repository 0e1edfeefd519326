"""The cutting stage: from runs to joints, pieces and boards, at a known distance from the least cost."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.cuts.cost import cutting_of
from service.estimate.cuts.model import CutPlan
from service.estimate.cuts.order import cuttable, in_room_order
from service.estimate.cuts.patterns import boards_of, with_boards
from service.estimate.cuts.shelf import shelves_of
from service.estimate.cuts.supply import laid_out
from service.problems import Problems

if TYPE_CHECKING:
    from decimal import Decimal

    from service.estimate.takeoff.model import Run
    from service.firm import PriceList


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
    layout = laid_out(sound, shelves, settings, found)
    problems.extend(found)
    if found.has_errors:
        return None
    joints = layout.joints_by_profile()
    boards = tuple(
        boards_of(profile, packing, settings.kerf, settings.shortest_offcut_to_keep, joints[profile])
        for profile, packing in layout.packings.items()
    )
    return CutPlan(
        pieces=with_boards(layout.pieces, layout.packings),
        boards=boards,
        splices=layout.all_splices(),
        cutting=cutting_of(boards, sound, shelves, settings, joint_cost, layout.packings),
    )
