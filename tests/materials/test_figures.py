"""Every count, size and package of every sample follows, step by step, from what it is said to be made of."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from service.estimate.figures import Rule
from service.estimate.materials.counts import UNBACKED
from service.estimate.materials.places import Place, nail_groups
from service.trade.book import shipped_book
from service.units import Length
from tests.labor.recomputed import steps, wrong_steps
from tests.materials.examples import RULES, centers, materials, room, run, unbacked
from tests.materials.samples import SOUND, listed, sample

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.figures import Figure
    from service.estimate.materials.model import Materials

SLOTS = ("blocks", "glue_plates", "nails", "caulked_ft", "holes", "sanded_sqft", "primed_sqft", "painted_sqft")
FITTING_SLOTS = ("screws", "sanded_sqft", "painted_sqft", "adhesive")


def figures_of(found: Materials) -> Iterator[Figure]:
    """Last steps of the stage: what is bought of each supply, what labor is counted from, what hangs on ceilings."""
    for row in found.supplies:
        assert row.worked is not None
        yield from (row.worked.need, row.worked.packages, row.worked.rest, row.worked.amount)
    worked: list[tuple[object, tuple[str, ...]]] = [(item.figures, SLOTS) for item in found.fastening]
    worked += [(item.figures, FITTING_SLOTS) for item in found.features]
    yield from (figure for item, slots in worked for slot in slots if (figure := getattr(item, slot)) is not None)


@pytest.mark.parametrize("name", SOUND)
def test_every_step_follows_from_its_operands(name):
    """Each step, worked out again by rules written down a second time, is what it says."""
    wrong = [text for figure in figures_of(sample(name).materials) for text in wrong_steps(figure)]
    assert wrong == []


def test_a_wrong_step_is_seen():
    """The check can fail: a count that is one too high is told."""
    found = next(figures_of(sample("rectangle").materials))
    twisted = type(found)(found.what, found.value + 1, found.unit, found.rule, found.of, step=found.step)
    assert wrong_steps(twisted)


def supply_value(code: str, member: str) -> Fraction:
    """A number of a supply, as the record read from the price list has it; lengths in inches."""
    record = {"volume": "volume_cu_in", "coverage": "coverage_sqft"}.get(member, member)
    value = getattr(listed().supplies[code], record)
    if member == "package_unit":
        return Fraction(re.findall(r"\d+", value)[0])
    return value.inches if isinstance(value, Length) else Fraction(value)


@pytest.mark.parametrize("name", SOUND)
def test_given_figures_stand_in_the_book_and_the_list(name):
    """A figure from the trade book or of a supply has the value that stands there under the name it gives."""
    sources = {step.source: step.value for figure in figures_of(sample(name).materials) for step in steps(figure)}
    trade = {place[6:]: value for place, value in sources.items() if place.startswith("trade:")}
    supplies = {place[14:]: value for place, value in sources.items() if place.startswith("list:supplies/")}
    assert len(trade) > 10
    assert len(supplies) > 10
    assert trade == {entry: Fraction(shipped_book().value(entry)) for entry in trade}
    assert supplies == {place: supply_value(*place.split("/")) for place in supplies}


@pytest.mark.parametrize("name", SOUND)
def test_nothing_given_is_made_of_something(name):
    """A given figure has a source and no operands, every other one operands (a count or a sum may have none) and no source."""
    for figure in figures_of(sample(name).materials):
        for step in steps(figure):
            assert bool(step.source) == (step.rule is Rule.GIVEN), step.what
            assert not (step.source and step.of), step.what


@pytest.mark.parametrize("name", SOUND)
def test_plain_numbers_are_read_off_the_figures(name):
    """Need, packages, rest and amount of a supply are the values of its figures, and so are a run's counts."""
    found = sample(name).materials
    for row in found.supplies:
        told = [Fraction(value) for value in (row.need, row.packages, row.rest, row.amount)]
        worked = (row.worked.need, row.worked.packages, row.worked.rest, row.worked.amount)
        assert told == [figure.value for figure in worked], row.code
    for item in found.fastening:
        counts = {"blocks": item.blocks, "glue_plates": item.glue_plates, "nails": item.nail_count,
                  "holes": item.hole_count, "caulked_ft": item.caulked_length.feet,
                  "sanded_sqft": item.finished_area_sqft, "primed_sqft": item.primed_area_sqft * item.primer_coats,
                  "painted_sqft": item.painted_area_sqft * item.coats}  # fmt: skip
        figures = {slot: getattr(item.figures, slot) for slot in counts}
        assert counts == {slot: figure.value if figure else 0 for slot, figure in figures.items()}


@pytest.mark.parametrize("name", SOUND)
def test_packages_cover_need_and_waste_of_every_supply(name):
    """For every supply of a sample packages × size is at least need and waste, and one package less is not."""
    for row in sample(name).materials.supplies:
        gross = row.need * (1 + row.waste_share)
        assert row.packages * row.package_size >= gross > (row.packages - 1) * row.package_size, row.code


@pytest.mark.parametrize("name", SOUND)
def test_rooms_take_what_the_job_takes(name):
    """The needs of the rooms add up to a supply's need, which is told to a thousandth more."""
    for row in sample(name).materials.supplies:
        assert 0 <= Fraction(row.need) - sum(row.room_needs.values()) < Fraction(1, 1000), row.code


def test_unbacked_stretches_are_told_by_their_ends():
    """A stretch of 60 in without backing is its right-hand end, 100 in, less its left-hand end, 40 in: 4 pairs, 60 in of bead.

    60 / 16 = 3.75 pairs, 4 whole ones, 8 nails (common practice); both ends are those that the quote tells of the run.
    """
    item = run(at=(*centers(8, 40), *centers(100, 148)), backing=unbacked((40, 100)))
    found = materials(item)
    crossed = next(group for group in nail_groups(Place(item, room(), item.title), RULES.nails) if group.is_angled)
    ends = [step.value for step in steps(crossed.figure) if step.source == UNBACKED]
    assert sorted(ends) == [40, 100]
    assert (crossed.count, found.fastening[0].cross_nailed, float(found.fastening[0].adhesive_length)) == (8, 8, 60)
    assert wrong_steps(crossed.figure) == []
