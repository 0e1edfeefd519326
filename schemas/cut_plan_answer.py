"""The answer to a cut-plan request; cost, proof and boards are declared as in a quote."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from marshmallow import Schema, fields

from schemas.cut_plan_fields import DecimalLength
from schemas.fields.answers import ANSWERING, Amount, Answering, Inches, LengthText, Several
from schemas.problem import RecordSchema, said
from schemas.quote import CuttingSchema
from schemas.quote_rooms import ProfileBoardsSchema
from service.estimate.cuts.model import Cutting
from service.estimate.cuts.request import SawnPiece

if TYPE_CHECKING:
    from schemas.cut_plan import CutOrder
    from service.estimate.cuts.request import CutAnswer


class CutJointsSchema(Schema):
    """Where a run is joined."""

    id = fields.String(required=True, metadata=said("The run."))
    joints = fields.List(
        fields.Raw(metadata={**DecimalLength.published, **said("A position of its backing, spelled as there.")}),
        required=True,
        metadata=said("Joints from left to right, from the run's left end; none: it is cut whole."),
    )


class SawnPieceSchema(RecordSchema):
    """One piece to saw."""

    record = SawnPiece
    mark = fields.String(required=True, metadata=said("Unique in the plan; the boards name pieces by it."))
    of = fields.String(required=True, metadata=said("Id of its run or row of pieces."))
    profile = fields.String(required=True, metadata=said("Profile."))
    length_in = Inches("length", "Long point to long point, halves of the overlaps included.")
    length_text = LengthText("length")


class CutPlanSchema(CuttingSchema):
    """A cut plan: what it costs, how far that may be from the least, joints, boards, pieces."""

    class Meta:
        """Members in the contract's order."""

        fields = (
            "currency", "cost", "boards_cost", "joint_cost", "lower_bound", "gap", "gap_amount", "proven", "proof",
            "saving_amount", "groups", "runs", "boards", "pieces",
        )  # fmt: skip

    currency = fields.String(required=True, metadata=said("Currency of every amount, ISO 4217."))
    joint_cost = Amount("All joints together; `joint_cost` of the request is of one.")
    runs = fields.List(
        fields.Nested(CutJointsSchema), required=True, metadata=said("Joints of every run, in the request's order.")
    )
    boards = Several(ProfileBoardsSchema, "Boards, by profile.")
    pieces = Several(SawnPieceSchema, "Every piece to saw.")


def cut_plan_document(answer: CutAnswer, order: CutOrder) -> dict[str, Any]:
    """The plan as the contract's JSON, joints in the spelling of the request's backing.

    Args:
        answer: the plan.
        order: the request it answers.
    """
    members = {
        "currency": answer.currency,
        **{name: getattr(answer.cutting, name) for name in Cutting.__slots__},
        "runs": [
            {"id": run.id, "joints": [order.positions[run.id][joint].spelling for joint in run.joints]}
            for run in answer.runs
        ],
        "boards": answer.boards,
        "pieces": answer.pieces,
    }
    with ANSWERING(Answering(order.units, answer.currency)):
        return cast("dict[str, Any]", CutPlanSchema().dump(members))
