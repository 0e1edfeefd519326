"""Cautions stand where their trigger holds and nowhere else. House and people are invented."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from service.estimate.quote.cautions import cautions
from service.estimate.quote.work import Work
from service.firm import Position, SupplyKind
from service.problems import Code, Problems, Severity
from service.survey import Access, CeilingFeature, CeilingFinish, FeatureKind, Survey
from service.trade.book import shipped_book
from service.units import Length, Units
from tests.price.examples import (
    SETTINGS,
    fastening,
    labor,
    materials,
    piece,
    plan,
    price,
    room,
    run,
    supply,
    survey,
)

if TYPE_CHECKING:
    from service.estimate.quote.model import Caution

NEW_HOUSE = survey(year_built=2015)
CROWN = replace(run().layer, position=Position.CROWN)


def work(**members: object) -> Work:
    """A job in a new house with nothing done in it; keyword arguments replace what was ordered or found."""
    standing = {
        "survey": NEW_HOUSE, "settings": SETTINGS, "book": shipped_book(), "runs": (), "plan": plan(),
        "materials": materials(), "labor": labor(), "priced": price(),
    }  # fmt: skip
    return Work(**(standing | members))


def found(job: Work) -> dict[str, Caution]:
    """Cautions by code."""
    return {caution.code: caution for caution in cautions(job, Problems())}


def built(year: int | None, **members: object) -> Work:
    """A house of a year."""
    rooms = (room(**members), room("Den", 2))
    return work(survey=survey(year_built=year, rooms=rooms))


def warned(job: Work) -> list[tuple[Code, Severity, str, str]]:
    """Problems that the cautions add."""
    problems = Problems()
    cautions(job, problems)
    return [(problem.code, problem.severity, problem.pointer, problem.found) for problem in problems]


def test_local_code_always_stands_last() -> None:
    """A job of nothing still says whose rules come first."""
    assert list(found(work())) == ["local-code"]
    assert found(work())["local-code"].text.startswith("Follow local code; licensed trades where required.")


# 40 CFR 745.83 (target housing is built before 1978); 29 CFR 1926.1101(b) (no later than 1980).
@pytest.mark.parametrize(
    ("year", "lead", "asbestos"),
    [(1977, True, True), (1978, False, True), (1980, False, True), (1981, False, False), (None, True, True)],
)
def test_lead_and_asbestos_follow_the_year(year: int | None, lead: bool, asbestos: bool) -> None:
    """Lead before 1978, asbestos through 1980, both where the year is blank: caution and warning alike."""
    job = built(year)
    assert ("lead" in found(job), "asbestos" in found(job)) == (lead, asbestos)
    codes = [Code.LEAD_PAINT_POSSIBLE] * lead + [Code.ASBESTOS_POSSIBLE] * asbestos
    typed = "" if year is None else str(year)
    assert warned(job) == [(code, Severity.WARNING, "/job/year_built", typed) for code in codes]


def test_lead_names_its_regulation_and_area() -> None:
    """40 CFR 745 and the 6 sq ft and 30 days of section 745.83 stand in the text; an unknown year is said."""
    text = found(built(None))["lead"].text
    assert "40 CFR 745" in text
    assert "more than 6 sq ft" in text
    assert "within 30 days" in text
    assert text.startswith("The year the house was built is not known.")


def test_lead_names_the_certificate_that_the_firm_has() -> None:
    """A certificate is named, and nothing is said of one that is not there."""
    job = built(1950)
    certified = replace(job, settings=replace(SETTINGS, lead_certificate="NAT-0000-1 (invented)"))
    assert found(certified)["lead"].text.endswith("Certificate of the firm: NAT-0000-1 (invented).")
    assert "Certificate" not in found(job)["lead"].text


def test_asbestos_names_its_regulation_and_the_old_ceilings() -> None:
    """29 CFR 1926.1101 stands in the text, with the rooms whose ceilings are textured or plaster."""
    text = found(built(1968, ceiling_finish=CeilingFinish.TEXTURED))["asbestos"].text
    assert "29 CFR 1926.1101" in text
    assert "does not prove that there is none" in text
    assert text.endswith("Textured or plaster ceilings on the sheet: Hall.")


@pytest.mark.parametrize(
    ("access", "expected"), [(Access.OVER_STAIRS, True), (Access.OVER_TUB, True), (Access.NORMAL, False)]
)
def test_work_over_a_drop(access: Access, expected: bool) -> None:
    """Stairs and tubs under the work ask for a platform, in the rooms named."""
    drop = found(built(2015, access=access)).get("drop")
    assert (drop is not None) is expected
    assert drop is None or drop.rooms == ("Hall",)


def test_ladders_are_for_overhead_work() -> None:
    """Crown is overhead, base is not; a room stands once however many runs it has."""
    assert found(work(runs=(run(layer=CROWN), run(3, layer=CROWN))))["ladder"].rooms == ("Hall",)
    assert "ladder" not in found(work(runs=(run(),)))


@pytest.mark.parametrize(
    ("feature", "codes"),
    [
        (FeatureKind.FAN, {"power-off", "box-and-weight", "ladder"}),
        (FeatureKind.LIGHT, {"power-off", "box-and-weight", "ladder"}),
        (FeatureKind.MEDALLION, {"power-off", "ladder"}),
    ],
)
def test_ceiling_features_bring_power_and_box(feature: FeatureKind, codes: set[str]) -> None:
    """Whatever hangs on the ceiling asks for dead circuits; what hangs from a box asks for the right box."""
    job = built(2015, ceiling=(CeilingFeature("/rooms/0/ceiling/0", feature),))
    assert set(found(job)) == codes | {"local-code"}


def test_box_limits_are_the_code_s() -> None:
    """35 and 70 lb of NEC 314.27(C) and 422.18 and 50 lb of 314.27(A) stand in the text."""
    job = built(2015, ceiling=(CeilingFeature("/rooms/0/ceiling/0", FeatureKind.FAN),))
    text = found(job)["box-and-weight"].text
    assert all(weight in text for weight in ("35 lb", "70 lb", "50 lb", "NEC 314.27"))


def test_two_people_for_pieces_longer_than_the_limit() -> None:
    """A piece of exactly 10 ft (trade book `labor.long-piece`, an assumption) is one person's, 1/64" more is two's."""
    limit = shipped_book().value("labor.long-piece")
    assert "two-people" not in found(work(plan=plan((piece(length=str(limit)),))))
    longer = piece("B1", f"{limit}.015625", 2, "Den")
    assert found(work(plan=plan((piece(), longer))))["two-people"].rooms == ("Den",)


def test_lengths_are_said_in_the_units_of_the_job() -> None:
    """A metric job reads millimeters: 120 in are 3048 mm."""
    metric: Survey = survey(year_built=2015, units=Units.METRIC)
    text = found(work(survey=metric, plan=plan((piece(length=150),))))["two-people"].text
    assert "3048\N{NO-BREAK SPACE}mm" in text


def test_tools_are_cautioned_where_something_is_cut() -> None:
    """One piece is enough for saw, nailer, eyes, ears and dust; no piece, none of them."""
    assert set(found(work(plan=plan((piece(),))))) == {"saw", "nailer", "eyes-ears-dust", "local-code"}


@pytest.mark.parametrize(
    ("kind", "packages", "expected"),
    [
        (SupplyKind.ADHESIVE, 1, True),
        (SupplyKind.PAINT, 1, True),
        (SupplyKind.ADHESIVE, 0, False),
        (SupplyKind.NAIL, 1, False),
    ],
)
def test_ventilation_goes_with_what_gives_off_vapor(kind: SupplyKind, packages: int, expected: bool) -> None:
    """Adhesive and paint that are bought ask for air; nails do not."""
    assert ("ventilation" in found(work(materials=materials(supply("9.00", kind, packages=packages))))) is expected


def test_rags_are_cautioned_where_something_is_stained() -> None:
    """Stain alone asks for air and for care with rags; paint does not speak of rags."""
    stained = found(work(materials=materials(supply("9.00", SupplyKind.OTHER, code="stain"))))["ventilation"].text
    painted = found(work(materials=materials(supply("9.00", SupplyKind.PAINT))))["ventilation"].text
    assert "catch fire by themselves" in stained
    assert "Rags" not in painted


# 40 CFR 745, 29 CFR 1926 and 1910, NEC: each caution names the rule behind it; 29 CFR sections from memory.
@pytest.mark.parametrize(
    ("code", "rule"),
    [
        ("lead", "40 CFR 745"), ("asbestos", "29 CFR 1926.1101"), ("power-off", "29 CFR 1926.416"),
        ("box-and-weight", "NEC 314.27"), ("drop", "29 CFR 1926.501"), ("ladder", "29 CFR 1926.1053"),
        ("saw", "29 CFR 1926.304"), ("nailer", "29 CFR 1926.302"), ("eyes-ears-dust", "29 CFR 1926.102"),
        ("ventilation", "29 CFR 1910.1200"),
    ],
)  # fmt: skip
def test_each_caution_names_its_regulation(code: str, rule: str) -> None:
    """A job with everything in it tells each caution with the regulation behind it; eyes stand between ears and breath."""
    everything = replace(
        built(None, access=Access.OVER_STAIRS, ceiling=(CeilingFeature("/rooms/0/ceiling/0", FeatureKind.FAN),)),
        runs=(run(layer=CROWN),), plan=plan((piece(),)), materials=materials(supply("9.00", SupplyKind.PAINT)),
    )  # fmt: skip
    text = found(everything)[code].text
    assert rule in text.replace("29 CFR 1926.101 to 1926.103", "29 CFR 1926.101, 29 CFR 1926.102, 29 CFR 1926.103")


def test_lead_counts_a_removed_part_whole() -> None:
    """Trim taken off counts with its whole face (40 CFR 745.83), and the pamphlet is handed over before the start."""
    text = found(built(1950))["lead"].text
    assert "trim taken off counts with its whole face" in text
    assert "pamphlet handed over before the start" in text


def test_cure_is_for_what_is_glued_overhead() -> None:
    """A glued crown is propped until cure, a glued base is not, a nailed crown neither."""
    glued = materials(fastening=(fastening(adhesive_length=Length.of(90)),))
    assert found(work(runs=(run(layer=CROWN),), materials=glued))["cure"].rooms == ("Hall",)
    assert "cure" not in found(work(runs=(run(),), materials=glued))
    assert "cure" not in found(work(runs=(run(layer=CROWN),), materials=materials(fastening=(fastening(),))))
