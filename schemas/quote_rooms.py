"""What a quote says of its rooms, declared once for writing and reading."""

from __future__ import annotations

from typing import Any

from marshmallow import fields, post_dump

from schemas.fields.answers import (
    Amount,
    Degrees,
    Figure,
    Gap,
    Inches,
    InchesList,
    LengthText,
    LengthTexts,
    Several,
    Texts,
    answering,
)
from schemas.problem import RecordSchema, said
from service.estimate.cuts.model import Pattern, Piece, ProfileBoards, Purchase, Usage
from service.estimate.quote import model
from service.estimate.quote.offcuts import offcut_label
from service.estimate.takeoff.model import Edge, End, Hand, Joint, Member, Side, Span
from service.firm import Position
from service.survey import BoxRating, CornerKind, FeatureKind, OpeningKind, WindowStyle
from service.units import ZERO


class HandSchema(RecordSchema):
    """How a piece lies on the saw and which way the saw is set; left and right are the operator's, facing the fence."""

    record = Hand
    swing = fields.Enum(
        Side, by_value=True, required=True, allow_none=True, metadata=said("Where the table's handle goes, null at 0°.")
    )
    tilt = fields.Enum(
        Side, by_value=True, required=True, allow_none=True,
        metadata=said(
            "Where the blade's top leans, null at 0°. A saw tilting the other way: the opposite edge against the fence, "
            "the same swing, the piece on the other side of the blade."
        ),
    )  # fmt: skip
    fence_edge = fields.Enum(Edge, by_value=True, required=True, metadata=said("What lies against the fence."))
    up = fields.Enum(Edge, by_value=True, required=True, metadata=said("What looks up."))
    keep = fields.Enum(Side, by_value=True, required=True, metadata=said("Side of the blade on which the piece is."))


class EndSchema(RecordSchema):
    """One end of a run or piece."""

    record = End
    joint = fields.Enum(Joint, by_value=True, required=True, metadata=said("How the end is made."))
    corner = fields.Enum(CornerKind, by_value=True, required=True, allow_none=True, metadata=said("Corner it meets."))
    corner_deg = Degrees("Reading of the angle finder at the corner.")
    miter_deg = Degrees("Swing of the saw table, the piece lying flat.")
    bevel_deg = Degrees("Tilt of the blade, the piece lying flat.")
    nested_miter_deg = Degrees("Swing of the saw table, the piece standing against the fence as it sits on the wall.")
    long_edge = fields.Enum(
        Edge, by_value=True, required=True, allow_none=True, metadata=said("Edge that carries the long point.")
    )
    hand = fields.Nested(
        HandSchema, load_default=None, allow_none=True,
        metadata=said("Hand of the cut, the piece lying flat; null at a square end."),
    )  # fmt: skip
    nested_hand = fields.Nested(
        HandSchema, load_default=None, allow_none=True,
        metadata=said(
            "Hand of the nested cut: a crown upside down, the table as ceiling and the fence as wall; a board on edge."
        ),
    )  # fmt: skip


class PlanPointSchema(RecordSchema):
    """A point in plan, x to the right and y up."""

    record = model.PlanPoint
    x_in = Inches("x", "To the right.")
    y_in = Inches("y", "Up.")


class PlanLineSchema(RecordSchema):
    """A straight line in plan."""

    record = model.PlanLine
    start = fields.Nested(PlanPointSchema, required=True, metadata=said("Where it starts."))
    end = fields.Nested(PlanPointSchema, required=True, metadata=said("Where it ends."))


class ClosureCardSchema(RecordSchema):
    """Whether the measured walls close."""

    record = model.ClosureCard
    closed = fields.Boolean(required=True, metadata=said("Whether the walls close within tolerance."))
    gap_in = Inches("gap", "Gap left after walking the walls.")
    gap_text = LengthText("gap")
    suspects = Texts("Walls and corners that may be to blame, in words.")


class WallCardSchema(RecordSchema):
    """One wall as measured and as drawn; the room lies to the right of the line."""

    record = model.WallCard
    name = fields.String(required=True, metadata=said("Name."))
    length_in = Inches("length", "Face length as measured.")
    length_text = LengthText("length")
    corner = fields.Enum(CornerKind, by_value=True, required=True, metadata=said("What its right-hand end meets."))
    corner_deg = Degrees("Reading of the angle finder there.")
    line = fields.Nested(PlanLineSchema, required=True, metadata=said("As drawn."))
    studs_at_in = InchesList("studs_at", "Stud centers from the left end.")
    studs_at_text = LengthTexts("studs_at")
    notes = fields.String(required=True, metadata=said("Notes."))


class OpeningCardSchema(RecordSchema):
    """An opening as measured."""

    record = model.OpeningCard
    wall = fields.String(required=True, metadata=said("Wall."))
    kind = fields.Enum(OpeningKind, by_value=True, required=True, metadata=said("What it is."))
    from_left_in = Inches("from_left", "From the wall's left end to the left jamb face.")
    from_left_text = LengthText("from_left")
    width_in = Inches("width", "Jamb face to jamb face.")
    width_text = LengthText("width")
    height_in = Inches("height", "Finished floor to head jamb.")
    height_text = LengthText("height")
    sill_height_in = Inches("sill_height", "Finished floor to sill.", allow_none=True)
    sill_height_text = LengthText("sill_height")
    notes = fields.String(required=True, metadata=said("Notes."))
    casing = fields.String(load_default="", metadata=said("Assembly around it, empty when none is ordered."))
    style = fields.Enum(
        WindowStyle, by_value=True, load_default=None, allow_none=True, metadata=said("How a window is trimmed.")
    )
    sides = fields.Integer(load_default=1, metadata=said("How many of its sides are cased."))


class FeatureCardSchema(RecordSchema):
    """A ceiling feature as ordered."""

    record = model.FeatureCard
    feature = fields.Enum(FeatureKind, by_value=True, required=True, metadata=said("What it is."))
    item = fields.String(required=True, metadata=said("Supply code or description."))
    notes = fields.String(required=True, metadata=said("Notes."))
    diameter_in = Inches("diameter", "Diameter.", allow_none=True, since_later=True)
    diameter_text = LengthText("diameter")
    weight_lb = Figure("Weight in pounds.", allow_none=True, since_later=True)
    hangs_down_in = Inches(
        "hangs_down", "Ceiling to its lowest part; of a fan, to the blades.", allow_none=True, since_later=True
    )
    hangs_down_text = LengthText("hangs_down")
    remove_existing = fields.Boolean(load_default=False, metadata=said("Whether what hangs there comes down first."))
    box_rated_for_fan = fields.Enum(
        BoxRating, by_value=True, load_default=BoxRating.UNKNOWN, metadata=said("Whether the box is rated for a fan.")
    )
    nearest_wall_in = Inches("nearest_wall", "Its center to the nearest wall.", allow_none=True, since_later=True)
    nearest_wall_text = LengthText("nearest_wall")


class SpanSchema(RecordSchema):
    """A stretch of a wall, from its left end."""

    record = Span
    start_in = Inches("start", "Where it starts.")
    start_text = LengthText("start")
    end_in = Inches("end", "Where it ends.")
    end_text = LengthText("end")


class JointCardSchema(RecordSchema):
    """A splice of a run."""

    record = model.JointCard
    at_in = Inches("at", "From the wall's left end.")
    at_text = LengthText("at")
    on_glue_plate = fields.Boolean(required=True, metadata=said("Whether a glue plate carries it."))


class BlockLegsSchema(RecordSchema):
    """Legs of the triangular blocks behind a crown."""

    record = model.BlockLegs
    wall_in = Inches("wall", "Leg on the wall.")
    wall_text = LengthText("wall")
    ceiling_in = Inches("ceiling", "Leg on the ceiling.")
    ceiling_text = LengthText("ceiling")


class RunSchema(RecordSchema):
    """One layer along one wall before splicing, or one member around an opening."""

    record = model.RunCard
    number = fields.Integer(required=True, metadata=said("Unique in the quote."))
    wall = fields.String(required=True, metadata=said("Wall."))
    assembly = fields.String(required=True, metadata=said("Assembly."))
    layer = fields.Integer(required=True, metadata=said("Layer of the assembly."))
    position = fields.Enum(Position, by_value=True, required=True, metadata=said("Where the layer sits."))
    profile = fields.String(required=True, metadata=said("What it is made of."))
    start_in = Inches("start", "From the wall's left end to the leftmost point.")
    start_text = LengthText("start")
    length_in = Inches("length", "Mitered long point to long point, whatever the joint.")
    length_text = LengthText("length")
    near_in = Inches("near", "Wall face to the layer's nearest edge.")
    near_text = LengthText("near")
    far_in = Inches("far", "Wall face to the layer's farthest edge.")
    far_text = LengthText("far")
    left = fields.Nested(EndSchema, required=True, metadata=said("Left end."))
    right = fields.Nested(EndSchema, required=True, metadata=said("Right end."))
    backed_at_in = InchesList("backed_at", "Where nails reach wood, from the wall's left end.")
    backed_at_text = LengthTexts("backed_at")
    backed_all_along = fields.Boolean(required=True, metadata=said("Whether wood runs under all of it."))
    unbacked_in = Inches("unbacked", "Length without backing.")
    unbacked_text = LengthText("unbacked")
    unbacked_stretches = Several(SpanSchema, "Stretches without backing.")
    joints = Several(JointCardSchema, "Splices.")
    pieces = Texts("Marks of its pieces, left to right.")
    member = fields.Enum(
        Member,
        by_value=True,
        load_default=Member.ALONG,
        metadata=said("Along a wall, or which part around an opening."),
    )
    opening = fields.Integer(
        load_default=None, allow_none=True, metadata=said("Place, from 1, in the room's openings that it goes around.")
    )
    side = fields.Integer(load_default=1, metadata=said("Side of the opening, 1 or 2."))
    low_in = Inches("low", "Its lowest edge above the finished floor.", allow_none=True, since_later=True)
    low_text = LengthText("low")
    high_in = Inches("high", "Its highest edge above the finished floor.", allow_none=True, since_later=True)
    high_text = LengthText("high")
    nails = fields.Dict(
        keys=fields.String(), values=fields.Integer(), load_default=dict, metadata=said("Nails, by supply code.")
    )
    cross_nailed = fields.Integer(
        load_default=0, metadata=said("Of them, those in pairs at opposing angles that hold until the adhesive cures.")
    )
    blocks = fields.Integer(load_default=0, metadata=said("Blocks behind a crown."))
    block_legs_in = fields.Nested(
        BlockLegsSchema, attribute="block_legs", load_default=None, allow_none=True,
        metadata=said("Legs of its blocks on wall and ceiling; null without blocks."),
    )  # fmt: skip
    glue_plates = fields.Integer(load_default=0, metadata=said("Glue plates under its splices."))
    adhesive_in = Inches("adhesive", "Length of all beads of adhesive.", since_later=True, before=ZERO)
    adhesive_text = LengthText("adhesive")
    holding_factor = Figure(
        "Withdrawal strength of its nails in wood over the weight of a layer overhead, to 0.01; null where that was not "
        "checked.",
        allow_none=True,
        since_later=True,
    )


class RoomCardSchema(RecordSchema):
    """One room of the quote."""

    record = model.RoomCard
    number = fields.Integer(required=True, metadata=said("Position on the sheet, from 1."))
    name = fields.String(required=True, metadata=said("Name."))
    area_sqft = Figure("Floor area in square feet, null for an island.", allow_none=True)
    area_is_approximate = fields.Boolean(
        required=True, metadata=said("Whether an open end was closed by a straight line.")
    )
    perimeter_in = Inches("perimeter", "Sum of the measured walls.")
    perimeter_text = LengthText("perimeter")
    ceiling_height_in = Inches("ceiling_height", "Finished floor to finished ceiling.")
    ceiling_height_text = LengthText("ceiling_height")
    closure = fields.Nested(ClosureCardSchema, required=True, metadata=said("Whether the walls close."))
    walls = Several(WallCardSchema, "Walls, left to right.")
    openings = Several(OpeningCardSchema, "Openings.")
    joists = Several(PlanLineSchema, "Joist center lines in plan.")
    runs = Several(RunSchema, "Layers along walls.")
    features = Several(FeatureCardSchema, "Ceiling features.")
    notes = fields.String(required=True, metadata=said("Notes."))


class PieceSchema(RecordSchema):
    """One sawn length."""

    record = Piece
    mark = fields.String(required=True, metadata=said("Unique in the quote."))
    run = fields.Integer(required=True, metadata=said("Number of its run."))
    room = fields.String(attribute="room_name", required=True, metadata=said("Room."))
    room_number = fields.Integer(attribute="room", required=True, metadata=said("Number of the room."))
    wall = fields.String(required=True, metadata=said("Wall."))
    assembly = fields.String(required=True, metadata=said("Assembly."))
    layer = fields.Integer(required=True, metadata=said("Layer of the assembly."))
    position = fields.Enum(Position, by_value=True, required=True, metadata=said("Where the layer sits."))
    profile = fields.String(required=True, metadata=said("What it is made of."))
    long_point_in = Inches("long_point", "Long point to long point.")
    long_point_text = LengthText("long_point")
    short_point_in = Inches("short_point", "Short point to short point.")
    short_point_text = LengthText("short_point")
    start_in = Inches("start", "From the wall's left end to the leftmost point.")
    start_text = LengthText("start")
    left = fields.Nested(EndSchema, required=True, metadata=said("Left end."))
    right = fields.Nested(EndSchema, required=True, metadata=said("Right end."))
    board = fields.Integer(required=True, metadata=said("Number, from 1, of the board of its profile it is cut from."))
    is_return = fields.Boolean(required=True, metadata=said("Whether it is a return."))
    left_setback_in = Inches("left_setback", "Long point less short point, left end.", since_later=True, before=ZERO)
    left_setback_text = LengthText("left_setback")
    right_setback_in = Inches("right_setback", "Long point less short point, right end.", since_later=True, before=ZERO)
    right_setback_text = LengthText("right_setback")


class PurchaseSchema(RecordSchema):
    """So many boards of one length."""

    record = Purchase
    length_in = Inches("length", "Length as sold.")
    length_text = LengthText("length")
    count = fields.Integer(required=True, metadata=said("Boards."))
    unit_price = Amount("Price of one.")
    amount = Amount("Price of all.")
    is_offcut = fields.Boolean(required=True, metadata=said("Whether they are offcuts on hand."))


class PatternSchema(RecordSchema):
    """One board: its pieces in cutting order and what is left."""

    record = Pattern
    number = fields.Integer(required=True, metadata=said("Number among the boards of its profile, from 1."))
    length_in = Inches("length", "Length as sold.")
    length_text = LengthText("length")
    pieces = Texts("Marks in cutting order.")
    kerf_in = Inches("kerf", "Lost to saw cuts.")
    kerf_text = LengthText("kerf")
    offcut_in = Inches("offcut", "Remainder worth keeping.")
    offcut_text = LengthText("offcut")
    waste_in = Inches("waste", "Remainder that is not, end trim included.")
    waste_text = LengthText("waste")
    nested_in = Inches(
        "nested",
        "What parallel ends that lie together free beyond the long points, where one cut makes both: what is left comes "
        "out longer by as much. Not in offcut or waste.",
        since_later=True,
        before=ZERO,
    )
    nested_text = LengthText("nested")
    is_offcut = fields.Boolean(load_default=False, metadata=said("Whether the board is an offcut on hand."))
    offcut_label = fields.String(
        dump_only=True,
        metadata=said("To write on the offcut: profile, length, quote, board; null without one to keep."),
        allow_none=True,
    )


class UsageSchema(RecordSchema):
    """What became of the boards of one profile: boards = pieces + kerf + offcuts + waste."""

    record = Usage
    boards_in = Inches("boards", "All boards cut up, offcuts on hand among them.")
    boards_text = LengthText("boards")
    pieces_in = Inches("pieces", "In pieces, long point to long point.")
    pieces_text = LengthText("pieces")
    kerf_in = Inches("kerf", "Lost to saw cuts.")
    kerf_text = LengthText("kerf")
    offcuts_in = Inches("offcuts", "Kept as offcuts.")
    offcuts_text = LengthText("offcuts")
    waste_in = Inches("waste", "Not worth keeping, end trim included.")
    waste_text = LengthText("waste")
    pieces_share = Gap("In pieces, as a fraction of the boards.")
    kerf_share = Gap("Lost to saw cuts, as a fraction of the boards.")
    offcuts_share = Gap("Kept, as a fraction of the boards.")
    waste_share = Gap("Not worth keeping, as a fraction of the boards.")


class ProfileBoardsSchema(RecordSchema):
    """All boards of one profile."""

    record = ProfileBoards
    profile = fields.String(required=True, metadata=said("Profile."))
    purchases = Several(PurchaseSchema, "What to buy.")
    patterns = Several(PatternSchema, "How each board is cut.")
    cost = Amount("Price of the boards.")
    joints = fields.Integer(required=True, metadata=said("Splices among its pieces."))
    usage = fields.Nested(UsageSchema, dump_only=True, metadata=said("What became of the boards."))

    @post_dump(pass_original=True)
    def with_labels(self, data: dict[str, Any], boards: ProfileBoards, **_: object) -> dict[str, Any]:
        """The document with a label for each offcut to keep."""
        told = answering()
        for document, pattern in zip(data["patterns"], boards.patterns, strict=True):
            document["offcut_label"] = offcut_label(boards.profile, pattern, told.source, told.units)
        return data
