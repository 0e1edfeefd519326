"""A job priced by hand: every rung, every line."""

from __future__ import annotations

from decimal import Decimal

from service.estimate.price import LineKind, Priced
from service.firm import Payment, SalesTaxOn
from service.survey import Discount, ExtraKind
from tests.price.examples import boards, extra, hours, piece, price, price_list, supply, survey

D = Decimal


def worked_example() -> Priced:
    """Two rooms, base 90" in the hall and 45" in the den, worked by hand below."""
    return price(
        wages=(hours("100.00"), hours("50.00", 2), hours("25.01", None, "trip")),
        supplies=(supply("12.50"),),
        bought=(boards("40.00"),),
        pieces=(piece("A1", 90), piece("B1", 45, 2, "Den")),
        job=survey(extras=(extra(ExtraKind.MATERIAL, "20.00"), extra(ExtraKind.OPTION, "75.00")), discount=Discount(D("0.05"))),
        firm=price_list(
            payments=(Payment("on signing", D("0.5")), Payment("half way", D("0.25")), Payment("at the end", D("0.25"))),
            deposit_cap=D(100), sales_tax_on=SalesTaxOn.MATERIALS, spare_stock_share=D("0.10"),
        ),
    )  # fmt: skip


def test_rungs_of_the_ladder() -> None:
    """Every rung equals the sum done by hand.

    wages 100.00 + 50.00 + 25.01 = 175.01; burden 20% = 35.002 → 35.00; labor 210.01.
    Material: boards 40.00, nails 12.50, spare 10% of the boards 4.00 = 56.50; tax 8% = 4.52.
    Direct cost 210.01 + 56.50 + 4.52 = 271.03; overhead 10% = 27.103 → 27.10; cost 298.13.
    Contingency 5% = 14.9065 → 14.91; profit 25% of 313.04 = 78.26; selling price 391.30.
    Extras 20.00 (the option of 75.00 apart): 411.30; discount 5% = 20.565 → 20.57; price before tax 390.73.
    """
    totals = worked_example().totals
    assert (totals.wages, totals.burden, totals.labor) == (D("175.01"), D("35.00"), D("210.01"))
    assert (totals.materials, totals.material_tax, totals.direct_cost) == (D("56.50"), D("4.52"), D("271.03"))
    assert (totals.overhead, totals.cost, totals.contingency) == (D("27.10"), D("298.13"), D("14.91"))
    assert (totals.profit, totals.extras, totals.discount) == (D("78.26"), D("20.00"), D("20.57"))
    assert (totals.minimum_charge, totals.price_before_tax) == (D("0.00"), D("390.73"))


def test_lines_share_direct_cost_and_price() -> None:
    """Each line has its direct cost and its part of the selling price.

    Boards 40.00 shared 90 : 45 → 26.67 (26.666 has the larger remainder) and 13.33.
    Burden 35.00 over 100.00 : 50.00 : 25.01 → 19.9988, 9.9994, 5.0017 → 20.00, 10.00, 5.00.
    Material tax 4.52 over 26.67 : 13.33 : 12.50 : 4.00 → 2.1336, 1.0664, 1.0000, 0.3200: floors give 4.51, the cent
    goes to the largest remainder (1.07).
    Direct costs 28.80, 120.00, 14.40, 60.00, 30.01, 13.50, 4.32 = 271.03.
    Price 391.30 over them, × 391.30 / 271.03 = 1.443752: 41.5800, 173.2502, 20.7900, 86.6251, 43.3270, 19.4906,
    6.2370; floors give 391.28, the two cents go to 6.2370 (6.24) and 43.3270 (43.33).
    """
    lines = worked_example().lines
    cost_bearing = [(line.room, line.code, line.cost, line.amount) for line in lines if line.cost is not None]
    assert cost_bearing == [
        ("Hall", "LH-BASE", D("28.80"), D("41.58")),
        ("Hall", "hang-base", D("120.00"), D("173.25")),
        ("Den", "LH-BASE", D("14.40"), D("20.79")),
        ("Den", "hang-base", D("60.00"), D("86.62")),
        (None, "trip", D("30.01"), D("43.33")),
        (None, "LH-NAIL", D("13.50"), D("19.49")),
        (None, "spare-stock", D("4.32"), D("6.24")),
    ]


def test_sales_tax_on_materials_leaves_out_their_part_of_the_discount() -> None:
    """What is taxed is the material lines less their part of the discount.

    Material lines 41.58 + 20.79 + 19.49 + 6.24 and the extra 20.00 are 108.10; 20.57 × 108.10 / 411.30 = 5.4063
    comes off as 5.41: 102.69; 6% of it is 6.1614 → 6.16; total 390.73 + 6.16 = 396.89.
    """
    totals = worked_example().totals
    assert (totals.taxable, totals.sales_tax, totals.total) == (D("102.69"), D("6.16"), D("396.89"))


def test_deposit_cap_moves_its_excess_to_the_last_payment() -> None:
    """396.89 shares as 198.45 (198.445), 99.22 and 99.22; 98.45 over the cap of 100.00 goes last: 197.67."""
    example = worked_example()
    assert [row.amount for row in example.payments] == [D("100.00"), D("99.22"), D("197.67")]
    assert example.totals.deposit == D("100.00")


def test_options_stand_apart() -> None:
    """An option has its price and a number after the lines, and no part in the total."""
    example = worked_example()
    assert [(line.kind, line.amount, line.cost) for line in example.options] == [(LineKind.OPTION, D("75.00"), None)]
    assert example.options[0].number == len(example.lines) + 1
    assert all(line.kind is not LineKind.OPTION for line in example.lines)


def test_the_discount_is_a_line_of_its_own() -> None:
    """The last line takes the discount off and rests on its cell."""
    last = worked_example().lines[-1]
    assert (last.kind, last.amount, last.cost, last.basis) == (
        LineKind.DISCOUNT, D("-20.57"), None, ("sheet:/job/discount",),
    )  # fmt: skip
