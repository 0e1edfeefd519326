"""What the price takes for granted, said topic by topic from what was ordered."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from service.estimate.materials.shelf import FLOOR_COVERING, MASKING_TAPE
from service.estimate.quote.model import Assumption
from service.estimate.quote.work import listed, once
from service.firm import Position
from service.survey import ExtraKind, FeatureKind, FinishOrder, OpeningKind
from service.trade.book import Grade

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from service.estimate.materials.model import FeatureFitting, RunFastening
    from service.estimate.quote.work import Work
    from service.trade.book import Entry

CASED = frozenset({OpeningKind.DOOR, OpeningKind.WINDOW, OpeningKind.CASED_OPENING})
NEAR_FLOOR = frozenset({Position.BASE, Position.CAP, Position.SHOE, Position.RAIL})
_TRADE = "trade:"


def assumptions(work: Work) -> tuple[Assumption, ...]:
    """Each topic once, for the customer; then, for the office, every trade-book assumption that a basis names."""
    said = (_with_extras(topic, work) for topic in TOPICS)
    return (*(item for item in said if item is not None), *internal_assumptions(work))


def _with_extras(topic: Callable[[Work], Assumption | None], work: Work) -> Assumption | None:
    """The statement; lines that the estimator added go before what it leaves out."""
    said = topic(work)
    if said is None:
        return None
    charged = any(extra.kind is not ExtraKind.OPTION for extra in work.survey.extras)
    if not charged or topic not in LEAVE_OUT:
        return said
    return replace(
        said, text=f"{said.text} Where a line of this {work.settings.document_word} names such work, the line counts."
    )


def internal_assumptions(work: Work) -> tuple[Assumption, ...]:
    """Entries of grade `assumption` that lines, supplies or labor rest on; a firm's own value is none of them."""
    keys = sorted({name.removeprefix(_TRADE) for name in _bases(work) if name.startswith(_TRADE)})
    entries = (work.book[key] for key in keys if key in work.book)
    return tuple(
        Assumption(_told(entry), f"{_TRADE}{entry.key}", internal=True)
        for entry in entries
        if entry.grade is Grade.ASSUMPTION
    )


def _bases(work: Work) -> Iterable[str]:
    for line in (*work.priced.lines, *work.priced.options):
        yield from line.basis
    for supply in work.materials.supplies:
        yield from supply.basis
    for row in work.labor.rows:
        yield from row.basis


def _told(entry: Entry) -> str:
    figure = f"{entry.value.normalize():f}"
    words = {"share": f"{(entry.value * 100).normalize():f}%", "factor": figure}.get(
        entry.unit, f"{figure} {entry.unit}"
    )
    return f"{entry.meaning[:1].upper()}{entry.meaning[1:]}: {words}."


def tear_out(work: Work) -> Assumption:
    """Tear-out is priced where ordered, hauling away where hours for it are priced; dump fees only as an extra."""
    rooms = once(run.room_name for run in work.runs if run.remove_existing)
    if not rooms:
        bare = "taking off existing trim is not included, nor is its disposal; the surfaces are taken to be bare"
        return _said("Tear-out and disposal", bare)
    hauled = "so is hauling it away; dump fees are not" if work.has_task("disposal") else (
        "hauling it away and dump fees are not"
    )  # fmt: skip
    taken = f"taking off the existing trim is included in {_in_words(rooms, work)}; {hauled}"
    return _said("Tear-out and disposal", taken)


def wall_repair(work: Work) -> Assumption:
    """Walls and ceilings are taken as sound."""
    behind = ", also where old trim comes off," if any(run.remove_existing for run in work.runs) else ""
    return _said(
        "Wall and ceiling repair", f"walls and ceilings are taken as sound; patching, plastering and touching up "
        f"their paint{behind} is not included",
    )  # fmt: skip


def painting(work: Work) -> Assumption:
    """Who paints, what, and how many coats: one clause for each finish ordered."""
    rooms: dict[str, list[str]] = {}
    held = {row.run: row for row in work.materials.fastening}
    for run in work.runs:
        finish = run.finish or FinishOrder(work.settings.default_finish)
        rooms.setdefault(_finish_clause(finish, held.get(run.number)), []).append(run.room_name)
    clauses = [f"{clause} in {_in_words(once(names), work)}" for clause, names in rooms.items()]
    holes = "nail holes are filled" if work.has_task("fill") else "filling nail holes is not included"
    edges = "edges are caulked" if work.has_task("caulk") else "caulking edges is not included"
    return _said("Painting", "; ".join([*clauses, f"{holes}, {edges}"]))


def _finish_clause(finish: FinishOrder, held: RunFastening | None) -> str:
    coats, primer = (held.coats, held.primer_coats) if held else (0, 0)
    primed = f"we prime the new trim ({_coats(primer)})" if primer else "the new trim comes primed"
    first = f"{_coats(primer)} of primer and " if primer else ""
    return {
        FinishOrder.NONE: "others finish the new trim",
        FinishOrder.PRIME: f"{primed} and others put on the finish coats",
        FinishOrder.PAINT: f"we paint the new trim ({first}{_coats(coats)} of paint)",
        FinishOrder.STAIN: f"we stain or varnish the new trim ({_coats(coats)})",
    }[finish]


def _coats(number: int) -> str:
    return f"{number} coat" if number == 1 else f"{number} coats"


def spare_boards(work: Work) -> Assumption:
    """Spare stock is what the firm sets it to be."""
    share = work.settings.spare_stock_share
    if not share:
        return _said("Spare boards", "none are included; boards are bought by the cut list")
    return _said(
        "Spare boards",
        f"spare stock of {(share * 100).normalize():f}% of the boards is included",
        "list:firm/spare_stock_share",
    )


def furniture(work: Work) -> Assumption:
    """Covering floors and masking edges are what is bought for them; moving furniture is never included."""
    lived_in = (
        "; the house is lived in, so the rooms worked in stay empty meanwhile" if work.survey.job.occupied else ""
    )
    masking = "is included" if work.has_supply(MASKING_TAPE) else "is not included"
    return _said(
        "Furniture and protection",
        f"{_floors_covered(work)}, masking edges {masking}; moving furniture is not included: walls are cleared before "
        f"we come{lived_in}",
    )


def _floors_covered(work: Work) -> str:
    if work.has_supply(FLOOR_COVERING):
        return "covering the floor along the walls worked at is included"
    if work.has_task("set-up"):
        return "covering floors with our own cloths is included"
    return "covering floors is not included"


def out_of_level(work: Work) -> Assumption:
    """Ceilings, walls and floors are taken as straight as trim can follow."""
    edge = "ceiling" if any(run.position not in NEAR_FLOOR for run in work.runs) else "floor"
    return _said(
        "Out-of-level ceilings and scribing", f"the trim follows the {edge} and the walls as they are and caulk "
        "closes small gaps; scribing, shimming and floating to hide larger ones is not included",
    )  # fmt: skip


def ends_at_casings(work: Work) -> Assumption:
    """Where trim meets a door or a window it ends at its casing; new casing takes the jambs as they are set."""
    if not any(run.position is Position.CASING for run in work.runs):
        return _said("Ends at casings", "trim that meets a door or window ends square against the casing that stands")
    bare = any(not opening.casing and opening.kind in CASED for room in work.survey.rooms for opening in room.openings)
    casing = "the new casing, or the casing that stands where none is ordered" if bare else "the new casing"
    return _said(
        "Ends at casings", f"trim that meets a door or window ends square against {casing}; jambs are taken as set, "
        "square and flush with the wall, and jamb extensions, planing and new doors are not included",
    )  # fmt: skip


def in_the_way(work: Work) -> Assumption:
    """Doors, plates and registers stay."""
    low = any(run.position in NEAR_FLOOR for run in work.runs)
    cut = "; trimming doors that would rub on new base or shoe is not" if low else ""
    return _said(
        "Doors, plates and registers", "outlet and switch plates are taken off and put back by others; moving boxes, "
        f"registers or thermostats is not included{cut}",
    )  # fmt: skip


def ceiling_features(work: Work) -> Assumption | None:
    """What is hung and taken down, and who supplies it; nothing where the ceilings carry nothing."""
    fittings = work.materials.features
    if not fittings:
        return None
    down = [fitting for fitting in fittings if fitting.feature.remove_existing]
    others = [fitting for fitting in fittings if fitting.item is None]
    parts = [f"hanging {_in_rooms(fittings, work)} is included"]
    parts += [f"so is taking down {_in_rooms(down, work, 'the old')}, left at the house"] if down else []
    parts += [f"supplied by others: {_in_rooms(others, work)}"] if others else []
    return _said("On the ceiling", "; ".join(parts))


def _in_rooms(fittings: Iterable[FeatureFitting], work: Work, article: str = "the") -> str:
    """`the medallion and the fan (Den) and the light (Hall)`."""
    rooms: dict[str, list[str]] = {}
    for fitting in fittings:
        name = work.survey.rooms[fitting.room - 1].name
        rooms.setdefault(name, []).append(f"{article} {fitting.feature.feature}")
    return listed([f"{listed(once(kinds))} ({name})" for name, kinds in rooms.items()])


def electrician(work: Work) -> Assumption:
    """Wiring and permits are other people's trade; a fan or light goes on the box and the wires that are there."""
    hung = work.rooms_with(FeatureKind.FAN, FeatureKind.LIGHT)
    box = (
        f"; the box in {listed(hung)} is taken to be sound and rated for its load, with its wires and switch in order; "
        "where the law asks for a licensed electrician to disconnect or connect, that visit is extra"
        if hung
        else ""
    )
    return _said("Electrician and permits", f"wiring, new boxes and permits are not included{box}")


def return_visit(work: Work) -> Assumption:
    """A visit after the adhesive has cured is none of the trips priced."""
    glued = any(row.adhesive_length or row.dabs or row.cross_nailed for row in work.materials.fastening)
    wait = "adhesive cures before props come down and the trim is loaded; " if glued else ""
    return _said(
        "Return visit after cure", f"{wait}the price holds the trips of the working days only, and a later visit "
        "is extra",
    )  # fmt: skip


def seasonal_gaps(work: Work) -> Assumption:
    """Wood moves with the season."""
    del work
    return _said(
        "Seasonal gaps", "wood shrinks and swells with the season; hairline gaps at joints and caulked edges are no "
        "fault of the work, and closing them later is not included",
    )  # fmt: skip


def _said(topic: str, text: str, basis: str = "") -> Assumption:
    return Assumption(f"{topic}: {text}.", basis)


def _in_words(rooms: tuple[str, ...], work: Work) -> str:
    return "every room" if set(rooms) == {room.name for room in work.survey.rooms} else listed(rooms)


TOPICS: tuple[Callable[[Work], Assumption | None], ...] = (
    tear_out, wall_repair, painting, spare_boards, furniture, out_of_level, ends_at_casings, in_the_way,
    ceiling_features, electrician, return_visit, seasonal_gaps,
)  # fmt: skip
LEAVE_OUT = frozenset(TOPICS) - {spare_boards, ends_at_casings, ceiling_features, seasonal_gaps}
