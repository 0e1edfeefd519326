"""Properties of the whole estimate."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.firm import Position
from service.survey import TrimOrder
from service.units import Length
from tests.pipeline.estimates import quote_of, sample_price_list, survey_of
from tests.properties.test_takeoff import ells, mirrored, rotated

short_legs = st.integers(min_value=60, max_value=180).map(lambda halves: Length.of(halves) / 2)
QUICK = settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def three_piece():
    """The sample's assembly of ceiling, wall and crown (mitered boards, coped crown) on every wall."""
    wanted = {Position.CEILING, Position.WALL, Position.CROWN}
    assemblies = sample_price_list().assemblies.values()
    name = next(item.name for item in assemblies if {layer.position for layer in item.layers} == wanted)
    return (TrimOrder("/trim/0", None, None, name),)


def known(item):
    """What does not depend on names: totals and hours."""
    quote = quote_of(survey_of(item, trim=three_piece()))
    return quote.totals, quote.labor_hours


@QUICK
@given(ells(short_legs), st.integers(min_value=1, max_value=5))
def test_the_list_of_walls_may_begin_anywhere(item, by):
    """Rotating the list of walls changes no total where nothing is spliced."""
    assert known(item) == known(rotated(item, by))


@settings(QUICK, max_examples=4)
@given(ells(), st.integers(min_value=1, max_value=5))
def test_what_is_proven_of_boards_and_joints_holds_for_the_rotated_list(item, by):
    """Neither list's plan costs less than what is proven of the other; two proven plans cost the same."""
    one, two = (quote_of(survey_of(each, trim=three_piece())).cutting for each in (item, rotated(item, by)))
    assert max(one.lower_bound, two.lower_bound) <= min(one.cost, two.cost)
    assert one.cost == two.cost or not (one.is_proven and two.is_proven)


@QUICK
@given(ells(short_legs))
def test_a_mirrored_room_costs_the_same(item):
    """The mirrored room has the same totals: same lengths, same joints, same studs.

    Mitered and coped work without splices: butted boards go round clockwise and joints are counted off
    from the left, so a mirrored room butts other walls and splices at other studs.
    """
    assert known(item) == known(mirrored(item))


@settings(QUICK, max_examples=4)
@given(ells(), st.integers(min_value=0, max_value=60))
def test_a_higher_ceiling_never_takes_fewer_hours(item, more):
    """Raising the ceiling never lowers the hours."""
    higher = replace(item, ceiling_height=item.ceiling_height + Length.of(more))
    assert known(higher)[1] >= known(item)[1]
