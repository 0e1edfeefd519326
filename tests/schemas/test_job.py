"""A job document without faults becomes a survey: each member where it belongs, names in the survey's spelling."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from schemas.job import sound_rooms, survey_from
from service import survey
from service.units import Length, Units
from tests.schemas.examples import Document, changed, imperial, inches, metric


def read(document: Document) -> survey.Survey:
    """The survey of a document that has no problem at all."""
    found, problems = survey_from(document)
    assert problems == ()
    assert found is not None
    return found


def test_every_member_of_the_job_arrives() -> None:
    """The tab Job as a record, text trimmed, lines of the address kept."""
    job = read(imperial()).job
    assert job == survey.Job(
        pointer="/job", job_name="Tern Street dining room", customer="Ida Quill", customer_email="ida@example.org",
        customer_phone="555 0100", site_address="7 Tern Street\nPlover Bay", measured_by="Oskar",
        measured_on=date(2026, 3, 14), units=Units.IMPERIAL, year_built=1962, occupied=True, price_list="standard",
        valid_for_days=30, discount=survey.Discount(share=Decimal("0.05")), notes="Dog in the yard.",
    )  # fmt: skip


def test_lengths_are_exact_in_every_spelling() -> None:
    """Trade text, inches, millimeters and bare figures give exact rationals."""
    room = read(imperial()).rooms[0]
    assert [wall.length.inches for wall in room.walls] == [168, 144, 168, 144]
    assert room.ceiling_covering == Length(Fraction(5, 8))
    assert room.walls[1].studs.at == (inches("4"), inches("20"), inches("36.5"))
    assert room.walls[2].studs.at == (inches("4"), inches("20"), inches("36"))


def test_what_is_left_out_takes_the_printed_default() -> None:
    """Half-inch coverings, 16-inch spacing, square corners, wood, a flat smooth ceiling, normal access."""
    room = read(metric()).rooms[0]
    assert room.ceiling_covering == inches("0.5")
    assert room.walls[1].studs == survey.Studs(None, inches("16"))
    assert room.walls[0].angle_deg == 90
    assert room.walls[0].framing is survey.Framing.WOOD
    assert (room.ceiling_shape, room.ceiling_finish, room.access) == ("flat", "smooth", "normal")


def test_a_metric_document_reads_bare_figures_as_millimeters() -> None:
    """Only figures without a unit change their meaning; kilograms become pounds."""
    room = read(metric()).rooms[0]
    assert [wall.length.mm for wall in room.walls] == [3820, 3050, 3820, Fraction("25.4") * (120 + Fraction(1, 16))]
    assert room.joists == survey.Joists("A", Length.of_mm(350), Length.of_mm(400))
    # 1 lb = 0.45359237 kg exactly (NIST Handbook 44, Appendix C): 5 kg = 11.0231… lb
    assert room.ceiling[0].weight_lb == pytest.approx(Decimal("11.02311310924388"), abs=Decimal("1e-12"))


def test_every_record_says_where_it_came_from() -> None:
    """The pointer of each record resolves to its object in the document."""
    found, document = read(imperial()), imperial()
    records: list[survey.Room | survey.Wall | survey.Opening | survey.CeilingFeature | survey.TrimOrder | survey.Extra] = [
        *found.rooms, *found.rooms[0].walls, *found.rooms[0].openings, *found.rooms[0].ceiling, *found.trim, *found.extras,
    ]  # fmt: skip
    for record in records:
        place: object = document
        for part in record.pointer.removeprefix("/").split("/"):
            place = place[int(part)] if isinstance(place, list) else place[part]  # type: ignore[index] # JSON
        assert isinstance(place, dict), record.pointer


def test_all_stands_for_every_room_and_wall() -> None:
    """`all` becomes None in the record, alone or in a list, in any case."""
    orders = read(imperial()).trim
    assert (orders[0].room, orders[0].walls) == ("Dining", ("A", "C"))
    assert (orders[1].room, orders[1].walls, orders[1].height) == (None, None, inches("36"))
    assert read(changed(imperial(), "/trim/1/walls", ["ALL"])).trim[1].walls is None


@pytest.mark.parametrize(
    "spelling",
    ["dining", "DINING", "  Dining ", "Din\N{ZERO WIDTH SPACE}ing", "\N{NO-BREAK SPACE}Dining", "Dining_x000D_",
     "\N{ZERO WIDTH NO-BREAK SPACE}dining"],
)  # fmt: skip
def test_names_compare_after_cleaning(spelling: str) -> None:
    """Case, spaces and invisible characters tell no names apart; the survey keeps the room's own spelling."""
    assert read(changed(imperial(), "/trim/0/room", spelling)).trim[0].room == "Dining"
    assert read(changed(imperial(), "/extras/0/room", spelling)).extras[0].room == "Dining"


def test_composed_and_decomposed_names_are_the_same() -> None:
    """`é` typed as one character or as two is one name (Unicode NFC)."""
    document = changed(imperial(), "/rooms/0/name", "Caf\N{LATIN SMALL LETTER E WITH ACUTE}")
    document = changed(document, "/extras/0/room", "CAFE\N{COMBINING ACUTE ACCENT}")
    document = changed(document, "/trim/0/room", "cafe\N{COMBINING ACUTE ACCENT}")
    assert read(document).trim[0].room == "Caf\N{LATIN SMALL LETTER E WITH ACUTE}"


def test_walls_are_found_in_any_spelling() -> None:
    """Openings, joists and trim name walls in the survey's spelling."""
    document = changed(imperial(), "/rooms/0/openings/0/wall", "a")
    document = changed(document, "/rooms/0/joists/parallel_to", " b ")
    document = changed(document, "/trim/0/walls", "c;  a")
    found = read(document)
    assert found.rooms[0].openings[0].wall == "A"
    assert found.rooms[0].joists is not None
    assert found.rooms[0].joists.parallel_to == "B"
    assert found.trim[0].walls == ("C", "A")


@pytest.mark.parametrize("blank", ["", "  ", "\N{NO-BREAK SPACE}"])
def test_blank_members_count_as_left_out(blank: str) -> None:
    """An integrator may send empty text or null where a sheet has a blank cell."""
    document = changed(imperial(), "/trim/0/finish", blank)
    document["rooms"][0]["walls"][0]["angle_deg"] = None
    found = read(document)
    assert found.trim[0].finish is None
    assert found.rooms[0].walls[0].angle_deg == 90


@pytest.mark.parametrize(
    ("typed", "discount"),
    [("5%", survey.Discount(share=Decimal("0.05"))), ("0.05", survey.Discount(share=Decimal("0.05"))),
     ("150.00", survey.Discount(amount=Decimal("150.00"))), ({"amount": "0.50"}, survey.Discount(amount=Decimal("0.50"))),
     ("150", survey.Discount(amount=Decimal("150.00"))), ("0", survey.Discount(amount=Decimal("0.00")))],
)  # fmt: skip
def test_a_discount_is_a_share_or_an_amount(typed: object, discount: survey.Discount) -> None:
    """A sign or a figure below 1 makes it a share, all else an amount."""
    assert read(changed(imperial(), "/job/discount", typed)).job.discount == discount


def test_notes_are_allowed_on_every_object() -> None:
    """Notes of joists, studs and of the document are kept with the room, wall and job they belong to."""
    document = changed(imperial(), "/rooms/0/joists/notes", "seen through the hatch")
    document = changed(document, "/rooms/0/walls/0/studs/notes", "magnet")
    document = changed(document, "/notes", "measured twice")
    found = read(document)
    assert found.rooms[0].notes == "seen through the hatch"
    assert found.rooms[0].walls[0].notes == "outer wall\nmagnet"
    assert found.job.notes == "Dog in the yard.\nmeasured twice"


def test_joists_without_their_wall_are_not_known() -> None:
    """A spacing alone says nothing; a wall without the first joist, or the other way, is a warning."""
    assert read(changed(imperial(), "/rooms/0/joists", {"spacing": "16"})).rooms[0].joists is None
    found, problems = survey_from(changed(imperial(), "/rooms/0/joists", {"parallel_to": "A"}))
    assert found is not None
    assert found.rooms[0].joists is None
    assert [(problem.code, problem.severity, problem.pointer) for problem in problems] == [
        ("value-missing", "warning", "/rooms/0/joists/first")
    ]


def test_sound_rooms_are_read_beside_a_faulty_one() -> None:
    """A refused document still gives the rooms without errors, so that all faults can be told at once."""
    document = imperial()
    document["rooms"].append(imperial()["rooms"][0] | {"name": "Hall"})
    document = changed(document, "/rooms/0/walls/0/length", "long")
    assert survey_from(document)[0] is None
    assert [room.name for room in sound_rooms(document)] == ["Hall"]
    assert sound_rooms(document, faulty=["/rooms/1/walls/0/angle_deg"]) == ()
    assert sound_rooms(changed(document, "/job/units", "furlongs")) == ()
