"""Money: half up to cents, nothing lost when it is shared out."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.money import money_text, shared_out, to_cents

# Builders' pocketbook (ICS Building Trades Pocketbook, public domain; seen): 16.5 ft × 7.5 sq in × 1¢ × ½ = 0.61875;
# 34.5 × 5 × ½¢ = 0.8625; 34.5 × 2 × ½¢ = 0.345, which half up makes 0.35.
PUBLISHED = [
    (Fraction("16.5") * Fraction("7.5") / 100 / 2, "0.62"),
    (Fraction("34.5") * 5 / 100 / 2, "0.86"),
    (Fraction("34.5") * 2 / 100 / 2, "0.35"),
]


@pytest.mark.parametrize(("amount", "cents"), PUBLISHED)
def test_published_sections_round_half_up(amount: Fraction, cents: str) -> None:
    """The pocketbook's figures, exact, as rationals and as decimals."""
    assert to_cents(amount) == Decimal(cents)
    assert to_cents(Decimal(amount.numerator) / Decimal(amount.denominator)) == Decimal(cents)


@pytest.mark.parametrize(
    ("amount", "cents"),
    [("0.345", "0.35"), ("0.335", "0.34"), ("2.675", "2.68"), ("1.005", "1.01"), ("-0.345", "-0.35"), ("0.3449999", "0.34"),
     ("0", "0.00"), ("-0.004", "0.00"), ("7", "7.00")],
)  # fmt: skip
def test_halves_go_away_from_zero(amount: str, cents: str) -> None:
    """Commercial rounding, the same below zero; halves that binary floats would lose are kept."""
    assert to_cents(Decimal(amount)) == Decimal(cents)
    assert to_cents(Fraction(amount)) == Decimal(cents)


@given(st.fractions(min_value=-(10**6), max_value=10**6))
def test_rounding_moves_by_half_a_cent_at_most(amount: Fraction) -> None:
    """Against the definition: a multiple of a cent, no farther than half of one."""
    rounded = Fraction(to_cents(amount))
    assert rounded * 100 % 1 == 0
    assert abs(rounded - amount) <= Fraction(1, 200)


amounts = st.integers(-(10**8), 10**8).map(lambda cents: Decimal(cents).scaleb(-2))
weights = st.lists(st.fractions(min_value=0, max_value=1000, max_denominator=1000), min_size=1, max_size=40)


@given(amounts, weights)
def test_shares_add_up_to_the_total(total: Decimal, parts: list[Fraction]) -> None:
    """No cent is lost or made."""
    assert sum(shared_out(total, parts)) == total


@given(amounts, weights)
def test_each_share_is_its_exact_part_rounded_up_or_down(total: Decimal, parts: list[Fraction]) -> None:
    """The quota rule of the largest remainder method: floor or ceiling of the exact share."""
    whole = sum(parts)
    if whole == 0:
        assert shared_out(total, parts)[0] == total
        return
    for share, part in zip(shared_out(total, parts), parts, strict=True):
        exact = Fraction(abs(total)) * 100 * part / whole
        assert abs(Fraction(abs(share)) * 100 - exact) < 1


@given(amounts, weights)
def test_a_heavier_part_never_gets_less(total: Decimal, parts: list[Fraction]) -> None:
    """Monotony: shares are ordered as their weights are."""
    shares = shared_out(abs(total), parts)
    for (part, share), (other, other_share) in zip(
        sorted(zip(parts, shares, strict=True)), sorted(zip(parts, shares, strict=True))[1:], strict=False
    ):
        assert part == other or share <= other_share


def test_the_largest_remainder_gets_the_cent() -> None:
    """Worked by hand: 1.00 by 1 : 1 : 1 is 0.34, 0.33, 0.33; by 5 : 3 : 1 it is 0.56, 0.33, 0.11."""
    assert shared_out(Decimal("1.00"), (1, 1, 1)) == (Decimal("0.34"), Decimal("0.33"), Decimal("0.33"))
    assert shared_out(Decimal("1.00"), (5, 3, 1)) == (Decimal("0.56"), Decimal("0.33"), Decimal("0.11"))
    assert shared_out(Decimal("-1.00"), (1, 1, 1)) == (Decimal("-0.34"), Decimal("-0.33"), Decimal("-0.33"))
    assert shared_out(Decimal("1.00"), ()) == ()


def test_money_prints_by_its_currency() -> None:
    """Dollars by their sign, other currencies by their code, negative with a true minus."""
    assert money_text(Decimal("1234.50"), "USD") == "$1,234.50"
    assert money_text(Decimal("1234.50"), "EUR") == "EUR 1,234.50"
    assert money_text(Decimal("-0.35"), "USD") == "−$0.35"
