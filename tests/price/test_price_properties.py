"""What holds for every price, whatever the job."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from hypothesis import assume, given
from hypothesis import strategies as st

from service.estimate.price import LineKind, Priced
from service.estimate.price.ladder import discounted, margin_profit, markup_profit
from service.estimate.price.payments import scheduled
from service.firm import Payment, PriceList, ProfitMethod, SalesTaxOn
from service.survey import Discount, Extra, ExtraKind
from tests.price.examples import boards, extra, hours, piece, price, price_list, supply, survey

D = Decimal
CENTS = st.integers(0, 5_000_000).map(lambda cents: D(cents).scaleb(-2))
SMALL = st.integers(0, 300).map(lambda cents: D(cents).scaleb(-2))
MONEY = st.one_of(CENTS, SMALL)
SHARES = st.integers(0, 900).map(lambda thousandths: D(thousandths).scaleb(-3))
DISCOUNTS = st.one_of(st.none(), SHARES.map(Discount), MONEY.map(lambda amount: Discount(amount=amount)))
TAXED = st.sampled_from(SalesTaxOn)


@st.composite
def schedules(draw: st.DrawFn) -> tuple[Payment, ...]:
    """Payment rows whose shares add up to one."""
    cuts = sorted(draw(st.lists(st.integers(0, 100), max_size=3)))
    edges = [0, *cuts, 100]
    return tuple(
        Payment(f"payment {number}", D(high - low).scaleb(-2)) for number, (low, high) in enumerate(pairwise(edges), 1)
    )


@st.composite
def price_lists(draw: st.DrawFn) -> PriceList:
    """Any firm's shares, taxes, minimum and payments."""
    return price_list(
        payments=draw(schedules()),
        burden_share=draw(SHARES), overhead_share=draw(SHARES), contingency_share=draw(SHARES),
        profit_method=draw(st.sampled_from(ProfitMethod)), profit_rate=draw(SHARES),
        material_tax_rate=draw(SHARES), sales_tax_rate=draw(SHARES), sales_tax_on=draw(TAXED),
        minimum_charge=draw(st.none() | MONEY), deposit_cap=draw(st.none() | MONEY),
        spare_stock_share=draw(st.none() | SHARES),
    )  # fmt: skip


EXTRAS = st.lists(
    st.builds(extra, st.sampled_from(ExtraKind), st.integers(-50_000, 90_000).map(lambda c: str(D(c).scaleb(-2)))),
    max_size=3,
).map(tuple)


@st.composite
def jobs(draw: st.DrawFn, firm: st.SearchStrategy[PriceList] = price_lists()) -> Priced:  # noqa: B008 - a strategy
    """A priced job of two rooms, zero amounts and credits among its extras included."""
    lengths = draw(st.lists(st.integers(1, 190), min_size=2, max_size=2))
    return price(
        wages=tuple(hours(str(draw(MONEY)), number) for number in (1, 2, None)),
        supplies=tuple(supply(str(draw(MONEY))) for _ in range(draw(st.integers(0, 2)))),
        bought=(boards(str(draw(MONEY))),),
        pieces=(piece("A1", lengths[0]), piece("B1", lengths[1], 2, "Den")),
        job=survey(extras=draw(EXTRAS), discount=draw(DISCOUNTS)),
        firm=draw(firm),
    )


@given(jobs())
def test_lines_add_up_to_the_price_before_tax(job: Priced) -> None:
    """Amounts of all lines, discount and minimum included, are the price before tax exactly."""
    assert sum(line.amount for line in job.lines) == job.totals.price_before_tax


@given(jobs())
def test_line_costs_add_up_to_the_direct_cost(job: Priced) -> None:
    """Burden and material tax are on the lines to the cent."""
    assert sum(line.cost for line in job.lines if line.cost is not None) == job.totals.direct_cost


@given(jobs())
def test_rungs_add_up(job: Priced) -> None:
    """Every sum on the ladder is the sum of the rungs that it names."""
    t = job.totals
    assert t.labor == t.wages + t.burden
    assert t.direct_cost == t.labor + t.materials + t.material_tax
    assert t.cost == t.direct_cost + t.overhead
    assert t.price_before_tax == t.cost + t.contingency + t.profit + t.extras - t.discount + t.minimum_charge
    assert t.total == t.price_before_tax + t.sales_tax


@given(jobs())
def test_everything_is_whole_cents(job: Priced) -> None:
    """No rung, line or payment has more than two decimals."""
    amounts = [getattr(job.totals, name) for name in job.totals.__slots__]
    amounts += [line.amount for line in (*job.lines, *job.options)] + [row.amount for row in job.payments]
    assert all(amount == amount.quantize(D("0.01")) for amount in amounts)


@given(jobs())
def test_payments_add_up_to_the_total(job: Priced) -> None:
    """The schedule asks for the total, no cent more or less, and its first row is the deposit."""
    assert sum(row.amount for row in job.payments) == job.totals.total
    assert job.payments[0].amount == job.totals.deposit


@given(jobs(), MONEY)
def test_deposit_never_passes_its_cap(job: Priced, cap: Decimal) -> None:
    """Whatever the shares, the first payment stays within the cap, also in a schedule of one row."""
    rows = scheduled(job.totals.total, tuple(Payment(row.when, row.share) for row in job.payments), cap)
    assert rows[0].amount <= cap
    assert sum(row.amount for row in rows) == job.totals.total


@given(jobs())
def test_nothing_falls_below_zero(job: Priced) -> None:
    """Discount, what is added for the minimum, taxable part, tax, price and total are never negative."""
    t = job.totals
    assert min(t.discount, t.minimum_charge, t.taxable, t.sales_tax, t.price_before_tax, t.total) >= 0
    assert t.taxable <= t.price_before_tax


@given(jobs(price_lists().map(lambda firm: replace(firm, settings=replace(firm.settings, minimum_charge=D(750))))))
def test_price_reaches_the_minimum_charge(job: Priced) -> None:
    """A price below the firm's minimum is raised to it, and a higher one is left alone."""
    assert job.totals.price_before_tax >= D(750)
    assert job.totals.minimum_charge == 0 or job.totals.price_before_tax == D(750)


@given(MONEY, DISCOUNTS)
def test_discount_stays_between_nothing_and_the_price(amount: Decimal, discount: Discount | None) -> None:
    """No discount is below zero or above the price it is taken off."""
    assert 0 <= discounted(amount, discount) <= amount


@given(CENTS, st.integers(0, 4000).map(lambda n: D(n).scaleb(-3)))
def test_markup_equals_its_margin(base: Decimal, markup: Decimal) -> None:
    """A markup of m and a margin of m / (1 + m) make the same profit; exact half cents, lost in 28 digits, aside."""
    assume((Fraction(base) * Fraction(markup) * 200).denominator != 1)
    assert markup_profit(base, markup) == margin_profit(base, markup / (1 + markup))


def _with_wages(
    wages: Decimal, firm: PriceList, material: Decimal, discount: Discount | None, extras: tuple[Extra, ...]
) -> Priced:
    return price(
        wages=(hours(str(wages)),), bought=(boards(str(material)),), pieces=(piece(),),
        job=survey(discount=discount, extras=extras), firm=firm,
    )  # fmt: skip


@given(MONEY, MONEY, price_lists(), MONEY, DISCOUNTS, EXTRAS)
def test_bigger_wages_never_make_a_smaller_price(
    wages: Decimal,
    more: Decimal,
    firm: PriceList,
    material: Decimal,
    discount: Discount | None,
    extras: tuple[Extra, ...],
) -> None:
    """More wages never lower the price before tax, nor the total where the tax is not on a part of the lines.

    Where the tax is on material lines, sharing cents over lines may move a cent of tax; two are allowed for.
    """
    low = _with_wages(wages, firm, material, discount, extras).totals
    high = _with_wages(wages + more, firm, material, discount, extras).totals
    assert low.price_before_tax <= high.price_before_tax
    slack = D("0.02") if firm.settings.sales_tax_on is SalesTaxOn.MATERIALS else D(0)
    assert low.total <= high.total + slack


@given(jobs())
def test_options_are_never_charged(job: Priced) -> None:
    """No option stands among the lines, and lines and options are numbered through."""
    assert all(line.kind is not LineKind.OPTION for line in job.lines)
    numbers = [line.number for line in (*job.lines, *job.options)]
    assert numbers == list(range(1, len(numbers) + 1))


@given(jobs())
def test_what_is_told_is_what_is_charged(job: Priced) -> None:
    """The story of every line ends in its quantity and its amount, that of the total in the total: credits, caps and all."""
    for line in (*job.lines, *job.options):
        assert line.story is not None
        assert line.story.amount.value == Fraction(line.amount), line.description
        assert line.story.quantity.value == Fraction(line.quantity), line.description
    assert job.story is not None
    assert job.story.value == Fraction(job.totals.total)
