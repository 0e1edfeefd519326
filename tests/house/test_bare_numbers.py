"""No number of the trade, a maker or the law stands in the calculation itself: it stands in the trade book."""

from __future__ import annotations

import ast
import re
from fractions import Fraction
from pathlib import Path

import pytest

ESTIMATE = Path("service/estimate")
SEARCH = "service/estimate/cuts/engine"  # counts of a search and tolerances of a solver; nothing of the trade is in it
PLAIN = {0, 1, 2}
FROM_TEXT = {"Decimal", "Fraction", "of"}
NUMBER = re.compile(r"[-+]?[0-9]+([./][0-9]+)?")

CENTS = "cents in a unit of money"
DEGREES = "degrees of a quarter, half, three-quarter and full turn"
SEARCHED = "how far a search goes before it takes what it has"
PENNIES = (
    "penny sizes name lengths of nails (Cyclopedia of Architecture, Carpentry and Building, public domain; checked in "
    "tests/published/test_fastening.py); how many make a pound is in the book"
)
ALLOWED: dict[str, tuple[set[float], str]] = {
    "cuts/boards.py": ({100}, CENTS),
    "cuts/bound.py": ({100}, CENTS),
    "cuts/direct.py": ({100}, CENTS),
    "cuts/joined.py": ({500}, SEARCHED),
    "cuts/numbering.py": ({100}, CENTS),
    "cuts/plan.py": ({100}, CENTS),
    "cuts/sawing.py": ({100, 25_000}, f"{CENTS}; {SEARCHED}"),
    "cuts/scarf.py": ({45}, "half a right angle: a crown's scarf nested against the fence (plane geometry)"),
    "cuts/sequence.py": ({200, 3_000}, SEARCHED),
    "cuts/splices.py": ({24, 500, 1_000}, SEARCHED),
    "cuts/stagger.py": ({150}, SEARCHED),
    "cuts/supply.py": ({1_000}, SEARCHED),
    "figures.py": ({64, 100, 1_000}, "steps that figures are rounded to: 1/64 in, hundredths, thousandths"),
    "labor/clock.py": ({24, 100}, "hours in a day; hundredths of an hour"),
    "labor/stages.py": ({3, 4, 5, 6, 7, 8, 9}, "the order of the work's steps, not their size"),
    "labor/working.py": ({10}, "tenths of a day"),
    "materials/geometry.py": (
        {3, 4, 12, 144, 0.3048, 0.45359237},
        "area of a circle; feet in a yard, inches in a foot, square inches; meters in a foot, kilograms in a pound",
    ),
    "materials/packages.py": ({0.01}, CENTS),
    "materials/pounds.py": (
        {4, 6, 7, 8, 10, 12, 13, 16, 20},
        PENNIES,
    ),
    "materials/volumes.py": (
        {4, 8, 100, 128, 231, 254, 1_000},
        "cubic inches in a gallon and its parts, centimeters in an inch (NIST Handbook 44)",
    ),
    "price/drafts.py": ({12, 254, 10_000}, "inches in a foot, meters in an inch"),
    "price/measured.py": ({12, 1_000}, "inches in a foot, millimeters in a meter"),
    "price/payments.py": ({0.00}, "no money, written in cents"),
    "quote/assumptions.py": ({100}, "a share told in percent"),
    "quote/room_cards.py": ({0.01}, "hundredths of a square foot"),
    "rooms/misclosure.py": ({3, 4}, "rows of a matrix; steps of an approach"),
    "rooms/model.py": ({3}, "three times the scatter, as statistics has it (99.7% of a normal one)"),
    "rooms/shape.py": ({3, 144}, "corners of a polygon; square inches in a square foot"),
    "rooms/suspects.py": (
        {3, 5, 7.8, 8, 14, 100, 180},
        "corners, suspects told, quantiles of chi-square, a tape's eighths, walls that a slip is sought in, a half turn",
    ),
    "rooms/walk.py": ({4, 90, 180, 360, 1e-6}, f"{DEGREES}; rounding of floats"),
    "takeoff/around.py": ({16}, "sixteenths of an inch, as a tape is read"),
    "takeoff/corners.py": ({90, 180, 270}, DEGREES),
    "takeoff/feature_sizes.py": ({0.01}, "hundredths of a square foot"),
    "takeoff/features.py": ({0.1, 0.45359237, 16}, "kilograms in a pound, told to a tenth; sixteenths of an inch"),
    "takeoff/fit.py": ({16}, "sixteenths of an inch, as a tape is read"),
    "takeoff/framing.py": ({180, 1e-6, 1e-9}, f"{DEGREES}; rounding of floats"),
    "takeoff/measured.py": ({360}, DEGREES),
    "takeoff/saw.py": ({3, 90}, f"{DEGREES}: three right angles"),
}


def numbers_in(tree: ast.AST) -> set[float]:
    """Numbers written in a module: as such, and as text that is made a number (`Decimal("0.01")`)."""
    found = {
        float(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float) and not isinstance(node.value, bool)
    }
    return found | {
        float(Fraction(text.value))
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and (getattr(node.func, "id", "") or getattr(node.func, "attr", "")) in FROM_TEXT
        for text in node.args
        if isinstance(text, ast.Constant) and isinstance(text.value, str) and NUMBER.fullmatch(text.value)
    }


def bare(file) -> set[float]:
    """Numbers of a module of the calculation that it may not hold."""
    name = file.path.relative_to(ESTIMATE).as_posix()
    return numbers_in(file.tree) - PLAIN - ALLOWED.get(name, (set(), ""))[0]


@pytest.fixture(scope="module")
def calculation(shipped_python):
    """Modules of the calculation but those of the search."""
    return [file for file in shipped_python if file.is_in(str(ESTIMATE)) and not file.is_in(SEARCH)]


def test_no_bare_number_stands_in_the_calculation(calculation):
    """A module holds 0, 1, 2 and the few numbers of arithmetic listed for it with a reason; all others are in the book."""
    assert len(calculation) > 50
    assert {str(file): numbers for file in calculation if (numbers := bare(file))} == {}


def test_no_exemption_outlives_its_number(calculation):
    """Every number listed for a module still stands in it, with a reason beside it."""
    written = {file.path.relative_to(ESTIMATE).as_posix(): numbers_in(file.tree) for file in calculation}
    stale = {name: rest for name, (numbers, _) in ALLOWED.items() if (rest := numbers - written.get(name, set()))}
    assert stale == {}
    assert all(reason for _, reason in ALLOWED.values())


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ("SPACING = Length.of(8)", {8}),
        ("SPACING = Length.of('3/4')", {0.75}),
        ("share = Decimal('0.33')", {0.33}),
        ("nails = 2 * joists + 1", set()),
        ("text = '29 CFR 1926'", set()),
        ("is_long = True", set()),
    ],
)
def test_a_bare_number_is_seen(code, found):
    """A spacing or share written in code is seen, also as text; arithmetic with 1 and 2, words and truths are not."""
    assert numbers_in(ast.parse(code)) - PLAIN == found
