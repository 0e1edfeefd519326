"""The API: everything under /v1, described by OpenAPI."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from service.web.api.actuals import actuals
from service.web.api.cut_plans import cut_plans
from service.web.api.explain import explain
from service.web.api.operations import described_api
from service.web.api.price_lists import price_lists
from service.web.api.production_rates import production_rates
from service.web.api.quotes import quotes
from service.web.api.sheets import sheets
from service.web.api.trade_book import trade_book

if TYPE_CHECKING:
    from flask import Flask


def serving_api(app: Flask) -> dict[str, Any]:
    """Serve every operation on an app; answers with the OpenAPI document."""
    return described_api(app, (sheets, quotes, explain, actuals, price_lists, production_rates, cut_plans, trade_book))
