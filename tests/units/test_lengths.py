"""The grammar of lengths: what is read, what is refused, and that what is printed reads back."""

from __future__ import annotations

import string
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from service.units import Length, LengthFault, Units, parsed_length

# Exact inches, worked out by hand: feet × 12 + inches; 1 in = 25.4 mm exactly (NIST Handbook 44, Appendix C).
ACCEPTED = [
    # the spellings of the specification
    ("12' 6 1/2\"", "150.5"), ("12'-6-1/2\"", "150.5"), ("12 ft 6.5 in", "150.5"), ('150.5"', "150.5"),
    ("150 1/2", "150.5"), ("12.54'", "150.48"), ("3.81 m", "150"), ("381 cm", "150"), ("3810 mm", "150"),
    # feet and inches
    ("12'", "144"), ("12' 6\"", "150"), ("12'6\"", "150"), ("12' 6", "150"), ("12'6", "150"), ("12' 0\"", "144"),
    ("0' 6\"", "6"), ("12'-6\"", "150"), ("12' - 6\"", "150"), ("12'-6 1/2\"", "150.5"), ("12' 11 63/64\"", "155.984375"),
    ("12 ft", "144"), ("12ft", "144"), ("12 FT", "144"), ("12 ft.", "144"), ("12 feet", "144"), ("1 foot", "12"),
    ("12 feet 6 inches", "150"), ("12ft6in", "150"), ("12 ft. 6 in.", "150"), ("12 1/2'", "150"), ("1/2'", "6"),
    ("12 ft 6 1/2 in", "150.5"), ("5'11 3/4", "71.75"), ("12' .5\"", "144.5"), ("12' 1/2\"", "144.5"),
    # inches
    ('1/2"', "0.5"), ("1/2", "0.5"), ("3/8", "0.375"), ("6 1/2", "6.5"), ("6-1/2", "6.5"), ("6 -1/2", None),
    ("6- 1/2", "6.5"), ("6 in", "6"), ("6 in.", "6"), ("6 inch", "6"), ("6 inches", "6"), ("6IN", "6"), ("6''", "6"),
    ("6", "6"), ("6.", "6"), (".5", "0.5"), ("0.5", "0.5"), ("150.50", "150.5"), ("0", "0"), ('0"', "0"),
    ("9 7/16", "9.4375"), ("9 3 / 4", "9.75"), ("12.541666666666668", "12.541666666666668"), ("0/2", "0"),
    # typographic marks and spaces
    ("12′ 6 1/2″", "150.5"), ("12’ 6 1/2”", "150.5"), ("12‘ 6“", "150"), ("12´ 6´´", "150"), ("6½", "6.5"), ("6 ½", "6.5"),
    ("½", "0.5"), ("12' 6½\"", "150.5"), ("6-½", "6.5"), ("12′-6⅝″", "150.625"), ('⅞"', "0.875"), ("6 1⁄2", "6.5"),
    ("12'\N{NO-BREAK SPACE}6\"", "150"), ("12'\N{NARROW NO-BREAK SPACE}6\"", "150"), ("\N{ZERO WIDTH SPACE}12'", "144"),
    ("\N{ZERO WIDTH NO-BREAK SPACE}150 1/2", "150.5"), ("  12'   6\"  ", "150"), ("12'\n6\"", "150"),
    ("12'–6\"", "150"), ("12'—6\"", "150"), ("12'‑6\"", "150"), ("12'\N{LEFT-TO-RIGHT MARK}", "144"),
    # metric
    ("3810mm", "150"), ("3810 MM", "150"), ("3810.0 mm", "150"), ("12.7 mm", "0.5"), ("1.27 cm", "0.5"), (".0127 m", "0.5"),
    ("0 mm", "0"),
]  # fmt: skip

REFUSED = [
    "", " ", "\N{ZERO WIDTH SPACE}", "-5", "-5'", '−5"', "\N{EN DASH}5", "+5", "twelve feet", "12 feet about", "about 12'",
    "10' 12'", '10" 12"', "12' 6\" 3\"", "8 x 10", '8"x10"', "12 6", "12' 6 7", "1 m 20 cm", "3.81m 150in",
    "12' 12\"", "12' 14", "12' 12 1/2\"", "12.5' 6\"", "12 1/2' 6\"", "21/2", "3/2", "4/4", "12 9/8", "1/0", "12 1/0",
    "1/2/3", "6.5 1/2", "6½ 1/2", "½½", "6½½", "12,5", "1,250", "12'6,5\"", "1.2.3", "1..2", "..5", ".", "'", '"', "/",
    "1/", "/2", "1e3", "1_000", "0x10", "NaN", "nan", "Infinity", "inf", "TRUE", "#REF!", "2024-01-02", "1:30", "12:6",
    "6 - 1/2", "6  -1/2", "12' 6' 3\"", "12' -", "12'-", "ft", "in", "mm", "12 yd", "12 km", "12 µm", "١٢", "१२", "１２",
    "12 incheſ", "9" * 10, "1." + "1" * 18, "9" * 5000, "=1+1", "12'6\"\"", "12''6'", "12' 6\"1/2", "<b>12</b>",
]  # fmt: skip


@pytest.mark.parametrize(("text", "inches"), [row for row in ACCEPTED if row[1] is not None])
def test_a_spelling_is_read(text: str, inches: str) -> None:
    """Each spelling gives its exact inches on an imperial sheet."""
    assert parsed_length(text, Units.IMPERIAL) == Length(Fraction(inches))


@pytest.mark.parametrize("text", REFUSED + [text for text, inches in ACCEPTED if inches is None])
@pytest.mark.parametrize("units", list(Units))
def test_a_spelling_is_refused(text: str, units: Units) -> None:
    """What is not one unambiguous length is refused with a reason, on sheets of either kind."""
    with pytest.raises(LengthFault) as refused:
        parsed_length(text, units)
    assert refused.value.reason.endswith(".")


def test_a_bare_number_takes_the_units_of_the_sheet() -> None:
    """A number without a unit is inches on an imperial sheet and millimeters on a metric one."""
    assert parsed_length("3810", Units.IMPERIAL) == Length.of(3810)
    assert parsed_length("3810", Units.METRIC) == Length.of(150)


@pytest.mark.parametrize("text", ["12 1/2", "1/2", "½", "12-1/2"])
def test_a_bare_fraction_on_a_metric_sheet_needs_its_unit(text: str) -> None:
    """Nobody measures 12 1/2 mm: the unit is asked for, and with it the same text is read."""
    with pytest.raises(LengthFault) as refused:
        parsed_length(text, Units.METRIC)
    assert refused.value.is_unit_missing
    assert parsed_length(text + '"', Units.METRIC) == parsed_length(text, Units.IMPERIAL)


@pytest.mark.parametrize(("text", "inches"), [row for row in ACCEPTED if row[1] is not None and "'" in row[0]])
def test_a_text_with_units_means_the_same_on_any_sheet(text: str, inches: str) -> None:
    """Where the text says its unit the sheet's units do not matter."""
    assert parsed_length(text, Units.METRIC) == Length(Fraction(inches))


sixty_fourths = st.integers(0, 64 * 12 * 1000).map(lambda count: Length(Fraction(count, 64)))
half_millimeters = st.integers(0, 3_000_000).map(lambda count: Length.of_mm(Fraction(count, 2)))


@given(sixty_fourths)
@example(Length.of(0))
@example(Length(Fraction(144 * 64 + 1, 64)))
def test_feet_and_inches_print_and_read_back(length: Length) -> None:
    """Print → parse is the identity on whole 1/64", whatever the sheet's units."""
    for units in Units:
        assert parsed_length(length.text(), units) == length


@given(sixty_fourths)
def test_inches_alone_print_and_read_back(length: Length) -> None:
    """The same for sizes printed in inches alone, and for the machine's decimal."""
    assert parsed_length(length.inch_text(), Units.IMPERIAL) == length
    assert Length.of(length.decimal()) == length
    assert parsed_length(str(length.decimal()), Units.IMPERIAL) == length


@given(half_millimeters)
def test_millimeters_print_and_read_back(length: Length) -> None:
    """Print → parse is the identity on half millimeters."""
    for units in Units:
        assert parsed_length(length.text(Units.METRIC), units) == length


@given(st.fractions(min_value=-5000, max_value=5000))
def test_snapping_is_nearest_and_half_up(inches: Fraction) -> None:
    """Against the definition: the nearest 1/64", the upper of two equally near."""
    snapped = Length(inches).snapped().inches
    step = Fraction(1, 64)
    assert snapped % step == 0
    assert -step / 2 < snapped - inches <= step / 2


@given(st.fractions(min_value=-5000, max_value=5000))
def test_the_decimal_is_the_snapped_length(inches: Fraction) -> None:
    """The machine's decimal equals the snapped rational and is written without exponent or trailing zeros."""
    value = Length(inches).decimal()
    assert Fraction(value) == Length(inches).snapped().inches
    assert "E" not in str(value)
    assert not ("." in str(value) and str(value).endswith("0"))


@given(st.text(alphabet=string.printable + "′″½⅝–−°", max_size=24))
def test_any_text_is_a_length_or_a_fault(text: str) -> None:
    """Nothing else than a length that is not negative or a `LengthFault` comes out."""
    try:
        length = parsed_length(text, Units.IMPERIAL)
    except LengthFault:
        return
    assert length.inches >= 0


@pytest.mark.parametrize("value", [150.5, True])
def test_a_length_is_never_made_of_a_float(value: Any) -> None:
    """A float or a truth value is a programming error, said so."""
    with pytest.raises(TypeError):
        Length.of(value)


def test_negative_lengths_print_with_a_true_minus() -> None:
    """A difference below zero prints its sign once; zero has none."""
    assert Length.of("-6.5").text() == "−6 1/2″"
    assert Length.of("-150.5").text() == "−12′\N{NO-BREAK SPACE}6 1/2″"
    assert Length.of_mm("-12.5").text(Units.METRIC) == "−12.5\N{NO-BREAK SPACE}mm"
    assert Length(Fraction(-1, 200)).text() == "0″"
    assert Length.of(Decimal("0.001")).text(Units.METRIC) == "0\N{NO-BREAK SPACE}mm"
