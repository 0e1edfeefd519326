"""Hours for trim around openings and for what hangs on a ceiling, counted by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from service.estimate.labor import worked
from service.estimate.materials.buying import bought
from service.firm import SupplyKind
from service.problems import Code, Problems
from service.survey import Access, CeilingFeature, FeatureKind, Job, Survey, WindowStyle
from service.units import Length, Units
from tests.labor import examples as hours
from tests.materials import cased
from tests.materials import examples as made

D = Decimal


def labor_of(room, *orders, conditions=(), problems=None, labor=None):
    """Labor of a room with these assemblies on its walls, a tenth of an hour a unit."""
    priced = hours.prices(*conditions)
    prices = replace(
        cased.PRICES, wages=priced.wages, labor=priced.labor if labor is None else labor, conditions=priced.conditions,
        supplies=cased.PRICES.supplies | SCREWS,
    )  # fmt: skip
    runs = cased.runs_of(room, *orders)
    plan, found = made.plan(*runs), problems if problems is not None else Problems()
    shapes = (made.shape(room),)
    materials = bought(shapes, runs, plan, prices, made.BOOK, found)
    job = Job("/job", "Parlor trim", "A. Customer", "1 Nowhere Lane", Units.IMPERIAL)
    result = worked(shapes, runs, plan, materials, Survey(job, (room,), ()), prices, made.BOOK, found)
    if problems is None:
        assert not found.has_errors, [problem.line() for problem in found.errors]
    return result


SCREWS = {"screw": made.supply("screw", SupplyKind.SCREW, "100", "each", "12.00")}


@pytest.mark.parametrize("sides", [1, 2])
def test_cased_door(sides):
    """A door's casing a side: 205 3/4 in hung, 4 miter cuts, 2 butted feet; 40 nails driven and filled."""
    found = labor_of(cased.room(cased.door(sides=sides)))
    counted = {task: hours.quantity(found, task) for task in ("cut-miter", "cut-butt", "nailing", "fill", "scarf")}
    assert counted == {
        "cut-miter": 4 * sides,
        "cut-butt": 2 * sides,
        "nailing": 40 * sides,
        "fill": 40 * sides,
        "scarf": 0,
    }
    feet = Fraction("205.75") / 12 * sides
    assert abs(Fraction(hours.quantity(found, "hang-casing")) - feet) <= Fraction(1, 200)


def test_picture_frame_is_mitered_all_around():
    """A picture frame has 8 miter cuts and no other."""
    found = labor_of(cased.room(cased.window(WindowStyle.PICTURE_FRAME, "casing")))
    assert hours.quantity(found, "cut-miter") == 8
    assert {row.task for row in found.rows} & {"cut-butt", "cut-square"} == set()


def test_stool_and_apron():
    """Stool 44 3/8 in = 3.70 ft, apron 42 7/8 in = 3.57 ft, each square at both ends; the legs butt on the stool."""
    found = labor_of(cased.room(cased.window(WindowStyle.STOOL_AND_APRON, "stool")))
    counted = {task: hours.quantity(found, task) for task in ("hang-stool", "hang-apron", "cut-square", "cut-butt")}
    assert counted == {"hang-stool": D("3.70"), "hang-apron": D("3.57"), "cut-square": 4, "cut-butt": 2}


def test_plinth_blocks_are_counted_by_the_piece():
    """Two plinth blocks are two pieces, whatever their height."""
    found = labor_of(cased.room(cased.door(casing="casing on plinths")))
    assert hours.quantity(found, "hang-plinth") == 2


def test_casing_alone_takes_no_layout_of_the_wall():
    """Framing is marked behind what runs along a wall; a room with casing alone still is set up and cleaned up."""
    found = labor_of(cased.room(cased.door()))
    tasks = [row.task for row in found.rows]
    assert (tasks.count("set-up"), tasks.count("clean-up"), tasks.count("layout")) == (1, 1, 0)


def test_casing_adds_nothing_to_the_layout():
    """Base on four walls is laid out as long with a cased door as with the same gap in it and no door trim."""
    with_casing = labor_of(cased.room(cased.door()), "base")
    gap = 32 + 2 * Fraction("3.4375")
    walls = Fraction(2 * 168 + 2 * 144)
    assert hours.quantity(with_casing, "layout") == hours.quantity(with_casing, "hang-base")
    assert abs(Fraction(hours.quantity(with_casing, "layout")) - (walls - gap) / 12) <= Fraction(1, 100)


def test_long_head_is_no_piece_for_two():
    """A head over an 11 ft opening is longer than the limit for two people, which is meant for trim along walls."""
    found = labor_of(cased.room(cased.door("132"), length="18'"))
    assert [row.factors for row in hours.rows(found, "hang-casing")] == [()]


def with_features(*features, length="14'"):
    """A room with these on its ceiling and nothing on its walls."""
    return replace(cased.room(length=length), ceiling=features)


def feature(kind: FeatureKind, **more: object):
    """A ceiling feature, the first of its room."""
    return CeilingFeature("/rooms/0/ceiling/0", kind, **more)


@pytest.mark.parametrize("kind", list(FeatureKind))
def test_feature_goes_in_and_the_old_one_out(kind):
    """One in for each feature, and one out where the existing one is removed."""
    new, swapped = (
        labor_of(with_features(feature(kind, remove_existing=removed))) for removed in (False, True)
    )  # fmt: skip
    assert (hours.quantity(new, f"{kind}-in"), hours.quantity(new, f"{kind}-out")) == (1, 0)
    assert (hours.quantity(swapped, f"{kind}-in"), hours.quantity(swapped, f"{kind}-out")) == (1, 1)


def test_room_with_a_feature_alone_is_set_up():
    """A room where only a light is hung is protected and cleaned up all the same."""
    found = labor_of(with_features(feature(FeatureKind.LIGHT)))
    assert [row.task for row in found.rows] == ["set-up", "light-in", "clean-up", "trip"]


def test_medallion_is_filled_sanded_and_painted():
    """A 24 in medallion has 4 screw holes; its disk of π · 24² / 4 / 144 = 3.14 sq ft gets two coats: 6.28 sq ft."""
    found = labor_of(with_features(feature(FeatureKind.MEDALLION, diameter=Length.of(24))))
    counted = [hours.quantity(found, task) for task in ("fill", "sand", "paint")]
    assert counted == [4, D("3.14"), D("6.28")]


def test_high_ceiling_and_access_count_for_features():
    """A condition on the ceiling position or on everything multiplies a fan's hours: 0.1 · 1.25 · 1.4 = 0.175."""
    room = replace(with_features(feature(FeatureKind.FAN)), access=Access.OVER_STAIRS, ceiling_height=Length.of(126))
    conditions = (hours.tall("120", "144", "1.25", "ceiling"), hours.access(Access.OVER_STAIRS, "1.4", "all"))
    (row,) = hours.rows(labor_of(room, conditions=conditions), "fan-in")
    assert [item.factor for item in row.factors] == [D("1.25"), D("1.4")]
    assert row.hours == D("0.18")


def test_condition_may_name_the_task():
    """A condition on fan-in leaves fan-out alone."""
    room = with_features(feature(FeatureKind.FAN, remove_existing=True))
    found = labor_of(room, conditions=(hours.tall(None, None, "2", "fan-in"),))
    assert [len(row.factors) for task in ("fan-in", "fan-out") for row in hours.rows(found, task)] == [1, 0]


def test_missing_rate_is_told_at_the_feature():
    """A price list without fan-out refuses a swap and names the cell that asks for it."""
    rates, found = hours.rates(), Problems()
    del rates["fan-out"]
    labor_of(with_features(feature(FeatureKind.FAN, remove_existing=True)), problems=found, labor=rates)
    told = [problem.pointer for problem in found.errors if problem.code is Code.RATE_MISSING]
    assert told == ["/rooms/0/ceiling/0/remove_existing"]


def test_rows_name_the_cells_they_come_from():
    """In rests on the feature, out on Remove existing."""
    found = labor_of(with_features(feature(FeatureKind.FAN, remove_existing=True)))
    bases = {row.task: row.basis for row in found.rows}
    assert "sheet:/rooms/0/ceiling/0/feature" in bases["fan-in"]
    assert "sheet:/rooms/0/ceiling/0/remove_existing" in bases["fan-out"]
