from __future__ import annotations

import io
import json
import re
from decimal import Decimal

import pytest

from service.web.wiring import SHEET_LIMIT
from tests.web.office import NOW, as_part, count_of, key_page, sample_document, sheet

HOSTILE = "<script>alert(1)</script>"


def sent(client, data: bytes, name: str = "rooms.xlsx", **headers: str):
    """Send a workbook from the page."""
    named = {key.replace("_", "-"): value for key, value in headers.items()}
    return client.post("/", headers=named, **as_part(data, name))


def test_the_page_asks_for_a_workbook(client):
    """The form has a labelled file input and works without a script."""
    page = client.get("/").get_data(as_text=True)
    assert '<label for="file">' in page
    assert 'enctype="multipart/form-data"' in page
    assert "<script" not in page
    assert "Set-Cookie" not in client.get("/").headers


def test_a_good_sheet_leads_to_its_quote(client):
    """A sound sheet is answered 303 to the quote's page, which shows total, rooms, plans and documents."""
    response = sent(client, sheet("l_shaped.xlsx"))
    assert response.status_code == 303
    page = client.get(response.headers["Location"])
    text = page.get_data(as_text=True)
    assert page.status_code == 200
    assert re.search(r"\$[0-9,]+\.[0-9]{2}", text)
    quote = client.get(f"{response.headers['Location']}/quote.json").json
    for room in quote["rooms"]:
        assert room["name"] in text
    links = re.findall(r'(?:href|src)="(/quotes/[^"]+)"', text)
    assert {link.rsplit("/", 1)[-1] for link in links} >= {
        "quote.pdf", "field-sheet.pdf", "quote.json", "lines.csv", "cut-list.csv", "order-list.csv", "source.xlsx", "1.svg",
    }  # fmt: skip
    for link in links:
        assert client.get(link).status_code == 200


def test_the_page_adds_up(client):
    """The prices by room on the page add up to the price before tax, and with the tax to the total."""
    response = sent(client, sheet("l_shaped.xlsx"))
    page = client.get(response.headers["Location"]).get_data(as_text=True)
    ledger = page.split('class="ledger"')[1].split("</table>")[0]
    cents = [int(re.sub(r"\D", "", figure)) for figure in re.findall(r"\$[0-9,]+\.[0-9]{2}", ledger)]
    *rooms, before, tax, total = cents
    assert sum(rooms) == before
    assert before + tax == total


def test_the_page_says_how_well_the_boards_are_used(client):
    """Cost of boards and joints and the bound stand on the page as in the office's figures."""
    address = sent(client, sheet("l_shaped.xlsx")).headers["Location"]
    cutting = client.get(f"{address}/quote.json").json["cutting"]
    page = client.get(address).get_data(as_text=True)
    words = page.split('id="cutting-title"')[1].split("</section>")[0]
    assert f"cost ${Decimal(cutting['cost']['amount']):,.2f}" in words
    assert ("can cost less" in words) == (cutting["proof"] != "none")


def test_a_faulty_sheet_shows_every_cell(client, office):
    """A sheet with faults is 422, its title starts with Error, every fault has its row; nothing is stored."""
    response = sent(client, sheet("broken.xlsx"))
    text = response.get_data(as_text=True)
    assert response.status_code == 422
    assert "<title>Error:" in text
    assert text.count('role="rowheader"') >= 30
    assert 'tabindex="-1" autofocus' in text
    assert count_of(office.desk, "quotes") == 0


@pytest.mark.parametrize(
    ("data", "status"),
    [(b"", 422), (b"\xff\xd8\xff\xe0" + bytes(500), 415), (bytes(SHEET_LIMIT + 1), 413), (bytes(20_000_000), 413)],
)
def test_a_file_that_is_no_sheet_is_told_in_words(client, office, data, status):
    """Empty, photograph and too large files get a page whose title starts with Error; nothing is stored."""
    response = sent(client, data, Accept="text/html")
    assert (response.status_code, response.mimetype) == (status, "text/html")
    assert "<title>Error:" in response.get_data(as_text=True)
    assert count_of(office.desk, "quotes") == 0


def test_no_file_at_all_is_told_in_words(client):
    """Sending the form without a file says what to do."""
    response = client.post("/", data={"file": (io.BytesIO(b""), "")}, content_type="multipart/form-data")
    assert (response.status_code, "No sheet was chosen" in response.get_data(as_text=True)) == (422, True)


def test_hostile_text_is_escaped(client, estimator):
    """Markup in names stays text on the page of faults, the quote's page and the list of latest quotes."""
    document = sample_document()
    document["job"]["job_name"] = document["job"]["customer"] = document["rooms"][0]["name"] = HOSTILE
    document["trim"][0]["room"] = HOSTILE
    made = estimator.post("/v1/quotes", json.dumps(document).encode(), Content_Type="application/json")
    assert made.status_code == 201, made.get_data(as_text=True)
    for path in (f"/quotes/{made.json['id']}", "/"):
        text = client.get(path).get_data(as_text=True)
        assert "<script" not in text
        assert "&lt;script&gt;" in text
    faults = sent(client, sheet("broken.xlsx"), name=f"{HOSTILE}.xlsx").get_data(as_text=True)
    assert "<script" not in faults


@pytest.mark.parametrize(
    "headers",
    [
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Site": "same-site"},
        {"Origin": "https://evil.example"},
        {"Origin": "null"},
    ],
)
def test_a_form_of_another_site_is_refused(client, office, headers):
    """What another site makes the browser send is 403, though the page is open on loopback; nothing is stored."""
    assert sent(client, sheet("rectangle.xlsx"), **headers).status_code == 403
    assert count_of(office.desk, "quotes") == 0


@pytest.mark.parametrize(
    "headers", [{}, {"Sec_Fetch_Site": "same-origin", "Origin": "http://localhost"}, {"Sec_Fetch_Site": "none"}]
)
def test_the_pages_own_form_is_taken(client, headers):
    """The page's own origin, and clients that send no such header, are taken."""
    assert sent(client, sheet("rectangle.xlsx"), **headers).status_code == 303


def test_a_stranger_signs_in_with_an_office_key(office):
    """An office key gives a strict, script-proof cookie that opens the page; other keys and words don't."""
    client = office.app(key_page()).test_client()
    for wrong in (office.keys["field"], office.keys["integration"], "tq_x", ""):
        assert client.post("/sign-in", data={"key": wrong}).status_code == 403
    response = client.post("/sign-in", data={"key": office.keys["office"]})
    cookie = response.headers["Set-Cookie"]
    assert response.status_code == 303
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert office.keys["office"].split("_", 2)[2] not in cookie
    assert client.get("/").status_code == 200
    assert sent(client, sheet("rectangle.xlsx")).status_code == 303


def test_a_cookie_ends_with_its_key(office):
    """After the key is revoked its cookie opens nothing; a forged cookie never did."""
    client = office.app(key_page()).test_client()
    client.post("/sign-in", data={"key": office.keys["office"]})
    assert client.get("/").status_code == 200
    with office.desk.database.writing() as connection:
        connection.exec_driver_sql("UPDATE keys SET revoked_at = ?", (NOW.isoformat(" ")[:19],))
    assert client.get("/").status_code == 303
    client.set_cookie("office", "forged.AAAA.BBBB")
    assert client.get("/").status_code == 303


def test_each_firm_sees_its_own_quotes_on_the_page(office, estimator):
    """Signed in with the rival's key, a firm's quote is 404 and its list is empty."""
    quote = estimator.quoted()
    client = office.app(key_page()).test_client()
    client.post("/sign-in", data={"key": office.keys["rival"]})
    assert client.get(f"/quotes/{quote['id']}").status_code == 404
    assert quote["id"] not in client.get("/").get_data(as_text=True)


def test_the_blank_sheets_are_there_without_a_key(office):
    """The page's templates hold nothing of anybody's and need no key."""
    client = office.app(key_page()).test_client()
    for path in ("/templates/room-sheet.xlsx", "/templates/room-sheet.xlsx?units=metric", "/templates/price-list.xlsx"):
        assert client.get(path).data.startswith(b"PK")
