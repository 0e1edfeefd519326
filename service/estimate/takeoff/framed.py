"""The figures behind the members of a casing: the same rules as in `casings`, told step by step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.figures import INCH, Figure, added, given, less, snapped
from service.estimate.takeoff.measured import doubled, gap_edges, opening_size, reveal_of, size, trim_margin
from service.estimate.takeoff.model import Member, RunFigures
from service.estimate.takeoff.openings import foot_of

if TYPE_CHECKING:
    from service.estimate.takeoff.casings import Frame, Reach
    from service.estimate.takeoff.rules import TakeoffRules
    from service.estimate.takeoff.seats import Seat
    from service.firm import Profile
    from service.survey import Opening

_LEGS = frozenset({Member.LEFT_LEG, Member.RIGHT_LEG})


def member_figures(
    opening: Opening, frame: Frame, member: Member, reach: Reach, casing: Profile, block: Figure | None
) -> RunFigures:  # fmt: skip
    """How long and short point of a member follow from the opening, the reveal and the casing's width.

    Args:
        opening: as measured; `frame` as its casing sees it.
        member: which part; `reach` its long and short point.
        casing: profile of the casing.
        block: height of a plinth block, None without one.
    """
    short = _short(opening, frame, member, reach, block)
    widths = _widths_past(frame, member, reach, casing)
    long = added("long point before rounding", INCH, short, widths) if widths else short
    length = snapped(f"{member} of the {opening.kind}", long)
    is_square = reach.long == reach.short
    start = gap_edges(opening, trim_margin(casing, frame.reveal))[0]
    return RunFigures(
        length=length,
        cut_length=length,
        cut_short=length if is_square else snapped(f"short edge of the {member}", short),
        start=start,
        cut_start=start,
    )


def _short(opening: Opening, frame: Frame, member: Member, reach: Reach, block: Figure | None) -> Figure:
    if member in _LEGS:
        return _leg(opening, frame, is_framed=_is_framed(frame, reach), block=block)
    if member in {Member.LEFT_PLINTH, Member.RIGHT_PLINTH} and block is not None:
        return block
    parts = [opening_size(opening, "width"), doubled("two reveals", reveal_of(frame.reveal))]
    return added("jamb to jamb with reveals", INCH, *parts)


def _leg(opening: Opening, frame: Frame, block: Figure | None, *, is_framed: bool) -> Figure:
    """H + r to the floor, a stool or a block; h + 2r in a picture frame."""
    head, reveal = opening_size(opening, "height"), reveal_of(frame.reveal)
    height = less("height of the jamb", INCH, head, opening_size(opening, "sill_height")) if foot_of(opening) else head
    if is_framed:
        return added("jamb with reveals", INCH, height, doubled("two reveals", reveal))
    leg = added("jamb with reveal", INCH, height, reveal)
    return less("leg on its block", INCH, leg, block) if block is not None else leg


def _is_framed(frame: Frame, reach: Reach) -> bool:
    """True for a leg mitered or butted at both ends, whose short edge has two reveals."""
    return reach.short == frame.height + frame.reveal * 2


def _widths_past(frame: Frame, member: Member, reach: Reach, casing: Profile) -> Figure | None:
    """What the long point reaches past the short edge's sizes: a casing width an end, and a stool's horns."""
    inner = frame.width + frame.reveal * 2 if member not in _LEGS else reach.short
    past = reach.long - inner
    if member in {Member.LEFT_PLINTH, Member.RIGHT_PLINTH} or not past:
        return None
    if member in _LEGS and past == frame.casing_width:
        return size(casing, "width")
    both = doubled("two casing widths", size(casing, "width"))
    horn = (past - frame.casing_width * 2) / 2
    if not horn:
        return both
    horns = doubled("two horns", given("horn", horn, INCH, "list:firm/stool_horn"))
    return added("casing widths and horns", INCH, both, horns)


def block_figure(base: Seat | None, rules: TakeoffRules) -> Figure:
    """Height of a plinth block: a little above the base that dies into it, or its own where there is no base."""
    if base is None:
        return given("height of a plinth block", rules.plinth_without_base, INCH, "trade:joints.plinth-without-base")
    more = given("block above the base", rules.plinth_above_base, INCH, "trade:joints.plinth-above-base")
    return added("height of a plinth block", INCH, size(base.profile, "width"), more)
