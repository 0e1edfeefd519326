"""The declarations as JSON Schema, for the description of the service (OpenAPI 3.1)."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin

from schemas.actuals import ActualsRequestSchema, ActualsSchema
from schemas.cut_plan import CutRequestSchema
from schemas.cut_plan_answer import CutPlanSchema
from schemas.explain import StorySchema
from schemas.price_tabs import PriceListSchema
from schemas.problem import ProblemBodySchema
from schemas.production_rates import AcceptedRatesSchema, ProductionRatesSchema, RateAcceptanceSchema
from schemas.quote import QuoteSchema
from schemas.room_sheet import JobDocumentSchema

if TYPE_CHECKING:
    from marshmallow import Schema

PUBLISHED: dict[str, type[Schema]] = {
    "JobDocument": JobDocumentSchema,
    "PriceList": PriceListSchema,
    "Quote": QuoteSchema,
    "CutRequest": CutRequestSchema,
    "CutPlan": CutPlanSchema,
    "ActualsRequest": ActualsRequestSchema,
    "Actuals": ActualsSchema,
    "ProductionRates": ProductionRatesSchema,
    "RateAcceptance": RateAcceptanceSchema,
    "AcceptedRates": AcceptedRatesSchema,
    "Story": StorySchema,
    "ProblemBody": ProblemBodySchema,
}


def published_schemas() -> dict[str, Any]:
    """Every request and answer by name, with the objects they are made of, as `components.schemas` holds them."""
    spec = APISpec(
        title="schemas", version="1", openapi_version="3.1.0", plugins=[MarshmallowPlugin(schema_name_resolver=_name)]
    )
    for name, schema in PUBLISHED.items():
        spec.components.schema(name, schema=schema)
    return cast("dict[str, Any]", spec.to_dict()["components"]["schemas"])


def _name(schema: object) -> str:
    kind = schema if isinstance(schema, type) else type(schema)
    return kind.__name__.removesuffix("Schema")
