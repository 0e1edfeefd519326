"""Rooms: geometry from measured walls and corners."""

from service.estimate.rooms.model import Closure, RoomRules, RoomShape
from service.estimate.rooms.shape import shaped_rooms

__all__ = ["Closure", "RoomRules", "RoomShape", "shaped_rooms"]
