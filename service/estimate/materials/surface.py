"""How much is painted, primed or stained, and in how many coats."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.figures import INCH, Figure, added, given, times
from service.estimate.materials.geometry import BOTH_SIDES, in_square_feet
from service.firm import FinishState
from service.survey import FinishOrder

if TYPE_CHECKING:
    from service.estimate.materials.rules import FinishRules
    from service.estimate.takeoff.model import Run
    from service.firm import Profile


@dataclass(frozen=True, slots=True)
class Coats:
    """Finish of one run: which, and how many coats of primer and of paint or stain; None for none."""

    finish: FinishOrder
    primer: Figure | None = None
    top: Figure | None = None


def girth(profile: Profile) -> Figure:
    """Painted width around a profile: as the list gives it, else width + 2 × thickness. [Length]

    Source: common practice.
    """
    place = f"list:profiles/{profile.name}"
    if profile.girth is not None:
        return given(f"girth of {profile.name}", profile.girth, INCH, f"{place}/girth")
    width = given(f"width of {profile.name}", profile.width, INCH, f"{place}/width")
    thickness = given(f"thickness of {profile.name}", profile.thickness, INCH, f"{place}/thickness")
    edges = times("both edges", INCH, BOTH_SIDES, thickness)
    return added(f"width and both edges of {profile.name}", INCH, width, edges)


def coated_area(run: Run, title: str) -> Figure:
    """Area of one coat on a run: girth × length. [sq ft]"""
    inches = times("girth times length", "sq in", girth(run.profile), run.length_figure)
    return in_square_feet(f"face of the {title}", inches)


def coats_of(run: Run, default: str, rules: FinishRules) -> Coats:
    """Coats on a run: the sheet's finish and number, else the firm's finish and the trade's numbers.

    Stock sold primed gets no primer again; Coats on the sheet counts paint or stain, and primer where
    priming is all that is ordered.

    Source: common practice; trade book `finish.primer-coats`, `paint-coats`, `stain-coats`.

    Args:
        run: with its finish and coats, None where the sheet is silent.
        default: the firm's default finish.
        rules: trade book, coats.
    """
    finish = run.finish if run.finish is not None else FinishOrder(default)
    primer = None if run.profile.finish is FinishState.PRIMED else rules.primer_coats
    ordered = given("coats ordered", run.coats, "coats", f"sheet:{run.trim_pointer}/coats") if run.coats else None
    if finish is FinishOrder.PRIME:
        return Coats(finish, primer=_any(primer and (ordered or primer)))
    if finish is FinishOrder.PAINT:
        return Coats(finish, _any(primer), _any(ordered or rules.paint_coats))
    if finish is FinishOrder.STAIN:
        return Coats(finish, top=_any(ordered or rules.stain_coats))
    return Coats(FinishOrder.NONE)


def _any(coats: Figure | None) -> Figure | None:
    return coats if coats and coats.value else None
