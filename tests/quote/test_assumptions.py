"""What the quote takes for granted, from what was ordered. Firm, house and prices are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from service.estimate.materials.model import FeatureFitting
from service.estimate.quote.assumptions import assumptions
from service.estimate.quote.work import Work, listed
from service.firm import Position, Supply, SupplyKind
from service.survey import CeilingFeature, ExtraKind, FeatureKind, FinishOrder, Opening, OpeningKind
from service.trade.book import Grade, TradeBook, shipped_book
from service.units import Length
from tests.price.examples import (
    SETTINGS,
    extra,
    fastening,
    hours,
    inches,
    labor,
    materials,
    plan,
    price,
    room,
    run,
    supply,
    survey,
)

if TYPE_CHECKING:
    from service.estimate.labor import LaborRow

TOPICS = [
    "Tear-out and disposal", "Wall and ceiling repair", "Painting", "Spare boards", "Furniture and protection",
    "Out-of-level ceilings and scribing", "Ends at casings", "Doors, plates and registers", "Electrician and permits",
    "Return visit after cure", "Seasonal gaps",
]  # fmt: skip


def work(**members: object) -> Work:
    """A small job of base in two rooms; keyword arguments replace what was ordered or found."""
    standing = {
        "survey": survey(), "settings": SETTINGS, "book": shipped_book(), "runs": (run(), run(2, 2, "Den")),
        "plan": plan(), "materials": materials(), "labor": labor(), "priced": price(),
    }  # fmt: skip
    return Work(**(standing | members))


def said(topic: str, job: Work) -> str:
    """What the quote says on one topic."""
    (text,) = (item.text for item in assumptions(job) if item.text.startswith(f"{topic}: "))
    return text


def hours_of(*tasks: str) -> tuple[LaborRow, ...]:
    """Labor rows of these tasks."""
    return tuple(hours("10.00", task=task) for task in tasks)


def test_every_topic_is_said_once_and_to_the_customer() -> None:
    """The eleven topics of the contract stand in order, none hidden in the office's list."""
    found = assumptions(work())
    assert [item.text.partition(":")[0] for item in found] == TOPICS
    assert not any(item.internal for item in found)


def test_tear_out_is_included_where_it_was_ordered_and_disposal_is_not() -> None:
    """Removing the existing trim in one room is included there; hauling it away is said to be left out."""
    job = work(runs=(run(remove_existing=True), run(2, 2, "Den")))
    assert "is included in Hall; hauling it away and dump fees are not" in said("Tear-out and disposal", job)


def test_hauling_away_is_included_where_hours_for_it_are_priced() -> None:
    """With the task `disposal` on the price list the old trim goes away; the dump's fee stays out."""
    job = work(runs=(run(remove_existing=True), run(2, 2, "Den")), labor=labor(*hours_of("tear-out", "disposal")))
    text = said("Tear-out and disposal", job)
    assert text == (
        "Tear-out and disposal: taking off the existing trim is included in Hall; so is hauling it away; dump fees are "
        "not."
    )


def test_tear_out_not_ordered_is_not_included() -> None:
    """Nothing to remove: neither tear-out nor disposal is in the price."""
    assert "is not included, nor is its disposal" in said("Tear-out and disposal", work())


@pytest.mark.parametrize(
    ("finish", "coats", "primer", "words"),
    [
        (FinishOrder.NONE, 0, 0, "others finish the new trim in every room"),
        (FinishOrder.PRIME, 0, 1, "we prime the new trim (1 coat) and others put on the finish coats in every room"),
        (FinishOrder.PRIME, 0, 0, "the new trim comes primed and others put on the finish coats"),
        (FinishOrder.PAINT, 2, 0, "we paint the new trim (2 coats of paint) in every room"),
        (FinishOrder.PAINT, 1, 1, "we paint the new trim (1 coat of primer and 1 coat of paint) in every room"),
        (FinishOrder.STAIN, 3, 0, "we stain or varnish the new trim (3 coats)"),
    ],
)
def test_painting_says_who_and_how_many_coats(finish: FinishOrder, coats: int, primer: int, words: str) -> None:
    """The finish ordered, its coats and who does the rest stand in the quote."""
    held = tuple(fastening(number, coats=coats, primer_coats=primer) for number in (1, 2))
    job = work(runs=(run(finish=finish), run(2, 2, "Den", finish=finish)), materials=materials(fastening=held))
    assert words in said("Painting", job)


def test_painting_tells_rooms_apart() -> None:
    """One room painted, the other by the firm's default of no finish: each is named."""
    held = (fastening(coats=2), fastening(2))
    job = work(runs=(run(finish=FinishOrder.PAINT), run(2, 2, "Den")), materials=materials(fastening=held))
    text = said("Painting", job)
    assert "(2 coats of paint) in Hall" in text
    assert "others finish the new trim in Den" in text


@pytest.mark.parametrize(
    ("tasks", "words"),
    [
        (("fill", "caulk"), "nail holes are filled, edges are caulked"),
        ((), "filling nail holes is not included, caulking edges is not included"),
    ],
)
def test_filling_and_caulking_follow_the_hours_priced(tasks: tuple[str, ...], words: str) -> None:
    """Holes are filled and edges caulked only where hours for it are in the price."""
    assert words in said("Painting", work(labor=labor(*hours_of(*tasks))))


@pytest.mark.parametrize(
    ("share", "words"), [("0.075", "spare stock of 7.5% of the boards is included"), (None, "none are included")]
)
def test_spare_boards_are_what_the_firm_sets(share: str | None, words: str) -> None:
    """The firm's share is said, or that there are none."""
    settings = replace(SETTINGS, spare_stock_share=share and Decimal(share))
    assert words in said("Spare boards", work(settings=settings))


@pytest.mark.parametrize(("kind", "is_said"), [(ExtraKind.LABOR, True), (ExtraKind.OPTION, False)])
def test_a_line_goes_before_what_is_left_out(kind: ExtraKind, is_said: bool) -> None:
    """An extra may be the very thing a statement leaves out, so the line counts; an option is not ordered."""
    job = work(survey=survey(extras=(extra(kind, "120.00"),)))
    assert (
        "Where a line of this quote names such work, the line counts." in said("Furniture and protection", job)
    ) is is_said
    assert "the line counts" not in said("Spare boards", job)


def test_a_house_lived_in_is_cleared_by_the_people_in_it() -> None:
    """Protection follows the set-up hours; moving furniture is never included."""
    text = said("Furniture and protection", work(survey=survey(occupied=True), labor=labor(*hours_of("set-up"))))
    assert text == (
        "Furniture and protection: covering floors with our own cloths is included, masking edges is not included; moving "
        "furniture is not included: walls are cleared before we come; the house is lived in, so the rooms worked in stay "
        "empty meanwhile."
    )


@pytest.mark.parametrize(
    ("code", "packages", "words"),
    [
        (
            "floor-covering",
            2,
            "covering the floor along the walls worked at is included, masking edges is not included",
        ),
        ("masking-tape", 1, "covering floors is not included, masking edges is included"),
        ("masking-tape", 0, "covering floors is not included, masking edges is not included"),
    ],
)
def test_protection_is_what_is_bought_for_it(code: str, packages: int, words: str) -> None:
    """Floor covering and masking tape among the supplies are included; what is not bought is said to be left out."""
    bought = materials(supply("9.00", SupplyKind.OTHER, code=code, packages=packages))
    assert words in said("Furniture and protection", work(materials=bought))


def test_trim_ends_at_the_new_casing_where_casing_is_ordered() -> None:
    """Casing among the runs is what base ends at; without it, the casing that stands."""
    cased = run(layer=replace(run().layer, position=Position.CASING))
    assert "the new casing" in said("Ends at casings", work(runs=(cased,)))
    assert "the casing that stands" in said("Ends at casings", work())


def test_doors_that_rub_are_a_matter_of_low_trim() -> None:
    """Base can keep a door from moving, crown cannot."""
    crown = run(layer=replace(run().layer, position=Position.CROWN))
    assert "trimming doors" in said("Doors, plates and registers", work())
    assert "trimming doors" not in said("Doors, plates and registers", work(runs=(crown,)))


def test_a_fan_hangs_from_a_box_taken_to_be_sound() -> None:
    """Wiring, boxes and permits are left out, and the room with the fan is named."""
    fan = CeilingFeature("/rooms/0/ceiling/0", FeatureKind.FAN)
    job = work(survey=survey(rooms=(room(ceiling=(fan,)), room("Den", 2))))
    assert "the box in Hall is taken to be sound" in said("Electrician and permits", job)


def test_new_casing_takes_the_jambs_as_they_are() -> None:
    """Jamb extensions are left out where casing is ordered; a door without casing keeps the one that stands."""
    cased = run(layer=replace(run().layer, position=Position.CASING))
    bare = Opening("/rooms/0/openings/0", "A", OpeningKind.DOOR, inches(20), inches(32), inches(80))
    job = work(runs=(cased,), survey=survey(rooms=(room(openings=(bare,)), room("Den", 2))))
    assert "or the casing that stands where none is ordered; jambs are taken as set" in said("Ends at casings", job)
    assert "jamb extensions" not in said("Ends at casings", work())


def test_what_hangs_on_the_ceiling_is_said_where_something_does() -> None:
    """Hanging is included, the old one stays at the house, and what the list doesn't hold is supplied by others."""
    fan = CeilingFeature("/rooms/0/ceiling/0", FeatureKind.FAN, remove_existing=True)
    disk = CeilingFeature("/rooms/0/ceiling/1", FeatureKind.MEDALLION)
    shelf = Supply("F", "Fan", SupplyKind.FAN, Decimal(1), "each", Decimal("90.00"))
    hung = (FeatureFitting(fan, 1, shelf), FeatureFitting(disk, 1, None))
    rooms = (room(ceiling=(fan, disk)), room("Den", 2))
    job = work(survey=survey(rooms=rooms), materials=replace(materials(), features=hung))
    assert said("On the ceiling", job) == (
        "On the ceiling: hanging the fan and the medallion (Hall) is included; so is taking down the old fan (Hall), left "
        "at the house; supplied by others: the medallion (Hall)."
    )
    assert not any(item.text.startswith("On the ceiling") for item in assumptions(work()))


def test_a_licensed_electrician_is_extra_where_something_is_wired() -> None:
    """Where a fan hangs, his visit is said to be extra; where nothing hangs he is not spoken of."""
    fan = CeilingFeature("/rooms/0/ceiling/0", FeatureKind.FAN)
    job = work(survey=survey(rooms=(room(ceiling=(fan,)), room("Den", 2))))
    assert "licensed electrician to disconnect or connect, that visit is extra" in said("Electrician and permits", job)
    assert "licensed" not in said("Electrician and permits", work())


def test_cure_is_mentioned_where_something_is_glued() -> None:
    """Adhesive makes the customer wait; nails alone do not."""
    glued = work(materials=materials(fastening=(fastening(adhesive_length=Length.of(90)),)))
    assert "adhesive cures" in said("Return visit after cure", glued)
    assert "adhesive" not in said("Return visit after cure", work())


def test_internal_list_holds_the_assumptions_that_bases_name() -> None:
    """An entry of grade assumption behind a supply and a labor row is told once each; a published one is not.

    `waste.adhesive` and `labor.long-piece` are assumptions of the trade book, `waste.nails` a published share.
    """
    rows = (supply("5.00", basis=("trade:waste.adhesive", "trade:waste.nails", "sheet:/rooms/0/walls/0")),)
    job = work(materials=materials(*rows), labor=labor(hours("10.00"), hours("12.00", 2)))
    hidden = [item for item in assumptions(job) if item.internal]
    assert [item.basis for item in hidden] == ["trade:labor.long-piece", "trade:waste.adhesive"]
    assert hidden[0].text == "Length above which a piece takes two people to hang: 120 in."
    assert hidden[1].text.endswith(": 10%.")


def test_a_value_of_the_firm_is_no_assumption_of_ours() -> None:
    """An entry that the firm overrides leaves the list."""
    book = shipped_book()
    own = replace(book["labor.long-piece"], value=Decimal(96), grade=Grade.FIRM)
    entries = {entry.key: entry for entry in book} | {own.key: own}
    job = work(labor=labor(hours("10.00")), book=TradeBook(entries, book.sources))
    assert not any(item.internal for item in assumptions(job))


@pytest.mark.parametrize(
    ("names", "text"), [(("Hall",), "Hall"), (("Hall", "Den"), "Hall and Den"), (("A", "B", "C"), "A, B and C")]
)
def test_names_are_listed_as_people_do(names: tuple[str, ...], text: str) -> None:
    """Commas between, `and` before the last."""
    assert listed(names) == text


def test_no_internal_assumption_without_a_basis() -> None:
    """Entries that no basis names stay out, however many assumptions the book holds."""
    assert any(entry.grade is Grade.ASSUMPTION for entry in shipped_book())
    assert not any(item.internal for item in assumptions(work(materials=materials(supply("5.00", basis=())))))


def test_painted_area_is_no_matter_of_words() -> None:
    """Areas change nothing in what is said; coats do."""
    small, large = (
        said("Painting", work(materials=materials(fastening=(fastening(painted_area_sqft=Fraction(area)),))))
        for area in (1, 900)
    )
    assert small == large
