from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import validate
from openpyxl import load_workbook

from service.problems import Code
from service.trade.book import shipped_book
from service.web.faults import RequestCode
from service.web.operation import openapi_text
from tests.web.office import sheet

COMMITTED = Path(__file__).parents[2] / "schemas" / "openapi.json"


def fits(document, name, value) -> list[str]:
    """Where a value breaks a described object of the OpenAPI document (JSON Schema 2020-12)."""
    schema = {"$ref": f"#/components/schemas/{name}", "components": document["components"]}
    return [f"{error.json_path}: {error.message}" for error in Draft202012Validator(schema).iter_errors(value)]


@pytest.fixture
def described(client):
    """The OpenAPI document as served."""
    return client.get("/openapi.json").json


def test_the_description_is_valid_openapi(described):
    """The served document is valid OpenAPI 3.1 by the general-purpose validator."""
    validate(described)
    assert described["openapi"].startswith("3.1")


def test_the_committed_description_is_the_served_one(office):
    """schemas/openapi.json is what the service serves, character for character."""
    assert COMMITTED.read_text("utf-8") == openapi_text(office.app())


def test_every_route_of_the_api_is_described(office, described):
    """The addresses under /v1 and their methods are exactly those of the description."""
    served = {
        (rule.rule.replace("<uuid:", "{").replace("<int:", "{").replace("<", "{").replace(">", "}"), method)
        for rule in office.app().url_map.iter_rules()
        if rule.rule.startswith("/v1/")
        for method in rule.methods - {"HEAD", "OPTIONS"}
    }
    told = {
        (path, method.upper()) for path, item in described["paths"].items() for method in item if method != "parameters"
    }
    assert told == served


def test_every_refusal_is_described_as_a_problem(described):
    """Each 4xx answer in the description is application/problem+json."""
    for item in described["paths"].values():
        for operation in (words for method, words in item.items() if method != "parameters"):
            for status, answer in operation["responses"].items():
                if status.startswith("4"):
                    assert list(answer["content"]) == ["application/problem+json"]


def test_answers_are_as_described(described, estimator, field_lead):
    """Quote, list, check, price list, trade book and problem fit their described objects."""
    quote = estimator.quoted("l_shaped.xlsx")
    path = f"/v1/quotes/{quote['id']}"
    for name, value in {
        "Quote": quote,
        "QuotePage": estimator.get("/v1/quotes").json,
        "SheetCheck": estimator.post("/v1/sheet-checks", sheet("metric.xlsx")).json,
        "PriceListVersion": estimator.get("/v1/price-lists/standard").json,
        "PriceListMarks": estimator.get("/v1/price-lists").json,
        "TradeBook": estimator.get("/v1/trade-book").json,
        "Problem": estimator.post("/v1/quotes", sheet("broken.xlsx")).json,
    }.items():
        assert fits(described, name, value) == [], name
    assert fits(described, "Quote", field_lead.get(path).json) == []
    assert fits(described, "Quote", quote | {"number": 7}) != []


def test_the_documents_listed_in_a_quote_are_there(estimator):
    """Every address in the quote's `documents` answers 200."""
    documents = estimator.quoted()["documents"]
    assert {"quote.pdf", "field-sheet.pdf", "lines.csv", "cut-list.csv", "order-list.csv", "source.xlsx"} <= set(
        documents
    )
    for address in documents.values():
        assert estimator.get(address).status_code == 200


def test_every_code_is_explained(client):
    """The page of each code answers 200 and names it."""
    for code in [*Code, *RequestCode]:
        response = client.get(f"/problems/{code}")
        assert (response.status_code, f"<code>{code}</code>" in response.get_data(as_text=True)) == (200, True), code


def test_the_list_of_codes_is_whole(client):
    """/problems links every code once."""
    page = client.get("/problems").get_data(as_text=True)
    for code in [*Code, *RequestCode]:
        assert page.count(f'href="/problems/{code}"') == 1


def test_the_description_is_a_page_without_scripts(client, described):
    """/docs lists every address and loads nothing but our own stylesheet and mark."""
    page = client.get("/docs").get_data(as_text=True)
    assert "<script" not in page
    assert "//" not in page.replace("http://localhost", "")
    for path in described["paths"]:
        assert path in page


def test_the_process_says_it_lives(client):
    """/livez answers pass without touching the data."""
    response = client.get("/livez")
    assert (response.status_code, response.json) == (200, {"status": "pass"})
    assert response.headers["Cache-Control"] == "no-store"


def test_readiness_follows_the_database(client, office):
    """/readyz passes while the tables are there and is 503 when they are not."""
    assert client.get("/readyz").status_code == 200
    with office.desk.database.writing() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '0000'")
    response = client.get("/readyz")
    assert (response.status_code, response.json["status"]) == (503, "fail")


@pytest.mark.parametrize("query", ["", "?units=imperial", "?units=metric"])
def test_a_blank_room_sheet_is_a_workbook(estimator, query):
    """A blank room sheet opens with the required tabs, in both systems."""
    book = load_workbook(io.BytesIO(estimator.get(f"/v1/templates/room-sheet.xlsx{query}").data))
    assert {"Job", "Rooms", "Walls", "Trim"} <= set(book.sheetnames)


def test_a_blank_price_list_is_a_workbook(estimator):
    """A blank price list opens with its tabs."""
    book = load_workbook(io.BytesIO(estimator.get("/v1/templates/price-list.xlsx").data))
    assert {"Firm", "Profiles", "Stock", "Assemblies"} <= set(book.sheetnames)


def test_other_units_are_refused(estimator):
    """Units other than the two are 422."""
    assert estimator.get("/v1/templates/room-sheet.xlsx?units=cubits").status_code == 422


def test_a_blank_sheet_can_name_a_price_list(estimator):
    """With ?price_list= the sheet names that list and its hidden tab offers its assemblies; an unknown list is 422."""
    book = load_workbook(io.BytesIO(estimator.get("/v1/templates/room-sheet.xlsx?price_list=standard").data))
    items = {row[0]: row[1] for row in book["Job"].iter_rows(values_only=True) if row[0]}
    offered = {value for row in book["Lists"].iter_rows(values_only=True) for value in row if value}
    assert items["Price list"] == "standard"
    assert {"Three-piece crown", "Casing"} <= offered
    refused = estimator.get("/v1/templates/room-sheet.xlsx?price_list=autumn")
    assert (refused.status_code, refused.json["problems"][0]["code"]) == (422, "price-list-unknown")


def test_the_trade_book_is_answered_entry_by_entry(estimator):
    """The list has every entry; one entry answers the same; an unknown one is 404."""
    items = estimator.get("/v1/trade-book").json["items"]
    assert [item["key"] for item in items] == [entry.key for entry in shipped_book()]
    first = estimator.get(f"/v1/trade-book/{items[0]['key']}")
    assert json.loads(first.data) == items[0]
    assert estimator.get("/v1/trade-book/no.such").status_code == 404
