"""The sample workbooks: what is committed is what the maker makes, and it holds what the contract promises."""

from __future__ import annotations

import io
import math
import sys
import zipfile
from collections import Counter, defaultdict
from fractions import Fraction
from pathlib import Path

import pytest

from service.sheets.reader import read_price_list, read_room_sheet
from service.trade.tasks import TASKS
from service.units import Units, parsed_length

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ROOT / "sample_sheets"
SHEETS = sorted(path.name for path in SAMPLES.glob("*.xlsx") if path.name not in {"price_list.xlsx", "broken.xlsx"})
POSITIONS = "ceiling wall crown".split()  # noqa: SIM905 - reads like the build-up


@pytest.fixture(scope="module")
def made():
    """Samples as the maker makes them now."""
    sys.path.insert(0, str(ROOT / "deploy"))
    try:
        import make_samples  # noqa: PLC0415 - a script beside the package, found by its folder
    finally:
        sys.path.remove(str(ROOT / "deploy"))
    return make_samples.samples()


def contents(data):
    """Inflated parts by name: compression may differ from one machine's zlib to another's."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {entry.filename: (entry.date_time, archive.read(entry)) for entry in archive.infolist()}


def test_committed_samples_are_what_the_maker_makes(made):
    """Every committed workbook holds exactly the parts that the maker writes, and there is no other."""
    assert set(made) == {path.name for path in SAMPLES.glob("*.xlsx")}
    for name, data in made.items():
        assert contents(data) == contents((SAMPLES / name).read_bytes()), name


def test_the_readme_names_every_sample():
    """The table of samples is whole and says that all is invented."""
    text = (SAMPLES / "README.md").read_text("utf-8")
    assert [path.name for path in SAMPLES.glob("*.xlsx") if f"| `{path.name}` |" not in text] == []
    assert "invented" in text


def room_sheet(name):
    """Reading of a sample sheet."""
    return read_room_sheet((SAMPLES / name).read_bytes())


@pytest.fixture(scope="module")
def price_list():
    """Document of the sample price list."""
    reading = read_price_list((SAMPLES / "price_list.xlsx").read_bytes())
    assert reading.problems == ()
    return reading.document


@pytest.mark.parametrize("name", SHEETS)
def test_sample_sheets_have_no_fault(name):
    """The reader finds nothing to say about a sample sheet."""
    assert room_sheet(name).problems == ()


@pytest.mark.parametrize("name", SHEETS)
def test_sample_rooms_close(name):
    """Walking each room's walls leads back to the start, within 1/16 inch; interior angles turn it once round.

    A room that is open at its last wall only stays within half a turn.

    Source: plane geometry (sum of the wall vectors; exterior angles of a closed figure add to 360).
    """
    document = room_sheet(name).document
    units = Units(document["job"]["units"])
    for room in document["rooms"]:
        x = y = turned = 0.0
        for wall in room["walls"]:
            length = float(parsed_length(wall["length"], units))
            x += length * math.cos(math.radians(turned))
            y += length * math.sin(math.radians(turned))
            if wall["corner"] == "open":
                break
            reading = float(wall.get("angle_deg", 90))
            turned += 180 - (reading if wall["corner"] == "inside" else 360 - reading)
        if room["walls"][-1]["corner"] == "open":
            assert turned == 180, room["name"]
        else:
            assert math.hypot(x, y) < 1 / 16, room["name"]
            assert abs(turned) == 360, room["name"]


def test_the_l_shaped_sample_shows_what_it_promises(price_list):
    """Six walls, one outside corner, joists along a wall, and a wall longer than the longest board."""
    (room,) = room_sheet("l_shaped.xlsx").document["rooms"]
    assert Counter(wall["corner"] for wall in room["walls"]) == {"inside": 5, "outside": 1}
    assert room["joists"]["parallel_to"] == "A"
    longest = max(inches(row["length"]) for row in price_list["stock"])
    assert inches(room["walls"][0]["length"]) > longest


def test_the_metric_sample_is_in_millimeters():
    """Its room is 4.2 m by 3.6 m, spelled in three ways."""
    document = room_sheet("metric.xlsx").document
    lengths = [parsed_length(wall["length"], Units.METRIC).mm for wall in document["rooms"][0]["walls"]]
    assert document["job"]["units"] == "metric"
    assert lengths == [4200, 3600, 4200, 3600]


def test_samples_name_only_what_the_price_list_has(price_list):
    """Every assembly ordered in a sample sheet is on the sample price list."""
    known = {row["assembly"] for row in price_list["assemblies"]}
    for name in SHEETS:
        document = room_sheet(name).document
        ordered = {order["assembly"] for order in document["trim"]}
        openings = [opening for room in document["rooms"] for opening in room.get("openings", ())]
        cased = {opening["casing"] for opening in openings if "casing" in opening}
        assert ordered | cased <= known, name


def test_the_ten_rooms_use_the_whole_price_list(price_list):
    """Every assembly of the sample price list is ordered in the house, and every kind of opening and feature."""
    document = room_sheet("ten_rooms.xlsx").document
    assert len(document["rooms"]) == 10
    openings = [opening for room in document["rooms"] for opening in room.get("openings", ())]
    ordered = {order["assembly"] for order in document["trim"]} | {o["casing"] for o in openings if "casing" in o}
    assert ordered == {row["assembly"] for row in price_list["assemblies"]}
    assert {opening["kind"] for opening in openings} == {"door", "window", "cased opening", "cabinet", "fireplace"}
    features = [feature for room in document["rooms"] for feature in room.get("ceiling", ())]
    assert {feature["feature"] for feature in features} == {"medallion", "fan", "light"}
    codes = {row["code"] for row in price_list["supplies"]}
    assert {feature["item"] for feature in features} <= codes
    hall = next(room for room in document["rooms"] if room["name"] == "Hall")
    assert [opening["kind"] for opening in hall["openings"]] == ["door"] * 5
    assert {room.get("access") for room in document["rooms"]} == {"normal", "over stairs", "over tub", "built-in"}


def inches(text):
    """Inches of a length on the price list."""
    return parsed_length(text, Units.IMPERIAL).inches


def layers(price_list):
    """Assemblies: name to its rows."""
    found = defaultdict(list)
    for row in price_list["assemblies"]:
        found[row["assembly"]].append(row)
    return found


def test_the_first_build_up_has_its_three_layers(price_list):
    """The first assembly of ceiling, wall and crown has one layer in each and no other; boards mitered, crown coped."""
    positions = {name: [row["position"] for row in rows] for name, rows in layers(price_list).items()}
    first = next(name for name, found in positions.items() if set(POSITIONS) <= set(found))
    assert positions[first] == POSITIONS
    assert [row["inside_joint"] for row in layers(price_list)[first]] == ["miter", "miter", "cope"]


def test_the_price_list_holds_the_promised_assemblies(price_list):
    """One crown alone, a base with shoe, a base with cap and shoe, casings and a rail are on it; a head may be butted."""
    built = {tuple(row["position"] for row in rows) for rows in layers(price_list).values()}
    assert {("crown",), ("base", "shoe"), ("base", "cap", "shoe"), ("casing",), ("rail",)} <= built
    assert {("casing", "plinth"), ("casing", "stool", "apron")} <= built
    heads = {row.get("outside_joint", "miter") for row in price_list["assemblies"] if row["position"] == "casing"}
    assert heads == {"miter", "butt"}


def test_the_build_up_fits(price_list):
    """Both reveals of the three-piece crown are positive.

    Source: plane geometry; a 4 5/8" crown at 38 degrees projects 2.847" and drops 3.645".
    """
    profiles = {row["profile"]: row for row in price_list["profiles"]}
    ceiling, wall, crown = (profiles[row["profile"]] for row in layers(price_list)["Three-piece crown"])
    width, spring = float(inches(crown["width"])), math.radians(float(crown["spring_angle"]))
    projection, drop = width * math.sin(spring), width * math.cos(spring)
    assert (round(projection, 3), round(drop, 3)) == (2.847, 3.645)
    assert float(inches(ceiling["width"])) - float(inches(wall["thickness"])) - projection > 0
    assert float(inches(wall["width"])) - drop > 0


def test_every_profile_in_use_has_stock(price_list):
    """Each profile is described once and sold in lengths of 7 to 16 ft; the offcuts on hand are shorter."""
    names = [row["profile"] for row in price_list["profiles"]]
    sold = {row["profile"] for row in price_list["stock"] if row.get("offcut") != "yes"}
    assert len(names) == len(set(names))
    assert {row["profile"] for row in price_list["assemblies"]} <= sold == set(names)
    assert all((84 <= inches(row["length"]) <= 192) != (row.get("offcut") == "yes") for row in price_list["stock"])


def test_every_task_has_a_rate_and_a_paid_role(price_list):
    """All published task keys are there once, each in its unit, with a role that has a wage."""
    assert {row["task"]: row["unit"] for row in price_list["labor"]} == {task.key: task.unit for task in TASKS.values()}
    assert len(price_list["labor"]) == len(TASKS)
    assert {row["role"] for row in price_list["labor"]} == {row["role"] for row in price_list["wages"]}


def test_payments_add_to_the_whole(price_list):
    """The shares of the payments add to 100%."""
    assert sum(Fraction(row["share"].rstrip("%")) for row in price_list["payments"]) == 100


@pytest.mark.parametrize(
    ("passed", "what"),
    [
        ('3/4"', "ceiling or wall board"), ('11/16"', "casing to the trimmer"), ('3/4"', "plain base"),
    ],
)  # fmt: skip
def test_a_nail_is_long_enough_for_every_layer(price_list, passed, what):
    """A nail reaches through the layer and 1/2" of covering the larger of 6 diameters and 1" into wood.

    Source: NDS 2018 section 12.1.6.4 (6 diameters), seen in extract; 1 inch by the trade book.
    """
    through = inches(passed) + Fraction(1, 2)
    nails = [row for row in price_list["supplies"] if row["kind"] == "nail"]
    fit = [row for row in nails if inches(row["length"]) >= through + max(6 * inches(row["shank_diameter"]), 1)]
    assert fit, what


def test_every_kind_of_supply_is_on_the_list(price_list):
    """Whatever a job may need can be bought, glue plates too."""
    kinds = {row["kind"] for row in price_list["supplies"]}
    assert kinds == {
        "nail", "screw", "adhesive", "sealant", "filler", "primer", "paint", "block", "medallion", "fan", "light", "other",
    }  # fmt: skip
    assert "glue-plate" in {row["code"] for row in price_list["supplies"]}


def test_the_broken_sample_has_the_readers_faults():
    """The broken sheet shows each kind of fault that only a spreadsheet can have, at its cell."""
    reading = room_sheet("broken.xlsx")
    assert {(str(problem.code), str(problem.cell)) for problem in reading.problems} == {
        ("tab-unknown", "Scribbles!A1"), ("item-unknown", "Job!A20"), ("length-is-boolean", "Rooms!D2"),
        ("length-is-date", "Rooms!B4"), ("heading-unknown", "Walls!L1"), ("hidden-rows-read", "Walls!A9"),
        ("formula-error", "Walls!F3"), ("formula-without-value", "Walls!F5"), ("merged-cells", "Walls!I7"),
        ("room-unknown", "Walls!A6"), ("formula-error", "Openings!D5"), ("value-missing", "Openings!A5"),
    }  # fmt: skip
