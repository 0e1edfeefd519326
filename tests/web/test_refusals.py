from __future__ import annotations

import io
import json
import re

import pytest

from service.problems import Code
from service.web.faults import KINDS, RequestCode
from service.web.wiring import SHEET_LIMIT
from tests.web.office import Caller, as_part, changed, count_of, key_page, sample_document, sheet

PROBLEM = "application/problem+json"
JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01" + bytes(2000)
DOORS = ("/v1/sheet-checks", "/v1/quotes")
KEYED = [
    ("GET", "/v1/templates/room-sheet.xlsx"),
    ("GET", "/v1/templates/price-list.xlsx"),
    ("POST", "/v1/sheet-checks"),
    ("POST", "/v1/quotes"),
    ("GET", "/v1/quotes"),
    ("GET", "/v1/quotes/01a20000-0000-7000-8000-000000000000"),
    ("GET", "/v1/quotes/01a20000-0000-7000-8000-000000000000/quote.pdf"),
    ("POST", "/v1/quotes/01a20000-0000-7000-8000-000000000000/issue"),
    ("GET", "/v1/price-lists"),
    ("GET", "/v1/price-lists/standard"),
    ("PUT", "/v1/price-lists/standard"),
    ("GET", "/v1/price-lists/standard/versions"),
    ("GET", "/v1/trade-book"),
]


def kind_of(response) -> str:
    """The code that a problem's type ends in, after checks that hold for every problem (RFC 9457, section 3)."""
    assert response.mimetype == PROBLEM, (response.status_code, response.mimetype)
    problem = response.json
    assert problem["status"] == response.status_code
    code = problem["type"].rsplit("/", 1)[-1]
    assert problem["title"] == KINDS[RequestCode(code)].title
    assert problem["detail"]
    return code


@pytest.mark.parametrize("door", DOORS)
@pytest.mark.parametrize(
    ("body", "status", "code"),
    [
        (b"", 422, None),
        (JPEG, 415, Code.SHEET_IS_PICTURE),
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n" + b"0" * 500, 415, Code.SHEET_IS_PDF),
        (b"PK\x03\x04" + b"\0" * 300, 422, None),
    ],
)
def test_a_file_that_is_no_workbook_is_refused(estimator, office, door, body, status, code):
    """An empty file, a photograph or PDF named .xlsx and a broken archive are refused in words, and nothing is stored."""
    response = estimator.post(door, body)
    assert response.status_code == status, response.get_data(as_text=True)
    assert kind_of(response) == "sheet-refused"
    assert response.json["problem_count"] == len(response.json["problems"]) == 1
    assert response.json["problems"][0]["help"]
    assert code is None or response.json["problems"][0]["code"] == code
    assert count_of(office.desk, "quotes") == 0


@pytest.mark.parametrize("door", DOORS)
def test_a_file_of_20_megabytes_is_refused(estimator, office, door):
    """20 MB are 413 with `sheet-too-large`; so is one byte over the limit, as raw body and as a part."""
    twenty = estimator.post(door, b"PK\x03\x04" + bytes(20_000_000))
    over = estimator.post(door, bytes(SHEET_LIMIT + 1))
    headers = {"Authorization": f"Bearer {office.keys['office']}"}
    part = estimator.client.post(door, headers=headers, **as_part(bytes(SHEET_LIMIT + 1)))
    for response in (twenty, over, part):
        assert (response.status_code, kind_of(response)) == (413, "body-too-large")
        assert response.json["problems"][0]["code"] == Code.SHEET_TOO_LARGE
    assert count_of(office.desk, "quotes") == 0


@pytest.mark.parametrize("door", DOORS)
def test_a_sheet_with_thirty_faults_names_every_cell(estimator, office, door):
    """The broken sample answers 422 with at least thirty errors, each with cell, code, detail and help; nothing is stored."""
    response = estimator.post(door, sheet("broken.xlsx"))
    problems = response.json["problems"]
    errors = [problem for problem in problems if problem["severity"] == "error"]
    assert (response.status_code, kind_of(response)) == (422, "sheet-refused")
    assert len(errors) >= 30
    assert response.json["problem_count"] == len(problems)
    for problem in errors:
        assert re.fullmatch(r"[A-Z]{1,3}[0-9]+", problem["cell"]["address"])
        assert problem["detail"]
        assert problem["help"]
    assert count_of(office.desk, "quotes") == 0
    assert office.clock.now is not None


def test_both_doors_find_the_same(estimator):
    """A check and a quote go the same way: their problems are equal."""
    check, quote = (estimator.post(door, sheet("broken.xlsx")).json["problems"] for door in DOORS)
    assert check == quote


def test_faults_of_a_later_stage_come_with_those_of_reading(estimator):
    """An unreadable length in one row and an unknown assembly in another are told in one answer."""
    data = changed("rectangle.xlsx", {"Job!B3": None, "Trim!C2": "No such crown"})
    codes = {(p["code"], p["cell"]["sheet"]) for p in estimator.post("/v1/quotes", data).json["problems"]}
    assert {("value-missing", "Job"), ("assembly-unknown", "Trim")} <= codes


def test_only_two_hundred_problems_are_listed(estimator):
    """Of 250 faults 200 are listed and all are counted."""
    document = sample_document()
    document["extras"] = [
        {"description": "x", "quantity": "?", "unit": "ea", "unit_price": "1.00", "kind": "labor"}
    ] * 250
    response = estimator.post("/v1/quotes", json.dumps(document).encode(), Content_Type="application/json")
    assert (response.status_code, len(response.json["problems"])) == (422, 200)
    assert response.json["problem_count"] == 250


@pytest.mark.parametrize("body", ["{", "[1, NaN]", '{"a": 1e400}', '{"a": 1, "a": 2}', "[" * 20_000, "\ufeff{}", ""])
def test_a_body_that_is_not_json_is_refused(estimator, body):
    """Broken, endless, infinite or doubled JSON is 422, not an accident (RFC 8259)."""
    response = estimator.post("/v1/quotes", body.encode(), Content_Type="application/json")
    assert (response.status_code, kind_of(response)) == (422, "body-not-understood")


@pytest.mark.parametrize("body", ["null", "[]", '"x"', "1", "{}", '{"layout": 2}', '{"id": "x", "total": "1"}'])
def test_json_that_is_no_job_document_is_refused(estimator, office, body):
    """JSON of another shape is 422 with pointers into it; foreign members are faults and are never stored."""
    response = estimator.post("/v1/quotes", body.encode(), Content_Type="application/json")
    assert (response.status_code, kind_of(response)) == (422, "sheet-refused")
    assert all(problem["cell"] is None for problem in response.json["problems"])
    assert count_of(office.desk, "quotes") == 0


@pytest.mark.parametrize(
    "media_type", ["text/csv", "image/jpeg", "application/x-www-form-urlencoded", "application/xml"]
)
def test_a_body_of_another_type_is_415(estimator, media_type):
    """A media type that is not read here is refused before the body is looked at."""
    response = estimator.post("/v1/quotes", sheet("rectangle.xlsx"), Content_Type=media_type)
    assert (response.status_code, kind_of(response)) == (415, "body-wrong-type")


def test_a_compressed_body_is_415(estimator):
    """Content-Encoding is not read, so it is refused rather than misread."""
    response = estimator.post("/v1/quotes", b"x", Content_Encoding="gzip")
    assert (response.status_code, kind_of(response)) == (415, "body-wrong-type")


@pytest.mark.parametrize(
    "data",
    [
        {"sheet": (io.BytesIO(b"x"), "r.xlsx")},
        {"file": (io.BytesIO(b"x"), "r.xlsx"), "note": "hello"},
        {"file": "just text"},
        {},
    ],
)
def test_multipart_takes_one_part_named_file(client, office, data):
    """Another name, a second field or no file at all is 422."""
    headers = {"Authorization": f"Bearer {office.keys['office']}"}
    response = client.post("/v1/quotes", data=data, headers=headers, content_type="multipart/form-data")
    assert (response.status_code, kind_of(response)) == (422, "body-not-understood")


def test_a_marked_workbook_of_a_document_is_not_pretended(estimator):
    """A check of a JSON document asked for as xlsx is 406 and says in which forms it is answered."""
    xlsx = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    body = json.dumps(sample_document()).encode()
    response = estimator.post("/v1/sheet-checks", body, Accept=xlsx, Content_Type="application/json")
    assert (response.status_code, kind_of(response)) == (406, "not-acceptable")
    assert response.json["available"] == ["application/json", "text/csv"]


def test_a_sound_sheet_is_valid(estimator, office):
    """A sheet without errors answers valid with rooms, walls and feet by assembly, and stores nothing."""
    response = estimator.post(
        "/v1/sheet-checks", json.dumps(sample_document()).encode(), Content_Type="application/json"
    )
    assert response.status_code == 200, response.get_data(as_text=True)
    check = response.json
    assert check["valid"] is True
    assert (check["summary"]["rooms"], check["summary"]["walls"]) == (1, 4)
    assert set(check["summary"]["feet_by_assembly"]) == {"Three-piece crown"}
    whole = estimator.post("/v1/sheet-checks", sheet("l_shaped.xlsx")).json["summary"]
    assert (whole["openings"], whole["ceiling"]) == ({"door": 1, "window": 1}, {})
    assert whole["extras"] == {"labor": 1, "option": 1}
    assert count_of(office.desk, "quotes") == 0


@pytest.mark.parametrize(("method", "path"), KEYED)
def test_every_address_of_the_api_needs_a_key(client, method, path):
    """Without a key 401 with a bearer challenge and no error attribute; with a bad one invalid_token (RFC 6750)."""
    none = client.open(path, method=method)
    bad = client.open(path, method=method, headers={"Authorization": "Bearer tq_x"})
    assert (none.status_code, kind_of(none)) == (401, "key-missing")
    assert "error" not in none.headers["WWW-Authenticate"]
    assert (bad.status_code, kind_of(bad)) == (401, "key-not-valid")
    assert 'error="invalid_token"' in bad.headers["WWW-Authenticate"]


def test_a_key_in_the_query_is_no_key(client, office):
    """A key after the question mark is not looked at."""
    assert client.get(f"/v1/quotes?access_token={office.keys['office']}").status_code == 401


@pytest.mark.parametrize("scheme", ["Basic", "bearer", "BEARER"])
def test_the_scheme_is_case_insensitive_and_bearer(client, office, scheme):
    """`bearer` in any case opens, another scheme doesn't (RFC 9110, section 11.1)."""
    response = client.get("/v1/quotes", headers={"Authorization": f"{scheme} {office.keys['office']}"})
    assert response.status_code == (401 if scheme == "Basic" else 200)


@pytest.mark.parametrize(
    ("role", "method", "path", "allowed"),
    [
        ("field", "GET", "/v1/quotes", True),
        ("field", "GET", "/v1/trade-book", True),
        ("field", "POST", "/v1/quotes", False),
        ("field", "POST", "/v1/sheet-checks", False),
        ("field", "GET", "/v1/price-lists", False),
        ("field", "POST", "/v1/quotes/01a20000-0000-7000-8000-000000000000/issue", False),
        ("integration", "POST", "/v1/sheet-checks", True),
        ("integration", "GET", "/v1/price-lists/standard", False),
        ("integration", "PUT", "/v1/price-lists/standard", False),
        ("office", "GET", "/v1/price-lists/standard", True),
    ],
)
def test_a_role_may_do_its_own_work(client, office, role, method, path, allowed):
    """A key whose role does not allow it gets 403 insufficient_scope, any other answer means it was let in."""
    response = client.open(path, method=method, headers={"Authorization": f"Bearer {office.keys[role]}"})
    assert (response.status_code == 403) is not allowed
    if not allowed:
        assert kind_of(response) == "role-not-allowed"
        assert 'error="insufficient_scope"' in response.headers["WWW-Authenticate"]


@pytest.mark.parametrize(
    ("method", "path", "status", "code"),
    [
        ("GET", "/v1/nothing", 404, "not-found"),
        ("GET", "/nothing", 404, "not-found"),
        ("GET", "/v2/quotes", 404, "not-found"),
        ("GET", "/v1/quotes/7", 404, "not-found"),
        ("GET", "/problems/nothing", 404, "not-found"),
        ("DELETE", "/v1/quotes", 405, "method-not-allowed"),
        ("TRACE", "/v1/quotes", 405, "method-not-allowed"),
        ("PATCH", "/", 405, "method-not-allowed"),
    ],
)
def test_unknown_addresses_and_methods_are_problems(client, method, path, status, code):
    """404 and 405 are problem documents too, and 405 lists the methods there are (RFC 9110, section 15.5.6)."""
    response = client.open(path, method=method)
    assert (response.status_code, kind_of(response)) == (status, code)
    assert ("Allow" in response.headers) == (status == 405)


def test_a_wrong_host_is_refused(client):
    """A request for another host name is 400, so that a name pointed at the service opens nothing."""
    response = client.get("/livez", base_url="http://evil.example")
    assert (response.status_code, kind_of(response)) == (400, "request-not-understood")


def test_an_accident_tells_nothing(office):
    """A failure inside is a 500 problem with a trace id and without the failure's own words."""
    app = office.app()

    @app.get("/accident")
    def accident() -> str:
        raise RuntimeError("secret words of the inside")

    trace = "4bf92f3577b34da6a3ce929d0e0e4736"  # the example of W3C Trace Context, section 3.2.2
    response = app.test_client().get("/accident", headers={"traceparent": f"00-{trace}-00f067aa0ba902b7-01"})
    assert (response.status_code, kind_of(response)) == (500, "unexpected")
    assert "secret" not in response.get_data(as_text=True)
    assert response.json["trace_id"] == trace


@pytest.mark.parametrize(
    "path", ["/", "/docs", "/livez", "/v1/quotes", "/v1/nothing", "/openapi.json", "/static/house.css"]
)
def test_every_answer_has_its_security_headers(client, path):
    """Each answer says nosniff, forbids framing and embedding, allows no script and no foreign origin."""
    headers = client.get(path, headers={"Origin": "https://evil.example"}, buffered=True).headers
    policy = headers["Content-Security-Policy"]
    assert headers["X-Content-Type-Options"] == "nosniff"
    for part in ("default-src 'none'", "frame-ancestors 'none'", "base-uri 'none'", "object-src 'none'"):
        assert part in policy
    assert "script-src" not in policy
    assert "unsafe" not in policy
    assert headers["Referrer-Policy"] == "same-origin"
    assert "Access-Control-Allow-Origin" not in headers


def test_a_browser_gets_words_and_a_program_a_problem(client):
    """Outside the API an error is a page for who prefers HTML, and a problem document for all others."""
    page = client.get("/quotes/01a20000-0000-7000-8000-000000000000", headers={"Accept": "text/html,*/*;q=0.8"})
    program = client.get("/quotes/01a20000-0000-7000-8000-000000000000")
    assert (page.status_code, page.mimetype) == (404, "text/html")
    assert "<title>Error:" in page.get_data(as_text=True)
    assert kind_of(program) == "not-found"


@pytest.mark.parametrize("name", ["../../x", 'a"b', "r\u00f6om \u2028.xlsx", "x" * 300 + ".xlsx"])
def test_a_strange_file_name_does_no_harm(client, office, name):
    """The name of an uploaded file is never used for storing or in a header."""
    headers = {"Authorization": f"Bearer {office.keys['office']}"}
    data = {"file": (io.BytesIO(sheet("rectangle.xlsx")), name)}
    response = client.post("/v1/quotes", data=data, headers=headers, content_type="multipart/form-data")
    assert response.status_code == 201


def test_a_hostile_job_name_stays_within_its_header(office, client):
    """Quotation marks, line ends and slashes of a job name don't leave the file name of a download (RFC 6266)."""
    document = sample_document()
    document["job"]["job_name"] = 'Oak" ; filename="evil.exe / ½ Straße'
    caller = Caller(client, office.keys["office"])
    quote = caller.post("/v1/quotes", json.dumps(document).encode(), Content_Type="application/json").json
    header = caller.get(f"/v1/quotes/{quote['id']}/cut-list.csv").headers["Content-Disposition"]
    assert header.count('"') == 2
    assert header.isascii()
    assert header.startswith('attachment; filename="1001 cut list Oak')
    assert "filename*=UTF-8''1001%20cut%20list%20Oak" in header


def test_the_page_is_closed_to_strangers_outside_loopback(office):
    """Reached from outside, the page and its documents open nothing without a key."""
    client = office.app(key_page()).test_client()
    assert client.get("/").headers["Location"].endswith("/sign-in")
    posted = client.post("/", data={"file": (io.BytesIO(sheet("rectangle.xlsx")), "r.xlsx")})
    assert posted.headers["Location"].endswith("/sign-in")
    assert client.get("/quotes/01a20000-0000-7000-8000-000000000000/quote.pdf").status_code == 401
    assert count_of(office.desk, "quotes") == 0
