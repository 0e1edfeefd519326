"""The grammar of lengths: what is read, what is refused, and that what is printed reads back."""

from __future__ import annotations

import string
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from schemas.fields.lengths import READING, Reading, length_of
from service.units import Length, LengthFault, Units, comma_readings, parsed_length
from tests.units.spellings import REASONS, SPELLINGS

MM = Fraction(10, 254)
"""[in] One millimeter: 1 in = 25.4 mm exactly (NIST Handbook 44, Appendix C)."""


def worked_out(outcome: str) -> Length:
    """The length that an outcome of the table names."""
    figure, unit = outcome.split()
    return Length(Fraction(figure) * {"in": Fraction(1), "mm": MM}[unit])


ACCEPTED = [row for row in SPELLINGS if row[2] not in REASONS]
REFUSED = [row for row in SPELLINGS if row[2] in REASONS]


def test_the_table_is_long_and_has_no_row_twice() -> None:
    """At least 250 different spellings, accepted and refused, each told once for a kind of sheet."""
    assert len({text for text, _, _ in SPELLINGS}) >= 250
    assert len({(text, units) for text, units, _ in SPELLINGS}) == len(SPELLINGS)
    assert {outcome for _, _, outcome in REFUSED} == set(REASONS)


@pytest.mark.parametrize(("text", "units", "outcome"), ACCEPTED)
def test_a_spelling_is_read(text: str, units: str, outcome: str) -> None:
    """Each accepted spelling gives its exact length on a sheet of those units."""
    assert parsed_length(text, Units(units)) == worked_out(outcome)


@pytest.mark.parametrize(("text", "units", "outcome"), REFUSED)
def test_a_spelling_is_refused(text: str, units: str, outcome: str) -> None:
    """What is not one unambiguous length is refused with the reason of the table, and never with another fault."""
    with pytest.raises(LengthFault) as refused:
        parsed_length(text, Units(units))
    assert refused.value.reason.startswith(REASONS[outcome])
    assert refused.value.reason.endswith(".")
    assert refused.value.is_unit_missing == (outcome == "ask")


@pytest.mark.parametrize(("text", "units", "outcome"), ACCEPTED)
def test_what_is_accepted_prints_back(text: str, units: str, outcome: str) -> None:
    """The printed text of an accepted length is accepted, on sheets of both kinds, as the same length.

    Printed is a tape's grid: 1/64" of an imperial sheet, half a millimeter of a metric one. On the grid the length
    comes back exactly; off it, the nearest mark does.
    """
    del outcome
    length = parsed_length(text, Units(units))
    step = {"imperial": Fraction(1, 64), "metric": MM / 2}[units]
    for bare in Units:
        back = parsed_length(length.text(Units(units)), bare)
        assert abs(back.inches - length.inches) <= step / 2
        assert (back == length) == (length.inches % step == 0)


@pytest.mark.parametrize(("text", "units", "outcome"), ACCEPTED)
def test_what_is_accepted_goes_through_json(text: str, units: str, outcome: str) -> None:
    """The decimal inches of an answer, sent in again as `{"in": …}` or as text with its mark, are the length to 1/64"."""
    del outcome
    length = parsed_length(text, Units(units))
    sent = str(length.decimal())
    with READING(Reading(Units(units))):
        back = length_of({"in": sent})
    assert back == parsed_length(f'{sent}"', Units(units))
    assert abs(back.inches - length.inches) <= Fraction(1, 128)
    assert (back == length) == (length.inches % Fraction(1, 64) == 0)


def test_the_neighbors_of_a_comma_are_both_said() -> None:
    """A comma that can be two things is refused with both of them."""
    for text, units, first, second in (
        ("1,250", "metric", "1.250", "1250"), ("12,375'", "imperial", "12.375", "12375"), ("12,6", "imperial", "12.6 inches", "12 feet 6 inches"),
    ):  # fmt: skip
        with pytest.raises(LengthFault) as refused:
            parsed_length(text, Units(units))
        assert f"{first} or " in refused.value.reason
        assert refused.value.reason.endswith(f"{second}.")


feet_marks = st.sampled_from(["'", "\u2032", "\u2019", " ft", " ft.", " feet", "ft"])
inch_marks = st.sampled_from(['"', "\u2033", "\u201d", " in", " in.", " inches", "''", "in"])
gaps = st.sampled_from(["", " ", "-", " - ", "\u00a0", "\u2009", " \u2013 "])
binary = st.sampled_from([2, 4, 8, 16, 32, 64])


@given(st.integers(0, 999), st.integers(0, 11), binary, st.data())
def test_feet_inches_and_a_fraction_in_any_dress(feet: int, inches: int, parts: int, data: st.DataObject) -> None:
    """However its feet, inches and fraction are marked and spaced, the length is 12 × feet + inches + fraction.

    Oracle: the figures from which the text is put together.
    """
    part = data.draw(st.integers(1, parts - 1))
    between = data.draw(st.sampled_from([" ", "-", "\u00a0", "  "]))
    text = (
        f"{feet}{data.draw(feet_marks)}{data.draw(gaps)}"
        f"{inches}{between}{part}{data.draw(st.sampled_from(['/', chr(0x2044)]))}{parts}{data.draw(inch_marks)}"
    )
    for units in Units:
        assert parsed_length(text, units).inches == 12 * feet + inches + Fraction(part, parts)


@given(
    st.integers(0, 99_999),
    st.integers(0, 999),
    st.sampled_from([("mm", 1), ("cm", 10), ("m", 1000), (" millimeters", 1)]),
)
def test_metric_decimals_in_any_unit(whole: int, thousandths: int, unit: tuple[str, int]) -> None:
    """A metric figure with a decimal point is so many millimeters, times ten or a thousand.

    Oracle: the figures from which the text is put together.
    """
    word, factor = unit
    length = parsed_length(f"{whole}.{thousandths:03d}{word}", Units.IMPERIAL)
    assert length.mm == (whole + Fraction(thousandths, 1000)) * factor


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


parts_of_lengths = st.sampled_from(
    [
        *"0123456789",
        *"0123456789",
        " ",
        "'",
        '"',
        "/",
        "-",
        ".",
        ",",
        "½",
        "′",
        "″",
        " mm",
        " m",
        " ft",
        " in",
        "x",
        "%",
    ]
)


@given(
    st.text(alphabet=string.printable + "′″½⅝–−°", max_size=24) | st.lists(parts_of_lengths, max_size=9).map("".join)
)
def test_any_text_is_a_length_that_prints_back_or_a_fault(text: str) -> None:
    """Nothing else than a length that is not negative or a `LengthFault` comes out; what is accepted prints back to 1/64"."""
    for units in Units:
        try:
            length = parsed_length(text, units)
        except LengthFault:
            continue
        assert length.inches >= 0
        assert parsed_length(length.text(), units) == length.snapped()
        assert parsed_length(length.inch_text(), units) == length.snapped()


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


@pytest.mark.parametrize(
    ("figure", "readings"),
    [
        ("12,5", ("12.5",)), ("12,50", ("12.50",)), ("0,125", ("0.125",)), ("1234,567", ("1234.567",)), ("1,250", ("1.250", "1250")),
        ("12,375", ("12.375", "12375")), ("1,250.5", ("1250.5",)), ("1.250,5", ("1250.5",)), ("1,250,000", ("1250000",)), (",5", ()),
        ("5,", ()), ("1,25,3", ()), ("1.25,3", ()), ("1,,5", ()), ("", ()), (",", ()),
    ],
)  # fmt: skip
def test_what_a_comma_can_be(figure: str, readings: tuple[str, ...]) -> None:
    """A decimal sign, or a mark between thousands where groups of three allow it; both, one of them, or neither.

    Source: ISO 80000-1, 7.3.2, from memory: the decimal sign is a comma or a point on the line; groups: common practice.
    """
    assert comma_readings(figure) == readings
