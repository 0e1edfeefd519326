"""Rates that were accepted from hours fed back, with the version of the price list that holds them."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from sqlalchemy import insert, select

from service.storage.tables import ACCEPTED_RATES, PRICE_LISTS

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from sqlalchemy import Connection

    from service.storage.price_lists import StoredPriceList


@dataclass(frozen=True, slots=True)
class AcceptedRate:
    """A rate as it was accepted, hours per unit, and when."""

    rate: Decimal
    created_at: datetime


def accepted_rates_kept(
    connection: Connection, firm_id: str, stored: StoredPriceList, rates: Mapping[str, Decimal]
) -> None:
    """Keep which rates of a new version of a firm's price list were accepted, by task."""
    mine = (PRICE_LISTS.c.firm_id == firm_id, PRICE_LISTS.c.name == stored.name)
    list_id = connection.execute(select(PRICE_LISTS.c.id).where(*mine)).scalar_one()
    row = {"price_list_id": list_id, "version": stored.version, "created_at": stored.created_at}
    connection.execute(
        insert(ACCEPTED_RATES), [row | {"task": task, "rate": format(rate, "f")} for task, rate in rates.items()]
    )


def accepted_rates(connection: Connection, firm_id: str, name: str) -> dict[str, AcceptedRate]:
    """The last accepted rate of each task of a firm's price list."""
    query = (
        select(ACCEPTED_RATES.c.task, ACCEPTED_RATES.c.rate, ACCEPTED_RATES.c.created_at)
        .join_from(ACCEPTED_RATES, PRICE_LISTS)
        .where(PRICE_LISTS.c.firm_id == firm_id, PRICE_LISTS.c.name == name)
        .order_by(ACCEPTED_RATES.c.version)
    )
    return {row.task: AcceptedRate(Decimal(row.rate), row.created_at) for row in connection.execute(query)}
