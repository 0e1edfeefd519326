from __future__ import annotations

from decimal import Decimal

import pytest

from tests.web.office import as_part, sheet

COPES = "cut-cope"


def line_of(quote, code: str):
    """The first line of a code."""
    return next(line for line in quote["lines"] if line["code"] == code)


def test_a_line_tells_its_story(estimator):
    """The answer holds the line's steps, operands first, and ends in its quantity and its amount; it has an ETag."""
    quote = estimator.quoted("l_shaped.xlsx")
    line = line_of(quote, COPES)
    response = estimator.get(f"/v1/quotes/{quote['id']}/explain?line={line['number']}")
    story = response.json
    steps = {step["step"]: step for step in story["steps"]}
    assert response.status_code == 200
    assert (story["line"], story["code"], story["description"]) == (line["number"], COPES, line["description"])
    assert Decimal(steps[story["amount"]]["value"]) == Decimal(line["amount"]["amount"])
    assert Decimal(steps[story["quantity"]]["value"]) == Decimal(str(line["quantity"]))
    assert all(operand in steps and operand < number for number, step in steps.items() for operand in step["of"])
    again = estimator.get(
        f"/v1/quotes/{quote['id']}/explain?line={line['number']}", If_None_Match=response.headers["ETag"]
    )
    assert again.status_code == 304


def test_the_story_is_the_quotes_own_section(estimator):
    """Each step of a story stands in the `explain` section of the quote, word for word."""
    quote = estimator.quoted()
    section = {step["step"]: step for step in quote["explain"]["steps"]}
    for line in quote["lines"][:5]:
        story = estimator.get(f"/v1/quotes/{quote['id']}/explain?line={line['number']}").json
        assert all(section[step["step"]] == step for step in story["steps"])


@pytest.mark.parametrize(
    ("asked", "status"),
    [("?line=100000", 404), ("?line=0", 422), ("?line=two", 422), ("?line=1&line=2", 422), ("", 422), ("?row=1", 422)],
)
def test_what_is_no_line_is_said(estimator, asked, status):
    """A line that is not there is 404, a query that names none is 422; both are problem documents."""
    quote = estimator.quoted()
    response = estimator.get(f"/v1/quotes/{quote['id']}/explain{asked}")
    assert response.status_code == status
    assert response.content_type == "application/problem+json"


def test_cost_is_told_to_the_office_alone(estimator, integrator, field_lead, rival):
    """Steps hold wages and profit: other roles are refused and get a quote without them, another firm finds nothing."""
    quote = estimator.quoted()
    path = f"/v1/quotes/{quote['id']}/explain?line=1"
    assert integrator.get(path).status_code == 403
    assert field_lead.get(path).status_code == 403
    assert rival.get(path).status_code == 404
    assert "explain" not in integrator.get(f"/v1/quotes/{quote['id']}").json
    assert "explain" in estimator.get(f"/v1/quotes/{quote['id']}").json


def test_an_old_quote_has_no_story(estimator, office):
    """A quote stored before steps were kept answers 404 for them, and its page shows prices without links."""
    quote = estimator.quoted()
    with office.desk.database.writing() as connection:
        connection.exec_driver_sql("DELETE FROM ledgers")
    assert estimator.get(f"/v1/quotes/{quote['id']}/explain?line=1").status_code == 404
    page = estimator.client.get(f"/quotes/{quote['id']}").get_data(as_text=True)
    assert "/lines/1" not in page
    assert estimator.client.get(f"/quotes/{quote['id']}/lines/1").status_code == 404


def test_the_page_says_why(client):
    """From the quote's page every price leads to a page with the cells, entries and numbers that it rests on."""
    address = client.post("/", **as_part(sheet("rectangle.xlsx"))).headers["Location"]
    quote = client.get(f"{address}/quote.json").json
    text = client.get(address).get_data(as_text=True)
    assert all(f"{address}/lines/{line['number']}" in text for line in quote["lines"])
    line = quote["lines"][0]
    page = client.get(f"{address}/lines/{line['number']}").get_data(as_text=True)
    assert line["description"] in page
    assert f"${Decimal(line['amount']['amount']):,}" in page
    assert "cell Walls!C2" in page
    assert "price list, firm · burden_share" in page
