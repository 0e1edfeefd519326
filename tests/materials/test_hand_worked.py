"""Three ceiling boards of one room worked by hand from the sheet's lengths: nails, adhesive, packages, holding.

The room is 144 × 160 in, invented like its prices: joists run along its 144 in walls, the first 12 in from wall A,
then every 16 in, the last 156 in from A and so 4 in from wall C. The board is 5 1/2 in wide, 3/4 in thick and weighs
0.8 lb a foot; the gypsum is 1/2 in. A nail passes 1 1/4 in and needs 3/4 in of wood: 2 in, 0.072 in thick.

One such nail holds W = 1380 × 0.42^2.5 × 0.072 = 1380 × 0.114320 × 0.072 = 11.3588 lb per inch (NDS 2018 Table
12.2C and FPL-RN-093; gravity 0.42), × 3/4 in × 0.9 for a load that stays (NDS Table 2.3.2, from memory) = 7.6672 lb.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.estimate.takeoff.runs import taken_off
from service.firm import Assembly, Layer, Position
from service.problems import Code, Problems, Severity
from service.units import ZERO
from tests import invented
from tests.materials import examples as made
from tests.materials.examples import D, row

EACH_LB = 7.6672
ROOM = invented.rectangle("12'", "13' 4\"", joists=invented.joists("A", "12"))
BOARD = replace(invented.PROFILES["board 5"], weight_lb_per_ft=D("0.8"))
PRICES = replace(
    invented.PRICE_LIST,
    profiles={BOARD.name: BOARD},
    assemblies={"board": Assembly("board", (Layer(1, Position.CEILING, BOARD.name),))},
    supplies={item.code: item for item in made.SUPPLIES},
)


def on_wall(name: str):
    """The ceiling board along one wall, as taken off, with what it takes and what is told about it."""
    problems = Problems()
    order = invented.order("board", (name,))
    runs = taken_off((invented.shape(ROOM),), (order,), PRICES, invented.TAKEOFF_RULES, problems)
    found = made.materials(*runs, prices=PRICES, place=ROOM, problems=problems)
    assert not problems.has_errors
    return found.fastening[0], found, {(problem.code, problem.severity) for problem in problems}


def test_board_that_crosses_joists():
    """Wall B, 160 in, crosses joists at 12, 28 … 156 in: 10 × 2 = 20 nails, no glue, and they hold 14.38 times the board.

    (156 − 12) / 16 + 1 = 10 joists. No stretch is longer than 24 in: 12 in before the first, 16 between, 4 after.
    20 nails and a fifth are 24 of a box of 1,000: one box at 30.00, 976 left.
    20 × 7.6672 = 153.34 lb; the board weighs 0.8 × 160 / 12 = 10.667 lb; 153.34 / 10.667 = 14.38.
    """
    held, found, told = on_wall("B")
    assert held.nails == {"nail-2": 20}
    assert (held.cross_nailed, held.adhesive_length) == (0, ZERO)
    nails = row(found, "nail-2")
    assert (nails.need, nails.packages, nails.rest, nails.amount) == (20, 1, 976, D("30.00"))
    assert held.holding_factor == pytest.approx(20 * EACH_LB / (0.8 * 160 / 12), rel=1e-4)
    assert round(held.holding_factor, 2) == 14.38
    assert Code.OVERHEAD_ON_ADHESIVE_ALONE not in {code for code, _ in told}


def test_board_along_the_edge_of_a_joist():
    """Wall C, 144 in: a joist 1 1/2 in wide, 3 1/4 to 4 3/4 in from it, lies under the board, nailed every 16 in at an angle.

    144 / 16 + 1 = 10 nails, no glue. Driven at an angle they hold 0.67 as much (NDS section 12.5.4, from memory):
    10 × 7.6672 × 0.67 = 51.37 lb; the board weighs 0.8 × 144 / 12 = 9.6 lb; 51.37 / 9.6 = 5.35.
    10 nails and a fifth are 12: one box.
    """
    held, found, told = on_wall("C")
    assert held.nails == {"nail-2": 10}
    assert (held.cross_nailed, held.adhesive_length) == (0, ZERO)
    assert (row(found, "nail-2").need, row(found, "nail-2").packages) == (10, 1)
    assert held.holding_factor == pytest.approx(10 * EACH_LB * 0.67 / 9.6, rel=1e-4)
    assert round(held.holding_factor, 2) == 5.35
    assert Code.OVERHEAD_ON_ADHESIVE_ALONE not in {code for code, _ in told}


def test_board_along_the_joists_without_one_under_it():
    """Wall A, 144 in, has the next joist 12 in away: glued all along, held by 9 crossed pairs until that has cured.

    144 / 16 = 9 pairs, 18 nails (common practice; not structural), which hold nothing for good: no factor.
    One bead of 1/4 in, 144 in long: π × (1/4)² / 4 × 144 = 7.0686 cu in. A cartridge of 10.1 fl oz holds
    10.1 × 231 / 128 = 18.2273 cu in: 7.0686 / 18.2273 = 0.38780, told as 0.388; a tenth more is 0.4268: one
    cartridge at 7.00, 0.5732 left. 0.8 lb a foot is below the weight above which glue alone is refused.
    """
    held, found, told = on_wall("A")
    assert held.nails == {"nail-2": 18}
    assert (held.cross_nailed, float(held.adhesive_length), held.holding_factor) == (18, 144, None)
    glue = row(found, "adhesive")
    assert (glue.need, glue.packages, glue.rest, glue.amount) == (D("0.388"), 1, D("0.5732"), D("7.00"))
    assert float(glue.room_needs[1]) == pytest.approx(0.38780, abs=5e-6)
    assert (Code.OVERHEAD_ON_ADHESIVE_ALONE, Severity.WARNING) in told


def test_steps_of_the_glue_are_those_worked_by_hand():
    """The story of the cartridge has the values above, in the order in which they were worked out."""
    _, found, _ = on_wall("A")
    amount = row(found, "adhesive").amount_figure
    told = {step.what: float(step.value) for step in _walked(amount)}
    assert told["volume of the beads"] == pytest.approx(7.0686, abs=5e-5)
    assert told["volume of a cartridge"] == pytest.approx(18.2273, abs=5e-5)
    assert told["need with waste"] == pytest.approx(0.4268)
    assert told["whole packages"] == 1
    assert amount.value == 7


def _walked(figure):
    """A figure and all that it is made of."""
    yield figure
    for part in figure.of:
        yield from _walked(part)
