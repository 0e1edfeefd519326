"""The first page's head: whose paper, for whom, what, how much, and how to say yes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Spacer

from service.documents.fonts import markup
from service.documents.prices import scope_sentences
from service.documents.styles import ACCENT, BODY, FACT, LEAD, RIGHT, RULE, SMALL, TINT, TITLE, marked, said
from service.documents.tables import table
from service.documents.words import created_on, date_text, document_word, money
from service.estimate.quote.model import Status

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from service.estimate.quote.model import FirmCard, Quote


def summary(quote: Quote, width_pt: float) -> list[Flowable]:
    """Firm and document, customer and site, scope, and the band with the figures that matter."""
    return [
        _head(quote, width_pt),
        Spacer(1, 10),
        _parties(quote, width_pt),
        Spacer(1, 11),
        said(scope_sentences(quote), LEAD),
        Spacer(1, 11),
        _band(quote, width_pt),
        Spacer(1, 6),
        said(how_to_accept(quote), BODY),
    ]


def _head(quote: Quote, width_pt: float) -> Flowable:
    firm = quote.firm
    contact = "\n".join(item for item in (firm.address, _joined(firm)) if item)
    left = [marked(f'<b><font size="14">{markup(firm.name)}</font></b>', LEAD), said(contact, SMALL)]
    facts = [f"No. {quote.number}" if quote.number else "Draft, not numbered", f"Revision {quote.revision}"]
    if quote.status in {Status.WITHDRAWN, Status.DECLINED} or (quote.status is Status.DRAFT and quote.number):
        facts.append(quote.status.value)
    dates = f"{date_text(created_on(quote))}"
    word = document_word(quote)
    right = [
        marked(f'<para alignment="right">{markup(word)}</para>', TITLE),
        marked(f"<b>{markup(' · '.join(facts))}</b>", RIGHT),
        said(dates, RIGHT),
    ]
    share = width_pt * 0.64
    ruled = ("LINEBELOW", (0, 0), (-1, -1), 1.4, ACCENT), ("BOTTOMPADDING", (0, 0), (-1, -1), 7)
    return table([[left, right]], (share, width_pt - share), *ruled, is_layout=True)


def _joined(firm: FirmCard) -> str:
    parts = [firm.phone, firm.email]
    parts += [f"License {firm.license_number}"] if firm.license_number else []
    parts += [f"Lead-safe certificate {firm.lead_certificate}"] if firm.lead_certificate else []
    return " · ".join(part for part in parts if part)


def _parties(quote: Quote, width_pt: float) -> Flowable:
    job = quote.job
    contact = " · ".join(part for part in (job.customer_phone, job.customer_email) if part)
    customer = f"<b>{markup(job.customer)}</b>" + (f"<br/>{markup(contact)}" if contact else "")
    site = f"<b>{markup(job.job_name)}</b><br/>{markup(job.site_address)}"
    if job.measured_on:
        by = f" by {job.measured_by}" if job.measured_by else ""
        measured = markup(f"Measured {date_text(job.measured_on)}{by}")
        site += f'<br/><font size="8" color="#55595C">{measured}</font>'
    half = width_pt / 2
    cells = [[[said("Prepared for", SMALL), marked(customer)], [said("Job and site", SMALL), marked(site)]]]
    return table(cells, (half, half), ("RIGHTPADDING", (0, 0), (0, -1), 14), is_layout=True)


def _band(quote: Quote, width_pt: float) -> Flowable:
    """Total, deposit and last day, side by side on a tint."""
    facts = [("Total, tax included" if quote.totals.sales_tax else "Total", money(quote.totals.total, quote.currency))]
    if quote.payment_schedule:
        facts.append((f"Deposit, {quote.payment_schedule[0].when}", money(quote.totals.deposit, quote.currency)))
    facts.append(("Valid through", date_text(quote.valid_until)))
    size = 15 if max(len(value) for _, value in facts) <= 20 else 11  # noqa: PLR2004 - longer figures take smaller type
    cells = [
        [said(label, SMALL), marked(f'<b><font size="{size}">{markup(value)}</font></b>', FACT)]
        for label, value in facts
    ]
    widths = [width_pt / len(facts)] * len(facts)
    return table(
        [cells], widths,
        ("BACKGROUND", (0, 0), (-1, -1), TINT), ("LEFTPADDING", (0, 0), (-1, -1), 10),
        ("RIGHTPADDING", (0, 0), (-1, -1), 6), ("TOPPADDING", (0, 0), (-1, -1), 7),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 9), ("LINEAFTER", (0, 0), (-2, -1), 0.5, RULE),
        is_layout=True,
    )  # fmt: skip


def how_to_accept(quote: Quote) -> str:
    """What the customer does to say yes, or why this paper cannot be accepted."""
    word = document_word(quote).lower()
    if quote.status in {Status.WITHDRAWN, Status.DECLINED}:
        return f"This {word} was {quote.status} and can no longer be accepted."
    return (
        f"To accept, sign the acceptance at the end of this {word} and return it by {date_text(quote.valid_until)}; "
        "work is scheduled when the signed copy and the deposit are here."
        if quote.payment_schedule
        else f"To accept, sign the acceptance at the end of this {word} and return it by {date_text(quote.valid_until)}."
    )
