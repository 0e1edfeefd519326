"""The estimate from beginning to end: the table of contents of this package."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from service.estimate.cuts.plan import cut_plan
from service.estimate.labor import joint_cost, worked
from service.estimate.materials.buying import bought
from service.estimate.price import priced
from service.estimate.quote.assembly import assembled
from service.estimate.rooms import RoomRules, shaped_rooms
from service.estimate.takeoff.features import features_checked
from service.estimate.takeoff.rules import TakeoffRules
from service.estimate.takeoff.runs import taken_off
from service.problems import Problems
from service.trade.book import overridden

if TYPE_CHECKING:
    from service.estimate.quote.model import Heading, Quote
    from service.firm import PriceList
    from service.problems import Problem
    from service.survey import Survey
    from service.trade.book import TradeBook
    from service.units import Units


def estimated(
    survey: Survey, price_list: PriceList, book: TradeBook, heading: Heading
) -> tuple[Quote | None, tuple[Problem, ...]]:
    """A priced quote, or every fault that stands in its way.

    Args:
        survey: what was measured and ordered.
        price_list: the firm's prices and ways.
        book: the trade book as it ships; the price list's own values are put over it here.
        heading: identity, dates and status that the office gives the quote.

    Returns:
        The quote (None when a problem refuses the sheet) and all problems found.
    """
    problems = Problems()
    price_list = _printing_in(survey.job.units, price_list)
    book, remarks = overridden(book, {item.entry: (item.value, item.source) for item in price_list.overrides})
    problems.extend(remarks)
    shapes = shaped_rooms(survey.rooms, survey.job.units, RoomRules.of(book), problems)
    runs = taken_off(shapes, survey.trim, price_list, TakeoffRules.of(book), problems)
    features_checked(shapes, price_list, book, problems)
    if problems.has_errors:
        return None, tuple(problems)
    plan = cut_plan(runs, price_list, joint_cost(price_list), problems)
    if plan is None:
        return None, tuple(problems)
    materials = bought(shapes, runs, plan, price_list, book, problems)
    labor = worked(shapes, runs, plan, materials, survey, price_list, book, problems) if materials else None
    if materials is None or labor is None or problems.has_errors:
        return None, tuple(problems)
    lines = priced(runs, plan, materials, labor, survey, price_list, problems)
    if problems.has_errors:
        return None, tuple(problems)
    quote = assembled(heading, survey, price_list, book, shapes, runs, plan, materials, labor, lines, problems)
    return quote, tuple(problems)


def _printing_in(units: Units, price_list: PriceList) -> PriceList:
    """The price list with lengths in problems and descriptions printed as the sheet measures; sizes stay exact."""
    return replace(price_list, settings=replace(price_list.settings, units=units))
