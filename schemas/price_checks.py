"""What only the whole price list shows: names that refer to nothing, layers that collide, shares that do not add up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from schemas.condition_checks import check_condition
from schemas.names import Names, tell_duplicates, tell_unknown
from schemas.price_tabs import Per
from schemas.records import Row, rows
from schemas.text import folded, shown
from service.firm import Position, ProfitMethod, SalesTaxOn, Shape, SupplyKind
from service.nearest import nearest
from service.problems import Code, pointer
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.problems import Problems

CENT_DECIMALS = 2


def check_price_list(record: Row, problems: Problems) -> None:
    """Every fault that needs more than one member, over what could be read of the document."""
    profiles = Names.of(rows(record, "profiles"), "name")
    supplies = Names.of(rows(record, "supplies"), "code")
    roles = Names.of(rows(record, "wages"), "role")
    _check_repeats(record, (profiles, supplies, roles), problems)
    _check_firm(record.get("firm", {}), problems)
    _check_payments(rows(record, "payments"), problems)
    for number, profile in enumerate(rows(record, "profiles")):
        _check_profile(pointer("profiles", number), profile, problems)
    for number, stock in enumerate(rows(record, "stock")):
        _check_stock(pointer("stock", number), stock, profiles, problems)
    _check_layers(record, profiles, supplies, problems)
    for number, supply in enumerate(rows(record, "supplies")):
        _check_supply(pointer("supplies", number), supply, problems)
    for number, rate in enumerate(rows(record, "labor")):
        _check_rate(pointer("labor", number), rate, roles, problems)
    for number, condition in enumerate(rows(record, "conditions")):
        check_condition(pointer("conditions", number), condition, problems)
    _check_stocked(record, profiles, problems)


def _check_repeats(record: Row, names: tuple[Names, Names, Names], problems: Problems) -> None:
    profiles, supplies, roles = names
    tell_duplicates(profiles, Code.ITEM_DUPLICATE, "/profiles", "profile", problems)
    tell_duplicates(supplies, Code.ITEM_DUPLICATE, "/supplies", "code", problems)
    tell_duplicates(roles, Code.ITEM_DUPLICATE, "/wages", "role", problems)
    tell_duplicates(Names.of(rows(record, "labor"), "task"), Code.ITEM_DUPLICATE, "/labor", "task", problems)
    tell_duplicates(Names.of(rows(record, "trade"), "entry"), Code.ITEM_DUPLICATE, "/trade", "entry", problems)


def _check_firm(firm: Row, problems: Problems) -> None:
    if firm.get("profit_method") is ProfitMethod.MARGIN and firm.get("profit_rate", 0) >= 1:
        problems.error(
            Code.NUMBER_OUT_OF_RANGE, "/firm/profit_rate", "A margin is a share of the price, less than 100%.",
            help="Type a share below 100%, or set the profit method to markup.", found=f"{firm['profit_rate'] * 100:f}%",
        )  # fmt: skip
    charged = firm.get("sales_tax_on", SalesTaxOn.NOTHING) is not SalesTaxOn.NOTHING and firm.get("sales_tax_rate", 0)
    if charged and firm.get("material_tax_rate", 0):
        problems.warning(
            Code.TAXED_TWICE, "/firm/sales_tax_rate", "Tax is paid on material and charged to the customer as well.",
            help="Usually one of material tax and sales tax is 0; ask your tax adviser which.",
        )  # fmt: skip


def _check_payments(payments: list[Row], problems: Problems) -> None:
    shares = [payment["share"] for payment in payments if "share" in payment]
    if payments and len(shares) == len(payments) and sum(shares) != 1:
        problems.error(
            Code.SHARES_DO_NOT_ADD_UP, "/payments", "The shares of the payments do not add up to 100%.",
            help="Change a share so that they add up.", found=f"{sum(shares) * 100:f}%",
        )  # fmt: skip


def _check_profile(place: str, profile: Row, problems: Problems) -> None:
    if "shape" not in profile:
        return
    is_sprung = profile["shape"] is Shape.SPRUNG
    told = any(problem.pointer == f"{place}/spring_angle" for problem in problems)
    if is_sprung and "spring_angle_deg" not in profile and not told:
        problems.error(
            Code.VALUE_MISSING, f"{place}/spring_angle", "A sprung profile needs its spring angle.",
            help="Type the angle between its back and the wall, such as 38 for a 38/52 crown.",
        )  # fmt: skip
    if not is_sprung and "spring_angle_deg" in profile:
        problems.error(
            Code.VALUES_CONTRADICT, f"{place}/spring_angle", f"A {profile['shape']} profile has no spring angle.",
            help="Leave the angle blank, or set the shape to sprung.", found=f"{profile['spring_angle_deg']:g}",
        )  # fmt: skip


def _check_stock(place: str, stock: Row, profiles: Names, problems: Problems) -> None:
    if "profile" in stock:
        tell_unknown(stock["profile"], profiles, Code.PROFILE_UNKNOWN, f"{place}/profile", "profile", problems)
    price = stock.get("price")
    if stock.get("per") is Per.EACH and price is not None and price != round(price, CENT_DECIMALS):
        problems.error(
            Code.NUMBER_NOT_UNDERSTOOD, f"{place}/price", "The price of a board has more than 2 decimals.",
            help="Type a price in cents; only a price per foot may be finer.", found=str(price),
        )  # fmt: skip
    if stock.get("is_offcut") and "available" not in stock:
        problems.warning(
            Code.VALUE_MISSING, f"{place}/available", "Without a number, offcuts of this length never run out.",
            help="Type how many are on hand.",
        )  # fmt: skip


def _check_layers(record: Row, profiles: Names, supplies: Names, problems: Problems) -> None:
    shapes = {folded(row["name"]): row.get("shape") for row in reversed(rows(record, "profiles")) if "name" in row}
    kinds = {folded(row["code"]): row.get("kind") for row in reversed(rows(record, "supplies")) if "code" in row}
    layers = rows(record, "assemblies")
    for number, layer in enumerate(layers):
        place = pointer("assemblies", number)
        _check_layer_profile(place, layer, profiles, shapes, problems)
        _check_layer_nail(place, layer, supplies, kinds, problems)
    _check_positions(layers, problems)
    _check_numbers(layers, problems)


def _check_layer_profile(
    place: str, layer: Row, profiles: Names, shapes: Mapping[str, Shape | None], problems: Problems
) -> None:
    if "profile" not in layer:
        return
    tell_unknown(layer["profile"], profiles, Code.PROFILE_UNKNOWN, f"{place}/profile", "profile", problems)
    shape = shapes.get(folded(layer["profile"]))
    if layer.get("position") is Position.CROWN and shape not in {None, Shape.SPRUNG}:
        problems.error(
            Code.VALUES_CONTRADICT, f"{place}/profile", f"A crown layer needs a sprung profile; this one is {shape}.",
            help="Name a sprung profile, or set the position to ceiling or wall.", found=shown(layer["profile"]),
        )  # fmt: skip


def _check_layer_nail(
    place: str, layer: Row, supplies: Names, kinds: Mapping[str, SupplyKind | None], problems: Problems
) -> None:
    if "nail" not in layer:
        return
    tell_unknown(layer["nail"], supplies, Code.SUPPLY_UNKNOWN, f"{place}/nail", "supply", problems)
    kind = kinds.get(folded(layer["nail"]))
    if kind not in {None, SupplyKind.NAIL, SupplyKind.SCREW}:
        problems.error(
            Code.SUPPLY_UNKNOWN, f"{place}/nail", f"This supply is no nail but {kind}.",
            help="Type the code of a nail, or leave it blank to have one chosen.", found=shown(layer["nail"]),
        )  # fmt: skip


def _check_positions(layers: list[Row], problems: Problems) -> None:
    seen: dict[tuple[str, Position], int] = {}
    for number, layer in enumerate(layers):
        if not {"assembly", "position"} <= layer.keys():
            continue
        first = seen.setdefault((folded(layer["assembly"]), layer["position"]), number)
        if first != number:
            problems.error(
                Code.LAYERS_COLLIDE, f"/assemblies/{number}/position",
                f"Row {first + 1} of this list already has the {layer['position']} layer of {shown(layer['assembly'])}.",
                help="One layer a position: take one off, or give it another position.", found=str(layer["position"]),
            )  # fmt: skip


def _check_numbers(layers: list[Row], problems: Problems) -> None:
    members: dict[str, list[tuple[int, int | None]]] = {}
    for number, layer in enumerate(layers):
        if "assembly" in layer:
            members.setdefault(folded(layer["assembly"]), []).append((number, layer.get("number")))
    for numbered in members.values():
        _check_sequence(numbered, problems)


def _check_sequence(numbered: list[tuple[int, int | None]], problems: Problems) -> None:
    counts = [count for _, count in numbered]
    if None in counts or sorted(filter(None, counts)) == list(range(1, len(counts) + 1)):
        return
    wrong = [
        (row, count) for n, (row, count) in enumerate(numbered) if count in counts[:n] or (count or 0) > len(counts)
    ]
    for row, count in wrong:
        problems.error(
            Code.NUMBER_OUT_OF_RANGE, f"/assemblies/{row}/layer", "The layers of an assembly are numbered 1, 2, … without gaps.",
            help=f"Type a number from 1 to {len(counts)} that no other layer has.", found=str(count),
        )  # fmt: skip


def _check_supply(place: str, supply: Row, problems: Problems) -> None:
    if supply.get("kind") is not SupplyKind.NAIL:
        return
    for member in ("length", "shank_diameter"):
        if member not in supply and not any(problem.pointer == f"{place}/{member}" for problem in problems):
            problems.error(
                Code.VALUE_MISSING, f"{place}/{member}", "A nail is chosen by its length and shank diameter.",
                help="Type it in inches or with a unit, such as 2 or 0.072.",
            )  # fmt: skip


def _check_rate(place: str, rate: Row, roles: Names, problems: Problems) -> None:
    if "role" in rate:
        tell_unknown(rate["role"], roles, Code.ROLE_UNKNOWN, f"{place}/role", "role on tab Wages", problems)
    if "task" not in rate:
        return
    task = TASKS.get(folded(rate["task"]))
    if task is None:
        near = nearest(rate["task"], TASKS)
        problems.error(
            Code.VALUE_NOT_IN_LIST, f"{place}/task", "There is no such task.",
            help=f"Did you mean “{near}”?" if near else f"Tasks are {', '.join(TASKS)}.", found=shown(rate["task"]),
        )  # fmt: skip
    elif folded(rate.get("unit", task.unit)) != task.unit:
        problems.error(
            Code.VALUE_NOT_IN_LIST, f"{place}/unit", f"{task.key} is counted by the {task.unit}: {task.driver}.",
            help=f"Type {task.unit}, and hours for one of it.", found=shown(rate["unit"]),
        )  # fmt: skip


def _check_stocked(record: Row, profiles: Names, problems: Problems) -> None:
    stocked = {folded(row["profile"]) for row in rows(record, "stock") if "profile" in row}
    told: set[str] = set()
    for number, layer in enumerate(rows(record, "assemblies")):
        key = folded(layer.get("profile", ""))
        if key and key not in stocked | told and layer["profile"] in profiles:
            told.add(key)
            problems.warning(
                Code.STOCK_MISSING, f"/assemblies/{number}/profile", "No length of this profile can be bought.",
                help="Add a row for it on tab Stock.", found=shown(layer["profile"]),
            )  # fmt: skip
