"""Published keys of labor tasks: what a price list's Labor tab may name, and in which unit each is counted."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Task:
    """One task: key, unit its hours are counted in, what drives it, in words.

    `is_optional`: a price list without a rate for it leaves it out of the price; any other missing rate is a fault.
    """

    key: str
    unit: str
    driver: str
    is_optional: bool = False


TASKS: dict[str, Task] = {
    task.key: task
    for task in (
        Task("set-up", "room", "protection, tools in and out, once a room and visit"),
        Task("layout", "ft", "finding and marking framing, length of wall trimmed"),
        Task("tear-out", "ft", "length of old trim removed"),
        Task("cut-square", "joint", "ends cut square"),
        Task("cut-butt", "joint", "ends butted against another layer"),
        Task("cut-miter", "joint", "ends mitered, each piece's own"),
        Task("cut-cope", "joint", "ends coped, one a coped corner"),
        Task("cut-by-hand", "joint", "ends past the saw's limits, by jig or hand"),
        Task("scarf", "joint", "splices"),
        Task("return", "piece", "returns"),
        Task("hang-ceiling", "ft", "length of ceiling layers"),
        Task("hang-wall", "ft", "length of wall layers"),
        Task("hang-crown", "ft", "length of crown"),
        Task("hang-base", "ft", "length of base"),
        Task("hang-cap", "ft", "length of base cap"),
        Task("hang-shoe", "ft", "length of shoe"),
        Task("hang-rail", "ft", "length of rail"),
        Task("hang-casing", "ft", "length of casing"),
        Task("hang-stool", "ft", "length of stool"),
        Task("hang-apron", "ft", "length of apron"),
        Task("hang-plinth", "piece", "plinth blocks"),
        Task("block", "block", "blocks made and set"),
        Task("glue-plate", "each", "splices on a glue plate"),
        Task("nailing", "hole", "nails driven"),
        Task("caulk", "ft", "length of edges caulked"),
        Task("fill", "hole", "nail holes filled"),
        Task("sand", "sq ft", "area sanded, once"),
        Task("prime", "sq ft", "area primed, once"),
        Task("paint", "sq ft", "area painted, each coat"),
        Task("stain", "sq ft", "area stained or varnished, each coat"),
        Task("medallion-in", "each", "medallions set"),
        Task("medallion-out", "each", "medallions taken down"),
        Task("fan-in", "each", "fans hung"),
        Task("fan-out", "each", "fans taken down"),
        Task("light-in", "each", "lights hung"),
        Task("light-out", "each", "lights taken down"),
        Task("disposal", "ft", "length of old trim hauled away, only where there is a rate for it", is_optional=True),
        Task("clean-up", "room", "once a room"),
        Task("trip", "each", "round trips, one a day of work"),
    )
}
