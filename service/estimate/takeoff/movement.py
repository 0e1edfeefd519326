"""Wood moves across its width with the seasons, and a miter cut across that width opens: how far, and is it worth a word."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.takeoff.model import Joint
from service.problems import Code
from service.units import Length, Units

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from service.estimate.takeoff.model import Run
    from service.problems import Problems
    from service.trade.book import TradeBook

COMPOSITE = frozenset({
    "mdf", "hdf", "fiberboard", "fibreboard", "particleboard", "plywood", "ply", "veneer", "veneered", "wrapped",
    "laminate", "laminated", "polyurethane", "polystyrene", "pvc", "vinyl", "plaster", "composite", "foam",
})  # fmt: skip
SPECIES = {
    "poplar": (frozenset({"poplar"}), frozenset[str]()),
    "red-oak": (frozenset({"red", "oak"}), frozenset[str]()),
    "pine": (frozenset({"pine"}), frozenset({"southern", "yellow", "heart", "longleaf", "loblolly", "slash"})),
    "maple": (frozenset({"maple"}), frozenset({"soft", "red", "silver", "bigleaf"})),
    "cherry": (frozenset({"cherry"}), frozenset({"brazilian"})),
    "walnut": (frozenset({"walnut"}), frozenset({"brazilian"})),
    "douglas-fir": (frozenset({"douglas", "fir"}), frozenset[str]()),
}


@dataclass(frozen=True, slots=True)
class WoodRules:
    """How wood moves (trade book `wood.*`).

    Attributes:
        coefficients: change of width for each point of moisture content, by species. [share/point]
        moisture_range: from the damp to the dry season. [points]
        gap_told: a miter that opens more is told. [Length]
    """

    coefficients: Mapping[str, Fraction]
    moisture_range: Fraction
    gap_told: Length

    @classmethod
    def of(cls, book: TradeBook) -> WoodRules:
        """The rules as the trade book has them."""
        return cls(
            coefficients={name: Fraction(book.value(f"wood.{name}")) for name in SPECIES},
            moisture_range=Fraction(book.value("wood.moisture-range")),
            gap_told=Length.of(book.value("wood.gap-told")),
        )


def width_change(width: Length, coefficient: Fraction, points: Fraction) -> Length:
    """How much wider or narrower a board gets: ΔD = width · C · ΔMC.

    Source: Wood Handbook, dimensional change (public domain); trade book `wood.*`.

    Args:
        width: across the grain, at the moisture it is hung with. [Length]
        coefficient: of the species. [share/point]
        points: change of moisture content. [points]
    """
    return width * (coefficient * points)


def miter_gap(change: Length, miter_deg: float) -> Length:
    """How far a miter opens at one edge when both its boards change their width: 2·ΔD·sin m.

    Flat on a ceiling m = 90 − c/2, so that the gap is 2·ΔD·cos(c/2). A sprung molding is judged in its own
    face, by its miter lying flat; a board on edge is cut across its thickness, m = 0, and grows along the joint.

    Source: plane geometry.

    Args:
        change: of each board's width. [Length]
        miter_deg: of the cut across the width, lying flat. [deg]
    """
    return Length.measured(2 * float(change) * math.sin(math.radians(miter_deg)))


def species_of(material: str) -> str | None:
    """Species that a price list's material names; None where it names none that the trade book has, or a composite.

    Args:
        material: as typed: `primed poplar`, `Red oak`, `MDF`.
    """
    words = set(material.casefold().replace("-", " ").replace(",", " ").split())
    if words & COMPOSITE:
        return None
    named = (name for name, (needed, barred) in SPECIES.items() if needed <= words and not barred & words)
    return next(named, None)


@dataclass(frozen=True, slots=True)
class Movement:
    """What the seasons do to a run: how much each board's width changes, and how far its widest miter then opens."""

    run: Run
    change: Length
    gap: Length


def movement_told(runs: Iterable[Run], rules: WoodRules, units: Units, problems: Problems) -> None:
    """Note each layer of an assembly whose widest miter may open more than is worth a word; it moves no price.

    Nothing is said of a material that is blank, a composite or a species that the trade book has not: how far it
    moves is not known. A coped corner hides its movement and is never told.
    """
    widest: dict[tuple[str, int], Movement] = {}
    for run in runs:
        moved, layer = movement_of(run, rules), (run.assembly, run.layer.number)
        if moved and moved.gap > rules.gap_told and (layer not in widest or moved.gap > widest[layer].gap):
            widest[layer] = moved
    for moved in widest.values():
        _tell(moved, rules, units, problems)


def movement_of(run: Run, rules: WoodRules) -> Movement | None:
    """Seasonal movement of a run of known species at its widest mitered end; None without such an end."""
    species = species_of(run.profile.material)
    miters = [end.miter_deg for end in (run.left, run.right) if end.joint is Joint.MITER and end.miter_deg]
    if species is None or not miters:
        return None
    change = width_change(run.profile.width, rules.coefficients[species], rules.moisture_range)
    return Movement(run, change, miter_gap(change, max(miters)))


def _tell(moved: Movement, rules: WoodRules, units: Units, problems: Problems) -> None:
    run, profile = moved.run, moved.run.profile
    problems.note(
        Code.MITER_MAY_OPEN,
        f"{run.trim_pointer}/{'assembly' if run.is_along_wall else 'casing'}",
        f"Miters of the {run.position} {profile.name} in {run.assembly} may open by {_decimal(moved.gap, units)} from "
        f"season to season: {profile.width.text(units)} of {profile.material} change by {_decimal(moved.change, units)} "
        f"over {float(rules.moisture_range):g} points of moisture.",
        help="Let the wood lie in the heated rooms until it is as dry as they are, glue the miters, and cope inside "
        "corners where the profile allows.",
        found=profile.material,
    )


def _decimal(length: Length, units: Units) -> str:
    return f"{float(length.mm):.1f} mm" if units is Units.METRIC else f"{float(length):.3f} in"
