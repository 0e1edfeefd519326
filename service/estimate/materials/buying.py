"""The materials stage: what holds, seals and coats every run and ceiling feature, bought in whole packages."""

from __future__ import annotations

from collections import defaultdict
from itertools import chain
from typing import TYPE_CHECKING

from service.estimate.materials.demands import demands_of
from service.estimate.materials.fastening import fastened
from service.estimate.materials.hanging import demands_for, fittings_of
from service.estimate.materials.measure import Measure
from service.estimate.materials.model import Materials
from service.estimate.materials.packages import packaged
from service.estimate.materials.protection import protection_of
from service.estimate.materials.rules import Rules
from service.estimate.materials.shelf import Shelf
from service.estimate.materials.workbench import Workbench

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.cuts.model import CutPlan
    from service.estimate.materials.fastening import Fastened
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import Run
    from service.firm import PriceList
    from service.problems import Problems
    from service.trade.book import TradeBook


def bought(
    shapes: Sequence[RoomShape],
    runs: Sequence[Run],
    plan: CutPlan,
    price_list: PriceList,
    book: TradeBook,
    problems: Problems,
) -> Materials | None:
    """Fastening of every run and ceiling feature, and the supplies they take.

    Args:
        shapes: rooms, for the coverings that nails pass and for what hangs on their ceilings.
        runs: layers on walls; `plan` their pieces and splices.
        price_list: supplies and the firm's default finish.
        book: trade book with the firm's overrides.
        problems: receives no-nail-long-enough, supply-missing, overhead-on-adhesive-alone (errors), and
            nail-may-reach-cable, holding-low, holding-not-checked (warnings).

    Returns:
        The materials, None when this stage found an error.
    """
    errors_before = len(problems.errors)
    rules = Rules.of(book)
    bench = Workbench.of(runs, plan, price_list, rules, problems)
    rooms = {shape.number: shape.room for shape in shapes}
    done = [fastened(run, rooms[run.room], bench) for run in runs]
    measure = Measure(rules, book, Shelf(price_list.supplies, problems))
    hung = [fitting for shape in shapes for fitting in fittings_of(shape, price_list, rules, book)]
    in_room: dict[int, list[Fastened]] = defaultdict(list)
    for item in done:
        in_room[item.run.room].append(item)
    demands = chain(
        (demand for item in done for demand in demands_of(item, measure)),
        (demand for shape in shapes for demand in protection_of(shape, in_room[shape.number], measure)),
        (demand for fitting in hung for demand in demands_for(fitting, measure)),
    )
    supplies = packaged(demands, book)
    if len(problems.errors) > errors_before:
        return None
    return Materials(supplies, tuple(item.fastening for item in done), tuple(hung))
