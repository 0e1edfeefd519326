"""Lists whose items are read one by one, every fault told at its own place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeVar, cast

from marshmallow import ValidationError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

Value = TypeVar("Value")


def each_read(items: Sequence[object], read: Callable[[object], Value]) -> tuple[Value | None, ...]:
    """Every item as `read` understands it.

    Args:
        items: as they came.
        read: the value of one item; raises ValidationError for one that is none.

    Raises:
        ValidationError: the faults of all items by their place, with None in place of each.
    """
    found: list[Value | None] = []
    faults: dict[int, Any] = {}
    for place, item in enumerate(items):
        try:
            found.append(read(item))
        except ValidationError as error:
            found.append(None)
            faults[place] = error.messages
    if faults:
        raise ValidationError(cast("Any", faults), valid_data=cast("Any", tuple(found)))
    return tuple(found)
