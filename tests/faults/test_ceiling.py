"""Every fault of a ceiling feature, provoked by a sheet and found at its cell."""

from __future__ import annotations

import pytest

from tests.faults.sheets import book, told


def ceiling(feature, **more):
    """A sheet with one row of Ceiling in the 12' × 14' parlor, 8' high."""
    named = {name.replace("_", " ").capitalize(): value for name, value in more.items()}
    return book(Ceiling=[{"Room": "Parlor", "Feature": feature} | named])


FAN = {
    "item": "fan-44", "diameter": "44", "weight": "20", "hangs_down": "10", "box_rated_for_fan": "yes", "nearest_wall": "6'",
}  # fmt: skip

CASES = {
    "blades at 82 inches": (ceiling("fan", **FAN | {"hangs_down": "14"}), "error", "Ceiling!F2", "fan-blades-too-low"),
    "hang not told": (ceiling("fan", **FAN | {"hangs_down": ""}), "warning", "Ceiling!F2", "fan-blades-too-low"),
    "box not rated": (ceiling("fan", **FAN | {"box_rated_for_fan": "no"}), "error", "Ceiling!H2", "fan-box-not-rated"),
    "box not known": (
        ceiling("fan", **FAN | {"box_rated_for_fan": "unknown"}), "warning", "Ceiling!H2", "fan-box-not-rated",
    ),
    "tips near a wall": (ceiling("fan", **FAN | {"nearest_wall": "39"}), "warning", "Ceiling!I2", "fan-near-wall"),
    "heavy fan": (ceiling("fan", **FAN | {"weight": "71"}), "warning", "Ceiling!E2", "weight-on-box"),
    "fan too small for the room": (
        ceiling("fan", **FAN | {"diameter": "30"}), "note", "Ceiling!D2", "feature-size-unusual",
    ),
    "medallion far too large": (
        ceiling("medallion", item="medallion-24", diameter="60"), "note", "Ceiling!D2", "feature-size-unusual",
    ),
    "item not on the price list": (
        ceiling("light", item="chandelier of ice", weight="5"), "warning", "Ceiling!C2", "feature-item-missing",
    ),
}  # fmt: skip


def test_a_sound_fan_has_no_fault():
    """The fan that the cases below change is sound."""
    assert told(ceiling("fan", **FAN)) == {}


@pytest.mark.parametrize("name", CASES)
def test_a_fault_of_a_ceiling_feature_stands_at_its_cell(name):
    """Each planted fault is told with its weight at its own cell."""
    rows, severity, cell, code = CASES[name]
    assert (severity, cell, code) in told(rows)
