"""Which part of a workbook leads to which: its relationships, and the parts that the reader needs."""

from __future__ import annotations

import posixpath
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.sheets.parts import Watcher, walked
from service.sheets.refusal import unreadable, wrong_type

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.sheets.archive import Package
    from service.sheets.parts import Begin, Tally

_SHOWN = 80


@dataclass(frozen=True, slots=True)
class Link:
    """A relationship of a part: what it is, where it leads, whether outside the file."""

    type: str
    target: str
    is_external: bool

    @property
    def kind(self) -> str:
        """Last word of its type: `worksheet`, `styles` …"""
        return self.type.rpartition("/")[2]


def links_of(package: Package, part: str, tally: Tally) -> dict[str, Link]:
    """Relationships of a part by their identity; of the package itself for ""."""
    folder, name = posixpath.split(part)
    stored = package.named(posixpath.join(folder, "_rels", f"{name}.rels"))
    if stored is None:
        return {}
    return links_in(package.xml[stored], folder, tally)


def links_in(part: bytes, folder: str, tally: Tally) -> dict[str, Link]:
    """Relationships that a part of such lists, targets taken from the given folder."""
    watcher = _Links(folder)
    walked(part, tally, watcher)
    return watcher.found


class _Links(Watcher):
    def __init__(self, folder: str) -> None:
        super().__init__()
        self.folder = folder
        self.found: dict[str, Link] = {}

    def begins(self) -> Mapping[str, Begin]:
        return {"Relationship": self.note}

    def note(self, attributes: dict[str, str]) -> None:
        identity = attributes.get("Id", "")
        if identity in self.found:
            raise unreadable("The workbook names two of its parts alike.", identity[:_SHOWN])
        is_external = attributes.get("TargetMode", "").casefold() == "external"
        target = attributes.get("Target", "")
        self.found[identity] = Link(
            attributes.get("Type", ""), target if is_external else self.whole(target), is_external
        )

    def whole(self, target: str) -> str:
        if target.startswith("/"):
            return posixpath.normpath(target).lstrip("/")
        return posixpath.normpath(posixpath.join(self.folder, target))


def workbook_part(package: Package, links: Mapping[str, Link]) -> str:
    """The part that lists the tabs."""
    target = next((link.target for link in links.values() if link.kind == "officeDocument"), "xl/workbook.xml")
    part = package.named(target)
    if part is None or part not in package.xml:
        raise wrong_type("another kind of Office file" if part is None else "a binary workbook (.xlsb)")
    return part


def only_part(package: Package, links: Mapping[str, Link], kind: str) -> str | None:
    """The one XML part of a kind that a workbook has; None when it has none."""
    parts = {link.target for link in links.values() if link.kind == kind and not link.is_external}
    if len(parts) > 1:
        raise unreadable("The workbook holds two parts of which there can be only one.", kind[:_SHOWN])
    stored = package.named(parts.pop()) if parts else None
    return stored if stored in package.xml else None


def tab_part(package: Package, name: str, link: Link | None) -> str:
    """The part of a tab, which has to be there and inside the file."""
    part = None if link is None or link.is_external else package.named(link.target)
    if part is None or part not in package.xml:
        raise unreadable(f"The workbook lists the tab {name[:_SHOWN]} but doesn't hold it.", name[:_SHOWN])
    return part
