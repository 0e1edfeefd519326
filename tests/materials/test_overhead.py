"""What holds a board overhead, and what is said where nothing but adhesive does."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.estimate.materials.holding import hung_weight_lb_per_ft
from service.firm import Position
from service.problems import Code, Problems, Severity
from tests.materials.examples import BOARD, CROWN, IN, SUPPLIES, D, centers, crown, materials, only, price_list, run


def told(*runs, **more):
    """Codes and severities told for some runs."""
    problems = Problems()
    materials(*runs, problems=problems, **more)
    return {(problem.code, problem.severity) for problem in problems}


OVERHEAD = Code.OVERHEAD_ON_ADHESIVE_ALONE


@pytest.mark.parametrize(("weight", "severity"), [("2.5", Severity.WARNING), ("2.51", Severity.ERROR)])
def test_heavy_board_on_adhesive_is_refused(weight, severity):
    """An unbacked ceiling board heavier than 2.5 lb a foot is refused; up to that the sheet says to prop it."""
    assert (OVERHEAD, severity) in told(run(profile=replace(BOARD, weight_lb_per_ft=D(weight))))


def test_backed_board_may_be_heavy():
    """Where joists meet it the same board is held by nails."""
    heavy = replace(BOARD, weight_lb_per_ft=D(4))
    assert OVERHEAD not in {code for code, _ in told(run(profile=heavy, at=centers(16, 144)))}


def test_wall_layer_does_not_hang():
    """A wall layer that meets no stud is glued and cross-nailed, with no word about overhead."""
    assert told(run(Position.WALL)) == set()


def test_crown_hangs_on_the_ceiling_board():
    """The crown's weight counts with the board that it is nailed to: 0.8 + 0.5 lb a foot."""
    assert hung_weight_lb_per_ft(run(), [crown(number=2)]) == D("1.3")


def test_crown_in_two_stretches_weighs_once_a_foot():
    """Two runs of one crown layer along the board are one weight per foot."""
    assert hung_weight_lb_per_ft(run(), [crown(number=2), crown(number=3)]) == D("0.8") + D("0.5")


def test_unknown_weight_is_not_checked():
    """Without a weight the holding is not checked, and the sheet says so."""
    light = run(profile=replace(BOARD, weight_lb_per_ft=None), at=centers(16, 144))
    assert told(light) == {(Code.HOLDING_NOT_CHECKED, Severity.WARNING)}
    assert only(light).holding_factor is None


def test_crown_without_weight_leaves_the_board_unchecked():
    """A crown of unknown weight under the board leaves the whole unchecked."""
    bare = replace(crown(number=2), profile=replace(CROWN, weight_lb_per_ft=None))
    assert hung_weight_lb_per_ft(run(), [bare]) is None


def test_holding_factor_by_hand():
    """18 nails of 0.072 in, 3/4 in deep in gravity 0.42, hold a 160 in board of 0.8 lb a foot 12.94 times.

    W = 1380 × 0.42^2.5 × 0.072 = 1380 × 0.114319 × 0.072 = 11.3587 lb/in; × 0.75 in × 0.9 = 7.6671 lb a
    nail; × 18 = 138.01 lb; the board weighs 0.8 × 160 / 12 = 10.667 lb; 138.01 / 10.667 = 12.94.
    """
    assert only(run(at=centers(16, 144))).holding_factor == pytest.approx(12.94, abs=0.005)


def test_nails_along_a_joist_edge_hold_less():
    """Along a joist edge the nails are driven at an angle: 11 nails hold 11/18 × 0.67 of what 18 straight ones do."""
    straight = only(run(at=centers(16, 144))).holding_factor
    edge = only(run(backing={"is_continuous": True})).holding_factor
    assert edge == pytest.approx(straight * 11 / 18 * 0.67)


def test_cross_nails_hold_nothing():
    """A board on no framing has pairs in gypsum alone: they hold nothing, and no length is held by nails."""
    assert only(run()).holding_factor is None


def test_low_holding_is_told():
    """Two joists under 20 ft of a 9 lb board: 4 nails hold 30.7 of 180 lb, a factor of 0.17."""
    heavy = run(profile=replace(BOARD, weight_lb_per_ft=D(9)), length=240, at=(IN(8), IN(232)))
    assert (Code.HOLDING_LOW, Severity.WARNING) in told(heavy)
    assert only(heavy).holding_factor == pytest.approx(4 * 7.6671 / 180, abs=0.001)


def test_nail_without_diameter_leaves_it_unchecked():
    """Without a shank diameter nothing can be said about holding."""
    plain = [replace(item, shank_diameter=None) if item.length else item for item in SUPPLIES]
    found = told(run(at=centers(16, 144)), prices=price_list(*plain))
    assert found == {(Code.HOLDING_NOT_CHECKED, Severity.WARNING)}


def test_pull_through_is_said_to_be_unchecked():
    """Where the holding was worked out, the sheet says once an order that heads may still pull through."""
    problems = Problems()
    materials(run(at=centers(16, 144)), run(at=centers(16, 144), number=2), problems=problems)
    notes = [problem for problem in problems if problem.severity is Severity.NOTE]
    assert [note.code for note in notes] == [Code.HOLDING_NOT_CHECKED]
    assert "pull through" in notes[0].detail
