"""The labor stage: hours of every task, crew days, trips."""

from __future__ import annotations

import math
from collections import defaultdict
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.labor.model import Labor
from service.estimate.labor.overhead import feature_work
from service.estimate.labor.rows import Crew, labor_rows
from service.estimate.labor.work import Work, fastening_work, piece_work, room_work, scarf_work
from service.money import ZERO, to_cents

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from service.estimate.cuts.model import CutPlan
    from service.estimate.materials.model import Materials
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings, PriceList
    from service.problems import Problems
    from service.survey import Survey
    from service.trade.book import TradeBook
    from service.units import Length

TENTH = 10


def joint_cost(price_list: PriceList) -> Decimal:
    """What one scarf costs the firm in labor: hours × wage × (1 + burden share), in cents; 0 without a rate.

    A missing rate is told by `worked`, where a scarf is really made.
    """
    rate = price_list.labor.get("scarf")
    wage = price_list.wages.get(rate.role) if rate else None
    if rate is None or wage is None:
        return ZERO
    return to_cents(rate.hours_per_unit * wage * (1 + price_list.settings.burden_share))


def worked(
    shapes: Sequence[RoomShape],
    runs: Sequence[Run],
    plan: CutPlan,
    materials: Materials,
    survey: Survey,
    price_list: PriceList,
    book: TradeBook,
    problems: Problems,
) -> Labor | None:
    """Person-hours by task and room, and the crew days they fill.

    Args:
        shapes: rooms; `runs` what is hung in them.
        plan: pieces and splices; `materials` nails, blocks, edges, areas and what hangs on ceilings.
        survey: whether the house is occupied.
        price_list: rates, wages, conditions, crew.
        book: trade book, rule for long pieces.
        problems: receives rate-missing and role-unknown (errors).

    Returns:
        The labor, None when this stage found an error.
    """
    errors_before = len(problems.errors)
    rooms = {shape.number: shape.room for shape in shapes}
    crew = Crew.of(rooms, survey.job.occupied, price_list, book, problems)
    on_site = labor_rows(_work(shapes, runs, plan, materials, crew.long_above, price_list.settings), crew)
    site_hours = sum((row.hours for row in on_site), Decimal(0))
    days = days_of(site_hours, price_list.settings)
    trips = labor_rows([Work("trip", None, Fraction(math.ceil(days)), ("/job/site_address",))] if days else [], crew)
    if len(problems.errors) > errors_before:
        return None
    hours = sum((row.hours for row in trips), site_hours)
    return Labor((*on_site, *trips), hours, crew_days(days))


def _work(
    shapes: Sequence[RoomShape],
    runs: Sequence[Run],
    plan: CutPlan,
    materials: Materials,
    long_above: Length,
    settings: FirmSettings,
) -> Iterator[Work]:
    by_number = {run.number: run for run in runs}
    by_room: dict[int, list[Run]] = defaultdict(list)
    for run in runs:
        by_room[run.room].append(run)
    for shape in shapes:
        yield from room_work(shape, by_room[shape.number])
    for piece in plan.pieces:
        yield from piece_work(piece, by_number[piece.run], long_above, settings)
    for splice in plan.splices:
        yield scarf_work(by_number[splice.run])
    for fastening in materials.fastening:
        yield from fastening_work(fastening, by_number[fastening.run])
    for fitting in materials.features:
        yield from feature_work(fitting)


def days_of(hours: Decimal, settings: FirmSettings) -> Fraction:
    """Days that a crew takes for so many person-hours on site: hours / (crew × productive hours a day).

    Source: NAVEDTRA 14045 page 2-28: duration is man-days over crew size and availability.

    Args:
        hours: person-hours on site. [hours]
        settings: crew size and productive hours a day.

    Returns:
        [days]
    """
    return Fraction(hours) / (settings.crew_size * Fraction(settings.productive_hours_a_day))


def crew_days(days: Fraction) -> Decimal:
    """Days rounded up to a tenth. [days]"""
    return Decimal(math.ceil(days * TENTH)) / TENTH
