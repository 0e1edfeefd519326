"""A room taken through takeoff, cut plan, fastening and labor, its counts worked by hand and mirrored."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest

from service.estimate.cuts.plan import cut_plan
from service.estimate.labor import worked
from service.estimate.materials.buying import bought
from service.firm import Assembly, Position, Stock
from service.problems import Problems
from service.survey import Job, Survey
from service.units import Length, Units
from tests import invented
from tests.labor.examples import D, prices
from tests.materials.examples import BOOK, SUPPLIES


def on_blocks(name, like):
    """A built-up crown on blocks, one edge of each layer caulked."""
    layers = invented.ASSEMBLIES[like].layers
    return Assembly(
        name,
        tuple(replace(layer, has_blocks=layer.position is Position.CROWN, caulked_edges=1) for layer in layers),
    )


PRICES = replace(
    prices(),
    profiles=invented.PROFILES,
    stock=tuple(Stock(name, Length.of(192), D("20.00")) for name in invented.PROFILES),
    assemblies={
        "on blocks": on_blocks("on blocks", "built-up"),
        "mitered": on_blocks("mitered", "built-up mitered"),
        "base": invented.ASSEMBLIES["base"],
    },
    supplies={item.code: item for item in SUPPLIES},
)


class Estimate:
    """Stages of one room with an assembly on every wall."""

    def __init__(self, room, *assemblies):
        """Run them; any error fails the test."""
        problems = Problems()
        trim = tuple(invented.order(name) for name in assemblies)
        self.shapes = (invented.shape(room, problems),)
        taken = invented.taken_off(self.shapes, trim, PRICES, invented.TAKEOFF_RULES, problems)
        self.runs = taken
        plan = cut_plan(taken, PRICES, D("4.00"), problems)
        self.materials = bought(self.shapes, taken, plan, PRICES, BOOK, problems)
        survey = Survey(Job("/job", "Parlor", "A. Customer", "1 Nowhere Lane", Units.IMPERIAL), (room,), trim)
        self.labor = worked(self.shapes, taken, plan, self.materials, survey, PRICES, BOOK, problems)
        assert not problems.has_errors, [problem.line() for problem in problems.errors]

    def nails(self):
        """Nails by position."""
        count: Counter[Position] = Counter()
        for run, item in zip(self.runs, self.materials.fastening, strict=True):
            count[run.position] += item.nail_count
        return count

    def quantities(self):
        """Quantity of labor by task."""
        count: Counter[str] = Counter()
        for row in self.labor.rows:
            count[row.task] += row.quantity
        return dict(count)


def parlor(joists_along="A"):
    """12 ft by 13 ft 4 in, studs at 8 and every 16 in, joists parallel to a wall, the first 12 in from it."""
    return invented.rectangle("12'", "13' 4\"", joists=invented.joists(joists_along, "12"))


def test_nails_of_a_room_by_hand():
    """Every nail of a built-up crown on blocks in a room of 144 × 160 in, joists along its 144 in walls.

    Ceiling layer: wall A meets no joist, 144/16 = 9 pairs, 18; wall C has one 4 in from it, under the 5 1/2 in
    board, 144/16 + 1 = 10; wall B crosses joists at 12, 28 … 156, 10 at 2 nails, 20; wall D, whose piece butts
    against C's 5 1/2 in board, all but the one 4 in from C, 9 at 2, 18: 66.
    Wall layer: A and C have studs at 3/4, 8, 24 … 136, 143 1/4, 11 at 2, and the plate 10: 32 each; B and D 12
    studs, 24, and 160/16 + 1 = 11: 35 each: 134.
    Crown: 142 1/2 in on A and C, two edges of ⌈142.5/16⌉ + 1 = 10, 20 each; 158 1/2 in on B and D, 11 an edge,
    22 each: 84; blocks 2 × (11 + 12) = 46, each 2 to the stud and 2 from the crown, 184: 268.
    """
    found = Estimate(parlor(), "on blocks")
    assert found.nails() == {Position.CEILING: 66, Position.WALL: 134, Position.CROWN: 268}
    assert sum(item.blocks for item in found.materials.fastening) == 46


def test_labor_of_a_room_by_hand():
    """Drivers of the same room: walls of 608 in, 50.67 ft of layout, one set-up, 468 nails, 92 of them hidden.

    Caulked edges, one a layer: 608 + 608 + (608 − 8 × 3/4) = 1818 in, 151.5 ft. Four copes, as many as corners.
    """
    found = Estimate(parlor(), "on blocks").quantities()
    expected = {"set-up": "1", "layout": "50.67", "nailing": "468", "fill": "376", "block": "46", "caulk": "151.5",
                "cut-cope": "4"}  # fmt: skip
    assert {task: found[task] for task in expected} == {task: D(value) for task, value in expected.items()}


def mirrored(room):
    """The room as its plan is seen from above through a mirror: walls the other way round, each end for end.

    The corner at a wall's right-hand end becomes its left-hand one, which the wall now before it carries.
    """
    walls = room.walls
    turned = []
    for place in range(len(walls) - 1, -1, -1):
        wall, before = walls[place], walls[place - 1]
        first = wall.studs.first
        studs = wall.studs if first is None else replace(wall.studs, first=_from_other_end(wall, first))
        turned.append(replace(wall, corner=before.corner, angle_deg=before.angle_deg, studs=studs))
    return replace(room, walls=tuple(turned))


def _from_other_end(wall, first):
    last = first + wall.studs.spacing * int((wall.length - first).inches // wall.studs.spacing.inches)
    return wall.length - last


ROOMS = {
    "rectangle": parlor(),
    "L-shape": invented.l_shape(joists=invented.joists("A", "12")),
    "bay": invented.bay(joists=invented.joists("A", "12")),
}


@pytest.mark.parametrize("name", ROOMS)
def test_mirrored_room_takes_the_same(name):
    """A room and its mirror image, mitered all round, take the same nails, blocks, needs and work."""
    plain, other = Estimate(ROOMS[name], "mitered"), Estimate(mirrored(ROOMS[name]), "mitered")
    assert other.nails() == plain.nails()
    needs = {row.code: sum(row.room_needs.values()) for row in plain.materials.supplies}
    for row in other.materials.supplies:
        assert abs(needs[row.code] - sum(row.room_needs.values())) < Fraction(1, 500)
    for task in ("set-up", "layout", "block", "nailing", "fill", "cut-miter", "caulk", "scarf"):
        assert abs(other.quantities().get(task, 0) - plain.quantities().get(task, 0)) <= D("0.05")


@pytest.mark.parametrize("name", ROOMS)
def test_every_run_is_held(name):
    """No run of a real room is left without nails."""
    assert all(item.nail_count for item in Estimate(ROOMS[name], "on blocks", "base").materials.fastening)
