"""Tab Conditions: what From and To may hold depends on the condition."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marshmallow import ValidationError

from schemas.faults import not_in_list, problems_of
from schemas.fields.lengths import length_of
from schemas.text import folded, shown
from service.firm import ConditionKind, Position
from service.nearest import nearest
from service.problems import Code
from service.survey import Access
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from schemas.records import Row
    from service.problems import Problems

ALL = "all"


def labels_of(kind: ConditionKind) -> dict[str, str]:
    """Words that a condition may hold for, by folded spelling."""
    words = {ConditionKind.OCCUPIED: ("yes", "no"), ConditionKind.ACCESS: tuple(Access)}.get(kind, ())
    return {folded(word): str(word) for word in words}


def check_condition(place: str, condition: Row, problems: Problems) -> None:
    """Every fault of one condition that needs more than one member."""
    _check_applies_to(place, condition, problems)
    kind = condition.get("kind")
    if kind is ConditionKind.CEILING_HEIGHT:
        _check_band(place, condition, problems)
    elif kind is not None:
        _check_label(place, condition, kind, problems)


def _check_applies_to(place: str, condition: Row, problems: Problems) -> None:
    known = (ALL, *Position, *TASKS)
    for word in condition.get("applies_to", ()):
        if folded(word) not in known:
            near = nearest(word, known)
            problems.error(
                Code.VALUE_NOT_IN_LIST, f"{place}/applies_to", "It is neither `all` nor a position nor a task.",
                help=f"Did you mean “{near}”?" if near else "Type all, or positions and task keys with ; between them.",
                found=shown(word),
            )  # fmt: skip


def _check_band(place: str, condition: Row, problems: Problems) -> None:
    bounds = {}
    for member, key in (("low", "from"), ("high", "to")):
        if member in condition:
            try:
                bounds[member] = length_of(condition[member])
            except ValidationError as error:
                problems.extend(problems_of(error, f"{place}/{key}"))
                return
    if not bounds:
        problems.error(
            Code.VALUE_MISSING, f"{place}/from", "A ceiling height condition needs From, To or both.",
            help="Type a height such as 9' or 108.",
        )  # fmt: skip
    elif len(bounds) == 2 and bounds["low"] >= bounds["high"]:  # noqa: PLR2004 - both ends
        problems.error(
            Code.VALUES_CONTRADICT, f"{place}/to", "To is not above From.", help="Type a greater height.",
            found=shown(condition["high"]),
        )  # fmt: skip


def _check_label(place: str, condition: Row, kind: ConditionKind, problems: Problems) -> None:
    labels = labels_of(kind)
    if "low" not in condition and kind is ConditionKind.ACCESS:
        problems.error(
            Code.VALUE_MISSING, f"{place}/from", "An access condition needs the access it holds for.",
            help=f"Type one of: {', '.join(labels.values())}.",
        )  # fmt: skip
    elif "low" in condition and folded(condition["low"]) not in labels:
        problems.extend(problems_of(not_in_list(condition["low"], tuple(labels.values())), f"{place}/from"))
    if "high" in condition:
        problems.error(
            Code.VALUES_CONTRADICT, f"{place}/to", "Only a ceiling height has a To.", help="Leave it blank.",
            found=shown(condition["high"]),
        )  # fmt: skip
