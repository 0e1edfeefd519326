"""What holds one run: nails chosen, blocks, beads, area, put together from the rules."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import EACH, SQUARE_FOOT, Figure, added, counted, less, times
from service.estimate.materials.blocks import block_legs, blocks_behind
from service.estimate.materials.geometry import in_feet
from service.estimate.materials.glue import bead_length, caulked_length, dab_count
from service.estimate.materials.model import FasteningFigures, RunFastening
from service.estimate.materials.nails import Into, NailUse, chosen_nail
from service.estimate.materials.overhead import checked_overhead
from service.estimate.materials.places import Place, nail_groups
from service.estimate.materials.surface import Coats, coated_area, coats_of
from service.firm import Position
from service.problems import Code
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.materials.nails import NailGroup
    from service.estimate.materials.workbench import Workbench
    from service.estimate.takeoff.model import Run
    from service.firm import Supply
    from service.survey import Room


@dataclass(frozen=True, slots=True)
class Fastened:
    """One run with the nails chosen for it and what it is glued and sealed with, as this stage's own modules need it.

    `title`: the run in words; `beads` length of all adhesive beads; `dabs` of adhesive; `caulked` length of all edges.
    """

    run: Run
    title: str
    uses: tuple[NailUse, ...]
    beads: Figure
    dabs: Figure
    caulked: Figure
    fastening: RunFastening

    @property
    def figures(self) -> FasteningFigures:
        """How its counts and sizes were worked out."""
        return self.fastening.figures


def fastened(run: Run, room: Room, bench: Workbench) -> Fastened:
    """All that holds, seals and coats one run."""
    place = placed_run(run, room, bench)
    uses = _nails(place, bench)
    coats = coats_of(run, bench.price_list.settings.default_finish, bench.rules.finish)
    beads = bead_length(run, bench.rules.nails.unbacked_limit)
    dabs = dab_count(run, place.blocks, bench.rules.glue.dab_spacing)
    caulked = caulked_length(run, place.title)
    area = coated_area(run, place.title)
    figures = _figures(place, uses, coats, caulked, area, bench)
    held = RunFastening(
        run=run.number,
        nails=_nails_by_code(uses),
        cross_nailed=sum(use.group.count for use in uses if use.group.into is Into.GYPSUM),
        blocks=place.blocks.number,
        glue_plates=figures.glue_plates.number if figures.glue_plates else 0,
        adhesive_length=beads.length,
        caulked_length=caulked.length,
        painted_area_sqft=area.value if coats.top else Fraction(0),
        primed_area_sqft=area.value if coats.primer else Fraction(0),
        coats=coats.top.number if coats.top else 0,
        hidden_nails=sum(use.group.count for use in uses if use.group.is_hidden),
        dabs=dabs.number,
        primer_coats=coats.primer.number if coats.primer else 0,
        finish=coats.finish,
        block_legs=place.block_legs if place.blocks.value else None,
        holding_factor=checked_overhead(place, uses, bench),
        worked=figures,
    )
    return Fastened(run, place.title, uses, beads, dabs, caulked, held)


def placed_run(run: Run, room: Room, bench: Workbench) -> Place:
    """The run with its splices and blocks counted; blocks that do not fit behind the crown are a fault."""
    title, splices = run.title, bench.splices.get(run.number, ())
    scarfs = counted("scarfs", [splice.at for splice in splices])
    if not (run.position is Position.CROWN and run.layer.has_blocks):
        return Place(run, room, title, scarfs)
    legs = block_legs(run.profile, bench.rules.blocks.clearance)
    if min(legs) <= ZERO:
        bench.problems.error(
            Code.ASSEMBLY_DOES_NOT_FIT, run.trim_pointer,
            f"Behind {run.profile.name} there is no room for blocks.",
            help="Set Blocks to no on the price list's Assemblies tab, or take a larger crown.", found=run.assembly,
        )  # fmt: skip
    blocks = blocks_behind(run, bench.pieces.get(run.number, ()), splices, bench.rules.blocks, title)
    return Place(run, room, title, scarfs, blocks, legs)


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


def _nails_by_code(uses: Sequence[NailUse]) -> dict[str, int]:
    nails: Counter[str] = Counter()
    for use in uses:
        nails[use.nail.code] += use.group.count
    return dict(nails)


def _figures(
    place: Place, uses: Sequence[NailUse], coats: Coats, caulked: Figure, area: Figure, bench: Workbench
) -> FasteningFigures:
    """What labor is counted from."""
    title, nails = place.title, _nails_told(place, uses)
    plates = [splice.at for splice in bench.splices.get(place.run.number, ()) if splice.on_glue_plate]
    return FasteningFigures(
        blocks=place.blocks if place.blocks.value else None,
        glue_plates=counted(f"scarfs on a glue plate, {title}", plates) if plates else None,
        nails=nails,
        caulked_ft=in_feet(f"edges to caulk, {title}", caulked) if caulked.value else None,
        holes=_holes(nails, uses, title),
        sanded_sqft=area if coats.primer or coats.top else None,
        primed_sqft=_coated(area, coats.primer, f"primer on the {title}"),
        painted_sqft=_coated(area, coats.top, f"{coats.finish} on the {title}"),
    )


def _nails_told(place: Place, uses: Sequence[NailUse]) -> Figure | None:
    groups = [use.group.figure for use in uses]
    return added(place.named("all nails"), EACH, *groups) if groups else None


def _holes(nails: Figure | None, uses: Sequence[NailUse], title: str) -> Figure | None:
    """Holes to fill: every nail's but those that something covers later."""
    hidden = [use.group.figure for use in uses if use.group.is_hidden]
    if nails is None or not hidden:
        return nails
    holes = less(f"holes to fill, {title}", EACH, nails, *hidden)
    return holes if holes.value else None


def _coated(area: Figure, coats: Figure | None, what: str) -> Figure | None:
    return times(what, SQUARE_FOOT, area, coats) if coats else None
