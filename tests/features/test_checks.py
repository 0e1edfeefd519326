"""What is said of medallions, fans and lights: each limit from both sides."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from service.estimate.takeoff.features import features_checked
from service.problems import Problems, Severity
from service.survey import BoxRating
from service.units import Units
from tests.features.ceilings import FAN, IN, LIGHT, MEDALLION, PRICES, feature, found_in, room, told
from tests.invented import shape as shaped
from tests.materials.examples import BOOK, book_with


@pytest.mark.parametrize("kind", [FAN, LIGHT, MEDALLION])
def test_sound_feature_is_left_alone(kind):
    """A feature of usual size, on the list, high and held well enough brings no word."""
    assert told(feature(kind)) == []


@pytest.mark.parametrize(("down", "said"), [("12", []), ("12.015625", [("fan-blades-too-low", "error", "hangs_down")])])
def test_blades_at_seven_feet(down, said):
    """Under an 8 ft ceiling blades may hang 12 in down, to 7 ft above the floor, and not 1/64 in more."""
    assert told(feature(FAN, hangs_down=IN(down))) == said


def test_unknown_drop_is_a_warning():
    """Blades whose height nobody can tell are no error, but said."""
    assert told(feature(FAN, hangs_down=None)) == [("fan-blades-too-low", "warning", "hangs_down")]


@pytest.mark.parametrize(("wall", "said"), [("40", []), ("39.9375", [("fan-near-wall", "warning", "nearest_wall")])])
def test_blade_tips_at_eighteen_inches(wall, said):
    """A 44 in fan 40 in from the wall keeps 40 − 22 = 18 in; a sixteenth nearer it does not."""
    assert told(feature(FAN, nearest_wall=IN(wall))) == said


def test_blades_that_reach_into_the_wall_are_told_so():
    """Tips beyond the wall are told as such: 20 − 22 = −2 in."""
    (problem,) = found_in(room(feature(FAN, nearest_wall=IN(20))))
    assert "2″ into the nearest wall" in problem.detail


@pytest.mark.parametrize("missing", ["nearest_wall", "diameter"])
def test_unknown_distance_is_a_note(missing):
    """Without the span or the distance a note says that the wall was not checked."""
    assert told(feature(FAN, **{missing: None})) == [("fan-near-wall", "note", missing)]


def test_box_known_not_to_be_rated_refuses():
    """No fan is priced onto a box that is known not to be made for it; not known is a warning."""
    answers = {rated: told(feature(FAN, box_rated_for_fan=rated)) for rated in BoxRating}
    assert answers == {
        BoxRating.YES: [],
        BoxRating.NO: [("fan-box-not-rated", "error", "box_rated_for_fan")],
        BoxRating.UNKNOWN: [("fan-box-not-rated", "warning", "box_rated_for_fan")],
    }


@pytest.mark.parametrize("kind", [LIGHT, MEDALLION])
def test_box_of_a_light_need_not_be_rated_for_a_fan(kind):
    """The rating concerns fans alone."""
    assert told(feature(kind, box_rated_for_fan=BoxRating.NO)) == []


WEIGHTS = [(FAN, "35", ""), (FAN, "35.1", "marked"), (FAN, "70", "marked"), (FAN, "70.1", "independently")]
WEIGHTS += [(LIGHT, "50", ""), (LIGHT, "50.1", "own support"), (MEDALLION, "90", "")]


@pytest.mark.parametrize(("kind", "weight", "word"), WEIGHTS)
def test_weight_on_the_box(kind, weight, word):
    """Over 35 lb a fan's box is marked, over 70 lb it hangs by itself; a light over 50 lb has its own support."""
    found = found_in(room(feature(kind, weight_lb=Decimal(weight))))
    assert [(p.code, p.severity) for p in found] == ([("weight-on-box", Severity.WARNING)] if word else [])
    assert all(word in problem.detail for problem in found)


def test_unknown_weight_of_a_fan_is_a_note():
    """A fan without weight says that the box's limit was not checked; a light is left to the printed caution."""
    assert told(feature(FAN, weight_lb=None)) == [("weight-on-box", "note", "weight")]
    assert told(feature(LIGHT, weight_lb=None)) == []


def test_weights_are_told_in_kilograms_on_a_metric_job():
    """40 lb is 18.1 kg, and the limit of 35 lb 15.9 kg (1 lb is exactly 0.45359237 kg, NIST Handbook 44)."""
    (problem,) = found_in(room(feature(FAN, weight_lb=Decimal(40))), units=Units.METRIC)
    assert "weighs 18.1 kg; over 15.9 kg" in problem.detail


MISSING = ("feature-item-missing", "warning", "item")


@pytest.mark.parametrize("item", ["", "a fan from the attic", "light", "screw"])
def test_item_that_is_no_fan_of_the_list(item):
    """A blank item, an unknown one and one of another kind are taken as supplied by others, and said so."""
    found = found_in(room(feature(FAN, item=item)))
    assert [(str(p.code), str(p.severity)) for p in found] == [MISSING[:2]]
    assert "supplied by others" in found[0].detail
    assert "fan-44, fan-52" in found[0].help
    assert found[0].found == item


@pytest.mark.parametrize("item", ["fan-44", "  FAN-44 ", "invented fan-44", "Invented  Fan-44"])
def test_item_by_code_or_description(item):
    """An item is found by its code or its description, however it is spaced and capitalized."""
    assert told(feature(FAN, item=item)) == []


@pytest.mark.parametrize(("diameter", "is_told"), [("18", False), ("17.9", True), ("30", False), ("30.1", True)])
def test_medallion_far_from_its_room(diameter, is_told):
    """In 168 sq ft 24 in is usual (168 / 7); a quarter more or less is let pass."""
    said = told(feature(MEDALLION, diameter=IN(diameter)))
    assert said == ([("feature-size-unusual", "note", "diameter")] if is_told else [])


def test_medallion_without_diameter_is_noted():
    """A blank diameter is no fault; the note says for which one adhesive and paint are counted: 168 / 7 = 24 in."""
    (problem,) = found_in(room(feature(MEDALLION, diameter=None)))
    assert (str(problem.code), problem.severity, problem.found) == ("feature-size-unusual", Severity.NOTE, "")
    assert "counted for 2′ 0″" in problem.detail


@pytest.mark.parametrize("kind", [FAN, MEDALLION])
def test_no_size_is_judged_without_an_area(kind):
    """An island has no area to judge a size by."""
    shape = replace(shaped(room(feature(kind, diameter=IN(60), nearest_wall=IN(90)))), area_sqft=None)
    problems = Problems()
    features_checked((shape,), PRICES, BOOK, problems)
    assert len(problems) == 0


def test_list_without_any_fan_says_so():
    """Where the price list has no fan at all the help does not offer one."""
    prices = replace(PRICES, supplies={})
    (problem,) = found_in(room(feature(FAN)), prices)
    assert problem.help == "Add a supply of kind fan to the price list, or leave it blank when others supply it."


def test_medallion_rule_is_a_setting():
    """A firm that goes by 10 sq ft an inch finds 24 in unusual in 168 sq ft, which then advises 17 in."""
    (problem,) = found_in(room(feature(MEDALLION)), book=book_with(features__medallion_area_divisor="10"))
    assert "about 1′\N{NO-BREAK SPACE}5″" in problem.detail


def test_fan_outside_its_band():
    """In 168 sq ft (144 to 225: 44 in) a 52 in fan is noted; both limits of one band are told once."""
    (problem,) = found_in(room(feature(FAN, item="fan-52", diameter=IN(52))))
    assert (str(problem.code), problem.severity) == ("feature-size-unusual", Severity.NOTE)
    assert problem.detail.endswith("usually takes 3′\N{NO-BREAK SPACE}8″.")


def test_room_larger_than_every_band():
    """A room of 30 × 20 ft is larger than one fan is sized for."""
    found = found_in(room(feature(FAN, diameter=IN(54)), width="30'", depth="20'"))
    assert ["larger than one fan" in problem.detail for problem in found] == [True]


def test_every_feature_is_looked_at():
    """Faults of several features in one room are all told, each at its own row."""
    features = (feature(FAN, hangs_down=IN(20)), feature(LIGHT, 1, item="none"), feature(FAN, 2, weight_lb=Decimal(80)))
    found = found_in(room(*features))
    assert [problem.pointer for problem in found] == [
        "/rooms/0/ceiling/0/hangs_down", "/rooms/0/ceiling/1/item", "/rooms/0/ceiling/2/weight",
    ]  # fmt: skip
