"""The office's pages of hours and rates. Every job here is invented."""

from __future__ import annotations

import re
from html import unescape

import pytest

from tests.web.office import count_of, key_page

RATES = "/production-rates"


def hours_page(quote):
    """Where the page of a quote's hours is."""
    return f"/quotes/{quote['id']}/hours"


def typed(client, quote, version=0, **fields):
    """The answer to the form, filled in for some tasks."""
    form = {"version": str(version), "finished_on": fields.pop("finished_on", "")}
    form |= {f"hours-{task.replace('_', '-')}": hours for task, hours in fields.items()}
    return client.post(hours_page(quote), data=form)


def text_of(response):
    """A page's HTML."""
    assert response.mimetype == "text/html"
    return unescape(response.get_data(as_text=True))


def field(page, name):
    """What stands in a field."""
    tag = next(tag for tag in re.findall(r"<input[^>]*>", page) if f'name="{name}"' in tag)
    return re.search(r'value="([^"]*)"', tag)[1]


def rates_with_three_jobs(estimator, client):
    """The page of rates after three jobs that took one and a half times the hours of layout."""
    for _ in range(3):
        quote = estimator.quoted()
        planned = sum(row["hours"] for row in quote["labor"] if row["task"] == "layout")
        assert typed(client, quote, layout=f"{planned * 1.5:.2f}").status_code == 303
    return text_of(client.get(RATES))


def test_the_form_keeps_hours_and_shows_them(estimator, client):
    """Hours typed into the form are those of the API; the page comes back with them and with the plan."""
    quote = estimator.quoted()
    response = typed(client, quote, layout=" 0.75 ", cut_cope="", finished_on="2026-11-24")
    assert (response.status_code, response.headers["Location"]) == (303, hours_page(quote))
    kept = estimator.get(f"/v1/quotes/{quote['id']}/actuals").json
    assert [(row["task"], row["actual_hours"]) for row in kept["tasks"] if row["actual_hours"]] == [("layout", "0.75")]
    page = text_of(client.get(hours_page(quote)))
    assert (field(page, "hours-layout"), field(page, "finished_on")) == ("0.75", "2026-11-24")
    assert "in all 0.75 h" in page


def test_every_field_has_its_name(estimator, client):
    """Each input that people fill has a label; there is one of hours for every task of the trade."""
    page = text_of(client.get(hours_page(estimator.quoted())))
    inputs = [tag for tag in re.findall(r"<input[^>]*>", page) if 'type="hidden"' not in tag]
    assert all("aria-label=" in tag or 'id="finished_on"' in tag for tag in inputs)
    assert len([tag for tag in inputs if 'name="hours-cut-cope"' in tag or 'name="hours-fan-in"' in tag]) == 2


def test_faults_stand_beside_their_fields(estimator, client, office):
    """Refused hours are 422 with a title that starts with Error; what was typed stays, and nothing is kept."""
    quote = estimator.quoted()
    response = typed(client, quote, layout="1,5", cut_cope="300", caulk="1", finished_on="2027-01-01")
    page = text_of(response)
    assert (response.status_code, "<title>Error:" in page) == (422, True)
    assert (field(page, "hours-layout"), field(page, "hours-cut-cope"), field(page, "hours-caulk")) == (
        "1,5",
        "300",
        "1",
    )
    assert page.count('aria-invalid="true"') == 2
    for link in ('href="#finished_on"', 'href="#hours-layout"', 'href="#hours-cut-cope"'):
        assert link in page
    assert count_of(office.desk, "actuals") == 0


def test_an_empty_form_is_a_fault(estimator, client):
    """With no hours at all nothing is kept, and the page says what is wanted."""
    response = typed(client, estimator.quoted())
    assert (response.status_code, "at least one row" in text_of(response)) == (422, True)


def test_hours_that_somebody_else_posted_are_not_overwritten(estimator, client):
    """A form that was opened before another posting is 412 and changes nothing."""
    quote = estimator.quoted()
    typed(client, quote, layout="1")
    response = typed(client, quote, layout="2", version=0)
    assert (response.status_code, "meanwhile" in text_of(response)) == (412, True)
    assert estimator.get(f"/v1/quotes/{quote['id']}/actuals").json["actual_hours"] == "1"
    assert typed(client, quote, layout="2", version=1).status_code == 303


def test_a_withdrawn_quote_takes_no_hours(estimator, client):
    """The page of a withdrawn quote answers 409 with the reason."""
    quote = estimator.quoted()
    estimator.post(f"/v1/quotes/{quote['id']}/withdraw", If_Match="*")
    response = typed(client, quote, layout="1")
    assert (response.status_code, "withdrawn" in text_of(response)) == (409, True)


def test_rates_are_accepted_by_ticking_them(estimator, client):
    """Three jobs propose a rate; ticked and sent it is in version 2, and the page says so."""
    assert "No hours were fed back yet" in text_of(client.get(RATES))
    page = rates_with_three_jobs(estimator, client)
    form = {"price_list": "standard", "tag": field(page, "tag"), "task": "layout"}
    response = client.post(RATES, data=form)
    assert response.status_code == 303
    assert "Version 2 of the price list" in text_of(client.get(response.headers["Location"]))
    assert estimator.get("/v1/price-lists/standard").json["version"] == 2


def test_nothing_ticked_and_old_rates_change_nothing(estimator, client):
    """Without a tick it is 422, with the tag of an earlier comparison 412; the list stays at version 1."""
    page = rates_with_three_jobs(estimator, client)
    form = {"price_list": "standard", "tag": field(page, "tag")}
    assert client.post(RATES, data=form).status_code == 422
    assert client.post(RATES, data=form | {"task": "layout", "tag": "old"}).status_code == 412
    assert client.post(RATES, data=form | {"task": "scarf"}).status_code == 422
    assert estimator.get("/v1/price-lists/standard").json["version"] == 1


def test_pages_link_to_hours_and_rates(estimator, client):
    """The quote's page leads to its hours and to the rates, the first page to the rates."""
    quote = estimator.quoted()
    shown = text_of(client.get(f"/quotes/{quote['id']}"))
    assert f'href="{hours_page(quote)}"' in shown
    assert f'href="{RATES}"' in shown
    assert f'href="{RATES}"' in text_of(client.get("/"))


@pytest.mark.parametrize("path", [RATES, "/quotes/01a20000-0000-7000-8000-000000000000/hours"])
def test_strangers_are_asked_for_a_key(office, path):
    """Where the page asks for a key, a stranger is led to the sign-in, to read and to send."""
    stranger = office.app(key_page()).test_client()
    for response in (stranger.get(path), stranger.post(path, data={})):
        assert (response.status_code, response.headers["Location"]) == (303, "/sign-in")


def test_a_form_from_another_site_is_refused(estimator, client, office):
    """Hours and rates that another site makes the browser send are 403."""
    for path in (hours_page(estimator.quoted()), RATES):
        assert client.post(path, data={}, headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403
    assert count_of(office.desk, "actuals") == 0


@pytest.mark.parametrize("path", ["/quotes/01a20000-0000-7000-8000-000000000000/hours", f"{RATES}?price_list=no"])
def test_what_is_not_there_is_404(client, path):
    """An unknown quote and an unknown price list have no page."""
    assert client.get(path).status_code == 404
