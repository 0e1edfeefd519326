"""Hours by task, with the conditions that make them longer."""

from service.estimate.labor.model import Factor, Labor, LaborRow
from service.estimate.labor.working import joint_cost, worked

__all__ = ["Factor", "Labor", "LaborRow", "joint_cost", "worked"]
