"""Base of every request schema: strict members, blank members taken as missing, lists of a sane size."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, pre_load

from schemas.faults import Fault, missing, refusal
from schemas.text import cleaned
from service.problems import Code

Row = dict[str, Any]


class StrictSchema(Schema):
    """An object whose unknown members are faults and whose blank ones (null, empty text) count as missing."""

    class Meta:
        """Unknown members are refused."""

        unknown = RAISE

    def __init__(self, **options: Any) -> None:  # noqa: ANN401 - marshmallow's own options
        """Put marshmallow's own messages into the contract's words."""
        super().__init__(**options)
        names = tuple(field.data_key or name for name, field in self.load_fields.items())
        self.error_messages: dict[str, Any] = {
            "type": Fault(Code.DOCUMENT_UNREADABLE, "An object is needed here.", "Write members within braces."),
            "unknown": Fault(Code.MEMBER_UNKNOWN, "There is no such member here.", members=names),
        }

    @pre_load
    def without_blanks(self, data: object, **_: object) -> object:
        """The object without its blank known members."""
        if not isinstance(data, Mapping):
            return data
        known = {field.data_key or name for name, field in self.load_fields.items()}
        return {key: value for key, value in data.items() if not (key in known and _is_blank(value))}


def _is_blank(value: object) -> bool:
    return value is None or (isinstance(value, str) and not cleaned(value))


class One(fields.Nested):
    """An object of its own within an object."""

    def __init__(self, schema: type[StrictSchema], says: str, *, required: bool = False) -> None:
        """Nest one record."""
        super().__init__(schema, required=required, metadata={"description": says})

    def make_error(self, key: str, **kwargs: object) -> ValidationError:
        """Marshmallow's own faults in our words."""
        del key, kwargs
        return missing("Give its members within braces.")

    def _deserialize(self, value: object, attr: str | None, data: Any, partial: Any = None, **kwargs: Any) -> Any:  # noqa: ANN401 - marshmallow's
        if not isinstance(value, Mapping):
            raise refusal(Code.DOCUMENT_UNREADABLE, "An object is needed here.", "Write members within braces.", value)
        return super()._deserialize(value, attr, data, partial, **kwargs)


class Rows(fields.Nested):
    """The rows of one tab: a list of objects, at most `most` of them."""

    def __init__(self, schema: type[StrictSchema], says: str, *, most: int, required: bool = False) -> None:
        """Nest a list of records; a required one has at least one row."""
        super().__init__(schema, many=True, required=required, metadata={"description": f"{says} At most {most}."})
        self.most = most

    def make_error(self, key: str, **kwargs: object) -> ValidationError:
        """Marshmallow's own faults in our words."""
        del key, kwargs
        return missing("Give at least one row.")

    def _deserialize(self, value: object, attr: str | None, data: Any, partial: Any = None, **kwargs: Any) -> Any:  # noqa: ANN401 - marshmallow's
        if isinstance(value, str) or not isinstance(value, Sequence):
            raise refusal(Code.DOCUMENT_UNREADABLE, "A list is needed here.", "Write rows within brackets.", value)
        if not value and self.required:
            raise self.make_error("required")
        if len(value) > self.most:
            raise refusal(Code.NUMBER_OUT_OF_RANGE, f"There are {len(value)} rows.", f"Give at most {self.most}.")
        return super()._deserialize(value, attr, data, partial, **kwargs)


def rows(record: Mapping[str, Any], member: str) -> list[Row]:
    """Rows of a loaded list member; none where it was refused or left out."""
    return list(record.get(member) or ())
