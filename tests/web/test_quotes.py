from __future__ import annotations

import hashlib
import io
import json
import threading
from decimal import Decimal
from uuid import UUID

import pytest

from tests.web.office import XLSX, changed, count_of, sample_document, sheet

FILES = ("quote.pdf", "field-sheet.pdf", "lines.csv", "cut-list.csv", "order-list.csv", "plans/1.svg", "source.xlsx")
STARTS = {"pdf": b"%PDF-", "svg": b"<svg", "xlsx": b"PK\x03\x04"}


def test_a_raw_workbook_becomes_a_quote(estimator, office):
    """A posted room sheet answers 201 with Location, a strong ETag and a quote whose lines add up to its price."""
    response = estimator.post("/v1/quotes", sheet("l_shaped.xlsx"))
    quote = response.json
    assert response.status_code == 201
    assert response.headers["Location"].endswith(f"/v1/quotes/{quote['id']}")
    assert response.headers["ETag"].startswith('"')
    assert UUID(quote["id"]).version == 7
    assert (quote["number"], quote["revision"], quote["status"]) == ("1001", 1, "draft")
    assert quote["created_at"] == "2026-11-25T07:30:00.000Z"
    total = sum(Decimal(line["amount"]["amount"]) for line in quote["lines"])
    assert total == Decimal(quote["totals"]["price_before_tax"]["amount"]) > 0
    assert count_of(office.desk, "quotes") == 1


def test_a_multipart_workbook_makes_the_same_quote(estimator, client, office):
    """One part named `file` gives the same price as the raw body."""
    raw = estimator.quoted()
    data = {"file": (io.BytesIO(sheet("rectangle.xlsx")), "r.xlsx")}
    headers = {"Authorization": f"Bearer {office.keys['office']}"}
    response = client.post("/v1/quotes", data=data, headers=headers, content_type="multipart/form-data")
    assert response.status_code == 201
    assert response.json["totals"] == raw["totals"]


def test_a_job_document_becomes_a_quote(estimator):
    """A JSON job document goes the same way; it has no workbook to give back."""
    response = estimator.post("/v1/quotes", json.dumps(sample_document()).encode(), Content_Type="application/json")
    assert response.status_code == 201, response.get_data(as_text=True)
    assert response.json["job"]["customer"] == "Ada Example"
    assert estimator.get(f"/v1/quotes/{response.json['id']}/source.xlsx").status_code == 404


def test_a_workbook_and_its_document_give_one_price(estimator, office):
    """The job document that a sheet becomes, posted as JSON, gives the same totals as the sheet."""
    quote = estimator.quoted("l_shaped.xlsx")
    with office.desk.database.reading() as connection:
        document = connection.exec_driver_sql("SELECT job_document FROM quotes").scalar_one()
    response = estimator.post("/v1/quotes", document.encode(), Content_Type="application/json")
    assert response.status_code == 201, response.get_data(as_text=True)
    assert response.json["totals"] == quote["totals"]


def test_bases_name_cells_when_a_workbook_is_behind_them(estimator):
    """Where a figure came from is told as a cell, such as `sheet:Walls!C2`, and never as a pointer."""
    quote = estimator.quoted()
    bases = {basis for line in quote["lines"] for basis in line["basis"]}
    assert any(basis.startswith("sheet:") and "!" in basis for basis in bases)
    assert not any(basis.startswith("sheet:/") for basis in bases)


def test_numbers_count_up_and_are_not_shared(estimator, rival):
    """A firm's quotes are numbered one by one; another firm starts its own row."""
    assert [estimator.quoted()["number"] for _ in range(3)] == ["1001", "1002", "1003"]
    assert rival.quoted()["number"] == "1001"


def test_a_refused_sheet_takes_no_number(estimator):
    """A sheet with a fault stores nothing, and the next good one has the next number."""
    first = estimator.quoted()["number"]
    assert estimator.post("/v1/quotes", changed("rectangle.xlsx", {"Walls!C2": "long"})).status_code == 422
    assert int(estimator.quoted()["number"]) == int(first) + 1


def test_numbers_are_unique_when_many_ask_at_once(office):
    """Six clients posting at the same time get six different numbers."""
    app, numbers = office.app(), []

    def ask() -> None:
        headers = {"Authorization": f"Bearer {office.keys['office']}", "Content-Type": XLSX}
        response = app.test_client().post("/v1/quotes", data=sheet("rectangle.xlsx"), headers=headers)
        numbers.append(response.json["number"])

    threads = [threading.Thread(target=ask) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(numbers) == [str(number) for number in range(1001, 1007)]


def test_the_query_names_the_price_list(estimator):
    """`?price_list=` wins over the sheet's; an unknown one is a fault with its code, and a misspelled query is refused."""
    unknown = estimator.post("/v1/quotes?price_list=winter", sheet("rectangle.xlsx"))
    assert (unknown.status_code, unknown.json["problems"][0]["code"]) == (422, "price-list-unknown")
    assert estimator.post("/v1/quotes?price_list=standard", sheet("rectangle.xlsx")).status_code == 201
    misspelled = estimator.post("/v1/quotes?pricelist=standard", sheet("rectangle.xlsx"))
    assert (misspelled.status_code, misspelled.json["type"].rsplit("/")[-1]) == (422, "query-not-understood")


@pytest.mark.parametrize("name", FILES)
def test_every_document_of_a_quote_is_served(estimator, name):
    """Each document answers 200 with its type, a name for saving, nosniff, and 304 to its own ETag."""
    path = f"/v1/quotes/{estimator.quoted()['id']}/{name}"
    response = estimator.get(path)
    assert response.status_code == 200
    assert response.data.lstrip().startswith(STARTS.get(name.rsplit(".", 1)[-1], b""))
    assert "filename*=UTF-8''" in response.headers["Content-Disposition"]
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    again = estimator.get(path, If_None_Match=response.headers["ETag"])
    assert (again.status_code, again.data) == (304, b"")
    assert again.headers["ETag"] == response.headers["ETag"]


def test_the_source_comes_back_byte_for_byte(estimator):
    """source.xlsx is the workbook as it was sent."""
    data = sheet("l_shaped.xlsx")
    path = estimator.post("/v1/quotes", data).headers["Location"]
    got = estimator.get(f"{path}/source.xlsx").data
    assert hashlib.sha256(got).digest() == hashlib.sha256(data).digest()


def test_documents_are_the_same_bytes_each_time(estimator):
    """A PDF asked for twice is the same bytes, as a strong ETag promises (RFC 9110, section 8.8.1)."""
    path = f"/v1/quotes/{estimator.quoted()['id']}/quote.pdf"
    assert estimator.get(path).data == estimator.get(path).data


@pytest.mark.parametrize(
    ("accept", "media_type"),
    [
        ("application/json", "application/json"),
        ("application/pdf", "application/pdf"),
        ("text/csv", "text/csv"),
        ("*/*", "application/json"),
        ("application/pdf;q=0.5, text/csv;q=0.9", "text/csv"),
        ("application/json;q=0, */*", "application/pdf"),
    ],
)
def test_a_quote_answers_in_the_form_asked_for(estimator, accept, media_type):
    """`Accept` with its weights chooses JSON, PDF or CSV (RFC 9110, section 12.5.1)."""
    response = estimator.get(f"/v1/quotes/{estimator.quoted()['id']}", Accept=accept)
    assert (response.status_code, response.mimetype) == (200, media_type)
    assert "Accept" in response.headers["Vary"]


def test_no_accepted_form_is_406(estimator):
    """An `Accept` that fits nothing answers 406 and lists what there is; UBL XML is not there yet."""
    response = estimator.get(f"/v1/quotes/{estimator.quoted()['id']}", Accept="application/xml")
    assert response.status_code == 406
    assert response.json["available"] == ["application/json", "application/pdf", "text/csv"]


def test_each_form_has_its_own_etag(estimator):
    """JSON, PDF and CSV of one quote have different entity tags."""
    path = f"/v1/quotes/{estimator.quoted()['id']}"
    tags = {
        estimator.get(path, Accept=accept).headers["ETag"]
        for accept in ("application/json", "application/pdf", "text/csv")
    }
    assert len(tags) == 3


def test_a_tag_in_another_form_or_weak_still_matches_a_get(estimator):
    """If-None-Match compares weakly and takes a list and `*` (RFC 9110, section 13.1.2)."""
    path = f"/v1/quotes/{estimator.quoted()['id']}"
    tag = estimator.get(path).headers["ETag"]
    for header in (f"W/{tag}", f'"other", {tag}', "*"):
        assert estimator.get(path, If_None_Match=header).status_code == 304
    assert estimator.get(path, If_None_Match='"other"').status_code == 200


def test_head_is_get_without_a_body(estimator, client, office):
    """HEAD answers the headers of GET and no body."""
    path = f"/v1/quotes/{estimator.quoted()['id']}"
    response = client.head(path, headers={"Authorization": f"Bearer {office.keys['office']}"})
    assert (response.status_code, response.data) == (200, b"")
    assert response.headers["ETag"] == estimator.get(path).headers["ETag"]


def test_the_list_is_paged_newest_first(estimator):
    """Pages follow each other by `next` and Link, without gaps or repeats, newest first."""
    for _ in range(5):
        estimator.quoted()
    numbers, path = [], "/v1/quotes?limit=2"
    while path:
        response = estimator.get(path)
        numbers += [item["number"] for item in response.json["items"]]
        assert ("Link" in response.headers) == (response.json["next"] is not None)
        path = response.json["next"] and f"/v1/quotes?limit=2&after={response.json['next']}"
    assert numbers == ["1005", "1004", "1003", "1002", "1001"]


def test_the_list_says_what_the_quote_says(estimator):
    """An item of the list has the quote's total, dates and names."""
    quote = estimator.quoted()
    item = estimator.get("/v1/quotes").json["items"][0]
    assert item["total"] == quote["totals"]["total"]
    assert [item[name] for name in ("id", "created_at", "valid_until")] == [
        quote[name] for name in ("id", "created_at", "valid_until")
    ]
    assert (item["job_name"], item["customer"]) == (quote["job"]["job_name"], quote["job"]["customer"])


@pytest.mark.parametrize(
    "query", ["limit=0", "limit=101", "limit=1e9", "limit=١", "after=x", "page=2", "limit=1&limit=2"]
)
def test_a_strange_page_is_refused(estimator, query):
    """A limit outside 1 to 100, a cursor that is none, an unknown or repeated parameter are 422."""
    response = estimator.get(f"/v1/quotes?{query}")
    assert (response.status_code, response.mimetype) == (422, "application/problem+json")


@pytest.mark.parametrize("suffix", ["", "/quote.pdf", "/plans/1.svg", "/source.xlsx", "/lines.csv"])
def test_another_firms_quote_is_not_there(estimator, rival, suffix):
    """Another firm's quote answers 404 with the same words as an id that never was."""
    mine = rival.get(f"/v1/quotes/{estimator.quoted()['id']}{suffix}")
    never = rival.get(f"/v1/quotes/01a20000-0000-7000-8000-000000000000{suffix}")
    assert mine.status_code == never.status_code == 404
    same = ("type", "title", "detail")
    assert [mine.json[name] for name in same] == [never.json[name] for name in same]


def test_another_firm_lists_and_changes_nothing(estimator, rival):
    """Another firm's key sees an empty list and cannot issue the quote."""
    quote = estimator.quoted()
    assert rival.get("/v1/quotes").json["items"] == []
    assert rival.post(f"/v1/quotes/{quote['id']}/issue", If_Match="*").status_code == 404
    assert estimator.get(f"/v1/quotes/{quote['id']}").json["status"] == "draft"


def test_a_room_that_is_not_there_has_no_plan(estimator):
    """A plan of a room number beyond the quote's is 404."""
    assert estimator.get(f"/v1/quotes/{estimator.quoted()['id']}/plans/99.svg").status_code == 404


def test_only_the_office_sees_cost(estimator, integrator, field_lead):
    """Wages, rates, cost and margin are in the office's JSON and CSV and in nobody else's."""
    path = f"/v1/quotes/{estimator.quoted()['id']}"
    office, others = estimator.get(path).json, [integrator.get(path).json, field_lead.get(path).json]
    assert "direct_cost" in office["totals"]
    for other in others:
        hidden = set(office["totals"]) - set(other["totals"])
        assert {"wages", "burden", "direct_cost", "overhead", "cost", "profit"} <= hidden
        assert all("cost" not in line for line in other["lines"])
        assert other["totals"]["total"] == office["totals"]["total"]
    lines = [key.get(f"{path}/lines.csv").get_data(as_text=True) for key in (estimator, integrator)]
    assert "cost" in lines[0].splitlines()[0].casefold()
    assert "cost" not in lines[1].splitlines()[0].casefold()


def test_a_role_has_its_own_etag(estimator, field_lead):
    """The office's and the field lead's JSON differ, and so do their entity tags."""
    path = f"/v1/quotes/{estimator.quoted()['id']}"
    tag = estimator.get(path).headers["ETag"]
    assert field_lead.get(path).headers["ETag"] != tag
    assert field_lead.get(path, If_None_Match=tag).status_code == 200


def test_a_repeated_request_makes_one_quote(estimator, office):
    """The same Idempotency-Key, quoted or not, answers with the first quote; nothing new is stored."""
    key = "a1b2c3d4-e5f6-7890"
    first = estimator.post("/v1/quotes", sheet("rectangle.xlsx"), Idempotency_Key=key)
    again = estimator.post("/v1/quotes", sheet("rectangle.xlsx"), Idempotency_Key=f'"{key}"')
    assert (first.status_code, again.status_code) == (201, 201)
    assert first.json["id"] == again.json["id"]
    assert count_of(office.desk, "quotes") == 1


def test_a_repeat_key_with_another_sheet_is_refused(estimator):
    """The same Idempotency-Key with another body or price list is 422; a malformed one as well."""
    key = "a1b2c3d4-e5f6-7890"
    estimator.post("/v1/quotes", sheet("rectangle.xlsx"), Idempotency_Key=key)
    other = estimator.post("/v1/quotes", sheet("l_shaped.xlsx"), Idempotency_Key=key)
    listed = estimator.post("/v1/quotes?price_list=standard", sheet("rectangle.xlsx"), Idempotency_Key=key)
    short = estimator.post("/v1/quotes", sheet("rectangle.xlsx"), Idempotency_Key="short")
    kinds = [response.json["type"].rsplit("/")[-1] for response in (other, listed, short)]
    assert [response.status_code for response in (other, listed, short)] == [422, 422, 422]
    assert kinds == ["repeat-differs", "repeat-differs", "repeat-key-not-understood"]


def test_a_repeat_key_belongs_to_its_key(estimator, integrator):
    """Two keys may use the same Idempotency-Key; each makes its own quote."""
    key = "a1b2c3d4-e5f6-7890"
    ids = {
        caller.post("/v1/quotes", sheet("rectangle.xlsx"), Idempotency_Key=key).json["id"]
        for caller in (estimator, integrator)
    }
    assert len(ids) == 2


def test_a_repeat_during_the_first_makes_one_quote(office):
    """Four clients sending the same Idempotency-Key at once get one quote between them."""
    app, ids = office.app(), []

    def ask() -> None:
        headers = {
            "Authorization": f"Bearer {office.keys['office']}",
            "Content-Type": XLSX,
            "Idempotency-Key": "a1b2c3d4-e5f6-7890",
        }
        ids.append(app.test_client().post("/v1/quotes", data=sheet("rectangle.xlsx"), headers=headers).json["id"])

    threads = [threading.Thread(target=ask) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(ids) == 4
    assert len(set(ids)) == 1
