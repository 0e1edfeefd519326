"""Blank workbooks to fill in."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import TYPE_CHECKING

from service.jobs.desk import Refused
from service.jobs.price_lists import price_list_for
from service.sheets.template import price_list_template, room_sheet_template

if TYPE_CHECKING:
    from service.jobs.desk import Desk
    from service.units import Units


@cache
def blank_room_sheet(units: Units) -> bytes:
    """A blank room sheet, .xlsx; made once a process."""
    return room_sheet_template(units)


def room_sheet_for_list(desk: Desk, firm_id: str, units: Units, wanted_list: str) -> bytes | Refused:
    """A blank room sheet, .xlsx, that names one of the firm's price lists and offers its assemblies in dropdowns."""
    price_list = price_list_for(desk, firm_id, wanted_list, None)
    if isinstance(price_list, Refused):
        return price_list
    return _offering(units, price_list.name, tuple(price_list.assemblies))


@lru_cache(maxsize=16)
def _offering(units: Units, name: str, assemblies: tuple[str, ...]) -> bytes:
    return room_sheet_template(units, name, assemblies)


@cache
def blank_price_list() -> bytes:
    """A blank price list, .xlsx; made once a process."""
    return price_list_template()
