"""How text is cleaned, compared and shown."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemas.names import Names
from schemas.spellings import BySpelling
from schemas.text import cleaned, folded, shown, strange_character
from service.nearest import nearest


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("  a \t b ", "a b"), ("a\N{NO-BREAK SPACE}b", "a b"), ("a\N{ZERO WIDTH SPACE}b", "ab"), ("a_x000D_\nb", "a b"),
     ("\N{ZERO WIDTH NO-BREAK SPACE}a", "a"), ("e\N{COMBINING ACUTE ACCENT}", "\N{LATIN SMALL LETTER E WITH ACUTE}")],
)  # fmt: skip
def test_text_is_cleaned(typed: str, kept: str) -> None:
    """Spaces collapse, spreadsheet escapes and invisible spacers go, composed characters stay."""
    assert cleaned(typed) == kept


def test_lines_are_kept_where_they_are_wanted() -> None:
    """An address keeps its lines, each trimmed."""
    assert cleaned(" 7 Tern  Street \r\n Plover Bay\r\n", keep_lines=True) == "7 Tern Street\nPlover Bay"


@given(st.text())
def test_cleaning_and_folding_are_stable(text: str) -> None:
    """Doing it twice changes nothing more, and a cleaned text folds as the typed one."""
    assert cleaned(cleaned(text)) == cleaned(text)
    assert folded(cleaned(text)) == folded(text)


@pytest.mark.parametrize(
    ("one", "other"),
    [("Hall", "hALL"), ("Straße", "STRASSE"), ("a b", "a\N{NO-BREAK SPACE} b"), ("Ha\N{SOFT HYPHEN}ll", "Hall"),
     ("Hall\N{LEFT-TO-RIGHT MARK}", "Hall")],
)  # fmt: skip
def test_two_spellings_are_one_name(one: str, other: str) -> None:
    """Unicode case folding, spaces and format characters aside."""
    assert folded(one) == folded(other)


@pytest.mark.parametrize(
    ("text", "named"), [("a\x07", "U+0007"), ("\ud800", "U+D800"), ("\uffff", "U+FFFF"), ("a\nb½", None)]
)
def test_characters_that_no_page_can_carry_are_named(text: str, named: str | None) -> None:
    """Controls, lone surrogates and noncharacters; line breaks are fine."""
    assert strange_character(text) == named


@pytest.mark.parametrize(
    ("typed", "choices", "meant"),
    [
        ("inisde", ("inside", "outside", "open"), "inside"), ("Lenght", ("Length", "Corner", "Wall"), "Length"),
        ("Dinning rm", ("Dining room", "Hall"), "Dining room"), ("Crown 2", ("Crown no. 1", "Crown no. 2", "Crown 3"), "Crown no. 2"),
        ("Crown \N{NUMERO SIGN} 2", ("Crown 1", "Crown 2"), "Crown 2"), ("Crwn 2", ("Crown 3", "Crown no. 2"), "Crown no. 2"),
        ("Rail 2 oak", ("Rail 3 oak", "Rail 2 of white oak"), "Rail 2 of white oak"),
        ("1\N{MULTIPLICATION SIGN}4 base", ("1 x 6 base", "1 x 4 base"), "1 x 4 base"), ("6½ base", ("5 1/2 base", "6 1/2 base"), "6 1/2 base"),
        ("three piece crown", ("Three-piece crown", "Plain crown"), "Three-piece crown"), ("CR-485", ("CR-458", "CB-550"), "CR-458"),
        ("E\u0301tude", ("Étude", "Hall"), "Étude"), ("vaulted", ("flat", "sloped", "tray"), None), ("depth", ("Length",), None),
        ("?", ("a", "b"), None), ("", ("a",), None), ("x", (), None),
    ],
)  # fmt: skip
def test_the_nearest_word_is_found(typed: str, choices: tuple[str, ...], meant: str | None) -> None:
    """A slip of the keys, another dress and a left-out `no.` find the word that was meant; a different word finds none."""
    assert nearest(typed, choices) == meant


@given(st.text(max_size=30), st.lists(st.text(max_size=12), max_size=5))
def test_a_guess_is_one_of_the_choices(typed: str, choices: list[str]) -> None:
    """Whatever was typed, a guess is one of the words there are, and each word is the guess for itself if it has letters."""
    guess = nearest(typed, choices)
    assert guess is None or guess in choices
    assert all(nearest(choice, [choice]) == choice for choice in choices if any(char.isalnum() for char in choice))


@pytest.mark.parametrize(
    ("value", "text"),
    [(True, "true"), (None, "null"), ({"a": 1}, "an object"), ([1], "a list"), (1.5, "1.5"),
     ("x" * 100, "x" * 79 + "…"), ("a\x00b", "a\N{REPLACEMENT CHARACTER}b"), (object(), "a object")],
)  # fmt: skip
def test_what_was_found_is_shown_shortly(value: object, text: str) -> None:
    """Never a whole document, never an exception."""
    assert shown(value) == text


def test_a_huge_number_is_not_written_out() -> None:
    """Python refuses to print more than 4,300 digits; nobody would read them."""
    assert shown(10**5000) == "a very large number"


def test_names_find_rows_in_any_spelling() -> None:
    """The first spelling is canonical, a later one of the same name is a duplicate."""
    names = Names(["Hall", None, "hall ", "Den"])
    assert names.duplicates == {2: 0}
    assert names.spelled("DEN") == "Den"
    assert list(names) == ["Hall", "Den"]
    assert not names.is_complete
    assert "“Hall”" in names.hint("Hal")


def test_a_mapping_by_spelling_is_a_mapping() -> None:
    """Lookups in any spelling, iteration by the canonical one, equality with a dict."""
    found = BySpelling([("Base 4", 1), ("Crown", 2)])
    assert found["base  4"] == 1
    assert "CROWN" in found
    assert found.get("rail") is None
    assert dict(found) == {"Base 4": 1, "Crown": 2}
    assert len(found) == 2
    assert "Base 4" in repr(found)
