"""Blank workbooks to fill in."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from service.sheets.template import price_list_template, room_sheet_template

if TYPE_CHECKING:
    from service.units import Units


@cache
def blank_room_sheet(units: Units) -> bytes:
    """A blank room sheet, .xlsx; made once a process."""
    return room_sheet_template(units)


@cache
def blank_price_list() -> bytes:
    """A blank price list, .xlsx; made once a process."""
    return price_list_template()
