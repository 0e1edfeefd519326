"""The price stage, as a table of contents: drafts, costs, lines, what is asked for, payments."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.price.drafts import drafts_of
from service.estimate.price.lines import closing_lines, cost_lines, extra_line, materials_of, numbered, wages_of
from service.estimate.price.model import LineKind, Priced
from service.estimate.price.payments import scheduled
from service.estimate.price.rungs import asked_for, costs_of, is_reachable, totals_of
from service.estimate.price.story import top_told
from service.firm import SalesTaxOn
from service.money import ZERO
from service.problems import Code

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.cuts.model import CutPlan
    from service.estimate.labor import Labor
    from service.estimate.materials.model import Materials
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings, PriceList
    from service.problems import Problems
    from service.survey import Survey

_PRICE_LIST = "/job/price_list"


def priced(
    runs: Sequence[Run],
    plan: CutPlan,
    materials: Materials,
    labor: Labor,
    survey: Survey,
    price_list: PriceList,
    problems: Problems,
) -> Priced:
    """Price of the job: lines that add up to the price before tax, the ladder, options apart, payments.

    The hours of scarfs are in `labor` already; the joint cost that the cut plan was chosen by is not added again.

    Args:
        runs: for the sheet rows that a board line rests on.
        plan: boards and pieces; `materials` and `labor` likewise as the earlier stages found them.
        materials: supplies in whole packages, amounts in the firm's currency.
        labor: hours and wages by task and room.
        survey: extras and discount.
        price_list: shares, taxes, minimum charge, payments.
        problems: takes `taxed-twice`, and a margin that no price can reach.
    """
    settings = price_list.settings
    _doubt_rates(settings, problems)
    drafts = drafts_of(runs, plan, materials, labor, price_list, survey.job.units)
    costs = costs_of(wages_of(drafts), materials_of(drafts), settings)
    work = cost_lines(drafts, costs, settings)
    own = [extra_line(extra, settings.currency) for extra in survey.extras]
    extras = [line for line in own if line.kind is not LineKind.OPTION]
    asked = asked_for(work, extras, survey.job.discount, settings)
    top = top_told((*work, *extras), survey.job.discount, settings)
    lines = numbered((*work, *extras, *closing_lines(asked, top)))
    options = numbered((line for line in own if line.kind is LineKind.OPTION), len(lines))
    payments = scheduled(asked.total, price_list.payments, settings.deposit_cap)
    deposit = payments[0].amount if payments else ZERO
    return Priced(lines, totals_of(costs, asked, deposit), options, payments, top.total)


def _doubt_rates(settings: FirmSettings, problems: Problems) -> None:
    if not is_reachable(settings):
        problems.error(
            Code.NUMBER_OUT_OF_RANGE, _PRICE_LIST, "The price list's profit is a margin of the whole price or more.",
            help="Set a margin below 100%, or choose markup.", found=str(settings.profit_rate),
        )  # fmt: skip
    taxed = settings.sales_tax_rate if settings.sales_tax_on is not SalesTaxOn.NOTHING else ZERO
    if taxed and settings.material_tax_rate:
        problems.warning(
            Code.TAXED_TWICE, _PRICE_LIST, "Material is taxed when bought and the sale is taxed again.",
            help="Ask whether material for this work is bought with tax or resold with it; set one rate to 0.",
        )  # fmt: skip
