"""Trim rows, fits and what is not priced yet."""

from __future__ import annotations

from dataclasses import replace

from service.firm import Position
from service.problems import Code, Problems, Severity
from service.survey import Framing
from tests.invented import inches, joists, order, rectangle, run_of, runs_in


def found_codes(item, *orders):
    """Code, severity and pointer of every problem of the takeoff."""
    problems = Problems()
    runs_in(item, *orders, problems=problems)
    return [(p.code, p.severity, p.pointer) for p in problems]


def test_an_unknown_assembly_is_refused_with_the_list():
    """An assembly that the price list lacks is a fault at its Trim cell; help lists what there is."""
    problems = Problems()
    runs_in(rectangle(), order("crown no. 9"), problems=problems)
    (problem,) = problems
    assert (problem.code, problem.pointer) == (Code.ASSEMBLY_UNKNOWN, "/trim/crown no. 9/assembly")
    assert "built-up" in problem.help


def test_a_crown_wider_than_its_ceiling_board_does_not_fit():
    """A ¾" ceiling layer under a 2.85" projection: refused, naming profile and by how much."""
    problems = Problems()
    runs_in(rectangle(), order("too big"), problems=problems)
    fits = [p for p in problems if p.code is Code.ASSEMBLY_DOES_NOT_FIT]
    assert fits
    assert "2 1/8″ past the edge of the ceiling layer shoe" in fits[0].detail


def test_two_layers_at_one_position_collide():
    """Two crowns on one wall are a fault at the second Trim row."""
    assert (Code.LAYERS_COLLIDE, Severity.ERROR, "/trim/small crown/assembly") in found_codes(
        rectangle(), order("crown alone"), order("small crown", ("A",))
    )


def test_a_cap_needs_a_base():
    """A cap ordered without a base stands on nothing."""
    assert (Code.TRIM_ON_NOTHING, Severity.ERROR, "/trim/cap only/assembly") in found_codes(
        rectangle(), order("cap only")
    )


def test_a_rail_needs_a_height():
    """A rail without Height is a missing value at the Trim row."""
    assert (Code.VALUE_MISSING, Severity.ERROR, "/trim/rail/height") in found_codes(rectangle(), order("rail"))


def test_unknown_joists_and_studs_are_warned_of():
    """A ceiling layer without joists and a wall without studs each warn; wood at the wall's ends still counts."""
    item = rectangle()
    walls = (replace(item.walls[0], studs=replace(item.walls[0].studs, first=None)), *item.walls[1:])
    problems = Problems()
    runs = runs_in(replace(item, walls=walls), order("built-up"), problems=problems)
    assert [(p.severity, p.pointer) for p in problems if p.code is Code.BACKING_UNKNOWN] == [
        (Severity.WARNING, "/rooms/0/joists"), (Severity.WARNING, "/walls/A/studs"),
    ]  # fmt: skip
    board = run_of(runs, "A", Position.WALL)
    assert [float(x) for x in board.backing.at] == [0.75, 143.25]
    assert board.splice_at == ()


def test_steel_takes_no_finish_nails():
    """Behind steel studs nothing is wood and a warning says so."""
    item = rectangle()
    walls = (replace(item.walls[0], framing=Framing.STEEL), *item.walls[1:])
    problems = Problems()
    runs = runs_in(replace(item, walls=walls), order("base"), problems=problems)
    assert (Code.BACKING_NOT_WOOD, "/walls/A/framing") in {(p.code, p.pointer) for p in problems}
    assert not run_of(runs, "A", Position.BASE).backing.is_wood


def test_old_trim_is_counted_once_a_wall():
    """Remove existing marks the first layer's run alone, so that tear-out is counted once."""
    runs = runs_in(rectangle(joists=joists("A", "8")), order("built-up", ("A",), remove_existing=True))
    assert [run.remove_existing for run in runs] == [True, False, False]


def test_a_short_run_is_a_warning_not_a_crash():
    """A 10" wall is shorter than the firm's shortest piece: a warning at its length."""
    assert (Code.PIECE_SHORT, Severity.WARNING, "/walls/A/length") in found_codes(rectangle("10"), order("base"))


def test_heights_must_hold_the_trim():
    """A rail at 9 feet in an 8 foot room does not fit."""
    assert (Code.ASSEMBLY_DOES_NOT_FIT, Severity.ERROR, "/trim/rail/assembly") in found_codes(
        rectangle(), order("rail", height=inches("9'"))
    )
