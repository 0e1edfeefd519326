"""How good the cutting plan is, in plain sentences for the office."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.cuts.model import Proof
from service.money import ZERO, money_text

if TYPE_CHECKING:
    from service.estimate.cuts.model import Cutting
    from service.estimate.quote.model import Quote


def cutting_words(quote: Quote) -> str:
    """What boards and joints cost, what the usual way would cost, and how far that may be from the least.

    `Boards and joints cost $1,224.64; full-length boards joined at the last stud or joist would cost $51.20 more. No
    plan can cost less than $1,222.22.` Empty where nothing is cut.
    """
    if not quote.boards:
        return ""
    cutting, currency = quote.cutting, quote.currency
    what = "Boards and joints cost" if cutting.joint_cost else "Boards cost"
    return f"{what} {money_text(cutting.cost, currency)}{_saved(cutting, currency)}. {_bounded(cutting, currency)}"


def _saved(cutting: Cutting, currency: str) -> str:
    """The same work the usual way; nothing where that way has no plan or the quote is from before it was told."""
    saving = cutting.saving_amount
    if saving is None:
        return ""
    usual = "; full-length boards joined at the last stud or joist would cost"
    if saving == ZERO:
        return f"{usual} the same"
    return f"{usual} {money_text(abs(saving), currency)} {'more' if saving > ZERO else 'less'}"


def _bounded(cutting: Cutting, currency: str) -> str:
    """How far the cost is from the least that any plan can cost, and who says so."""
    if cutting.proof is Proof.NONE or cutting.lower_bound <= ZERO < cutting.cost:
        return "How much less another plan could cost is not known."
    solver = cutting.proof is Proof.SOLVER
    if cutting.is_proven:
        return "By the solver’s word no plan can cost less." if solver else "No plan can cost less; that is proven."
    least = money_text(cutting.lower_bound, currency)
    return f"{'By the solver’s word no' if solver else 'No'} plan can cost less than {least}."
