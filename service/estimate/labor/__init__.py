"""Hours by task, with the conditions that make them longer."""

from service.estimate.labor.model import Factor, Labor, LaborPlan, LaborRow
from service.estimate.labor.working import joint_cost, worked

__all__ = ["Factor", "Labor", "LaborPlan", "LaborRow", "joint_cost", "worked"]
