"""How much is painted, primed or stained, and in how many coats."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.firm import FinishState
from service.survey import FinishOrder

if TYPE_CHECKING:
    from fractions import Fraction

    from service.estimate.materials.rules import FinishRules
    from service.estimate.takeoff.model import Run
    from service.firm import Profile
    from service.units import Length

SQUARE_INCHES_IN_FOOT = 144


@dataclass(frozen=True, slots=True)
class Coats:
    """Finish of one run: which, and how many coats of primer and of paint or stain."""

    finish: FinishOrder
    primer: int = 0
    top: int = 0


def girth(profile: Profile) -> Length:
    """Painted width around a profile: as the list gives it, else width + 2 × thickness. [Length]

    Source: common practice.
    """
    return profile.girth if profile.girth is not None else profile.width + profile.thickness * 2


def coated_area_sqft(run: Run) -> Fraction:
    """Area of one coat on a run: girth × length. [sq ft]"""
    return girth(run.profile).inches * run.length.inches / SQUARE_INCHES_IN_FOOT


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
    is_primed = run.profile.finish is FinishState.PRIMED
    primer = 0 if is_primed else rules.primer_coats
    if finish is FinishOrder.PRIME:
        return Coats(finish, primer=0 if is_primed else run.coats or rules.primer_coats)
    if finish is FinishOrder.PAINT:
        return Coats(finish, primer, run.coats or rules.paint_coats)
    if finish is FinishOrder.STAIN:
        return Coats(finish, top=run.coats or rules.stain_coats)
    return Coats(FinishOrder.NONE)
