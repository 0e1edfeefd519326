"""How the length of each piece follows from its run, its joints and its scarfs."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import DEGREE, EACH, INCH, Figure, Rule, added, given, less, over, snapped

if TYPE_CHECKING:
    from service.estimate.cuts.model import Splice
    from service.estimate.takeoff.model import Run
    from service.units import Length


def half_overlap(run: Run, overlap: Length, scarf_angle_deg: float) -> Figure:
    """What a scarf adds to each of its two pieces: thickness · tan(angle) / 2. [Length]"""
    thickness = given(f"thickness of {run.profile.name}", run.profile.thickness, INCH,
                      f"list:profiles/{run.profile.name}/thickness")  # fmt: skip
    angle = given("scarf angle", Fraction(scarf_angle_deg), DEGREE, "list:firm/scarf_angle")
    whole = Figure("overlap of a scarf", overlap.inches, INCH, Rule.TANGENT, (thickness, angle))
    return over("half of the overlap", INCH, whole, given("two pieces", 2, EACH, "geometry:two-pieces"))


def part_of_run(run: Run, left: Splice | None, right: Splice | None, half: Figure) -> Figure:
    """Long point of a piece between two joints, or between a joint and the run's end; snapped to 1/64 in. [Length]

    Args:
        run: what was spliced.
        left, right: the joints that bound the piece, None at an end of the run.
        half: what a scarf adds to each of its pieces. [Length]
    """
    start = less("piece begins", INCH, _joint(left), half) if left else run.cut_start_figure
    if right:
        end = added("piece ends", INCH, _joint(right), half)
    else:
        end = added("right-hand end of the run", INCH, run.cut_start_figure, run.cut_figure)
    return snapped(f"piece of the {run.title}", less("piece before rounding", INCH, end, start))


def _joint(splice: Splice) -> Figure:
    return given("joint, from the wall's left end", splice.at, INCH, "plan:joints")


def return_figure(run: Run, *, stands_on_layer: bool) -> Figure:
    """Long point of a return: how far the layer stands out from what it dies on, snapped to 1/64 in. [Length]"""
    near, far = run.offset_figures
    depth = less("depth of the return", INCH, far, near) if stands_on_layer else far
    return snapped(f"return of the {run.title}", depth)
