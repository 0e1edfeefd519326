from __future__ import annotations

import json

import pytest

from tests.web.office import XLSX, changed, count_of, sheet


def test_a_new_folder_holds_the_sample_list(estimator):
    """The first price list is `standard`, version 1, marked as invented, with the sample workbook behind it."""
    response = estimator.get("/v1/price-lists/standard")
    assert (response.json["name"], response.json["version"]) == ("standard", 1)
    assert "invented" in response.json["document"]["firm"]["name"]
    workbook = estimator.get("/v1/price-lists/standard", Accept=XLSX)
    assert (workbook.mimetype, workbook.data) == (XLSX, sheet("price_list.xlsx"))


def test_a_workbook_becomes_the_next_version(estimator):
    """A changed workbook is kept as version 2; version 1 stays as it was; the same workbook again makes no third."""
    dearer = changed("price_list.xlsx", {"Wages!B2": "99.00"})
    versions = [estimator.put("/v1/price-lists/standard", dearer).json["version"] for _ in range(2)]
    assert versions == [2, 2]
    listed = estimator.get("/v1/price-lists/standard/versions").json["items"]
    assert [mark["version"] for mark in listed] == [2, 1]
    wages = [
        estimator.get(f"/v1/price-lists/standard/versions/{n}").json["document"]["wages"][0]["wage"] for n in (1, 2)
    ]
    assert wages[0] != wages[1]
    assert wages[1].startswith("99")


def test_a_document_is_another_spelling_of_the_workbook(estimator):
    """The JSON of a list can be put under another name and quoted with; both price the sheet alike."""
    document = estimator.get("/v1/price-lists/standard").json["document"]
    put = estimator.put("/v1/price-lists/winter-2027", json.dumps(document).encode(), Content_Type="application/json")
    assert put.status_code == 200, put.get_data(as_text=True)
    names = [mark["name"] for mark in estimator.get("/v1/price-lists").json["items"]]
    assert names == ["standard", "winter-2027"]
    quotes = [
        estimator.post(f"/v1/quotes?price_list={name}", sheet("rectangle.xlsx")).json
        for name in ("standard", "Winter 2027")
    ]
    assert quotes[0]["totals"] == quotes[1]["totals"]
    assert quotes[1]["price_list"] == {"name": "winter-2027", "version": 1}


def test_the_sheet_may_name_the_list(estimator):
    """A name on the sheet chooses the list, whatever its case; a name that isn't there is a fault at its cell."""
    good = changed("rectangle.xlsx", {"Job!B12": " STANDARD "})
    bad = changed("rectangle.xlsx", {"Job!B12": "summer"})
    assert estimator.post("/v1/quotes", good).status_code == 201
    problem = estimator.post("/v1/quotes", bad).json["problems"][0]
    assert (problem["code"], problem["found"]) == ("price-list-unknown", "summer")
    assert problem["cell"] == {"sheet": "Job", "address": "B12"}


def test_a_list_with_faults_is_refused_whole(estimator, office):
    """Every fault of a price list comes back with its cell, and the list stays as it was."""
    broken = changed("price_list.xlsx", {"Wages!B2": "much", "Stock!C2": "-1", "Profiles!C2": "round"})
    response = estimator.put("/v1/price-lists/standard", broken)
    cells = {(p["cell"]["sheet"], p["cell"]["address"]) for p in response.json["problems"]}
    assert response.status_code == 422
    assert response.json["type"].endswith("/problems/price-list-refused")
    assert {("Wages", "B2"), ("Stock", "C2"), ("Profiles", "C2")} <= cells
    assert count_of(office.desk, "price_list_versions") == 2  # the two firms' first ones


def test_a_room_sheet_is_no_price_list(estimator):
    """A room sheet put as a price list is refused with a fault for each missing tab."""
    response = estimator.put("/v1/price-lists/standard", sheet("rectangle.xlsx"))
    assert response.status_code == 422
    assert "tab-missing" in {problem["code"] for problem in response.json["problems"]}


@pytest.mark.parametrize("name", ["Winter", "-x", "a%20b", "x" * 65, "a%0A"])
def test_a_strange_name_is_refused(estimator, name):
    """A name that cannot stand in an address is 422."""
    response = estimator.put(f"/v1/price-lists/{name}", sheet("price_list.xlsx"))
    assert (response.status_code, response.json["type"].rsplit("/", 1)[-1]) == (422, "name-not-understood")


@pytest.mark.parametrize("path", ["/winter", "/winter/versions", "/standard/versions/9"])
def test_a_list_that_is_not_there_is_404(estimator, path):
    """An unknown name or version is 404."""
    assert estimator.get(f"/v1/price-lists{path}").status_code == 404


def test_another_firms_lists_are_not_there(estimator, rival):
    """A list put by one firm is 404 for another."""
    estimator.put("/v1/price-lists/winter", sheet("price_list.xlsx"))
    assert rival.get("/v1/price-lists/winter").status_code == 404
    assert [mark["name"] for mark in rival.get("/v1/price-lists").json["items"]] == ["standard"]


def test_a_list_that_came_as_json_has_no_workbook(rival):
    """A list without a workbook cannot be had as one."""
    response = rival.get("/v1/price-lists/standard", Accept=XLSX)
    assert (response.status_code, response.json["available"]) == (406, ["application/json"])
