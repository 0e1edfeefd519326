"""Lines as the customer reads them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import given
from service.estimate.price.ladder import added_up
from service.estimate.price.model import Line, LineKind, LineStory
from service.estimate.price.story import (
    DISCOUNT,
    MINIMUM,
    amounts_told,
    direct_costs_told,
    extra_told,
    rungs_told,
)
from service.estimate.price.unit_codes import PIECE, unit_code
from service.money import shared_out, to_cents

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.figures import Figure
    from service.estimate.price.drafts import Draft
    from service.estimate.price.rungs import Asked, Costs
    from service.estimate.price.story import Top
    from service.firm import FirmSettings
    from service.survey import Extra


def direct_costs(drafts: Sequence[Draft], costs: Costs) -> tuple[Decimal, ...]:
    """Direct cost of each line: labor lines carry the burden, material lines the material tax.

    Both are shared by largest remainder in proportion to wages or material, so the lines add up to the
    direct cost exactly.
    """
    burden = shared_out(costs.burden, _bases(drafts, LineKind.LABOR))
    tax = shared_out(costs.material_tax, _bases(drafts, LineKind.MATERIAL))
    return tuple(draft.base + b + t for draft, b, t in zip(drafts, burden, tax, strict=True))


def _bases(drafts: Iterable[Draft], kind: LineKind) -> list[Decimal]:
    return [draft.base if draft.kind is kind else Decimal(0) for draft in drafts]


def cost_lines(drafts: Sequence[Draft], costs: Costs, settings: FirmSettings) -> tuple[Line, ...]:
    """Cost-bearing lines: the selling price spread over them by largest remainder in proportion to direct cost."""
    direct = direct_costs(drafts, costs)
    amounts = shared_out(costs.selling_price, direct)
    rungs = rungs_told(drafts, settings)
    told = amounts_told(direct_costs_told(drafts, direct, rungs), amounts, rungs)
    rows = zip(drafts, direct, amounts, told, strict=True)
    return tuple(_priced_line(draft, cost, amount, story) for draft, cost, amount, story in rows)


def _priced_line(draft: Draft, cost: Decimal, amount: Decimal, story: Figure) -> Line:
    return Line(
        0, draft.code, draft.room, draft.kind, draft.description, draft.quantity, draft.unit, draft.unit_code,
        for_one(amount, draft.quantity), amount, cost, draft.basis, LineStory(draft.measure, story),
    )  # fmt: skip


def for_one(amount: Decimal, quantity: Decimal) -> Decimal:
    """Price of one unit, rounded to cents for reading; of the whole where nothing is counted."""
    return to_cents(Fraction(amount) / Fraction(quantity)) if quantity else amount


def extra_line(extra: Extra, currency: str) -> Line:
    """An extra at the estimator's own selling price: quantity × unit price, no overhead or profit on it."""
    return Line(
        0, "extra", extra.room, LineKind(extra.kind.value), extra.description, extra.quantity, extra.unit,
        unit_code(extra.unit), to_cents(extra.unit_price), to_cents(extra.quantity * extra.unit_price),
        None, (f"sheet:{extra.pointer}",), extra_told(extra, currency),
    )  # fmt: skip


def closing_lines(asked: Asked, top: Top) -> tuple[Line, ...]:
    """Discount and minimum charge as lines of their own, each only where it changes the price.

    Args:
        asked: what they come to.
        top: how they were worked out.
    """
    found = (
        _lump("discount", LineKind.DISCOUNT, "Discount", -asked.discount, DISCOUNT, top.discount),
        _lump("minimum-charge", LineKind.MINIMUM, "To the minimum charge", asked.minimum_charge, MINIMUM, top.lift),
    )
    return tuple(line for line in found if line.amount)


def _lump(code: str, kind: LineKind, words: str, amount: Decimal, basis: str, story: Figure) -> Line:
    lot = given("lot", 1, "lot", "geometry:whole")
    one = Decimal(1)
    return Line(0, code, None, kind, words, one, "lot", PIECE, amount, amount, None, (basis,), LineStory(lot, story))


def numbered(lines: Iterable[Line], after: int = 0) -> tuple[Line, ...]:
    """Lines with their positions; options count on after the lines, so that a number names one line."""
    return tuple(replace(line, number=number) for number, line in enumerate(lines, after + 1))


def wages_of(drafts: Iterable[Draft]) -> Decimal:
    """Wages of all labor lines, before burden."""
    return added_up(draft.base for draft in drafts if draft.kind is LineKind.LABOR)


def materials_of(drafts: Iterable[Draft]) -> Decimal:
    """Boards, supplies and spare stock as bought, before material tax."""
    return added_up(draft.base for draft in drafts if draft.kind is LineKind.MATERIAL)
