"""Conditional formats put into a tab's part, before the tab's own ones in rank; ours of an earlier marking go."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from service.sheets.marks.own import RULE_TOKEN
from service.sheets.marks.splicing import Edit, removed, with_attribute
from service.sheets.marks.xml_text import escaped, named

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.sheets.marks.splicing import Element
    from service.sheets.marks.stored import StoredTab

# Order of a worksheet's children (ECMA-376 Part 1, 18.3.1.99 CT_Worksheet).
_AFTER_COLORS = (
    "dataValidations", "hyperlinks", "printOptions", "pageMargins", "pageSetup", "headerFooter", "rowBreaks", "colBreaks",
    "customProperties", "cellWatches", "ignoredErrors", "smartTags", "drawing", "legacyDrawing", "legacyDrawingHF",
    "drawingHF", "picture", "oleObjects", "controls", "webPublishItems", "tableParts", "extLst",
)  # fmt: skip
_TOKEN = RULE_TOKEN.replace(" ", "")
AFTER_NOTES = _AFTER_COLORS[_AFTER_COLORS.index("legacyDrawing") + 1 :]


def place_before(root: Element, followers: Iterable[str]) -> int:
    """Where a new child of the worksheet goes: before the first child that must follow it."""
    names = {root.prefix + name for name in followers}
    first = next((child for child in root.children if _inner_name(child) in names), None)
    return first.start if first else root.closed


def _inner_name(child: Element) -> str:
    """A child's name, seen through a choice between versions (ECMA-376 Part 3, 10.2.1)."""
    if child.local != "AlternateContent":
        return child.name
    return next((inner.name for choice in child.children for inner in choice.children), child.name)


def colors(tab: StoredTab, rules: list[tuple[str, str, int]]) -> list[Edit]:
    """Edits that give cells their colors.

    Args:
        tab: the tab's part.
        rules: address, formula and number of the differential format of each cell.
    """
    edits = [*_without_ours(tab.root), *_ranked_behind(tab, len(rules))]
    if rules:
        place = place_before(tab.root, _AFTER_COLORS)
        xml = "".join(_rule(*rule, rank) for rank, rule in enumerate(rules, start=1))
        edits.append(Edit(place, place, named(xml, tab.root.prefix).encode()))
    return edits


def _rule(address: str, formula: str, dxf: int, rank: int) -> str:
    return (
        f'<~conditionalFormatting sqref="{address}"><~cfRule type="expression" dxfId="{dxf}" priority="{rank}">'
        f"<~formula>{escaped(formula)}</~formula></~cfRule></~conditionalFormatting>"
    )


def is_ours(rule: Element) -> bool:
    """True for a rule of an earlier marking, also after another program wrote it anew."""
    return any(_TOKEN in child.text.replace(" ", "") for child in rule.children)


def _without_ours(root: Element) -> list[Edit]:
    edits = []
    for formats in root.children:
        if formats.name == root.prefix + "conditionalFormatting":
            rules = [child for child in formats.children if child.local == "cfRule"]
            ours = [rule for rule in rules if is_ours(rule)]
            edits += [removed(formats)] if ours and ours == rules else [removed(rule) for rule in ours]
    return edits


def _ranked_behind(tab: StoredTab, count: int) -> list[Edit]:
    """The tab's own rules keep their order and come after ours: where two give a color, the lower number does.

    Source: ECMA-376 Part 1, 18.3.1.10 (cfRule, priority).
    """
    kept = [rule for rule in tab.root.all("cfRule") if _has_rank(rule) and not is_ours(rule)]
    ranks = [int(rule.attributes["priority"]) for rule in kept]
    shift = count + 1 - min(ranks, default=count + 1)
    if shift <= 0 or not count:
        return []
    return [with_attribute(tab.part, rule, "priority", rank + shift) for rule, rank in zip(kept, ranks, strict=True)]


def _has_rank(rule: Element) -> bool:
    return re.fullmatch(r"-?[0-9]{1,9}", rule.attributes.get("priority", "")) is not None
