"""Price rules against publications (design sources: accounting text, statutes, pocketbook, UN/ECE list)."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from service.estimate.price.ladder import margin_profit, markup_profit
from service.estimate.price.payments import scheduled
from service.estimate.price.unit_codes import unit_code
from service.firm import Payment
from service.money import to_cents

D = Decimal
# Accounting text on markup and margin: cost 8, price 10 is 25% markup and 20% margin;
# cost 200, price 300 is 50% markup and 33.33% margin.
PRICES = [("8", "10", "0.25", "0.20"), ("200", "300", "0.50", "0.3333")]


@pytest.mark.parametrize(("cost", "price", "markup", "_margin"), PRICES)
def test_markup_is_a_share_of_cost(cost: str, price: str, markup: str, _margin: str) -> None:
    """The printed markup on the printed cost gives the printed price to the cent."""
    assert D(cost) + markup_profit(D(cost), D(markup)) == D(price)


@pytest.mark.parametrize(("cost", "price", "_markup", "margin"), PRICES)
def test_margin_is_a_share_of_price(cost: str, price: str, _markup: str, margin: str) -> None:
    """The printed margin gives the printed price, within what its last printed digit leaves open."""
    low, high = D(margin) - D("0.00005"), D(margin) + D("0.00005")
    assert D(cost) + margin_profit(D(cost), low) <= D(price) <= D(cost) + margin_profit(D(cost), high)


def test_exact_margin_of_the_first_printed_case() -> None:
    """A margin of 20% on a cost of 8 is a profit of exactly 2."""
    assert margin_profit(D(8), D("0.20")) == D("2.00")


# Cal. Bus. & Prof. Code section 7159.5: a deposit of at most the lesser of $1,000 or 10% of the price.
@pytest.mark.parametrize(("total", "deposit"), [("8000", "800.00"), ("10000", "1000.00"), ("25000", "1000.00")])
def test_deposit_is_the_lesser_of_1000_and_a_tenth(total: str, deposit: str) -> None:
    """A first row of 10% with a cap of 1,000 never asks for more than the statute lets."""
    rows = scheduled(D(total), (Payment("on signing", D("0.1")), Payment("on completion", D("0.9"))), D(1000))
    assert rows[0].amount == D(deposit)
    assert rows[-1].amount == D(total) - D(deposit)


# Md. Code, Bus. Reg. section 8-617: a deposit of at most one third.
def test_deposit_of_one_third() -> None:
    """A third of a price that three divides is that third to the cent."""
    thirds = (Payment("on signing", D("0.333333333333")), Payment("on completion", D("0.666666666667")))
    assert [row.amount for row in scheduled(D("2997.00"), thirds, None)] == [D("999.00"), D("1998.00")]


# ICS Building Trades Pocketbook, molding priced by section: length × section × price of a square inch-foot × 1/2.
@pytest.mark.parametrize(
    ("feet", "square_inches", "printed", "cents"),
    [("16.5", "7.5", "0.61875", "0.62"), ("34.5", "5", "0.8625", "0.86"), ("34.5", "2", "0.345", "0.35")],
)
def test_section_prices_round_half_up(feet: str, square_inches: str, printed: str, cents: str) -> None:
    """The handbook's product is exact in decimals, and a half cent rounds up."""
    product = D(feet) * D(square_inches) * D("0.01") * D("0.5")
    assert product == D(printed)
    assert to_cents(product) == D(cents)
    assert to_cents(Fraction(printed)) == D(cents)


# UN/ECE Recommendation 20: codes in force.
@pytest.mark.parametrize(
    ("unit", "code"),
    [
        ("ft", "FOT"), ("in", "INH"), ("sq ft", "FTK"), ("h", "HUR"), ("each", "EA"), ("gal", "GLL"), ("L", "LTR"),
        ("m", "MTR"), ("lin ft", "LF"), ("joint", "C62"),
    ],
)  # fmt: skip
def test_units_carry_codes_in_force(unit: str, code: str) -> None:
    """Each unit of a line has the recommendation's code."""
    assert unit_code(unit) == code


@pytest.mark.parametrize("unit", ["tube", "cartridge", "box", "carton", "roll", "qt", "quart", "anything else"])
def test_withdrawn_codes_are_never_given(unit: str) -> None:
    """TU, BX, CT and RO were withdrawn and QT is deprecated: no container or quart gets them."""
    assert unit_code(unit) not in {"TU", "BX", "CT", "RO", "QT"}
