"""Plans: geometry, labels that keep apart, and the picture as SVG."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from xml.parsers import expat

import pytest
from shapely import LineString, Polygon, box

from service.documents import plan_svg
from service.documents.labels import Layout, Place, Wish, figure, meet, segment
from service.documents.plan_geometry import scene
from service.documents.plan_look import CUSTOMER, FIELD, levels
from service.documents.plans import plan
from service.firm import Position
from service.survey import CornerKind
from service.units import ZERO, Length, Units

IN, OUT = (CornerKind.INSIDE, 90.0), (CornerKind.OUTSIDE, 90.0)
BASE = ((Position.BASE, "BS-514", "0", "0.5625"), (Position.SHOE, "SH-34", "0.5625", "1.0625"))


def placed_polygons(drawn):
    """Labels as figures of the geometry library."""
    return {label.key: Polygon(label.corners) for label in drawn.labels}


def test_labels_never_overlap_and_stay_in_the_frame(quote):
    """Checked with a general geometry library (shapely), not with the solver's own arithmetic."""
    pieces = {piece.mark: piece for piece in quote.pieces}
    for look in (CUSTOMER, FIELD):
        drawn = plan(quote.rooms[0], pieces, Units.IMPERIAL, look, width_pt=520, most_height_pt=330)
        shapes = placed_polygons(drawn)
        assert drawn.unplaced == ()
        frame = box(*drawn.frame)
        keys = sorted(shapes)
        for i, key in enumerate(keys):
            assert frame.contains(shapes[key])
            for other in keys[i + 1 :]:
                assert not shapes[key].intersects(shapes[other]), (key, other)


def test_every_wall_and_piece_has_a_label(quote):
    """Walls in both looks, pieces on the field's plan alone."""
    pieces = {piece.mark: piece for piece in quote.pieces}
    keys = {}
    for look in (CUSTOMER, FIELD):
        drawn = plan(quote.rooms[0], pieces, Units.IMPERIAL, look, width_pt=520, most_height_pt=330)
        keys[look] = {label.key for label in drawn.labels}
        assert {f"wall {i}" for i in range(6)} <= keys[look]
    assert {f"piece {mark}" for mark in pieces} <= keys[FIELD]
    assert not any(key.startswith("piece") for key in keys[CUSTOMER])


@pytest.mark.parametrize("offset", [4.0, 9.0, 17.5])
def test_trim_lines_are_the_rooms_offset_polygon(quote, offset):
    """Lines beside the walls meet as shapely's mitered inward buffer of the room does, inside and outside corners."""
    drawn = scene(quote.rooms[0], width=520, most_height=330, margin=(80, 40))
    room = Polygon([wall.start for wall in drawn.walls])
    expected = room.buffer(-offset, join_style="mitre", mitre_limit=20)
    for wall in drawn.walls:
        lane = wall.lane(offset, ZERO, wall.card.length, Length.of(1))
        line = LineString([wall.beside(lane[0], offset), wall.beside(lane[1], offset)])
        assert expected.exterior.buffer(1e-6).contains(line)
        assert room.contains(line)


def test_walls_are_drawn_to_one_scale(quote):
    """Every drawn wall is its length times the scale; the room lies right of the walk."""
    drawn = scene(quote.rooms[0], width=520, most_height=330, margin=(80, 40))
    room = Polygon([wall.start for wall in drawn.walls])
    for wall in drawn.walls:
        assert wall.size == pytest.approx(float(wall.card.length) * drawn.scale, rel=1e-6)
        assert room.contains(LineString([wall.beside(wall.size / 2, 1), wall.beside(wall.size / 2, 2)]))


def test_island_has_its_trim_outside(make_room):
    """A column walked counterclockwise: the room is right of the walk too, so outside of the figure."""
    walls = tuple((name, "40", *OUT) for name in "ABCD")
    card, _ = make_room(walls=walls)
    drawn = scene(card, width=520, most_height=330, margin=(80, 60))
    column = Polygon([wall.start for wall in drawn.walls])
    expected = column.buffer(10, join_style="mitre")
    for wall in drawn.walls:
        lane = wall.lane(10, ZERO, wall.card.length, Length.of(1))
        assert expected.exterior.buffer(1e-6).contains(LineString([wall.beside(t, 10) for t in lane]))


def test_room_with_crown_and_base_gets_two_plans(make_room):
    """Five layers would crowd one plan: ceiling line and floor are drawn apart, and every run is on one of them."""
    layers = (
        (Position.CEILING, "CB", "0", "5.5"), (Position.WALL, "WB", "0", "0.75"),
        (Position.CROWN, "CR", "0.75", "3.6"), *BASE,
    )  # fmt: skip
    card, _ = make_room(layers=layers)
    parts = levels(card)
    assert [title for title, _ in parts] == ["At the ceiling", "At floor and walls"]
    assert sorted(run.number for _, part in parts for run in part.runs) == [run.number for run in card.runs]
    assert [title for title, _ in levels(replace(card, runs=parts[1][1].runs))] == [""]


def test_solver_moves_a_label_away_with_a_leader():
    """When its place is taken a label stands free of it, and a line leads back to what it names."""
    layout = Layout((0, 0, 200, 200), [segment((0, 100), (200, 100), 2)])
    layout.put(Wish("first", 40, 10, (100, 100), (Place(100, 110),)))
    layout.put(Wish("second", 40, 10, (100, 100), (Place(100, 110),)))
    first, second = layout.placed
    assert first.leader is None
    assert second.leader[0] == (100, 100)
    assert not Polygon(first.corners).intersects(Polygon(second.corners))
    assert math.dist(second.leader[1], (100, 100)) < 60


def test_solver_says_what_found_no_room():
    """A label larger than the sheet is told, not dropped."""
    layout = Layout((0, 0, 30, 30), [])
    layout.put(Wish("wide", 40, 10, (15, 15), (Place(15, 15),)))
    assert layout.unplaced == ["wide"]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (((0, 0), (4, 0), (4, 2), (0, 2)), ((3, 1), (6, 1), (6, 5), (3, 5))),
        (((0, 0), (4, 0), (4, 2), (0, 2)), ((4.1, 0), (6, 0), (6, 2), (4.1, 2))),
        (((0, 0), (10, 10)), ((4, 5), (6, 5), (6, 7), (4, 7))),
        (((0, 0), (10, 10)), ((6, 1), (8, 1), (8, 3), (6, 3))),
        (((0, 2), (2, 0), (4, 2), (2, 4)), ((3.5, 3.5), (5, 3.5), (5, 5), (3.5, 5))),
    ],
)
def test_figures_meet_as_a_geometry_library_says(one, other):
    """Separating axes agree with shapely on boxes, turned boxes and segments."""
    shapes = [LineString(points) if len(points) == 2 else Polygon(points) for points in (one, other)]
    assert meet(figure(one), figure(other)) is shapes[0].intersects(shapes[1])


def read_svg(text):
    """Elements by name from expat, a conforming XML reader; a document type is a fault."""
    found = []
    reader = expat.ParserCreate(namespace_separator=" ")
    stack = []

    def start(name, attributes):
        stack.append([name.rpartition(" ")[2], attributes, ""])

    def end(_name):
        found.append(tuple(stack.pop()))

    def characters(data):
        if stack:
            stack[-1][2] += data

    def refuse(*_):
        raise AssertionError("document type")

    reader.StartElementHandler, reader.EndElementHandler = start, end
    reader.CharacterDataHandler, reader.StartDoctypeDeclHandler = characters, refuse
    reader.Parse(text, True)  # noqa: FBT003 - expat's own signature
    return found


def test_svg_is_well_formed_and_tells_itself(quote):
    """Title, description with the walls, text as text, no document type, no ids, no style attributes."""
    elements = read_svg(plan_svg(quote, 1))
    told = {name: text for name, _, text in elements if name in {"title", "desc"}}
    assert told["title"] == "Plan of Attic study"
    assert "A 12′\N{NO-BREAK SPACE}6\N{NO-BREAK SPACE}1/2″" in told["desc"]
    texts = [text for name, _, text in elements if name == "text"]
    assert {"A", "B", "C", "D", "E", "F"} <= set(texts)
    assert {piece.mark for piece in quote.pieces} <= set(texts)
    attributes = {key for _, given, _ in elements for key in given}
    assert not attributes & {"id", "style", "class", "onload", "href"}
    families = {given["font-family"] for name, given, _ in elements if name == "text"}
    assert all(family.endswith("sans-serif") for family in families)


def test_svg_escapes_what_people_wrote(make_quote, make_room):
    """Names with markup, quotes and controls stay text."""
    card, pieces = make_room(name="<script>alert('x')</script> & \x00co")
    walls = (replace(card.walls[0], name='<&">'), *card.walls[1:])
    elements = read_svg(plan_svg(make_quote([(replace(card, walls=walls), pieces)]), 1))
    assert "script" not in {name for name, *_ in elements}
    assert ("title", "Plan of <script>alert('x')</script> & co") in {(name, text) for name, _, text in elements}
    assert '<&">' in {text for name, _, text in elements if name == "text"}


def test_svg_text_lies_within_the_picture(quote):
    """Every text's own box, in the picture's coordinates, is inside the view box."""
    source = plan_svg(quote, 1)
    _, _, wide, high = (float(value) for value in re.search(r'viewBox="([^"]+)"', source)[1].split())
    found = text_boxes(source)
    assert len(found) > 20
    for x, y, length in found:
        assert -0.5 <= x <= wide + 0.5
        assert -0.5 <= y <= high + 0.5
        assert length > 0


def text_boxes(source):
    """Start of each text and its length, all transforms applied (matrix, translate and scale)."""
    found, stack = [], [(1, 0, 0, 1, 0, 0)]
    reader = expat.ParserCreate()

    def start(name, attributes):
        matrix = stack[-1]
        for kind, values in re.findall(r"(matrix|translate|scale)\(([^)]*)\)", attributes.get("transform", "")):
            numbers = [float(value) for value in re.split(r"[ ,]+", values.strip())]
            step = {
                "matrix": tuple,
                "translate": lambda n: (1, 0, 0, 1, n[0], n[1]),
                "scale": lambda n: (n[0], 0, 0, n[1], 0, 0),
            }[kind](numbers)
            matrix = times(matrix, step)
        stack.append(matrix)
        if name == "text":
            x, y = float(attributes["x"]), float(attributes["y"])
            a, b, c, d, e, f = matrix
            found.append((a * x + c * y + e, b * x + d * y + f, float(attributes["textLength"])))

    reader.StartElementHandler = start
    reader.EndElementHandler = lambda _name: stack.pop()
    reader.Parse(source, True)  # noqa: FBT003 - expat's own signature
    return found


def times(one, other):
    """Product of two SVG matrices."""
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * m + e, b * k + d * m + f


def test_plan_of_an_unknown_room_is_refused(quote):
    """There is no room 9."""
    with pytest.raises(KeyError):
        plan_svg(quote, 9)
