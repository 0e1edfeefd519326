"""The customer's document: what it says, that it adds up, and that it holds nothing of the office's."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pypdf
import pytest

from service.documents import quote_pdf
from service.documents.prices import closing_rows, sections
from service.estimate.quote.model import NoticeCard, Status
from tests.documents.papers import amount, fonts_of, outside, overlaps, rows_of, text_of

MARGIN_PT = 54.0


@pytest.fixture(scope="module")
def paper(quote):
    """The attic study's quote on paper."""
    return quote_pdf(quote)


@pytest.fixture(scope="module")
def pages(paper):
    """Its text by page."""
    return text_of(paper)


def test_first_page_answers_at_one_look(pages):
    """Word, number, revision, date, last day, firm, customer, site, total and deposit stand on page 1."""
    for words in (
        "Quote", "No. Q-0042", "Revision 2", "November 24, 2026", "December 25, 2026", "Larkrise Joinery",
        "Bram Tuckett", "3 Heron Lane, Pell Harbor", "$2,298.35", "$689.50", "To accept",
    ):  # fmt: skip
        assert words in pages[0]


def test_date_is_the_day_in_the_firms_time_zone(pages):
    """03:30 UTC on the 25th is still the evening of the 24th in New York."""
    assert "November 24, 2026" in pages[0]
    assert "November 25, 2026" not in " ".join(pages)


def test_scope_takes_two_sentences_and_a_word_on_options(pages):
    """What goes where and what the price covers; the medallion is named too."""
    assert "We supply and install Three-piece crown (57 ft) and 1 ceiling medallion in Attic study." in pages[0]


def test_every_page_says_which_paper_it_is(pages):
    """Identity, customer and page x of y at the foot of each."""
    for number, text in enumerate(pages, start=1):
        assert "Quote Q-0042, revision 2" in text
        assert "Bram Tuckett" in text
        assert f"Page {number} of {len(pages)}" in text


def test_printed_amounts_add_up_to_the_total(paper, quote):
    """Rows make the subtotals, subtotals with discount the price before tax, with tax the total, read off the page."""
    lines = rows_of(paper)
    start = next(i for i, line in enumerate(lines) if line[:1] == ["Work"])
    end = next(i for i, line in enumerate(lines) if line[:1] == ["Total"])
    rows, subtotals, sums = [], [], {}
    for line in lines[start:end]:
        value = amount(line[-1]) if line else None
        if value is None:
            continue
        if line[0] == "Subtotal":
            subtotals.append(value)
            assert sum(rows) == value
            rows = []
        elif line[0] in {"Discount", "Price", "Sales"}:
            sums[line[0]] = value
        else:
            rows.append(value)
    assert len(subtotals) == 2
    assert sum(subtotals) + sums["Discount"] == sums["Price"] == quote.totals.price_before_tax
    assert sums["Price"] + sums["Sales"] == quote.totals.total
    assert lines[end][-1] == "$2,298.35"


def test_every_line_stands_in_exactly_one_row(quote):
    """Sections and closing rows together are the quote's lines."""
    total = sum((s.subtotal for s in sections(quote)), Decimal(0)) + sum(row.amount for row in closing_rows(quote))
    assert total == sum(line.amount for line in quote.lines) == quote.totals.price_before_tax


def test_customer_reads_no_cost(pages, quote):
    """Wages, burden, direct cost, overhead, profit, contingency, hours and rates are not on the paper."""
    text = " ".join(pages)
    totals = quote.totals
    for secret in (totals.wages, totals.burden, totals.labor, totals.direct_cost, totals.overhead, totals.cost,
                   totals.contingency, totals.profit, totals.materials):  # fmt: skip
        assert f"{secret:,.2f}" not in text
    for word in ("wage", "burden", "overhead", "profit", "margin", "markup", "17.7"):
        assert word not in text.lower()


def test_options_stand_apart_and_in_no_sum(pages, quote):
    """The option is told with its price; the total is without it."""
    text = " ".join(pages)
    assert "Not in the total of this quote" in text
    assert "Second coat of varnish on the beam 1 lot 240.00" in text
    assert quote.totals.total == quote.totals.price_before_tax + quote.totals.sales_tax


def test_terms_and_cautions_are_said(pages):
    """Topics, the household's cautions, payments with shares; the crew's own cautions stay on the field sheet."""
    text = " ".join(pages)
    for words in ("Tear-out and disposal", "Painting", "2 coats", "Treat old paint as lead paint", "30% $689.50",
                  "70% $1,608.85"):  # fmt: skip
        assert words in text
    assert "hands out of the line of the blade" not in text


def test_last_page_lists_what_the_figures_rest_on(pages):
    """Internal assumptions with their trade-book keys, and the price list's version."""
    assert "Hours to fill one nail hole: 0.01 h. [labor.fill]" in pages[-1]
    assert "standard" in pages[-1]
    assert "version 3" in pages[-1]


def test_sentence_shared_by_topics_is_said_once(make_quote, quote):
    """A closing sentence that several topics have in common stands once, below them."""
    shared = "Where a line of this quote names such work, the line counts."
    items = tuple(
        replace(item, text=f"{item.text} {shared}") if not item.internal else item for item in quote.assumptions
    )
    assert " ".join(text_of(quote_pdf(make_quote(assumptions=items)))).count(shared) == 1


def test_acceptance_is_whole_on_one_page_and_names_the_revision(pages):
    """Words, both sides' lines and the notice beside the signature share a page with the payments."""
    (page,) = [text for text in pages if "I accept" in text]
    assert "I accept Quote Q-0042, revision 2, of November 24, 2026, for a total of $2,298.35" in page
    assert page.count("Signature") == 2
    assert "Payment schedule" in page
    assert "You may cancel this within the days the firm states here." in page


def test_notice_keeps_its_smallest_type(paper):
    """A notice that asks for 12 pt is set in 12 pt; one that asks for nothing in body type."""
    sizes = {}

    def visit(text, _cm, _tm, _font, size):
        for words in ("You may cancel", "Goods stay ours"):
            if words in text.replace("\N{NO-BREAK SPACE}", " "):
                sizes[words] = size

    for page in pypdf.PdfReader(io.BytesIO(paper)).pages:
        page.extract_text(visitor_text=visit)
    assert sizes == {"You may cancel": 12.0, "Goods stay ours": 9.5}


def test_long_notice_flows_and_the_acceptance_stays_whole(make_quote, quote):
    """Notices of several pages beside the signature do not tear the acceptance apart or leave it alone."""
    long = NoticeCard("Cancellation terms of the firm. " * 320, Decimal(12), beside_signature=True)
    last = NoticeCard("Last words before the line.", Decimal(12), beside_signature=True)
    pages = text_of(quote_pdf(make_quote(firm=replace(quote.firm, notices=(long, last)))))
    (page,) = [text for text in pages if "I accept" in text]
    assert page.count("Signature") == 2
    assert "Last words before the line." in page


@pytest.mark.parametrize(
    ("status", "accepts"), [(Status.ISSUED, 1), (Status.DRAFT, 1), (Status.WITHDRAWN, 0), (Status.DECLINED, 0)]
)
def test_withdrawn_or_declined_cannot_be_signed(make_quote, status, accepts):
    """A withdrawn or declined quote says so and has no line to sign."""
    text = " ".join(text_of(quote_pdf(make_quote(status=status))))
    assert text.count("I accept Quote") == accepts
    assert ("can no longer be accepted" in text) is (accepts == 0)


def test_quote_outside_the_books_is_called_a_draft(make_quote):
    """Without a number the paper says draft, in the head and at the foot."""
    pages = text_of(quote_pdf(make_quote(number=None, status=Status.DRAFT)))
    assert "Draft, not numbered" in pages[0]
    assert all("Draft quote, revision 2" in page for page in pages)


def test_firm_that_estimates_calls_it_an_estimate(make_quote, quote):
    """The firm's document word is used throughout."""
    text = " ".join(text_of(quote_pdf(make_quote(firm=replace(quote.firm, document_word="estimate")))))
    assert "Estimate Q-0042" in text
    assert "sign the acceptance at the end of this estimate" in text
    assert "Quote" not in text


def test_other_currency_is_named(make_quote):
    """Amounts of other currencies carry their ISO code."""
    assert "EUR 2,298.35" in text_of(quote_pdf(make_quote(currency="EUR")))[0]


def test_nothing_leaves_the_margins_or_overlaps(paper):
    """No word outside the margins, none over another, on any page."""
    assert outside(paper, MARGIN_PT, MARGIN_PT, MARGIN_PT, MARGIN_PT) == []
    assert overlaps(paper) == []


def test_only_the_two_embedded_faces_are_used(paper):
    """Both faces of the family, embedded; no built-in face."""
    faces = fonts_of(paper)
    assert {name.partition("+")[2] for name in faces} == {"TrimQuoteSans-Regular", "TrimQuoteSans-Bold"}
    assert all(faces.values())


def test_paper_is_the_firms(make_quote, quote):
    """Letter is 612 × 792 pt (ANSI/ASME Y14.1 A size), A4 210 × 297 mm (ISO 216)."""
    for paper, size in (("Letter", (612, 792)), ("A4", (210 / 25.4 * 72, 297 / 25.4 * 72))):
        data = quote_pdf(make_quote(firm=replace(quote.firm, paper=paper)))
        box = pypdf.PdfReader(io.BytesIO(data)).pages[0].mediabox
        assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.02)
        assert outside(data, MARGIN_PT, MARGIN_PT, MARGIN_PT, MARGIN_PT) == []


def test_properties_tell_title_author_language_and_the_quotes_own_date(paper):
    """Title, author, subject, language and the date of the quote, not of the clock."""
    reader = pypdf.PdfReader(io.BytesIO(paper))
    assert reader.metadata.title == "Quote – Attic study"
    assert reader.metadata.author == "Larkrise Joinery"
    assert reader.metadata.creation_date.date() == date(2026, 11, 25)
    assert reader.trailer["/Root"]["/Lang"] == "en-US"
