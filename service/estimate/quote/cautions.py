"""Hazards of the work, each printed where its trigger holds. The program advises; it never certifies."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.materials.shelf import STAIN
from service.estimate.quote.model import Caution
from service.estimate.quote.work import listed, once
from service.firm import Position, SupplyKind
from service.problems import Code
from service.survey import Access, CeilingFinish, FeatureKind
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Callable

    from service.estimate.quote.work import Work
    from service.problems import Problems
    from service.survey import Job

OVERHEAD = frozenset({Position.CEILING, Position.WALL, Position.CROWN})
_YEAR = "/job/year_built"


def cautions(work: Work, problems: Problems) -> tuple[Caution, ...]:
    """Cautions whose trigger holds, gravest first; the last one always stands.

    Args:
        work: the job as ordered and priced.
        problems: takes `lead-paint-possible` and `asbestos-possible`, warnings that travel with the quote.
    """
    _doubt_the_house(work, problems)
    return tuple(caution for rule in RULES if (caution := rule(work)) is not None)


def may_hold_lead(work: Work) -> bool:
    """Built before the year from which house paint is free of lead, or in a year not known.

    Source: 40 CFR 745.83, trade book `cautions.lead-year`.
    """
    built = work.survey.job.year_built
    return built is None or built < work.book.value("cautions.lead-year")


def may_hold_asbestos(work: Work) -> bool:
    """Built through the last year of presumed surfacing, or in a year not known.

    Source: 29 CFR 1926.1101(b), trade book `cautions.asbestos-year`.
    """
    built = work.survey.job.year_built
    return built is None or built <= work.book.value("cautions.asbestos-year")


def _doubt_the_house(work: Work, problems: Problems) -> None:
    found = _year_found(work.survey.job)
    if may_hold_lead(work):
        problems.warning(
            Code.LEAD_PAINT_POSSIBLE, _YEAR, "Old paint may hold lead; the cautions say what that asks for.",
            help="Give the year built, or have the paint tested before work.", found=found,
        )  # fmt: skip
    if may_hold_asbestos(work):
        problems.warning(
            Code.ASBESTOS_POSSIBLE, _YEAR, "Old ceilings, plaster or wallboard may hold asbestos; see the cautions.",
            help="Give the year built, or have the material tested before work.", found=found,
        )  # fmt: skip


def _year_found(job: Job) -> str:
    return "" if job.year_built is None else str(job.year_built)


def _age(work: Work, words: str) -> str:
    return "The year the house was built is not known." if work.survey.job.year_built is None else words


def lead(work: Work) -> Caution | None:
    """Lead paint: presumed before the law's year; the area rule decides who may do paid work.

    Source: 40 CFR 745.83 and 745.85, trade book `cautions.lead-year`, `lead-area`, `lead-job-days`.
    """
    if not may_hold_lead(work):
        return None
    year = work.figure("cautions.lead-year")
    certificate = work.settings.lead_certificate
    return Caution(
        "lead",
        f"{_age(work, f'The house was built before {year}.')} Treat old paint as lead paint until a test says "
        f"otherwise. Under 40 CFR 745, paid work that disturbs more than {work.figure('cautions.lead-area')} sq ft "
        "of painted surface in a room is for a certified firm working lead-safe, with the federal pamphlet handed "
        "over before the start; trim taken off counts with its whole face, and work in one room within "
        f"{work.figure('cautions.lead-job-days')} days counts as one job. A state may ask for more."
        + (f" Certificate of the firm: {certificate}." if certificate else ""),
        (),
    )


def asbestos(work: Work) -> Caution | None:
    """Asbestos: surfacing of the presumed years is left alone until tested.

    Source: 29 CFR 1926.1101(b) and (k), trade book `cautions.asbestos-year`.
    """
    if not may_hold_asbestos(work):
        return None
    year = work.figure("cautions.asbestos-year")
    return Caution(
        "asbestos",
        f"{_age(work, f'The house was built in {year} or earlier.')} Under 29 CFR 1926.1101, sprayed or troweled "
        f"surfacing put up through {year}, such as a textured ceiling, is presumed to hold asbestos until it is "
        "tested; take old plaster, wallboard and joint compound for the same. No scraping, sanding, sawing or "
        f"drilling before the test. A later year does not prove that there is none.{_old_ceilings(work)}",
        (),
    )


def _old_ceilings(work: Work) -> str:
    kinds = (CeilingFinish.TEXTURED, CeilingFinish.PLASTER)
    names = tuple(room.name for room in work.survey.rooms if room.ceiling_finish in kinds)
    return f" Textured or plaster ceilings on the sheet: {listed(names)}." if names else ""


def drop(work: Work) -> Caution | None:
    """Work above a stair or a tub needs a platform, not a ladder on steps.

    Source: 29 CFR 1926.501, duty to have fall protection; from memory.
    """
    return _in_rooms(
        "drop",
        "Work above a stair or a tub: build a level platform with guarded edges, tie off where a fall is possible, "
        "and never stand a ladder on steps or on the rim of a tub (29 CFR 1926.501).",
        tuple(room.name for room in work.survey.rooms if room.access in {Access.OVER_STAIRS, Access.OVER_TUB}),
    )


def ladders(work: Work) -> Caution | None:
    """Anything at the ceiling is done from a ladder or a platform.

    Source: 29 CFR 1926.1053, ladders; from memory.
    """
    overhead = [run.room_name for run in work.runs if run.position in OVERHEAD]
    return _in_rooms(
        "ladder",
        "Overhead work: use a ladder or platform rated for the load on a firm, level floor, keep within reach "
        "between its rails, and do not stand on the top steps (29 CFR 1926.1053).",
        once((*overhead, *work.rooms_with(*FeatureKind))),
    )


def two_people(work: Work) -> Caution | None:
    """Long pieces are carried and held by two.

    Source: trade book `labor.long-piece`.
    """
    limit = Length.of(work.book.value("labor.long-piece"))
    return _in_rooms(
        "two-people",
        f"Pieces longer than {limit.text(work.survey.job.units)} take two people to carry, lift and hold; overhead, "
        "prop the far end before the first nail, and keep everyone out from under it.",
        once(piece.room_name for piece in work.plan.pieces if piece.long_point > limit),
    )


def saw(work: Work) -> Caution | None:
    """Whatever is cut is cut on a power saw.

    Source: 29 CFR 1926.304, woodworking tools; from memory.
    """
    return _for_pieces(
        work,
        "saw",
        "Power saw: guards in place, hands out of the line of the blade, short pieces such as returns clamped and "
        "never held by hand, blade at rest before a piece is taken away, plug or battery out before the blade is "
        "touched (29 CFR 1926.304).",
    )


def nailer(work: Work) -> Caution | None:
    """Whatever is hung is nailed.

    Source: 29 CFR 1926.302, power-operated hand tools; from memory.
    """
    return _for_pieces(
        work,
        "nailer",
        "Nailer: finger off the trigger until the nose is set, free hand away from where a nail may come out, air "
        "or battery off before a jam is cleared (29 CFR 1926.302). Cables and pipes may lie behind the covering: locate "
        "them first.",
    )


def eyes_ears_dust(work: Work) -> Caution | None:
    """Sawing, nailing and sanding throw chips, noise and dust.

    Source: 29 CFR 1926.101 (ears), 1926.102 (eyes), 1926.103 (breath); from memory.
    """
    return _for_pieces(
        work,
        "eyes-ears-dust",
        "Safety glasses and hearing protection while sawing and nailing; a fitted dust mask or respirator and dust "
        "extraction while sawing and sanding (29 CFR 1926.101 to 1926.103).",
    )


def power(work: Work) -> Caution | None:
    """A fan, a light or a medallion is worked on with the circuit dead.

    Source: 29 CFR 1926.416 and 1926.417, work on circuits and locking them out; from memory.
    """
    return _in_rooms(
        "power-off",
        "Electric box overhead: switch the circuit off at the breaker, lock or label it, and test every conductor "
        "in the box before touching one; a wall switch is not enough (29 CFR 1926.416, 1926.417). Wiring is for a "
        "licensed electrician where the law asks for one.",
        work.rooms_with(*FeatureKind),
    )


def box_and_weight(work: Work) -> Caution | None:
    """A box carries what it is listed for.

    Source: NEC 314.27(A), (C) and 422.18, trade book `features.*`.
    """
    figure = work.figure
    return _in_rooms(
        "box-and-weight",
        "A fan hangs from an outlet box listed for fans, never from a medallion or a plain light box. "
        f"Above {figure('features.fan-marked-weight')} lb the box must be marked for the weight, above "
        f"{figure('features.fan-independent-weight')} lb the fan is supported independently of the box; a light "
        f"above {figure('features.light-independent-weight')} lb likewise (NEC 314.27, 422.18).",
        work.rooms_with(FeatureKind.FAN, FeatureKind.LIGHT),
    )


def ventilation(work: Work) -> Caution | None:
    """Adhesive and coatings give off vapor; rags with oil in them heat up by themselves.

    Source: 29 CFR 1910.1200, safety data sheets; from memory.
    """
    kinds = {SupplyKind.ADHESIVE, SupplyKind.PRIMER, SupplyKind.PAINT}
    stained = work.has_supply(STAIN)
    if not stained and not any(row.kind in kinds and row.packages for row in work.materials.supplies):
        return None
    rags = (
        " Rags with oil-based stain or varnish can catch fire by themselves: dry them spread out in the open, or keep "
        "them under water in a closed metal can."
    )
    return Caution(
        "ventilation",
        "Adhesive and coatings give off vapor: read the label and the safety data sheet (29 CFR 1910.1200), open windows, "
        f"no flame or spark nearby, gloves on.{rags if stained else ''}",
        (),
    )


def cure(work: Work) -> Caution | None:
    """What is glued overhead carries nothing until the adhesive has cured."""
    glued = {row.run for row in work.materials.fastening if row.adhesive_length or row.dabs or row.cross_nailed}
    return _in_rooms(
        "cure",
        "Boards held by adhesive: prop them until it has cured as its maker says, hang nothing on them before, and "
        "do not take adhesive or crossed nails for structural support.",
        once(run.room_name for run in work.runs if run.number in glued and run.position in OVERHEAD),
    )


def local_code(work: Work) -> Caution:
    """What stands under every list of cautions."""
    del work
    return Caution(
        "local-code",
        "Follow local code; licensed trades where required. These cautions are the usual ones, not all that the law "
        "or a maker's instructions ask for, and certify nothing.",
        (),
    )


def _in_rooms(code: str, text: str, rooms: tuple[str, ...]) -> Caution | None:
    return Caution(code, text, rooms) if rooms else None


def _for_pieces(work: Work, code: str, text: str) -> Caution | None:
    return Caution(code, text, ()) if work.plan.pieces else None


RULES: tuple[Callable[[Work], Caution | None], ...] = (
    lead, asbestos, power, box_and_weight, drop, ladders, two_people, cure, saw, nailer, eyes_ears_dust, ventilation,
    local_code,
)  # fmt: skip
