"""From wages and materials to the customer's total."""

from service.estimate.price.model import Line, LineKind, Priced, ScheduledPayment, Totals
from service.estimate.price.pricing import priced

__all__ = ["Line", "LineKind", "Priced", "ScheduledPayment", "Totals", "priced"]
