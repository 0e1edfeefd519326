"""Price lists: kept by version, shown, and found for a sheet."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from schemas.price_list import price_list_from
from service.jobs.desk import Refused
from service.jobs.reading import joined, price_list_reading
from service.problems import Code, Problem, Severity
from service.storage.price_lists import (
    PriceListDraft,
    StoredPriceList,
    VersionMark,
    price_list_kept,
    price_list_marks,
    price_list_version,
    version_marks,
)
from service.trade.book import overridden, shipped_book

if TYPE_CHECKING:
    from service.firm import PriceList
    from service.jobs.desk import Desk
    from service.jobs.reading import Source

STANDARD = "standard"
NAME = re.compile(r"[a-z0-9][a-z0-9_.-]{0,63}")


@dataclass(frozen=True, slots=True)
class KeptList:
    """A price list as kept, and what is worth saying about it."""

    stored: StoredPriceList
    remarks: tuple[Problem, ...]


def list_name(text: str) -> str:
    """A price list's name as it is kept: lower case, spaces as hyphens."""
    return "-".join(text.casefold().split())


def price_list_put(desk: Desk, firm_id: str, name: str, source: Source) -> KeptList | Refused:
    """Keep a workbook or document as the newest version of a price list; every fault when it is no price list."""
    checked = price_list_of(source, name)
    if isinstance(checked, Refused):
        return checked
    draft = PriceListDraft(name, checked.document, checked.workbook)
    with desk.database.writing() as connection:
        return KeptList(price_list_kept(connection, firm_id, draft, desk.now()), checked.remarks)


@dataclass(frozen=True, slots=True)
class CheckedList:
    """A price list that holds together: its document, its records and remarks."""

    price_list: PriceList
    document: dict[str, Any]
    workbook: bytes | None
    remarks: tuple[Problem, ...]


def price_list_of(source: Source, name: str) -> CheckedList | Refused:
    """Price list in a workbook or document, not kept anywhere; every fault when it is none."""
    reading = price_list_reading(source)
    price_list: PriceList | None = None
    problems: tuple[Problem, ...] = ()
    if reading.document is not None:
        price_list, problems = price_list_from(reading.document, name=name, version=1)
    found = joined(reading, problems, _strange_values(price_list) if price_list else ())
    if price_list is None or any(problem.is_error for problem in found):
        return Refused(found)
    document: dict[str, Any] = reading.document  # type: ignore[assignment] # the schema has just accepted it
    return CheckedList(price_list, document, reading.workbook, found)


def _strange_values(price_list: PriceList) -> tuple[Problem, ...]:
    """Warnings of the firm's own trade values: outside their range, or of an entry that is none."""
    own = {item.entry: (item.value, item.source) for item in price_list.overrides}
    return overridden(shipped_book(), own)[1]


def price_list_shown(desk: Desk, firm_id: str, name: str, version: int | None = None) -> StoredPriceList | None:
    """One version of a firm's price list, the newest by default; None when there is none."""
    with desk.database.reading() as connection:
        return price_list_version(connection, firm_id, name, version)


def price_list_names(desk: Desk, firm_id: str) -> tuple[VersionMark, ...]:
    """The newest version of each of a firm's price lists."""
    with desk.database.reading() as connection:
        return price_list_marks(connection, firm_id)


def price_list_versions(desk: Desk, firm_id: str, name: str) -> tuple[VersionMark, ...]:
    """All versions of one price list, newest first."""
    with desk.database.reading() as connection:
        return version_marks(connection, firm_id, name)


def price_list_for(desk: Desk, firm_id: str, wanted: str | None, on_sheet: str | None) -> PriceList | Refused:
    """The price list a quote is made with: the caller's wish, else the sheet's, else `standard`."""
    name = list_name(wanted or on_sheet or STANDARD)
    stored = price_list_shown(desk, firm_id, name)
    if stored is None:
        return Refused((_unknown(name),))
    return understood_list(stored.text, stored.name, stored.version)


@lru_cache(maxsize=16)
def understood_list(text: str, name: str, version: int) -> PriceList | Refused:
    """The records of a kept version; read once, since a version never changes."""
    price_list, problems = price_list_from(json.loads(text), name=name, version=version)
    return Refused(problems) if price_list is None else price_list


def _unknown(name: str) -> Problem:
    return Problem(
        Code.PRICE_LIST_UNKNOWN,
        Severity.ERROR,
        "/job/price_list",
        "There is no such price list.",
        f"Upload it first, or leave the cell empty for the price list `{STANDARD}`.",
        name,
    )
