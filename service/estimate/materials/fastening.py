"""What holds one run: nails chosen, blocks, beads, area, put together from the rules."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.materials.blocks import block_legs, block_positions
from service.estimate.materials.counts import unbacked_stretches
from service.estimate.materials.glue import bead_length, caulked_length, dab_count
from service.estimate.materials.holding import holding_factor, hung_weight_lb_per_ft
from service.estimate.materials.model import RunFastening
from service.estimate.materials.nails import Into, NailUse, chosen_nail, nails_listed
from service.estimate.materials.places import Place, nail_groups
from service.estimate.materials.surface import Coats, coated_area_sqft, coats_of
from service.firm import Position
from service.problems import Code
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from fractions import Fraction

    from service.estimate.cuts.model import CutPlan, Piece, Splice
    from service.estimate.materials.nails import NailGroup
    from service.estimate.materials.rules import Rules
    from service.estimate.takeoff.model import Run
    from service.firm import PriceList, Supply
    from service.problems import Problems
    from service.survey import Room


@dataclass(frozen=True, slots=True)
class Fastened:
    """One run with the nails chosen for it, as this stage's own modules need it."""

    run: Run
    uses: tuple[NailUse, ...]
    fastening: RunFastening


Spot = tuple[int, str, str]


@dataclass(frozen=True, slots=True)
class Workbench:
    """What every run's fastening is worked out with.

    Attributes:
        pieces, splices: by number of their run.
        nails: of the price list, shortest first, by what they go into.
        hanging: crowns under a ceiling layer, by room, wall and assembly.
    """

    pieces: Mapping[int, Sequence[Piece]]
    splices: Mapping[int, Sequence[Splice]]
    hanging: Mapping[Spot, Sequence[Run]]
    nails: Mapping[Into, Sequence[Supply]]
    price_list: PriceList
    rules: Rules
    problems: Problems

    @classmethod
    def of(
        cls, runs: Iterable[Run], plan: CutPlan, price_list: PriceList, rules: Rules, problems: Problems
    ) -> Workbench:
        """Sort pieces, splices and crowns once, so that no run searches them all."""
        pieces: dict[int, list[Piece]] = defaultdict(list)
        splices: dict[int, list[Splice]] = defaultdict(list)
        hanging: dict[Spot, list[Run]] = defaultdict(list)
        for piece in plan.pieces:
            pieces[piece.run].append(piece)
        for splice in plan.splices:
            splices[splice.run].append(splice)
        for run in runs:
            if run.position is Position.CROWN and run.under_ceiling_layer:
                hanging[spot_of(run)].append(run)
        nails = {into: nails_listed(price_list.supplies.values(), into) for into in Into}
        return cls(dict(pieces), dict(splices), dict(hanging), nails, price_list, rules, problems)

    def text(self, length: Length) -> str:
        """A length for people, in the firm's units."""
        return length.text(self.price_list.settings.units)


def spot_of(run: Run) -> Spot:
    """Room, wall and assembly of a run: what stands together."""
    return run.room, run.wall, run.assembly


def fastened(run: Run, room: Room, bench: Workbench) -> Fastened:
    """All that holds, seals and coats one run."""
    place = placed_run(run, room, bench)
    uses = _nails(place, bench)
    coats = coats_of(run, bench.price_list.settings.default_finish, bench.rules.finish)
    return Fastened(run, uses, _summed_up(place, uses, coats, bench))


def placed_run(run: Run, room: Room, bench: Workbench) -> Place:
    """The run with its splices and blocks counted; blocks that do not fit behind the crown are a fault."""
    splices = bench.splices.get(run.number, ())
    if not (run.position is Position.CROWN and run.layer.has_blocks):
        return Place(run, room, len(splices))
    legs = block_legs(run.profile, bench.rules.blocks.clearance)
    if min(legs) <= ZERO:
        bench.problems.error(
            Code.ASSEMBLY_DOES_NOT_FIT, run.trim_pointer,
            f"Behind {run.profile.name} there is no room for blocks.",
            help="Set Blocks to no on the price list's Assemblies tab, or take a larger crown.", found=run.assembly,
        )  # fmt: skip
    blocks = block_positions(run, bench.pieces.get(run.number, ()), splices, bench.rules.blocks)
    return Place(run, room, len(splices), len(blocks), legs)


def _nails(place: Place, bench: Workbench) -> tuple[NailUse, ...]:
    named = bench.price_list.supplies.get(place.run.layer.nail or "")
    uses = []
    for group in nail_groups(place, bench.rules.nails):
        own = named if group.is_own else None
        nails = (own,) if own else bench.nails[group.into]
        nail = chosen_nail(nails, group.passes, bench.rules.nails)
        if nail is None:
            _tell_none(place.run, group, own, bench)
        else:
            uses.append(NailUse(group, nail))
            _tell_reach(place.run, uses[-1], bench)
    return tuple(uses)


def _tell_none(run: Run, group: NailGroup, named: Supply | None, bench: Workbench) -> None:
    least = bench.text(group.passes + bench.rules.nails.penetration_least)
    which = f"The nail {named.code}, set for this layer," if named else "No nail on the price list"
    verb = "does not reach" if named else "reaches"
    bench.problems.error(
        Code.NO_NAIL_LONG_ENOUGH, run.trim_pointer,
        f"{which} {verb} through {bench.text(group.passes)} and far enough into what must hold "
        f"({run.position}, {group.use}).",
        help=f"Add a nail at least {least} long to the price list's Supplies tab.", found=run.profile.name,
    )  # fmt: skip


def _tell_reach(run: Run, use: NailUse, bench: Workbench) -> None:
    if use.group.into is Into.FRAMING and use.penetration > bench.rules.nails.cable_reach:
        bench.problems.warning(
            Code.NAIL_MAY_REACH_CABLE, run.trim_pointer,
            f"{use.nail.code} goes {bench.text(use.penetration)} into framing ({run.position}, {use.group.use}); "
            "a cable or pipe may be that near.",
            help="Find cables and pipes first, or list a shorter nail that still reaches.", found=use.nail.code,
        )  # fmt: skip


def _summed_up(place: Place, uses: Sequence[NailUse], coats: Coats, bench: Workbench) -> RunFastening:
    run, area = place.run, coated_area_sqft(place.run)
    nails: Counter[str] = Counter()
    for use in uses:
        nails[use.nail.code] += use.group.count
    return RunFastening(
        run=run.number,
        nails=dict(nails),
        cross_nailed=sum(use.group.count for use in uses if use.group.into is Into.GYPSUM),
        blocks=place.blocks,
        glue_plates=sum(splice.on_glue_plate for splice in bench.splices.get(run.number, ())),
        adhesive_length=bead_length(run, bench.rules.nails.unbacked_limit),
        caulked_length=caulked_length(run),
        painted_area_sqft=area if coats.top else area * 0,
        primed_area_sqft=area if coats.primer else area * 0,
        coats=coats.top,
        hidden_nails=sum(use.group.count for use in uses if use.group.is_hidden),
        dabs=dab_count(run, place.blocks, bench.rules.glue.dab_spacing),
        primer_coats=coats.primer,
        finish=coats.finish,
        block_legs=place.block_legs if place.blocks else None,
        holding_factor=_checked_overhead(place, uses, bench),
    )


def _checked_overhead(place: Place, uses: Sequence[NailUse], bench: Workbench) -> float | None:
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
