"""Whether a layer overhead hangs safely: what is told about adhesive, weight and nails."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.materials.counts import unbacked_stretches
from service.estimate.materials.holding import holding_factor, hung_weight_lb_per_ft
from service.estimate.materials.nails import Into
from service.estimate.materials.workbench import spot_of
from service.firm import Position
from service.problems import Code
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from service.estimate.materials.nails import NailUse
    from service.estimate.materials.places import Place
    from service.estimate.materials.workbench import Workbench
    from service.estimate.takeoff.model import Run


def checked_overhead(place: Place, uses: Sequence[NailUse], bench: Workbench) -> float | None:
    """Holding of a ceiling layer where nails hold it, and the doubts where adhesive does."""
    run = place.run
    if run.position is not Position.CEILING:
        return None
    weight = hung_weight_lb_per_ft(run, bench.hanging.get(spot_of(run), ()))
    stretches = unbacked_stretches(run, bench.rules.nails.unbacked_limit)
    loose = sum((span.length for span in stretches), ZERO)
    if loose:
        _tell_overhead(run, loose, weight, bench)
    if weight is None or any(use.nail.shank_diameter is None for use in uses if use.group.into is Into.FRAMING):
        _tell_not_checked(run, bench)
        return None
    factor = holding_factor(uses, weight, run.length - loose, bench.rules.holding)
    if factor is not None:
        _tell_heads(run, bench)
    if factor is not None and factor < 1:
        _tell_low(run, factor, bench)
    return factor


def _tell_overhead(run: Run, loose: Length, weight: Fraction | None, bench: Workbench) -> None:
    limit = bench.rules.holding.overhead_adhesive_lb_per_ft
    where = f"Wall {run.wall} of {run.room_name}: {bench.text(loose)} of the ceiling board {run.profile.name}"
    if weight is not None and weight > limit:
        bench.problems.error(
            Code.OVERHEAD_ON_ADHESIVE_ALONE, run.wall_pointer,
            f"{where} would hang on adhesive alone; with what hangs on it it weighs {float(weight):.2f} lb per foot, "
            f"more than {float(limit):.2f}.",
            help="Set blocking between the joists or let in a nailer, and add the joists to the sheet.",
            found=f"{float(weight):.2f} lb/ft",
        )  # fmt: skip
        return
    bench.problems.warning(
        Code.OVERHEAD_ON_ADHESIVE_ALONE, run.wall_pointer,
        f"{where} has no backing: continuous adhesive holds it, and pairs of nails at opposing angles only until "
        "that has cured. They are not structural.",
        help="Prop it until the adhesive has cured, or set blocking.", found=str(run.position),
    )  # fmt: skip


def _tell_not_checked(run: Run, bench: Workbench) -> None:
    bench.problems.warning(
        Code.HOLDING_NOT_CHECKED, run.trim_pointer,
        f"Whether nails hold {run.profile.name} overhead was not checked: a weight or a nail's diameter is missing.",
        help="Give Weight per foot on the Profiles tab and Shank diameter on the Supplies tab.",
        found=run.profile.name,
    )  # fmt: skip


def _tell_heads(run: Run, bench: Workbench) -> None:
    bench.problems.note(
        Code.HOLDING_NOT_CHECKED,
        run.trim_pointer,
        f"Nails holding {run.profile.name} overhead were checked against withdrawal from wood; whether their heads "
        "pull through the board was not checked.",
        help="Look at it on site, and use larger heads or screws where the board is heavy or soft.",
        found=run.profile.name,
    )


def _tell_low(run: Run, factor: float, bench: Workbench) -> None:
    bench.problems.warning(
        Code.HOLDING_LOW, run.wall_pointer,
        f"Wall {run.wall} of {run.room_name}: nails in wood hold {factor:.2f} times the weight of {run.profile.name} "
        "and what hangs on it.",
        help="Use longer or more nails, or set blocking.", found=f"{factor:.2f}",
    )  # fmt: skip
