"""What the quote's page says of the cutting plan, in every case there is."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from service.estimate.cuts.model import Cutting, Proof
from service.web.pages.cutting_words import cutting_words
from tests.schemas.examples import quote

D = Decimal
GAP = Cutting(
    D("1224.64"), D("1156.72"), D("67.92"), D("1222.22"), Fraction(242, 122222), D("2.42"), is_proven=False,
    proof=Proof.EXACT, groups=(), saving_amount=D("51.20"),
)  # fmt: skip
PROVEN = replace(GAP, lower_bound=GAP.cost, gap=Fraction(0), gap_amount=D("0.00"), is_proven=True)
USUAL = "full-length boards joined at the last stud or joist would cost"


def said(cutting: Cutting) -> str:
    """The sentence of a quote with this plan."""
    return cutting_words(replace(quote(), cutting=cutting))


def test_saving_and_bound_are_told():
    """Cost, what the usual way would cost more, and the bound."""
    assert said(GAP) == (
        f"Boards and joints cost $1,224.64; {USUAL} $51.20 more. No plan can cost less than $1,222.22."
    )


@pytest.mark.parametrize(
    ("saving", "words"),
    [
        (None, "Boards and joints cost $1,224.64. No plan"),
        (D("0.00"), f"$1,224.64; {USUAL} the same. No plan"),
        (D("-3.10"), f"$1,224.64; {USUAL} $3.10 less. No plan"),
    ],
)
def test_no_saving_is_told_as_it_is(saving, words):
    """Without a comparison nothing is compared; none saved and less than none are said, never dressed up."""
    assert words in said(replace(GAP, saving_amount=saving))


@pytest.mark.parametrize(
    ("cutting", "words"),
    [
        (PROVEN, "No plan can cost less; that is proven."),
        (replace(PROVEN, proof=Proof.SOLVER), "By the solver’s word no plan can cost less."),
        (replace(GAP, proof=Proof.SOLVER), "By the solver’s word no plan can cost less than $1,222.22."),
        (replace(GAP, proof=Proof.NONE), "How much less another plan could cost is not known."),
        (replace(GAP, lower_bound=D("0.00")), "How much less another plan could cost is not known."),
    ],
)
def test_the_bound_is_told_by_who_vouches_for_it(cutting, words):
    """Proven, on the solver's word, or not at all; a bound of nothing is no bound."""
    assert said(cutting).endswith(words)


def test_a_plan_without_joints_names_none():
    """Where nothing is spliced only boards are spoken of; other currencies are named."""
    words = cutting_words(replace(quote(), cutting=replace(GAP, joint_cost=D("0.00")), currency="EUR"))
    assert words.startswith("Boards cost EUR 1,224.64; ")


def test_no_boards_no_words():
    """A job in which nothing is cut has nothing to say."""
    assert cutting_words(replace(quote(), boards=())) == ""
