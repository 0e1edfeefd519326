"""The firm of a new data folder, and keys for those who work with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.jobs.desk import Refused
from service.jobs.price_lists import STANDARD, price_list_of
from service.storage.firms import StoredFirm, firm_added, first_firm
from service.storage.keys import Key, Role, key_created, key_of_token, live_key
from service.storage.price_lists import PriceListDraft, price_list_kept

if TYPE_CHECKING:
    from service.jobs.desk import Desk
    from service.jobs.reading import Source


def firm_founded(desk: Desk, sample_list: Source) -> StoredFirm | Refused:
    """The folder's firm; in a new folder it is made, with a sample list as its price list `standard`."""
    firm = own_firm(desk)
    if firm is not None:
        return firm
    checked = price_list_of(sample_list, STANDARD)
    if isinstance(checked, Refused):
        return checked
    with desk.database.writing() as connection:
        firm = first_firm(connection)  # another starter may have been faster
        if firm is None:
            firm = StoredFirm(desk.new_id(), checked.price_list.settings.name)
            firm_added(connection, firm, desk.now())
            draft = PriceListDraft(STANDARD, checked.document, checked.workbook)
            price_list_kept(connection, firm.id, draft, desk.now())
        return firm


def own_firm(desk: Desk) -> StoredFirm | None:
    """The firm of the data folder, None in an empty one."""
    with desk.database.reading() as connection:
        return first_firm(connection)


def key_made(desk: Desk, firm_id: str, role: Role) -> str:
    """Token of a new key; it cannot be read again."""
    with desk.database.writing() as connection:
        return key_created(connection, firm_id, role, desk.pepper, desk.now())


def key_opened(desk: Desk, token: str) -> Key | None:
    """The live key that a token belongs to, or None."""
    with desk.database.reading() as connection:
        return key_of_token(connection, token, desk.pepper)


def key_still_live(desk: Desk, prefix: str) -> Key | None:
    """The live key with a prefix that a signed cookie vouches for, or None."""
    with desk.database.reading() as connection:
        return live_key(connection, prefix)
