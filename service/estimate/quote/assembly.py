"""The quote put together from what every stage found; nothing is computed here but what the stages left to say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.quote.assumptions import assumptions
from service.estimate.quote.cautions import cautions
from service.estimate.quote.ledger import ledger_of
from service.estimate.quote.model import FirmCard, JobCard, NoticeCard, PriceListRef, Quote, SupplyCard
from service.estimate.quote.room_cards import room_cards
from service.estimate.quote.work import Work

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.cuts.model import CutPlan
    from service.estimate.labor import Labor
    from service.estimate.materials.model import Materials, SupplyRow
    from service.estimate.price import Priced
    from service.estimate.quote.model import Heading
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings, Notice, PriceList
    from service.problems import Problems
    from service.survey import Job, Survey
    from service.trade.book import TradeBook

SCHEMA = 1


def assembled(  # noqa: PLR0913, PLR0917 - one argument for each earlier stage
    heading: Heading,
    survey: Survey,
    price_list: PriceList,
    book: TradeBook,
    shapes: Sequence[RoomShape],
    runs: Sequence[Run],
    plan: CutPlan,
    materials: Materials,
    labor: Labor,
    priced: Priced,
    problems: Problems,
) -> Quote:
    """The whole quote, self-contained: what is stored, answered and printed.

    Args:
        heading: identity, dates, status.
        survey: what was measured and ordered.
        price_list: what the firm set.
        book: the trade's numbers, the firm's own in place of them.
        shapes: rooms in plan, in the sheet's order.
        runs: what goes on each wall.
        plan: pieces, boards and splices.
        materials: supplies in whole packages; `labor` hours by task.
        priced: lines, totals, options, payments.
        problems: takes `lead-paint-possible` and `asbestos-possible`; its warnings and notes travel with the quote.
    """
    settings = price_list.settings
    work = Work(survey, settings, book, runs, plan, materials, labor, priced)
    hazards = cautions(work, problems)
    return Quote(
        schema=SCHEMA,
        id=heading.id,
        number=heading.number,
        revision=heading.revision,
        status=heading.status,
        created_at=heading.created_at,
        valid_until=heading.valid_until,
        currency=settings.currency,
        units=survey.job.units,
        price_list=PriceListRef(price_list.name, price_list.version),
        firm=firm_card(settings, price_list.notices),
        job=job_card(survey.job),
        rooms=room_cards(shapes, runs, plan, materials.fastening),
        pieces=plan.pieces,
        boards=plan.boards,
        cutting=plan.cutting,
        supplies=tuple(supply_card(row) for row in materials.supplies),
        labor=labor.rows,
        labor_hours=labor.hours,
        crew_days=labor.crew_days,
        lines=priced.lines,
        totals=priced.totals,
        options=priced.options,
        payment_schedule=priced.payments,
        assumptions=assumptions(work),
        warnings=problems.remarks,
        cautions=hazards,
        ledger=ledger_of(priced),
        labor_plan=labor.plan,
    )


def firm_card(settings: FirmSettings, notices: Sequence[Notice]) -> FirmCard:
    """The firm as it signs, with its notices word for word."""
    return FirmCard(
        name=settings.name,
        address=settings.address,
        phone=settings.phone,
        email=settings.email,
        license_number=settings.license_number,
        lead_certificate=settings.lead_certificate,
        time_zone=settings.time_zone,
        paper=settings.paper,
        document_word=settings.document_word,
        notices=tuple(NoticeCard(n.text, n.smallest_type_pt, n.beside_signature) for n in notices),
    )


def job_card(job: Job) -> JobCard:
    """Who it is for and where."""
    return JobCard(
        job_name=job.job_name,
        customer=job.customer,
        customer_email=job.customer_email,
        customer_phone=job.customer_phone,
        site_address=job.site_address,
        measured_by=job.measured_by,
        measured_on=job.measured_on,
        year_built=job.year_built,
        occupied=job.occupied,
        notes=job.notes,
    )


def supply_card(row: SupplyRow) -> SupplyCard:
    """A supply as bought: need, purchase and rest."""
    return SupplyCard(
        code=row.code,
        kind=row.kind.value,
        description=row.description,
        need=row.need,
        unit=row.unit,
        waste_share=row.waste_share,
        package_size=row.package_size,
        packages=row.packages,
        rest=row.rest,
        unit_price=row.unit_price,
        amount=row.amount,
        basis=row.basis,
    )
