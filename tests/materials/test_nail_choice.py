"""Which nail is chosen, and what is said when none will do."""

from __future__ import annotations

import pytest

from service.estimate.materials.nails import Into, chosen_nail, nails_listed
from service.problems import Code, Problems
from service.units import Length
from tests.materials.examples import IN, NAILS, RULES, SUPPLIES, centers, materials, nail, price_list, room, run


def choice(passes: str, *nails):
    """Code of the nail chosen for so much to pass, None where none will do."""
    found = chosen_nail(nails_listed(nails or NAILS, Into.FRAMING), IN(passes), RULES.nails)
    return found and found.code


@pytest.mark.parametrize(
    ("passes", "code"),
    [("0.5", "nail-1.25"), ("0.501", "nail-1.5"), ("1.25", "nail-2"), ("1.375", "nail-2.25"), ("2.26", None)],
)
def test_shortest_that_reaches(passes, code):
    """The shortest nail that reaches 3/4 in past what it passes is chosen; past 2 1/4 in a 3 in nail is too short."""
    assert choice(passes) == code


def test_thick_nail_must_go_deeper():
    """A nail of 0.2 in shank needs 1.2 in of penetration: a 2 in one passes 0.8 in, not 0.81."""
    spike = nail("2", "0.2")
    assert choice("0.8", spike) == "nail-2"
    assert choice("0.81", spike) is None


def test_thicker_for_framing_thinner_for_boards():
    """Of two 2 in nails the thicker goes into framing, where it holds more, the thinner into boards."""
    thin, thick = nail("2", "0.05"), nail("2.0", "0.09")
    assert nails_listed((thin, thick), Into.FRAMING)[0] is thick
    assert nails_listed((thick, thin), Into.BOARD)[0] is thin


def test_thicker_covering_takes_a_longer_nail():
    """Through 3/4 in of board a 2 in nail does with half-inch gypsum, 2 1/4 in with five eighths."""
    board = run(at=centers(16, 144))
    thin, thick = materials(board, place=room(covering="0.5")), materials(board, place=room(covering="0.625"))
    assert set(thin.fastening[0].nails) == {"nail-2"}
    assert set(thick.fastening[0].nails) == {"nail-2.25"}


def test_no_nail_long_enough():
    """Where no nail reaches, the fault names the layer and the length to add; nothing is bought."""
    problems = Problems()
    short = [item for item in SUPPLIES if item.length is None or item.length < Length.of(2)]
    found = materials(run(at=centers(16, 144)), prices=price_list(*short), problems=problems)
    (problem,) = problems.errors
    assert problem.code is Code.NO_NAIL_LONG_ENOUGH
    assert problem.pointer == "/trim/0"
    assert "2″" in problem.help
    assert found.supplies == ()


def test_named_nail_too_short():
    """A nail set for the layer that does not reach is a fault, though others would."""
    problems = Problems()
    materials(run(at=centers(16, 144), layer={"nail": "nail-1.5"}), problems=problems)
    (problem,) = problems.errors
    assert problem.code is Code.NO_NAIL_LONG_ENOUGH
    assert "nail-1.5" in problem.detail


@pytest.mark.parametrize(("length", "is_told"), [("2.5", False), ("2.51", True)])
def test_nail_may_reach_a_cable(length, is_told):
    """More than 1 1/4 in into framing is a warning: through 1 1/4 in, a 2 1/2 in nail is at the limit.

    Source: NEC 300.4(D), from memory.
    """
    problems = Problems()
    others = [item for item in SUPPLIES if item.length is None]
    materials(run(at=centers(16, 144)), prices=price_list(nail(length), *others), problems=problems)
    codes = [problem.code for problem in problems]
    assert (Code.NAIL_MAY_REACH_CABLE in codes) is is_told
    assert not problems.has_errors


def test_screws_are_no_nails():
    """Only supplies of kind nail with a known length are chosen from."""
    listed = nails_listed(SUPPLIES, Into.BOARD)
    assert {item.code for item in listed} == {item.code for item in NAILS}
