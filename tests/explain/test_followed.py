"""Three lines of the L-shaped sample followed by hand, from cells to cents, by what `explain` answers alone."""

from __future__ import annotations

import math
from decimal import Decimal
from typing import Any

import pytest

from schemas.explain import story_document
from tests.explain.stories import GOOD, answered, line_coded

NAILS, ADHESIVE, COPES = "finish-15-225", "adhesive-10", "cut-cope"
ROOT_KINDS = ("sheet:", "list:", "trade:", "geometry:", "plan:")


def story(code: str) -> dict[str, Any]:
    """What is answered for the sample's first line of a code."""
    quote = answered("l_shaped")
    found = story_document(quote, quote["explain"], line_coded("l_shaped", code))
    assert found is not None
    return found


def valued(steps: dict[str, Any], words: str) -> list[Decimal]:
    """Values of the steps whose name holds some words, in order."""
    return [Decimal(step["value"]) for step in steps["steps"] if words in step["what"]]


def amount_of(code: str) -> Decimal:
    """What the line is charged at."""
    line = next(line for line in answered("l_shaped")["lines"] if line["code"] == code)
    return Decimal(line["amount"]["amount"])


def test_nails_of_the_ceiling_board():
    """The ceiling board's nails, wall by wall, worked by hand.

    Joists run along wall A, the first 8 in from it, 16 in apart. A (22 ft 4 1/2 in) runs along them without one
    over it: ceil(268.5 / 16) = 17 pairs at opposing angles, 34. C (97.5 + 5.5 at its outside corner = 103 in) too: 7
    pairs, 14. B crosses those at 8, 24 … 104 in of its 110 1/4: 7 × 2 = 14. D crosses 5: 10. E has a joist's edge
    over it: ceil(171 / 16) + 1 = 12. F crosses 12: 24. Together 108; with 20% waste (EN0069A table 4-1) 129.6, one
    package of 1,000 at $15.20.
    """
    told = story(NAILS)
    assert valued(told, "crossed nails on stretches") == [34, 14]
    assert valued(told, "nails at joists") == [14, 10, 24]
    assert valued(told, "nails, joist edge") == [12]
    assert valued(told, "need with waste") == [Decimal("129.6")]
    assert valued(told, "whole packages") == [1]
    assert Decimal("15.20") in valued(told, ", cost")
    assert valued(told, "price of the line") == [amount_of(NAILS)]


def test_adhesive_of_beads_and_dabs():
    """The adhesive, worked by hand from the lengths told.

    Two beads of 1/4 in under every foot of the ceiling and wall boards: π/4 · (1/4)² · 2 cu in an inch; a dab of 1/4
    cu in on each block. Cartridges of 10.1 fl oz hold 10.1 · 231 / 128 cu in (NIST Handbook 44, Appendix C). The need
    to a thousandth, 10% more, whole cartridges at $6.40.
    """
    told = story(ADHESIVE)
    beads, dabs = valued(told, "all beads together"), valued(told, "volume of the dabs")
    cartridge = 10.1 * 231 / 128
    need = (float(sum(beads)) * math.pi / 4 * 0.25**2 + float(sum(dabs))) / cartridge
    thousandths = math.ceil(need * 1000) / 1000
    assert valued(told, "to a thousandth") == [pytest.approx(Decimal(str(thousandths)))]
    packages = math.ceil(round(thousandths * 1.1, 9))
    assert valued(told, "whole packages") == [packages]
    assert [float(value) for value in valued(told, ", cost")] == [pytest.approx(packages * 6.40)]


def test_hours_of_the_copes():
    """Copes, worked by hand: crown, cap and shoe are molded; each has five inside corners, the sixth is outside.

    One cope a coped corner (NAVEDTRA 14044 ch. 6: molded work is coped inside, mitered outside): 3 × 5 = 15; at 0.18 h
    and 1.1 for an occupied house 2.97 h; × $34.00 = $100.98 of wages.
    """
    told = story(COPES)
    assert valued(told, "coped ends of the crown") == [1] * 5
    assert valued(told, "coped joints, Living room: quantity") == [15]
    assert valued(told, "coped joints, Living room: hours") == [Decimal("2.97")]
    assert valued(told, "coped joints, Living room: wages") == [Decimal("100.98")]
    assert valued(told, "price of the line") == [amount_of(COPES)]


@pytest.mark.parametrize("code", [NAILS, ADHESIVE, COPES])
def test_the_chain_has_no_gap(code):
    """From the price every operand leads on, down to cells, list, book or geometry; walls' lengths are among them."""
    told = story(code)
    steps = {step["step"]: step for step in told["steps"]}
    reached, waiting = set(), [told["amount"], told["quantity"]]
    while waiting:
        step = steps[waiting.pop()]
        reached.add(step["step"])
        waiting += [number for number in step["of"] if number not in reached]
    assert reached == set(steps)
    roots = {step["source"] for step in steps.values() if step["rule"] == "given"}
    assert all(root.startswith(ROOT_KINDS) for root in roots)
    assert {f"sheet:Walls!C{row}" for row in (2, 4, 6)} <= roots
    assert any(root.startswith("list:") for root in roots)


@pytest.mark.parametrize("name", GOOD)
def test_every_line_has_a_story(name):
    """Each line and option of each sample can be asked for, and its story ends in what is charged."""
    quote = answered(name)
    for line in (*quote["lines"], *quote["options"]):
        told = story_document(quote, quote["explain"], line["number"])
        assert told is not None
        last = next(step for step in told["steps"] if step["step"] == told["amount"])
        assert Decimal(last["value"]) == Decimal(line["amount"]["amount"])
