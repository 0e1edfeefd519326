"""Hours fed back from jobs, and what they say about a firm's production rates.

One job is one observation of a task. A quote's hours are quantity × rate × the factors of the conditions in force, so
actual over planned hours is free of quantity and conditions alike: times the rate that the quote was priced with, it is
the hours per unit that the job really took under plain conditions. Compared are the logarithms of these, for a job that
takes twice as long and one that takes half are equally far off.

Everything is worked out in decimals, so that the same jobs propose the same rate on every machine.
"""

from service.estimate.calibration.booked import (
    BookedTask,
    Observation,
    PlannedTask,
    TaskHours,
    beside,
    by_task,
    is_slip,
    is_unlike_plan,
    most_hours,
    observed,
)
from service.estimate.calibration.rates import (
    Comparison,
    Interval,
    Outcome,
    chance_of,
    compared,
    jobs_weight,
    narrowest_rank,
    proposed_rate,
    spread,
)
from service.estimate.calibration.rules import BookingRules, CalibrationRules, to_figures

__all__ = [
    "BookedTask",
    "BookingRules",
    "CalibrationRules",
    "Comparison",
    "Interval",
    "Observation",
    "Outcome",
    "PlannedTask",
    "TaskHours",
    "beside",
    "by_task",
    "chance_of",
    "compared",
    "is_slip",
    "is_unlike_plan",
    "jobs_weight",
    "most_hours",
    "narrowest_rank",
    "observed",
    "proposed_rate",
    "spread",
    "to_figures",
]
