"""Supplies in whole packages: needs, waste, rest, basis, and what the price list lacks."""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_CEILING
from fractions import Fraction

import pytest

from service.estimate.cuts.model import Splice
from service.firm import AdhesiveUse, FinishState, Position, SupplyKind
from service.problems import Code, Problems
from service.survey import FinishOrder
from tests.materials.examples import (
    BASE,
    BOARD,
    IN,
    SUPPLIES,
    D,
    centers,
    crown,
    materials,
    nail,
    only,
    plan,
    price_list,
    row,
    run,
    supply,
    without,
)

JOISTS = centers(16, 144)


def test_nails_by_count():
    """18 nails with 20 percent waste are 21.6 of a box of 1,000: one box, 978.4 left, 30.00."""
    found = row(materials(run(at=JOISTS)), "nail-2")
    assert (found.need, found.waste_share, found.packages, found.rest) == (18, D("0.2"), 1, D("978.4"))
    assert found.amount == D("30.00")


def test_nails_by_the_pound():
    """18 finish nails 8d at 189 to the pound are 0.0952 lb; boxes of a tenth of a pound: 0.1152 lb take two.

    18 / 189 = 0.09524, printed 0.096; with 20 percent 0.1152; 2 × 0.1 − 0.1152 = 0.0848 left.
    """
    others = [item for item in SUPPLIES if item.length is None]
    by_pound = nail("2.5", "0.099", "0.1", "lb")
    found = row(materials(run(at=JOISTS), prices=price_list(by_pound, *others)), "nail-2.5")
    assert (found.need, found.packages, found.rest) == (D("0.096"), 2, D("0.0848"))
    assert "trade:fastening.finish-8d-per-lb" in found.basis


def test_kilograms_are_pounds_by_their_exact_ratio():
    """Nails sold by the kilogram weigh 0.45359237 of the pounds."""
    others = [item for item in SUPPLIES if item.length is None]
    pounds = materials(run(at=JOISTS), prices=price_list(nail("2.5", "0.099", "1", "lb"), *others))
    kilos = materials(run(at=JOISTS), prices=price_list(nail("2.5", "0.099", "1", "kg"), *others))
    (lb,), (kg,) = row(pounds, "nail-2.5").room_needs.values(), row(kilos, "nail-2.5").room_needs.values()
    assert kg == lb * Fraction("0.45359237")


def test_nail_of_no_printed_size_is_counted_by_its_steel():
    """A 2 1/4 in nail has no printed count, so its steel tells: the basis says so."""
    others = [item for item in SUPPLIES if item.length is None]
    found = row(materials(run(at=JOISTS), prices=price_list(nail("2.25", "0.08", "1", "lb"), *others)), "nail-2.25")
    assert "trade:fastening.steel-weight" in found.basis
    assert float(found.room_needs[1]) == pytest.approx(18 * 3.14159265 / 4 * 0.08**2 * 2.25 * 0.28356)


def test_adhesive_in_cartridges():
    """Two beads of 1/4 in along 160 in: 2 × 0.049087 × 160 = 15.708 cu in, 0.862 of a cartridge of 18.227.

    Rounded up to 0.862; with 10 percent 0.9482: one cartridge.
    """
    layer = {"adhesive": AdhesiveUse.BEAD, "beads": 2}
    found = row(materials(run(at=JOISTS, layer=layer)), "adhesive")
    assert (found.need, found.packages, found.unit) == (D("0.862"), 1, "cartridge")


def test_bead_of_the_assembly_goes_before_the_trade():
    """A bead of 3/8 in takes (3/8 ÷ 1/4)² = 2.25 times the adhesive of the trade's 1/4 in."""
    thin = row(materials(run(at=JOISTS, layer={"adhesive": AdhesiveUse.BEAD})), "adhesive").room_needs[1]
    layer = {"adhesive": AdhesiveUse.BEAD, "bead_diameter": IN("0.375")}
    assert row(materials(run(at=JOISTS, layer=layer)), "adhesive").room_needs[1] == thin * Fraction(9, 4)


def test_dab_for_each_block():
    """Eleven blocks take eleven dabs of 0.25 cu in: 2.75 of 18.227, 0.1509 of a cartridge."""
    found = row(materials(crown()), "adhesive")
    assert found.need == (D("2.75") / D("18.22734375")).quantize(D("0.001"), rounding=ROUND_CEILING)


def test_sealant_for_each_edge():
    """Two edges of 160 in with a 3/16 in fillet: (3/16)² / 2 × 320 = 5.625 cu in, 0.3087 of a cartridge."""
    found = row(materials(run(at=JOISTS, layer={"caulked_edges": 2})), "caulk")
    assert found.need == D("0.309")
    assert only(run(at=JOISTS, layer={"caulked_edges": 2})).caulked_length == IN(320)


def test_filler_for_each_hole():
    """18 holes of 0.02 cu in are 0.36 cu in of a pint of 28.875: 0.0125, printed 0.013."""
    assert row(materials(run(at=JOISTS)), "filler").need == D("0.013")


def test_paint_on_raw_wood():
    """A 5 1/2 by 3/4 in board, 160 in long, painted: girth 7 in, 7.778 sq ft, primed once, painted twice.

    7 × 160 / 144 = 7.7778; primer 7.7778 / 500 = 0.01556 gal, paint 15.5556 / 400 = 0.03889 gal.
    """
    found = materials(run(at=JOISTS, finish=FinishOrder.PAINT))
    assert (row(found, "primer").need, row(found, "paint").need) == (D("0.016"), D("0.039"))
    assert found.fastening[0].painted_area_sqft == Fraction(7 * 160, 144)


def test_primed_stock_is_not_primed_again():
    """A base sold primed takes paint alone."""
    found = only(run(Position.BASE, BASE, at=JOISTS, finish=FinishOrder.PAINT))
    assert (found.primer_coats, found.primed_area_sqft, found.coats) == (0, 0, 2)


def test_girth_of_the_list_goes_before_width_and_thickness():
    """A profile with a girth of 9 in is painted on 9 in: 9 × 160 / 144 = 10 sq ft."""
    wide = replace(BOARD, girth=IN(9))
    assert only(run(profile=wide, at=JOISTS, finish=FinishOrder.PAINT)).painted_area_sqft == 10


@pytest.mark.parametrize(
    ("finish", "coats", "expected"),
    [
        (FinishOrder.NONE, None, (0, 0)), (FinishOrder.PRIME, None, (1, 0)), (FinishOrder.PRIME, 2, (2, 0)),
        (FinishOrder.PAINT, None, (1, 2)), (FinishOrder.PAINT, 3, (1, 3)), (FinishOrder.STAIN, None, (0, 2)),
        (FinishOrder.STAIN, 1, (0, 1)),
    ],
)  # fmt: skip
def test_coats_by_finish(finish, coats, expected):
    """Coats on the sheet count paint or stain, and primer where priming is all; else the trade's numbers hold."""
    found = only(run(at=JOISTS, finish=finish, coats=coats))
    assert (found.primer_coats, found.coats) == expected


def test_blank_finish_is_the_firms():
    """A blank Finish is the firm's default finish."""
    found = only(run(at=JOISTS), prices=price_list(default_finish="stain"))
    assert found.finish is FinishOrder.STAIN


def test_primed_stock_ordered_primed_needs_nothing():
    """Priming ordered on stock sold primed is already done."""
    primed = replace(BOARD, finish=FinishState.PRIMED)
    assert only(run(profile=primed, at=JOISTS, finish=FinishOrder.PRIME)).primer_coats == 0


def test_stain_by_its_volume():
    """Stain without coverage takes 300 sq ft a gallon: a quart covers 75; two coats of 7.778 sq ft take 0.2075 qt."""
    found = row(materials(run(at=JOISTS, finish=FinishOrder.STAIN)), "stain")
    assert (found.need, found.unit) == (D("0.208"), "qt")
    assert "trade:finish.stain-coverage" in found.basis


def test_splices_take_nails_and_glue_plates():
    """Two splices, one on a glue plate: 2 × 2 more nails and one plate of a package of ten."""
    item = run(at=JOISTS)
    cuts = plan(item, splices=(Splice(1, IN(48)), Splice(1, IN(100), on_glue_plate=True)))
    found = materials(item, cuts=cuts)
    assert found.fastening[0].nail_count == 18 + 4
    assert (row(found, "glue-plate").need, row(found, "glue-plate").packages, row(found, "glue-plate").rest) == (
        1,
        1,
        9,
    )


def test_blocks_are_bought_with_waste():
    """Eleven blocks and 5 percent are 11.55 of a package of 25."""
    found = row(materials(crown()), "block")
    assert (found.need, found.packages, found.rest) == (11, 1, D("13.45"))


def test_one_row_a_supply_with_every_room_and_wall():
    """Runs of two rooms share a row: 18 nails each, the need split by room, both walls in the basis."""
    one, other = run(at=JOISTS), run(at=JOISTS, number=2, wall_pointer="/rooms/0/walls/1")
    found = row(materials(one, other), "nail-2")
    assert found.need == 36
    assert found.room_needs == {1: 36}
    assert {"sheet:/rooms/0/walls/0", "sheet:/rooms/0/walls/1", "list:supplies/nail-2"} <= set(found.basis)


def test_basis_names_the_rules_that_were_used():
    """A wide board's nails rest on the wide rule, a narrow one's on the other."""
    wide = row(materials(run(profile=replace(BOARD, width=IN("9.25")), at=JOISTS)), "nail-2")
    narrow = row(materials(run(at=JOISTS)), "nail-2")
    assert "trade:fastening.nails-per-wide-joint" in wide.basis
    assert "trade:fastening.nails-per-wide-joint" not in narrow.basis
    assert "trade:fastening.nails-per-joint" in narrow.basis


@pytest.mark.parametrize(
    ("code", "item"),
    [
        ("block", crown()), ("adhesive", crown()), ("filler", run(at=JOISTS)),
        ("caulk", run(at=JOISTS, layer={"caulked_edges": 1})),
        ("primer", run(at=JOISTS, finish=FinishOrder.PRIME)), ("paint", run(at=JOISTS, finish=FinishOrder.PAINT)),
        ("stain", run(at=JOISTS, finish=FinishOrder.STAIN)),
    ],
)  # fmt: skip
def test_missing_supply_is_named(code, item):
    """A supply that the work takes and the price list lacks is a fault that names what to add; nothing is bought."""
    problems = Problems()
    found = materials(item, prices=without(code), problems=problems)
    (problem,) = problems.errors
    assert problem.code is Code.SUPPLY_MISSING
    assert problem.found == {"caulk": "sealant"}.get(code, code)
    assert found.supplies == ()


def test_missing_supply_is_told_once():
    """Ten runs without filler are one fault."""
    problems = Problems()
    materials(*(run(at=JOISTS, number=n) for n in range(1, 11)), prices=without("filler"), problems=problems)
    assert len(problems.errors) == 1


def test_glue_plate_missing():
    """A splice off the framing needs glue plates on the price list."""
    problems = Problems()
    item = run(at=JOISTS)
    cuts = plan(item, splices=(Splice(1, IN(100), on_glue_plate=True),))
    materials(item, cuts=cuts, prices=without("glue-plate"), problems=problems)
    assert [problem.found for problem in problems.errors] == ["glue-plate"]


@pytest.mark.parametrize(
    ("bad", "lacks"),
    [
        (supply("filler", SupplyKind.FILLER, "1", "tub", "9.00"), "Volume"),
        (nail("2", unit="box"), "package unit"),
        (replace(nail("2", unit="lb"), shank_diameter=None), "Shank diameter"),
    ],
)
def test_supply_that_cannot_be_counted(bad, lacks):
    """A supply whose packages cannot be worked out is a fault that names the missing column."""
    problems = Problems()
    others = [item for item in SUPPLIES if item.code != bad.code and not (item.length and bad.length)]
    materials(run(at=JOISTS), prices=price_list(bad, *others), problems=problems)
    (problem,) = problems.errors
    assert problem.code is Code.SUPPLY_MISSING
    assert lacks in problem.detail


def test_paint_without_coverage_or_volume():
    """Paint sold by the tub with no coverage cannot be counted."""
    problems = Problems()
    tub = supply("paint", SupplyKind.PAINT, "1", "tub", "45.00")
    others = [item for item in SUPPLIES if item.code != "paint"]
    materials(run(at=JOISTS, finish=FinishOrder.PAINT), prices=price_list(tub, *others), problems=problems)
    assert ["Coverage" in problem.detail for problem in problems.errors] == [True]


def test_stain_is_no_paint():
    """Where the only paint listed is the stain, painting still lacks its paint."""
    problems = Problems()
    materials(run(at=JOISTS, finish=FinishOrder.PAINT), prices=without("paint"), problems=problems)
    assert [problem.found for problem in problems.errors] == ["paint"]


def test_nothing_ordered_buys_nothing():
    """Without runs there is nothing to buy and nothing to say."""
    found = materials()
    assert (found.supplies, found.fastening) == ((), ())


def test_uncountable_supply_is_told_once():
    """Ten runs with filler that has no volume are one fault."""
    problems = Problems()
    tub = supply("filler", SupplyKind.FILLER, "1", "tub", "9.00")
    others = [item for item in SUPPLIES if item.code != "filler"]
    materials(*(run(at=JOISTS, number=n) for n in range(1, 11)), prices=price_list(tub, *others), problems=problems)
    assert len(problems.errors) == 1
