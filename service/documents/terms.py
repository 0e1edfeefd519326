"""What the price holds and leaves out, how it is paid, the firm's notices, and the acceptance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import KeepTogether, Spacer

from service.documents.fonts import markup
from service.documents.prices import BOARDS, ROW_ORDER, sections
from service.documents.styles import (
    BODY,
    FINE,
    INK,
    ITEM,
    RIGHT,
    SECTION,
    SMALL,
    SMALL_RIGHT,
    bullet,
    heading,
    marked,
    said,
)  # fmt: skip
from service.documents.tables import HEADED, RULED, table
from service.documents.words import created_on, date_text, document_word, identity, list_text, money, share_text
from service.estimate.quote.model import Status

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from reportlab.platypus import Flowable

    from service.estimate.price import ScheduledPayment
    from service.estimate.quote.model import Assumption, Caution, NoticeCard, Quote

CREW_ONLY = frozenset({"ladder", "saw", "nailer", "two-people", "drop"})
LINE_PT = 30.0
TOPIC_PT = 128.0


def included(quote: Quote, width_pt: float) -> list[Flowable]:
    """What is in the price, then each topic on which people differ, said plainly."""
    titles = [row.title for section in sections(quote) for row in section.rows if row.title in ROW_ORDER]
    ordered = [title for title in ROW_ORDER if title in titles]
    words = [title if i == 0 else title[0].lower() + title[1:] for i, title in enumerate(ordered)]
    rows = [("In the price", f"{list_text(words, most=9)}." if words else BOARDS)]
    rows += [_topic(item) for item in quote.assumptions if not item.internal]
    shared = shared_sentence([text for _, text in rows])
    cells = [(marked(f"<b>{markup(topic)}</b>"), said(text.removesuffix(shared).rstrip())) for topic, text in rows]
    ruled = [("LINEBELOW", (0, 0), (-1, -1), *RULED[0][3:]), ("RIGHTPADDING", (0, 0), (0, -1), 10)]
    body = table(cells, (TOPIC_PT, width_pt - TOPIC_PT), *ruled, is_layout=True)
    return [*heading("Included and not included"), body, *([Spacer(1, 4), said(shared)] if shared else [])]


def shared_sentence(texts: Sequence[str]) -> str:
    """The last sentence of several texts when it is the same one: it is said once below them; else nothing."""
    last = [text.rpartition(". ")[2] for text in texts if ". " in text]
    common = max(last, key=last.count, default="")
    return common if last.count(common) > 1 else ""


def _topic(item: Assumption) -> tuple[str, str]:
    topic, colon, text = item.text.partition(": ")
    return (topic, text[:1].upper() + text[1:]) if colon else ("", item.text)


def safety(quote: Quote) -> list[Flowable]:
    """Cautions whose trigger holds and that concern the people who live there; the crew's are on the field sheet."""
    told = [caution for caution in quote.cautions if caution.code not in CREW_ONLY]
    if not told:
        return []
    return [*heading("Safety"), *(bullet(caution_text(caution)) for caution in told)]


def caution_text(caution: Caution) -> str:
    """The caution with the rooms where it holds."""
    return f"{caution.text} ({list_text(caution.rooms)})" if caution.rooms else caution.text


def payments(quote: Quote, width_pt: float) -> list[Flowable]:
    """When each part of the total is due, or nothing."""
    if not quote.payment_schedule:
        return []
    right = [said(text, SMALL_RIGHT) for text in ("Share", "Amount")]
    cells: list[Sequence[object]] = [(said("Due", SMALL), *right)]
    for payment in quote.payment_schedule:
        amount = money(payment.amount, quote.currency)
        cells.append((said(payment.when), said(share_text(_share(payment, quote)), RIGHT), said(amount, RIGHT)))
    widths = (width_pt - 184, 70, 114)
    return [said("Payment schedule", SECTION), table(cells, widths, *HEADED, *RULED, headed=True)]


def _share(payment: ScheduledPayment, quote: Quote) -> Decimal:
    """Share of the total that a payment is: the schedule's own, unless a cap moved some of it elsewhere."""
    total = quote.totals.total
    is_moved = total and abs(payment.amount - payment.share * total) >= 1
    return payment.amount / total if is_moved else payment.share


def notices(quote: Quote, *, beside_signature: bool) -> list[Flowable]:
    """The firm's own texts, word for word, in the type they ask for."""
    return [notice(item) for item in quote.firm.notices if item.beside_signature is beside_signature]


def notice(item: NoticeCard) -> Flowable:
    """One notice. Body type, or larger where the firm set a least size."""
    size = max(float(item.smallest_type_pt or 0), BODY.fontSize)
    style = ParagraphStyle("notice", parent=BODY, fontSize=size, leading=size * 1.32, spaceBefore=3, spaceAfter=5)
    return said(item.text, style)


def acceptance(quote: Quote, width_pt: float) -> list[Flowable]:
    """Names, signatures and dates of both sides under the words that name the revision accepted."""
    word = document_word(quote).lower()
    if quote.status in {Status.WITHDRAWN, Status.DECLINED}:
        return [said("Acceptance", SECTION), said(f"This {word} was {quote.status} and can no longer be accepted.")]
    words = (
        f"I accept {_named(quote)}, of {date_text(created_on(quote))}, for a total of "
        f"{money(quote.totals.total, quote.currency)}, with the payment schedule and everything printed in it. "
        f"It may be accepted through {date_text(quote.valid_until)}; any change is agreed in writing first."
    )
    options = [said(f"Options accepted (write the names, with initials): {'_' * 30}")] if quote.options else []
    return [
        said("Acceptance", SECTION), said(words), *options, Spacer(1, 4),
        _signatures(quote, width_pt),
    ]  # fmt: skip


def _named(quote: Quote) -> str:
    """The paper within a sentence: `Quote Q-0042, revision 2` or `this draft quote, revision 1`."""
    return identity(quote) if quote.number else f"this {identity(quote)[0].lower()}{identity(quote)[1:]}"


def _signatures(quote: Quote, width_pt: float) -> Flowable:
    gap = 20.0
    half = (width_pt - gap) / 2
    labels = ("Name", "Signature", "Date")
    rows: list[list[Flowable | str]] = [[said(label, SMALL), "", said(label, SMALL)] for label in labels]
    names: list[Flowable | str] = [said(quote.job.customer), "", said(f"For {quote.firm.name}")]
    lines = [("LINEABOVE", (column, row), (column, row), 0.6, INK) for row in (1, 2, 3) for column in (0, 2)]
    heights = [LINE_PT, LINE_PT, LINE_PT, 12]
    return table([names, *rows], (half, gap, half), *lines, ("VALIGN", (0, 0), (-1, 0), "TOP"), heights=heights, is_layout=True,
    )  # fmt: skip


def signing(quote: Quote, width_pt: float, height_pt: float) -> list[Flowable]:
    """Payments, the notices that belong beside the signature, and the acceptance, together on one page.

    Where the notices are too long for that, they flow, and the acceptance stays whole with what can stand
    beside it.
    """
    beside = notices(quote, beside_signature=True)
    block = [*payments(quote, width_pt), *beside, *acceptance(quote, width_pt)]
    if _height(block, width_pt) <= height_pt:
        return [KeepTogether(block)]
    return [*payments(quote, width_pt), *beside[:-1], KeepTogether([*beside[-1:], *acceptance(quote, width_pt)])]


def _height(block: list[Flowable], width_pt: float) -> float:
    return sum(item.wrap(width_pt, 1e6)[1] + item.getSpaceBefore() + item.getSpaceAfter() for item in block)


def foundations(quote: Quote) -> list[Flowable]:
    """The last page: every figure of the trade that the price rests on and nobody has published."""
    told = [item for item in quote.assumptions if item.internal]
    intro = (
        "Where a figure of the trade is not published, the price rests on the values below; "
        f"this {document_word(quote).lower()} was made with price list “{quote.price_list.name}”, "
        f"version {quote.price_list.version}. Amounts are rounded half up to the cent, line by line, and every sum "
        "is a sum of rounded lines."
    )
    style = ParagraphStyle("fine item", parent=ITEM, fontSize=FINE.fontSize, leading=FINE.leading, spaceAfter=1)
    return [
        *heading("What the figures rest on"),
        said(intro, FINE),
        Spacer(1, 3),
        *(bullet(_with_key(item), style) for item in told),
    ]


def _with_key(item: Assumption) -> str:
    key = item.basis.removeprefix("trade:")
    return f"{item.text} [{key}]" if key else item.text
