"""The trade book over HTTP: what ships, and a firm's own values from the Trade tab of its price list. The firm is invented."""

from __future__ import annotations

import pytest

from service.trade.book import shipped_book
from tests.web.office import changed, sheet

BOOK = shipped_book()


def own_values(*rows: tuple[str, str, str]) -> bytes:
    """The sample price list with these rows on its Trade tab."""
    places = [("A", "B", "C")] * len(rows)
    cells = {
        f"Trade!{column}{number}": text
        for number, (columns, row) in enumerate(zip(places, rows, strict=True), 3)
        for column, text in zip(columns, row, strict=True)
    }
    return changed("price_list.xlsx", cells)


@pytest.fixture
def strange(estimator):
    """A price list with a value in its range, one outside, and a key that is none."""
    rows = (
        ("waste.nails", "0.1", "own jobs 2025"),
        ("waste.adhesive", "20", "meant as a percentage"),
        ("waste.nothing", "1", "slip"),
    )
    put = estimator.put("/v1/price-lists/standard", own_values(*rows))
    assert put.status_code == 200, put.get_data(as_text=True)
    return put.json


@pytest.mark.parametrize("key", ["cautions.lead-year", "fastening.finish-8d-per-lb", "waste.adhesive"])
def test_an_entry_says_where_its_number_comes_from(estimator, key):
    """Value, unit, meaning, range, grade, source with its page, and whether it was seen or is from memory."""
    answer = estimator.get(f"/v1/trade-book/{key}").json
    entry, source = BOOK[key], BOOK.sources[BOOK[key].source]
    assert (answer["value"], answer["unit"], answer["grade"]) == (str(entry.value), entry.unit, entry.grade)
    assert (answer["low"], answer["high"], answer["meaning"]) == (str(entry.low), str(entry.high), entry.meaning)
    assert answer["source"] == {
        "id": entry.source, "reference": source.reference, "page": entry.page, "seen": source.seen,
    }  # fmt: skip
    assert (answer["in_force"], answer["firm"]) == (answer["value"], None)


def test_the_firms_value_is_shown_in_force(estimator, strange):
    """With the price list named, an entry shows the firm's value, its source and that it is in range; the book's stays."""
    answer = estimator.get("/v1/trade-book/waste.nails?price_list=standard").json
    assert (answer["value"], answer["grade"], answer["in_force"]) == ("0.2", "published", "0.1")
    assert answer["firm"] == {"value": "0.1", "source": "own jobs 2025", "grade": "firm", "in_range": True}
    assert estimator.get("/v1/trade-book/waste.nails").json["firm"] is None


def test_a_value_out_of_range_is_told_with_the_book(estimator, strange):
    """A value outside its range and an unknown key are warnings of the list; the value is in force and marked."""
    answer = estimator.get("/v1/trade-book?price_list=standard").json
    told = [(row["code"], row["severity"], row["pointer"], row["found"]) for row in answer["problems"]]
    assert told == [
        ("trade-value-out-of-range", "warning", "/trade/1", "20"),
        ("trade-value-out-of-range", "warning", "/trade/2", "waste.nothing"),
    ]
    (item,) = [item for item in answer["items"] if item["key"] == "waste.adhesive"]
    assert (item["in_force"], item["firm"]["in_range"]) == ("20", False)
    assert "waste.nothing" not in {item["key"] for item in answer["items"]}
    assert estimator.get("/v1/trade-book").json["problems"] == []


def test_a_strange_value_is_told_when_the_list_is_kept(strange):
    """Whoever uploads the workbook reads the warnings at once, at their cells of the Trade tab."""
    told = [(row["code"], row["found"], row["cell"]["sheet"], row["cell"]["address"]) for row in strange["problems"]]
    assert ("trade-value-out-of-range", "20") in {row[:2] for row in told}
    assert {(row[1], row[2], row[3][1:]) for row in told if row[0] == "trade-value-out-of-range"} == {
        ("20", "Trade", "4"),
        ("waste.nothing", "Trade", "5"),
    }


def test_a_strange_value_travels_with_the_quote_and_moves_it(estimator, strange):
    """The quote warns, buys more adhesive by the firm's share, and names the entry in the supply's basis."""
    quote = estimator.quoted("rectangle.xlsx")
    warned = [row["found"] for row in quote["warnings"] if row["code"] == "trade-value-out-of-range"]
    assert warned == ["20", "waste.nothing"]
    (adhesive,) = [row for row in quote["supplies"] if row["kind"] == "adhesive"]
    assert adhesive["waste_share"] == 20
    assert "trade:waste.adhesive" in adhesive["basis"]
    assert not any(
        "[waste.adhesive]" in item["text"] or item["basis"] == "trade:waste.adhesive" for item in quote["assumptions"]
    )


def test_own_values_are_the_offices_alone(field_lead, integrator, rival, estimator):
    """Others read the book, not the firm's values; another firm reads its own; a list that is not there is 404."""
    assert estimator.put("/v1/price-lists/winter", sheet("price_list.xlsx")).status_code == 200
    for caller in (field_lead, integrator):
        assert caller.get("/v1/trade-book").status_code == 200
        assert caller.get("/v1/trade-book?price_list=winter").status_code == 403
    assert estimator.get("/v1/trade-book?price_list=winter").status_code == 200
    assert rival.get("/v1/trade-book?price_list=winter").status_code == 404
    assert estimator.get("/v1/trade-book/waste.nails?price_list=none").status_code == 404
