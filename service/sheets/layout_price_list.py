"""The price list, layout version 1, as data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.firm import (
    AdhesiveUse,
    ConditionKind,
    FinishState,
    Position,
    ProfitMethod,
    SalesTaxOn,
    Shape,
    SupplyKind,
)
from service.sheets.layout import Column, Kind, Layout, Tab
from service.survey import FinishOrder, InsideJoint, OutsideJoint
from service.trade.tasks import TASKS
from service.units import Units

if TYPE_CHECKING:
    from enum import StrEnum


def _words(choices: type[StrEnum]) -> tuple[str, ...]:
    return tuple(str(choice) for choice in choices)


_YES_NO = ("yes", "no")
_PROFILE = Column("Profile", required=True, synonyms=("Profile name", "Profile code"), width=20)


def _share(heading: str, *synonyms: str, required: bool = True, prompt: str = "") -> Column:
    return Column(heading, Kind.SHARE, required, synonyms=synonyms, prompt=prompt or "A share such as 15%.")


def _length(heading: str, prompt: str = "", *, required: bool = False, synonyms: tuple[str, ...] = ()) -> Column:
    return Column(heading, Kind.LENGTH, required, synonyms=synonyms, prompt=prompt)


FIRM = Tab(
    "Firm", "firm", required=True, is_items=True,
    columns=(
        Column("Name", required=True, synonyms=("Firm", "Firm name", "Company")),
        Column("Address", Kind.PROSE),
        Column("Phone"),
        Column("Email", synonyms=("E-mail",)),
        Column("License number", synonyms=("License", "Licence number")),
        Column("Currency", required=True, prompt="Three letters (ISO 4217), two decimals, such as USD."),
        Column("Units", Kind.CHOICE, required=True, choices=_words(Units),
               prompt="imperial: a bare number is inches. metric: a bare number is millimeters."),
        Column("Time zone", required=True, synonyms=("Timezone",), prompt="IANA name such as America/Chicago."),
        Column("Paper", Kind.CHOICE, choices=("Letter", "A4"), prompt="Blank: Letter on an imperial list, A4 on a metric one."),
        Column("Document word", Kind.CHOICE, choices=("quote", "estimate")),
        Column("Valid for days", Kind.NUMBER, required=True, synonyms=("Valid days",)),
        _share("Burden share", "Burden", "Labor burden", prompt="Taxes and insurance as a share of wages."),
        _share("Overhead share", "Overhead", prompt="Cost of being in business as a share of direct cost."),
        Column("Profit method", Kind.CHOICE, required=True, choices=_words(ProfitMethod),
               prompt="markup: a share of cost. margin: a share of price."),
        _share("Profit rate", "Profit"),
        _share("Contingency share", "Contingency"),
        _share("Material tax rate", "Material tax", prompt="Tax the firm pays on what it buys."),
        _share("Sales tax rate", "Sales tax", prompt="Tax the customer pays."),
        Column("Sales tax on", Kind.CHOICE, required=True, choices=_words(SalesTaxOn)),
        Column("Minimum charge", Kind.MONEY),
        Column("Deposit cap", Kind.MONEY, prompt="Greatest first payment; your law may set one."),
        Column("Crew size", Kind.NUMBER, required=True, synonyms=("Crew",)),
        Column("Productive hours a day", Kind.NUMBER, required=True, synonyms=("Productive hours per day", "Hours a day")),
        _length("Kerf", "Width of the saw's cut.", required=True, synonyms=("Saw kerf",)),
        _length("End trim", "Cut off a board's two ends together.", required=True),
        _length("Shortest piece", "Shortest piece a splice may leave.", required=True),
        _length("Shortest offcut to keep", required=True, synonyms=("Shortest offcut",)),
        _length("Joint stagger", "Least distance between splices of layers on one wall.", required=True, synonyms=("Stagger",)),
        Column("Scarf angle", Kind.ANGLE, required=True, prompt="Saw setting from square, in degrees."),
        Column("Inside joint", Kind.CHOICE, required=True, choices=("cope", "miter"), synonyms=("Inside corner joint",)),
        Column("Splice short runs", Kind.YES_NO, choices=_YES_NO),
        Column("Solver seconds", Kind.NUMBER),
        _length("Casing reveal", "Jamb edge left showing beside the casing.", required=True, synonyms=("Reveal",)),
        _length("Stool horn", "How far the stool runs past the casing."),
        _share("Spare stock", "Spare stock share", required=False, prompt="Share of boards bought over the need."),
        Column("Saw miter limit", Kind.ANGLE, prompt="Degrees."),
        Column("Saw bevel limit", Kind.ANGLE, prompt="Degrees."),
        Column("Shoe nails to", Kind.CHOICE, choices=("floor", "base")),
        Column("Default finish", Kind.CHOICE, choices=_words(FinishOrder)),
        Column("Lead certificate", synonyms=("Lead certification",)),
    ),
)  # fmt: skip

WAGES = Tab(
    "Wages", "wages", required=True, synonyms=("Wage",),
    columns=(
        Column("Role", required=True, width=20),
        Column("Wage", Kind.MONEY, required=True, synonyms=("Hourly wage", "Wage per hour"), prompt="For one hour, before burden."),
    ),
)  # fmt: skip

PAYMENTS = Tab(
    "Payments", "payments", required=True, synonyms=("Payment",),
    columns=(
        Column("When", required=True, width=34, prompt="The first row is the deposit."),
        Column("Share", Kind.SHARE, required=True, prompt="Shares add to 100%."),
    ),
)  # fmt: skip

PROFILES = Tab(
    "Profiles", "profiles", required=True, synonyms=("Profile",),
    columns=(
        _PROFILE,
        Column("Description", required=True, width=34),
        Column("Shape", Kind.CHOICE, required=True, choices=_words(Shape)),
        _length("Width", "Face width; of a sprung one, edge to edge as sold.", required=True),
        _length("Thickness", required=True),
        Column("Spring angle", Kind.ANGLE, prompt="Sprung ones: degrees between back and wall, 38 for a 38/52 crown."),
        Column("Material", width=18),
        Column("Finish", Kind.CHOICE, choices=_words(FinishState)),
        _length("Girth", "Length around the painted face; blank is width and twice the thickness."),
        Column("Weight per foot", Kind.NUMBER, synonyms=("Weight",), prompt="Such as 0.45 lb/ft or 0.67 kg/m; a bare number is pounds a foot on an imperial list, kilograms a foot on a metric one."),
    ),
)  # fmt: skip

STOCK = Tab(
    "Stock", "stock", required=True,
    columns=(
        _PROFILE,
        _length("Length", "Length of the board as sold.", required=True),
        Column("Price", Kind.MONEY, required=True),
        Column("Per", Kind.CHOICE, required=True, choices=("each", "foot"), synonyms=("Price per",)),
        Column("Available", Kind.NUMBER, prompt="How many can be had; blank is no limit."),
        Column("Offcut", Kind.YES_NO, choices=_YES_NO, prompt="Whether it is an offcut on hand."),
    ),
)  # fmt: skip

ASSEMBLIES = Tab(
    "Assemblies", "assemblies", required=True, synonyms=("Assembly",),
    columns=(
        Column("Assembly", required=True, synonyms=("Assembly name",), width=26),
        Column("Layer", Kind.NUMBER, required=True, width=8),
        Column("Position", Kind.CHOICE, required=True, choices=_words(Position)),
        _PROFILE,
        Column("Inside joint", Kind.CHOICE, choices=_words(InsideJoint), synonyms=("Inside corner joint",)),
        Column("Outside joint", Kind.CHOICE, choices=_words(OutsideJoint), synonyms=("Outside corner joint",)),
        Column("Adhesive", Kind.CHOICE, choices=_words(AdhesiveUse)),
        Column("Beads", Kind.NUMBER, width=8),
        _length("Bead diameter"),
        Column("Nail", width=18, prompt="Supply code; blank: chosen by length."),
        Column("Blocks", Kind.YES_NO, choices=_YES_NO, width=8),
        _length("Block spacing", "Blank: at every stud."),
        Column("Caulk edges", Kind.NUMBER, synonyms=("Caulked edges",), prompt="How many edges are caulked."),
    ),
)  # fmt: skip

SUPPLIES = Tab(
    "Supplies", "supplies", required=True, synonyms=("Supply",),
    columns=(
        Column("Code", required=True, synonyms=("Supply code",), width=20),
        Column("Description", required=True, width=40),
        Column("Kind", Kind.CHOICE, required=True, choices=_words(SupplyKind), synonyms=("Type",)),
        Column("Package size", Kind.NUMBER, required=True, prompt="How many package units in one package."),
        Column("Package unit", required=True, prompt="each, lb, cartridge, gal, qt, L, oz …"),
        Column("Price", Kind.MONEY, required=True, prompt="Of one package."),
        _length("Length", "Nails and screws."),
        _length("Shank diameter", "Nails and screws."),
        Column("Volume", prompt="Of one package unit, such as 10.1 fl oz or 300 mL."),
        Column("Coverage", prompt="Of one package unit, such as 400 sq ft or 10 sq m."),
    ),
)  # fmt: skip

LABOR = Tab(
    "Labor", "labor", required=True,
    columns=(
        Column("Task", Kind.CHOICE, required=True, choices=tuple(TASKS), width=18),
        Column("Unit", Kind.CHOICE, required=True, choices=tuple(dict.fromkeys(task.unit for task in TASKS.values()))),
        Column("Hours per unit", Kind.NUMBER, required=True, synonyms=("Hours",), prompt="Hours of one person for one unit."),
        Column("Role", required=True, width=20, prompt="A role of the Wages tab."),
        Column("Crew", Kind.NUMBER, width=8),
    ),
)  # fmt: skip

CONDITIONS = Tab(
    "Conditions", "conditions", synonyms=("Condition",),
    columns=(
        Column("Condition", Kind.CHOICE, required=True, choices=_words(ConditionKind), width=18),
        Column("From", Kind.LENGTH_OR_WORD, prompt="Ceiling height: lowest. Otherwise the word it holds for, such as over stairs."),
        Column("To", Kind.LENGTH_OR_WORD, prompt="Ceiling height: up to but not including."),
        Column("Applies to", Kind.LIST, required=True, width=26, prompt="all, or positions and tasks with ; between them."),
        Column("Factor", Kind.NUMBER, required=True, prompt="Multiplies the hours."),
    ),
)  # fmt: skip

NOTICES = Tab(
    "Notices", "notices", synonyms=("Notice",),
    columns=(
        Column("Text", Kind.PROSE, required=True, width=80),
        Column("Smallest type", Kind.NUMBER, synonyms=("Smallest type size",), prompt="Points."),
        Column("Beside signature", Kind.YES_NO, choices=_YES_NO),
    ),
)  # fmt: skip

TRADE = Tab(
    "Trade", "trade",
    columns=(
        Column("Entry", required=True, width=30, prompt="Key of a trade-book entry."),
        Column("Value", Kind.NUMBER, required=True),
        Column("Source", required=True, width=40, prompt="Where the firm has it from."),
    ),
)  # fmt: skip

PRICE_LIST = Layout(
    "price list",
    (FIRM, WAGES, PAYMENTS, PROFILES, STOCK, ASSEMBLIES, SUPPLIES, LABOR, CONDITIONS, NOTICES, TRADE),
)
