"""Every step of every line of every sample follows from what it is said to rest on."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from tests.explain.recomputing import CLOSE, recomputed
from tests.explain.sources import cell_value, list_value, number_in, trade_entries
from tests.explain.stories import GOOD, answered, steps_of

GEOMETRY = {
    "wall-face": 0, "full-turn": 360, "both-sides": 2, "two-pieces": 2, "whole": 1, "nothing": 0, "inches-in-foot": 12,
    "mm-in-inch": "25.4", "mm-in-meter": 1000, "square-inches-in-square-foot": 144, "one-more-than-spaces": 1, "one": 1,
    "pi": "3.14159265358979", "circle-divisor": 4, "triangle-divisor": 2, "cubic-inches-in-gallon": 231,
    "cubic-centimeters-in-liter": 1000, "centimeters-in-inch": "2.54", "feet-in-yard": 3, "meters-in-foot": "0.3048",
    "kilograms-in-pound": "0.45359237",
}  # fmt: skip
"""NIST Handbook 44, Appendix C (25.4 mm, 12 in, 231 cu in, 128 fl oz); the rest is plane geometry."""


def given(name: str, kind: str) -> list[dict[str, Any]]:
    """Given figures of a sample whose source is of one kind."""
    return [step for step in steps_of(name).values() if step.get("source", "").startswith(f"{kind}:")]


def told(step: dict[str, Any]) -> str:
    """Where a figure says it is from."""
    return str(step["source"]).partition(":")[2]


@pytest.mark.parametrize("name", GOOD)
def test_every_step_recomputes_from_its_operands(name):
    """Plain arithmetic over the values told gives each step's value, to a part in a thousand million."""
    steps = steps_of(name)
    wrong = [
        (number, step["what"], step["rule"], step["value"], str(found))
        for number, step in steps.items()
        if abs((found := recomputed(step, steps)) - Decimal(step["value"])) > CLOSE * max(1, abs(found))
    ]
    assert len(steps) > 100
    assert wrong == []


@pytest.mark.parametrize("name", GOOD)
def test_steps_end_in_what_is_charged(name):
    """The last steps of every line and option are its quantity and its amount; the total's is the total."""
    quote, steps = answered(name), steps_of(name)
    rows = {row["line"]: row for row in quote["explain"]["lines"]}
    lines = [*quote["lines"], *quote["options"]]
    assert {line["number"] for line in lines} == set(rows)
    for line in lines:
        row = rows[line["number"]]
        assert Decimal(steps[row["amount"]]["value"]) == Decimal(line["amount"]["amount"]), line["description"]
        assert Decimal(steps[row["quantity"]]["value"]) == Decimal(str(line["quantity"])), line["description"]
    assert Decimal(steps[quote["explain"]["total"]]["value"]) == Decimal(quote["totals"]["total"]["amount"])


@pytest.mark.parametrize("name", GOOD)
def test_operands_come_first_and_words_are_there(name):
    """A step rests on earlier steps alone, says what it is, and tells its source where nothing is under it."""
    for number, step in steps_of(name).items():
        assert all(operand < number for operand in step["of"])
        assert step["what"]
        assert step["text"]
        assert step.get("source") or step["says"], step
        assert (step["rule"] == "given") == bool(step.get("source"))


@pytest.mark.parametrize("name", GOOD)
def test_cells_hold_what_is_told_of_them(name):
    """A figure from a cell is what openpyxl finds there; a blank cell stands for the default that the sheet prints."""
    defaults = {"reading at the right": 90, "stud spacing": 16, "joist spacing": 16}
    found = given(name, "sheet")
    assert len(found) >= 8
    for step in found:
        assert "!" in told(step), f"{step['what']} names no cell: {step['source']}"
        value = number_in(cell_value(name, told(step)))
        if value is None:
            value = next((Fraction(number) for words, number in defaults.items() if words in step["what"]), None)
        assert value is not None, step
        assert _is_same(step, value), step


def _is_same(step: dict[str, Any], value: Fraction) -> bool:
    """True for the same number to 15 figures, a bare metric length read as millimeters."""
    read = Fraction(step["value"])
    return any(abs(read - wanted) <= Fraction(1, 10**9) for wanted in (value, value / Fraction(254, 10)))


@pytest.mark.parametrize("name", GOOD)
def test_trade_book_and_price_list_hold_what_is_told_of_them(name):
    """A figure from the trade book or the price list is what its file holds."""
    trade, listed = given(name, "trade"), given(name, "list")
    assert len(listed) > 10
    assert {told(step): Decimal(step["value"]) for step in trade} == {
        told(step): trade_entries()[told(step)] for step in trade
    }
    for step in listed:
        value = list_value(told(step))
        assert value is not None, step
        assert abs(Fraction(step["value"]) - value) <= Fraction(1, 10**9), step


@pytest.mark.parametrize("name", GOOD)
def test_geometry_is_geometry(name):
    """Constants of geometry and of units are what the books print."""
    for step in given(name, "geometry"):
        assert Fraction(step["value"]) == Fraction(GEOMETRY[told(step)]), step


@pytest.mark.parametrize("name", GOOD)
def test_what_the_plan_chose_stands_in_the_quote(name):
    """Every other given figure is another part of the quote: joints, boards, days, visits, areas, unbacked stretches."""
    for step in given(name, "plan"):
        assert Fraction(step["value"]) in in_quote(answered(name), told(step)), step


def in_quote(quote: dict[str, Any], place: str) -> set[Fraction]:
    """Values that a part of the quote may have."""
    runs = [run for room in quote["rooms"] for run in room["runs"]]
    match place:
        case "joints":
            return {Fraction(joint["at_in"]) for run in runs for joint in run["joints"]}
        case "boards":
            return {Fraction(bought["count"]) for profile in quote["boards"] for bought in profile["purchases"]}
        case "room-areas":
            return {Fraction(str(room["area_sqft"])) for room in quote["rooms"] if room["area_sqft"] is not None}
        case "unbacked-stretches":
            ends = ("start_in", "end_in")
            return {Fraction(span[end]) for run in runs for span in run["unbacked_stretches"] for end in ends}
        case "days":
            return {Fraction(quote["labor_plan"]["working_days"])}
        case "visits":
            return {Fraction(number) for number in range(1, quote["labor_plan"]["visits"] + 1)}
        case _:
            raise AssertionError(place)


def test_a_changed_step_is_noticed():
    """The check itself can fail: one value changed by a hundredth no longer follows from its operands."""
    steps = {number: dict(step) for number, step in steps_of("rectangle").items()}
    number = next(number for number, step in steps.items() if step["rule"] == "product")
    steps[number]["value"] = str(Decimal(steps[number]["value"]) + Decimal("0.01"))
    assert abs(recomputed(steps[number], steps) - Decimal(steps[number]["value"])) > CLOSE
