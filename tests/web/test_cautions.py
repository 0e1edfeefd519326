"""Cautions reach the office's page, the JSON and the field sheet; what the firm has no notice for is said to the office."""

from __future__ import annotations

from html import unescape

import pytest

from tests.documents.papers import text_of
from tests.web.office import changed

ALWAYS = "Follow local code; licensed trades where required."


def page_of(client, quote) -> str:
    """Text of a quote's page, white space made plain."""
    return plain(unescape(client.get(f"/quotes/{quote['id']}").get_data(as_text=True)))


def plain(text: str) -> str:
    """Words with one space between them."""
    return " ".join(text.split())


@pytest.mark.parametrize("sample", ["rectangle.xlsx", "l_shaped.xlsx"])
def test_every_caution_is_on_the_json_the_page_and_the_field_sheet(estimator, client, sample):
    """Each caution stands word for word on all three, and last the sentence that defers to local code."""
    quote = estimator.quoted(sample)
    texts = [caution["text"] for caution in quote["cautions"]]
    assert len(texts) >= 5
    assert texts[-1].startswith(ALWAYS)
    page = page_of(client, quote)
    paper = " ".join(text_of(estimator.get(f"/v1/quotes/{quote['id']}/field-sheet.pdf").data))
    for text in texts:
        assert plain(text) in page
        assert "".join(text.split()) in "".join(paper.split())


def test_the_office_is_told_when_the_firm_has_no_cancellation_notice(estimator, client):
    """Without such a notice the page says what may be missing and whose business it is; with one it is silent."""
    assert "No cancellation notice" in page_of(client, estimator.quoted())
    words = "Sample notice: you may cancel within the days that your own law gives."
    assert (
        estimator.put("/v1/price-lists/standard", changed("price_list.xlsx", {"Notices!A3": words})).status_code == 200
    )
    assert "No cancellation notice" not in page_of(client, estimator.quoted())


def test_the_customer_is_not_told_what_the_office_lacks(estimator):
    """What is missing from the firm's notices is said on the office's page alone."""
    quote = estimator.quoted()
    assert (
        "cancellation notice"
        not in " ".join(text_of(estimator.get(f"/v1/quotes/{quote['id']}/quote.pdf").data)).casefold()
    )
