"""A quote as files, without a data folder: what the command line writes."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from schemas.quote import quote_document
from service.documents import field_sheet_pdf, quote_pdf
from service.jobs.desk import Refused
from service.jobs.estimating import estimate_of, understood
from service.jobs.price_lists import price_list_of
from service.jobs.reading import sheet_reading

if TYPE_CHECKING:
    from datetime import datetime

    from service.jobs.reading import Source


def quote_files(
    sheet: Source, price_list: Source, list_name: str, quote_id: str, now: datetime
) -> dict[str, bytes] | Refused:
    """Files of a draft quote without a number, by name; or every fault of the price list, else of the sheet.

    Args:
        sheet: the filled room sheet.
        price_list: the price list to quote with, whatever the sheet names; `list_name` is what the quote calls it.
        quote_id: id of the quote.
        now: moment it is made.
    """
    checked = price_list_of(price_list, list_name)
    if isinstance(checked, Refused):
        return checked
    quote = estimate_of(understood(sheet_reading(sheet)), checked.price_list, quote_id, now)
    if isinstance(quote, Refused):
        return quote
    text = json.dumps(quote_document(quote, office=True), ensure_ascii=False, indent=2) + "\n"
    return {"quote.json": text.encode(), "quote.pdf": quote_pdf(quote), "field-sheet.pdf": field_sheet_pdf(quote)}
