"""A price list without faults becomes the firm's records; each fault has its code and pointer."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from schemas.price_list import board_price, price_list_from
from schemas.price_tabs import FirmSchema, Per
from service import firm
from service.problems import Code, Severity
from service.survey import InsideJoint, OutsideJoint
from service.trade.tasks import TASKS, Task
from service.units import Length, Units
from tests.schemas.examples import Document, changed, inches, prices

D = Decimal


def read(document: Document) -> firm.PriceList:
    """The price list of a document that has no problem at all."""
    found, problems = price_list_from(document, name="standard", version=4)
    assert problems == ()
    assert found is not None
    return found


def test_settings_arrive_in_their_units() -> None:
    """Shares are fractions of one, lengths exact, angles degrees, words as the firm set them."""
    settings = read(prices()).settings
    assert settings.currency == "USD"
    assert settings.burden_share == D("0.28")
    assert settings.sales_tax_rate == D("0.0625")
    assert settings.kerf == inches("0.125")
    assert settings.scarf_angle_deg == 45
    assert settings.saw_bevel_limit_deg == 48
    assert settings.spare_stock_share == D("0.05")
    assert settings.solver_seconds == D("2.5")
    assert (settings.paper, settings.document_word, settings.shoe_nails_to, settings.default_finish) == (
        "A4", "estimate", "base", "paint",
    )  # fmt: skip
    assert settings.inside_joint is InsideJoint.COPE


@pytest.mark.parametrize(("units", "paper"), [("imperial", "Letter"), ("metric", "A4")])
def test_the_paper_follows_the_units(units: str, paper: str) -> None:
    """A blank Paper is Letter on an imperial list and A4 on a metric one."""
    document = changed(changed(prices(), "/firm/paper", None), "/firm/units", units)
    for place in ("kerf", "end_trim", "shortest_piece", "shortest_offcut_to_keep", "joint_stagger", "casing_reveal"):
        document["firm"][place] = {"in": "1"}
    document["stock"] = document["stock"][1:]
    for profile in document["profiles"]:
        profile |= {"width": '4"', "thickness": '1/2"'}
    document["assemblies"] = [{"assembly": "Crown", "layer": 1, "position": "crown", "profile": "CR"}]
    document["supplies"][0] |= {"length": '2"', "shank_diameter": {"in": "0.072"}}
    document["firm"].pop("stool_horn")
    document["profiles"][0].pop("girth")
    assert read(document).settings.paper == paper


def test_what_is_optional_and_left_out_is_not_set() -> None:
    """No figure of the business is guessed: what the firm left blank is None."""
    document = prices()
    for member in ("minimum_charge", "deposit_cap", "solver_seconds", "stool_horn", "spare_stock", "saw_miter_limit"):
        document["firm"].pop(member)
    settings = read(document).settings
    assert (settings.minimum_charge, settings.deposit_cap, settings.solver_seconds) == (None, None, None)
    assert (settings.stool_horn, settings.spare_stock_share, settings.saw_miter_limit_deg) == (None, None, None)


def test_names_are_found_in_any_spelling() -> None:
    """Assemblies, profiles, supplies, roles and tasks keep one spelling and are found under every other."""
    found = read(prices())
    assert list(found.assemblies) == ["Two-part crown", "Crown alone"]
    assert found.assemblies["TWO-PART  crown"] is found.assemblies["Two-part crown"]
    assert "two-part crown" in found.assemblies
    assert "Three-part crown" not in found.assemblies
    assert found.stock[0].profile == "CB"
    assert found.labor["cut-cope"].task == "cut-cope"
    assert found.labor["hang-crown"].role == "Carpenter"
    assert found.wages["helper"] == D("21.50")


def test_layers_stand_in_order() -> None:
    """Rows may come in any order; layers are sorted by number, with every setting."""
    ceiling, crown = read(prices()).assemblies["Two-part crown"].layers
    assert ceiling == firm.Layer(
        1, firm.Position.CEILING, "CB", adhesive=firm.AdhesiveUse.BEAD, beads=2, bead_diameter=inches("0.25")
    )
    assert crown == firm.Layer(
        2, firm.Position.CROWN, "CR", InsideJoint.COPE, OutsideJoint.BUTT, has_blocks=True, block_spacing=inches("32"),
        nail="N-2", caulked_edges=2,
    )  # fmt: skip


def test_a_price_per_foot_becomes_the_price_of_a_board() -> None:
    """16 ft at 2.1875 is 35.00; a half cent goes up; a price each stays."""
    stock = read(prices()).stock
    assert [item.price for item in stock] == [D("35.00"), D("31.20"), D("0.00")]
    assert board_price(D("0.345"), Per.FOOT, Length.of(12)) == D("0.35")
    assert board_price(D("1.33"), Per.FOOT, inches("150")) == D("16.63")  # 12.5 × 1.33 = 16.625
    assert (stock[1].available, stock[2].available, stock[2].is_offcut) == (6, 1, True)


def test_weights_volumes_and_coverage_are_converted() -> None:
    """1 fl oz = 231/128 in³, 1 lb = 0.45359237 kg, 1 ft = 0.3048 m (NIST Handbook 44, Appendix C)."""
    found = read(prices())
    assert found.supplies["GLUE"].volume_cu_in == D("10.1") * 231 / 128
    assert found.supplies["PAINT"].coverage_sqft == 400
    assert found.profiles["CR"].weight_lb_per_ft == pytest.approx(D("0.3048") / D("0.45359237"), abs=D("1e-20"))


@pytest.mark.parametrize(
    ("typed", "cubic_inches"),
    [("1 gal", 231), ("1 qt", "57.75"), ("300 mL", Fraction(300) / Fraction("16.387064")), ("1 L", Fraction(1000) / Fraction("16.387064")),
     ("10.1 oz.", None), ("10.1 fl. oz.", Fraction("10.1") * 231 / 128), ("29", Fraction(29 * 231, 128)), ("2 gallons", 462)],
)  # fmt: skip
def test_volumes_are_read_with_their_unit(typed: str, cubic_inches: Fraction | None) -> None:
    """1 in³ = 16.387064 mL exactly; an ounce that may be weight is refused; bare figures are fluid ounces."""
    found, problems = price_list_from(changed(prices(), "/supplies/1/volume", typed), name="s", version=1)
    if cubic_inches is None:
        assert [problem.code for problem in problems] == [Code.NUMBER_NOT_UNDERSTOOD]
        return
    assert found is not None
    assert float(found.supplies["GLUE"].volume_cu_in or 0) == pytest.approx(float(Fraction(cubic_inches)), rel=1e-15)


def test_conditions_hold_for_a_band_or_a_word() -> None:
    """A ceiling height from one length to another; an access by its word; occupied when nothing is said."""
    height, occupied, access = read(prices()).conditions
    assert (height.low, height.high, height.label) == (inches("108"), inches("120"), None)
    assert height.applies_to == ("crown", "hang-ceiling")
    assert (occupied.label, occupied.applies_to) == ("yes", ("all",))
    assert (access.label, access.low) == ("over stairs", None)


def test_notices_and_overrides_arrive() -> None:
    """The firm's own texts keep their lines, its own trade values their source."""
    found = read(prices())
    assert found.notices == (firm.Notice("You may cancel.\nWithin three days.", D(10), beside_signature=True),)
    assert found.overrides == (firm.TradeOverride("waste.nails", D("0.15"), "own jobs of 2025"),)
    assert (found.name, found.version) == ("standard", 4)


FAULTS = [
    ("/firm", None, Code.VALUE_MISSING, ""),
    ("/firm/currency", "JPY", Code.VALUE_NOT_IN_LIST, ""),
    ("/firm/currency", "US$", Code.VALUE_NOT_IN_LIST, ""),
    ("/firm/currency", "USD\n$", Code.VALUE_NOT_IN_LIST, ""),
    ("/firm/time_zone", "America/Chicgo", Code.VALUE_NOT_IN_LIST, ""),
    ("/firm/time_zone", "../../etc/passwd", Code.VALUE_NOT_IN_LIST, ""),
    ("/firm/paper", "A5", Code.VALUE_NOT_IN_LIST, ""),
    ("/firm/burden_share", "28", Code.SHARE_NOT_UNDERSTOOD, ""),
    ("/firm/burden_share", "-5%", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/firm/overhead_share", "a tenth", Code.SHARE_NOT_UNDERSTOOD, ""),
    ("/firm/sales_tax_rate", "101%", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/firm/profit_rate", "100%", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/firm/crew_size", 0, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/firm/crew_size", "2.5", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/firm/productive_hours_a_day", 25, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/firm/productive_hours_a_day", 0, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/firm/kerf", "2", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/firm/scarf_angle", 90, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/firm/scarf_angle", 0, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/firm/inside_joint", "butt", Code.VALUE_NOT_IN_LIST, ""),
    ("/firm/minimum_charge", 450.5, Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/firm/profit", "20%", Code.MEMBER_UNKNOWN, ""),
    ("/wages", [], Code.VALUE_MISSING, ""),
    ("/wages/1/role", "carpenter", Code.ITEM_DUPLICATE, ""),
    ("/wages/0/wage", "32.005", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/payments/0/share", "20%", Code.SHARES_DO_NOT_ADD_UP, "/payments"),
    ("/payments/0/share", "three tenths", Code.SHARE_NOT_UNDERSTOOD, ""),
    ("/profiles/0/profile", None, Code.VALUE_MISSING, ""),
    ("/profiles/1/spring_angle", None, Code.VALUE_MISSING, ""),
    ("/profiles/1/spring_angle", 95, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/profiles/0/spring_angle", 38, Code.VALUES_CONTRADICT, ""),
    ("/profiles/0/width", "0", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/profiles/0/weight_per_foot", "1.2 kg", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/profiles/2", {"profile": "cr", "description": "x", "shape": "flat", "width": "1", "thickness": "1"}, Code.ITEM_DUPLICATE,
     "/profiles/2/profile"),
    ("/stock/0/profile", "CBX", Code.PROFILE_UNKNOWN, ""),
    ("/stock/1/price", "31.205", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/stock/0/per", "meter", Code.VALUE_NOT_IN_LIST, ""),
    ("/stock/1/available", -1, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/assemblies/0/profile", "CRX", Code.PROFILE_UNKNOWN, ""),
    ("/assemblies/0/nail", "N-3", Code.SUPPLY_UNKNOWN, ""),
    ("/assemblies/0/nail", "glue", Code.SUPPLY_UNKNOWN, ""),
    ("/assemblies/0/position", "ceiling", Code.LAYERS_COLLIDE, "/assemblies/1/position"),
    ("/assemblies/1/layer", 2, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/assemblies/1/layer", 3, Code.NUMBER_OUT_OF_RANGE, ""),
    ("/assemblies/2/profile", "CB", Code.VALUES_CONTRADICT, ""),
    ("/supplies/0/length", None, Code.VALUE_MISSING, ""),
    ("/supplies/0/shank_diameter", None, Code.VALUE_MISSING, ""),
    ("/supplies/0/shank_diameter", "fat", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/supplies/1/code", "n-2", Code.ITEM_DUPLICATE, ""),
    ("/supplies/1/kind", "glue", Code.VALUE_NOT_IN_LIST, ""),
    ("/supplies/2/coverage", "400 sq yd", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/labor/0/task", "hang-crwn", Code.VALUE_NOT_IN_LIST, ""),
    ("/labor/0/unit", "joint", Code.VALUE_NOT_IN_LIST, ""),
    ("/labor/0/role", "Carpentr", Code.ROLE_UNKNOWN, ""),
    ("/labor/0/hours_per_unit", "-1", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/labor/1/task", "hang-crown", Code.ITEM_DUPLICATE, ""),
    ("/conditions/0/from", "11'", Code.VALUES_CONTRADICT, "/conditions/0/to"),
    ("/conditions/0/from", "tall", Code.LENGTH_NOT_UNDERSTOOD, ""),
    ("/conditions/0/applies_to", ["crwn"], Code.VALUE_NOT_IN_LIST, ""),
    ("/conditions/2/from", "over lava", Code.VALUE_NOT_IN_LIST, ""),
    ("/conditions/2/from", None, Code.VALUE_MISSING, ""),
    ("/conditions/1/to", "no", Code.VALUES_CONTRADICT, ""),
    ("/notices/0/smallest_type", "1", Code.NUMBER_OUT_OF_RANGE, ""),
    ("/trade/0/source", None, Code.VALUE_MISSING, ""),
    ("/trade/0/value", "lots", Code.NUMBER_NOT_UNDERSTOOD, ""),
    ("/layout", "2", Code.LAYOUT_UNKNOWN, ""),
]  # fmt: skip


@pytest.mark.parametrize(("pointer", "value", "code", "told"), FAULTS)
def test_one_fault_is_told_at_its_place(pointer: str, value: object, code: Code, told: str) -> None:
    """A list with one fault gives that error, with what to do, and no price list."""
    document = changed(prices(), pointer, value)
    if pointer == "/labor/1/task":
        document["labor"][1]["unit"] = "ft"
    found, problems = price_list_from(document, name="s", version=1)
    errors = [problem for problem in problems if problem.is_error]
    assert found is None
    assert {(problem.code, problem.pointer) for problem in errors} == {(code, told or pointer)}
    assert all(problem.detail.endswith(".") and problem.help for problem in errors)


REQUIRED = [field.data_key or name for name, field in FirmSchema().load_fields.items() if field.required]


@pytest.mark.parametrize("member", REQUIRED)
def test_no_business_figure_has_a_default(member: str) -> None:
    """Every starred item of the tab Firm that is missing is a fault."""
    _, problems = price_list_from(changed(prices(), f"/firm/{member}", None), name="s", version=1)
    assert (Code.VALUE_MISSING, f"/firm/{member}") in {(problem.code, problem.pointer) for problem in problems}


def test_the_starred_items_of_the_layout_are_required() -> None:
    """As printed in the price list's specification."""
    assert set(REQUIRED) == {
        "name", "currency", "units", "time_zone", "valid_for_days", "burden_share", "overhead_share", "profit_method",
        "profit_rate", "contingency_share", "material_tax_rate", "sales_tax_rate", "sales_tax_on", "crew_size",
        "productive_hours_a_day", "kerf", "end_trim", "shortest_piece", "shortest_offcut_to_keep", "joint_stagger",
        "scarf_angle", "inside_joint", "casing_reveal",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("pointer", "value", "code", "told"),
    [("/firm/material_tax_rate", "6%", Code.TAXED_TWICE, "/firm/sales_tax_rate"),
     ("/stock/0", None, Code.STOCK_MISSING, "/assemblies/1/profile"),
     ("/stock/2/available", None, Code.VALUE_MISSING, "/stock/2/available")],
)  # fmt: skip
def test_doubts_are_warnings(pointer: str, value: object, code: Code, told: str) -> None:
    """They are told, and the list is taken."""
    found, problems = price_list_from(changed(prices(), pointer, value), name="s", version=1)
    assert found is not None
    assert [(problem.code, problem.pointer, problem.severity) for problem in problems] == [
        (code, told, Severity.WARNING)
    ]


def test_sales_tax_on_nothing_is_no_second_tax() -> None:
    """Material tax with a sales tax rate that is charged on nothing is in order."""
    document = changed(changed(prices(), "/firm/material_tax_rate", "6%"), "/firm/sales_tax_on", "nothing")
    assert read(document).settings.material_tax_rate == D("0.06")


@pytest.mark.parametrize("task", TASKS.values(), ids=list(TASKS))
def test_every_published_task_is_accepted_in_its_unit(task: Task) -> None:
    """A row for each task of the trade, in the unit that the task is counted in."""
    document = prices()
    document["labor"] = [{"task": task.key, "unit": task.unit, "hours_per_unit": "0.1", "role": "Helper"}]
    assert list(read(document).labor) == [task.key]


def test_a_metric_list_reads_bare_figures_as_millimeters() -> None:
    """Bare lengths are millimeters, bare volumes milliliters, bare areas square meters."""
    document = changed(prices(), "/firm/units", "metric")
    for member, value in (("kerf", "3.2"), ("end_trim", "25"), ("shortest_piece", "400"), ("joint_stagger", "400"),
                          ("shortest_offcut_to_keep", "600"), ("casing_reveal", "5"), ("stool_horn", "25")):  # fmt: skip
        document["firm"][member] = value
    document["profiles"] = [document["profiles"][1] | {"width": "117", "thickness": "16"}]
    document["stock"] = [{"profile": "CR", "length": "3600", "price": "9.5", "per": "foot"}]
    document["assemblies"] = [{"assembly": "Crown", "layer": 1, "position": "crown", "profile": "CR"}]
    document["supplies"] = document["supplies"][1:]
    document["supplies"][0]["volume"] = "300"
    document["supplies"][1]["coverage"] = "10"
    document["conditions"] = []
    found = read(document)
    assert found.settings.units is Units.METRIC
    assert found.settings.kerf == Length.of_mm("3.2")
    assert found.stock[0].length == Length.of_mm(3600)
    assert found.stock[0].price == D("112.20")  # 3600 ÷ 304.8 × 9.5 = 112.2047…
    assert float(found.supplies["GLUE"].volume_cu_in or 0) == pytest.approx(300 / 16.387064)
    assert float(found.supplies["PAINT"].coverage_sqft or 0) == pytest.approx(10 / 0.09290304)
