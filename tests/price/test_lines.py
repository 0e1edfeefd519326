"""Which lines there are, what they count, what they rest on."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.estimate.price import LineKind
from service.estimate.price.ladder import lacking, margin_profit, taxable_materials
from service.estimate.price.unit_codes import unit_code
from service.firm import Payment, ProfitMethod, SalesTaxOn
from service.problems import Code, Problems, Severity
from service.survey import Discount, ExtraKind
from service.units import Units
from tests.price.examples import CROWN, boards, extra, hours, piece, price, price_list, supply, survey

D = Decimal


def test_boards_stand_once_a_room_and_profile() -> None:
    """Two profiles in two rooms are four lines, in room order, pieces of one profile and room together."""
    pieces = (
        piece("A1", 60), piece("A2", 30), piece("B1", 45, 2, "Den"),
        piece("A3", 50, profile=CROWN.name), piece("B2", 50, 2, "Den", profile=CROWN.name),
    )  # fmt: skip
    job = price(bought=(boards("40.00"), boards("10.00", CROWN.name)), pieces=pieces)
    assert [(line.room, line.code) for line in job.lines] == [
        ("Hall", "LH-BASE"), ("Hall", "LH-CROWN"), ("Den", "LH-BASE"), ("Den", "LH-CROWN"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("units", "quantity", "unit", "code"),
    [(Units.IMPERIAL, "7.54", "ft", "FOT"), (Units.METRIC, "2.30", "m", "MTR")],
)
def test_boards_are_counted_in_feet_or_meters(units: Units, quantity: str, unit: str, code: str) -> None:
    """90 1/2" of pieces are 7.5417 ft or 2.2987 m, rounded to 0.01."""
    line = price(bought=(boards("40.00"),), pieces=(piece(length="90.5"),), job=survey(units=units)).lines[0]
    assert (line.quantity, line.unit, line.unit_code) == (D(quantity), unit, code)


def test_boards_rest_on_their_walls_and_orders() -> None:
    """A board line names the wall and trim rows of its room alone, and the stock it is priced by."""
    lines = price(bought=(boards("40.00"),), pieces=(piece(), piece("B1", 45, 2, "Den"))).lines
    assert lines[1].basis == ("sheet:/rooms/1/walls/0", "sheet:/trim/0", "list:stock/LH-BASE")


def test_boards_say_the_profile_in_words() -> None:
    """The customer reads the profile's description, not its code."""
    assert price(bought=(boards("40.00"),), pieces=(piece(),)).lines[0].description == "Base 1x4 poplar"


def test_labor_is_counted_in_hours() -> None:
    """A labor line has hours and HUR, whatever unit its task is rated in, and keeps the row's basis."""
    line = price(wages=(hours("45.00", worked="1.505"),)).lines[0]
    assert (line.quantity, line.unit, line.unit_code) == (D("1.51"), "h", "HUR")
    assert (line.kind, line.basis) == (LineKind.LABOR, ("trade:labor.long-piece",))


@pytest.mark.parametrize(
    ("size", "unit", "said", "code"),
    [
        ("1", "gal", "gal", "GLL"), ("1", "cartridge", "cartridge", "EA"),
        ("1000", "each", "package of 1000", "EA"), ("2.50", "L", "package of 2.5 L", "EA"),
    ],
)  # fmt: skip
def test_supplies_are_counted_in_packages(size: str, unit: str, said: str, code: str) -> None:
    """A package of one unit goes by that unit, any other is a package; the job buys it, no room."""
    row = supply("24.00", package_size=D(size), unit=unit, packages=3)
    line = price(supplies=(row,)).lines[0]
    assert (line.room, line.quantity, line.unit, line.unit_code) == (None, D(3), said, code)


def test_unit_price_is_the_amount_for_one() -> None:
    """Unit price is amount over quantity to the cent, and the whole amount where nothing is counted."""
    lines = price(wages=(hours("90.00", worked="3"), hours("10.00", worked="0"))).lines
    assert lines[0].unit_price == (lines[0].amount / 3).quantize(D("0.01"))
    assert lines[1].unit_price == lines[1].amount


def test_joint_cost_is_never_added() -> None:
    """The plan's joint cost of 999 is information: scarfs are in the labor rows."""
    totals = price(wages=(hours("30.00"),), bought=(boards("40.00"),), pieces=(piece(),)).totals
    assert (totals.wages, totals.materials) == (D("30.00"), D("40.00"))


def test_no_spare_share_no_spare_line() -> None:
    """Without a share the boards are all that is bought."""
    job = price(bought=(boards("40.00"),), pieces=(piece(),))
    assert [line.code for line in job.lines] == ["LH-BASE"]


def test_an_extra_has_no_overhead_or_profit() -> None:
    """Quantity times unit price is what the customer pays for an extra, and it has no cost side."""
    job = price(job=survey(extras=(extra(ExtraKind.ALLOWANCE, "12.345", "3", "sq ft"),)))
    line = job.lines[0]
    assert (line.amount, line.unit_price, line.cost, line.unit_code) == (D("37.04"), D("12.35"), None, "FTK")
    assert job.totals.price_before_tax == job.totals.extras == D("37.04")
    assert line.basis == ("sheet:/extras/0",)


def test_a_job_of_nothing_costs_nothing() -> None:
    """No hours, no material, no extras: no lines, and every amount is zero."""
    job = price(firm=price_list(payments=(Payment("on signing", D(1)),)))
    assert job.lines == ()
    assert {getattr(job.totals, name) for name in job.totals.__slots__} == {D("0.00")}
    assert [row.amount for row in job.payments] == [D("0.00")]


def test_a_job_of_nothing_still_costs_the_minimum() -> None:
    """The minimum charge stands on a line of its own."""
    job = price(firm=price_list(minimum_charge=D(250)))
    assert [(line.kind, line.amount) for line in job.lines] == [(LineKind.MINIMUM, D("250.00"))]
    assert job.totals.total == D("250.00")


def test_a_job_of_one_cent() -> None:
    """One cent of wages with 20% burden stays one cent on one line."""
    job = price(wages=(hours("0.01"), hours("0.00", 2)), firm=price_list(payments=(Payment("half", D("0.5")),) * 2))
    assert [line.amount for line in job.lines] == [D("0.01"), D("0.00")]
    assert [row.amount for row in job.payments] == [D("0.01"), D("0.00")]


def test_a_credit_larger_than_the_job_leaves_nothing_to_pay() -> None:
    """A price below zero is lifted to zero by a line that says so; no discount is taken off it."""
    job = price(job=survey(extras=(extra(ExtraKind.ALLOWANCE, "-80.00"),), discount=Discount(D("0.5"))))
    assert (job.totals.extras, job.totals.discount, job.totals.total) == (D("-80.00"), D("0.00"), D("0.00"))
    assert [(line.kind, line.amount) for line in job.lines][1:] == [(LineKind.MINIMUM, D("80.00"))]


def test_a_discount_above_the_price_takes_the_price_alone() -> None:
    """Ninety off a job of thirty-six is thirty-six off."""
    extras = (extra(ExtraKind.LABOR, "36.00"),)
    job = price(job=survey(extras=extras, discount=Discount(amount=D(90))))
    assert (job.totals.discount, job.totals.total) == (D("36.00"), D("0.00"))


@pytest.mark.parametrize(
    ("tax_on", "taxable"),
    [(SalesTaxOn.NOTHING, "0.00"), (SalesTaxOn.MATERIALS, "60.00"), (SalesTaxOn.WHOLE_PRICE, "100.00")],
)
def test_sales_tax_is_on_what_the_firm_says(tax_on: SalesTaxOn, taxable: str) -> None:
    """Of 60 material and 40 labor, the tax is on none, on 60 or on 100."""
    extras = (extra(ExtraKind.MATERIAL, "60.00"), extra(ExtraKind.LABOR, "40.00"))
    assert price(job=survey(extras=extras), firm=price_list(sales_tax_on=tax_on)).totals.taxable == D(taxable)


def test_discount_is_shared_by_material_in_proportion() -> None:
    """Of a discount of 10 on 60 material in 90, 6.67 is taken off what is taxed."""
    assert taxable_materials(D("60.00"), D("90.00"), D("10.00")) == D("53.33")


def test_the_minimum_is_no_material() -> None:
    """What lifts 60 of material to a minimum of 100 is not taxed as material."""
    job = price(
        job=survey(extras=(extra(ExtraKind.MATERIAL, "60.00"),)),
        firm=price_list(sales_tax_on=SalesTaxOn.MATERIALS, minimum_charge=D(100)),
    )
    assert (job.totals.minimum_charge, job.totals.taxable) == (D("40.00"), D("60.00"))


def test_lacking_is_nothing_above_the_minimum() -> None:
    """A price at the minimum is left alone."""
    assert lacking(D("100.00"), D(100)) == 0


def test_a_schedule_of_one_row_gets_a_balance_where_the_cap_binds() -> None:
    """The excess over the cap has no other row to go to, so it is paid as a balance."""
    job = price(
        job=survey(extras=(extra(ExtraKind.LABOR, "500.00"),)),
        firm=price_list(payments=(Payment("on signing", D(1)),), deposit_cap=D(100)),
    )
    assert [(row.when, row.amount) for row in job.payments] == [
        ("on signing", D("100.00")), ("Balance on completion", D("400.00")),
    ]  # fmt: skip


def test_margin_of_the_whole_price_is_a_fault() -> None:
    """No price has a margin of 100%: the rule refuses it, and the stage tells it and goes on."""
    with pytest.raises(ValueError, match="margin"):
        margin_profit(D(8), D(1))
    problems = Problems()
    job = price(
        wages=(hours("10.00"),), firm=price_list(profit_method=ProfitMethod.MARGIN, profit_rate=D(1)), problems=problems
    )
    assert [problem.code for problem in problems.errors] == [Code.NUMBER_OUT_OF_RANGE]
    assert job.totals.profit == 0


@pytest.mark.parametrize(
    ("tax_on", "material_tax", "codes"),
    [
        (SalesTaxOn.WHOLE_PRICE, "0.08", [Code.TAXED_TWICE]),
        (SalesTaxOn.WHOLE_PRICE, "0", []),
        (SalesTaxOn.NOTHING, "0.08", []),
    ],
)
def test_material_tax_with_sales_tax_is_a_warning(tax_on: SalesTaxOn, material_tax: str, codes: list[Code]) -> None:
    """Both taxes at once are told, never refused."""
    problems = Problems()
    price(firm=price_list(sales_tax_on=tax_on, material_tax_rate=D(material_tax)), problems=problems)
    assert [(problem.code, problem.severity) for problem in problems] == [(code, Severity.WARNING) for code in codes]


@pytest.mark.parametrize("unit", ["FT", " sq  ft ", "Hr.", "Each"])
def test_units_are_read_as_people_write_them(unit: str) -> None:
    """Case, white space and a trailing period do not matter."""
    assert unit_code(unit) != "C62"
