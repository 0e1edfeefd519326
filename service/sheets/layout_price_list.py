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
_PROFILE_WORDS = ("Profile name", "Profile code")
_PROFILE = Column(
    "Profile",
    required=True,
    synonyms=_PROFILE_WORDS,
    width=14,
    listed_in="Profiles",
    prompt="A profile of the Profiles tab.",
)


def _share(heading: str, *synonyms: str, required: bool = True, prompt: str) -> Column:
    return Column(heading, Kind.SHARE, required, synonyms=synonyms, prompt=f"{prompt} A share such as 15%.")


def _length(
    heading: str, prompt: str, *, required: bool = False, synonyms: tuple[str, ...] = (), width: int = 11
) -> Column:
    return Column(heading, Kind.LENGTH, required, synonyms=synonyms, prompt=prompt, width=width)


def _yes_no(heading: str, prompt: str, width: int = 10) -> Column:
    return Column(heading, Kind.YES_NO, choices=_YES_NO, prompt=prompt, width=width)


FIRM = Tab(
    "Firm", "firm", required=True, is_items=True,
    columns=(
        Column("Name", required=True, synonyms=("Firm", "Firm name", "Company"), prompt="The firm's name, as documents print it."),
        Column("Address", Kind.PROSE, prompt="Printed on documents."),
        Column("Phone", prompt="Printed on documents."),
        Column("Email", synonyms=("E-mail",), prompt="Printed on documents."),
        Column("License number", synonyms=("License", "Licence number"), prompt="Printed on documents; your law may ask for it."),
        Column("Currency", required=True, prompt="Three letters (ISO 4217), two decimals, such as USD."),
        Column("Units", Kind.CHOICE, required=True, choices=_words(Units),
               prompt="imperial: a bare number is inches. metric: a bare number is millimeters."),
        Column("Time zone", required=True, synonyms=("Timezone",), prompt="IANA name such as America/Chicago."),
        Column("Paper", Kind.CHOICE, choices=("Letter", "A4"), prompt="Blank: Letter on an imperial list, A4 on a metric one."),
        Column("Document word", Kind.CHOICE, choices=("quote", "estimate"), prompt="What documents call themselves; blank is quote."),
        Column("Valid for days", Kind.NUMBER, required=True, synonyms=("Valid days",), prompt="Days that a quote holds."),
        _share("Burden share", "Burden", "Labor burden", prompt="Taxes and insurance as a share of wages."),
        _share("Overhead share", "Overhead", prompt="Cost of being in business as a share of direct cost."),
        Column("Profit method", Kind.CHOICE, required=True, choices=_words(ProfitMethod),
               prompt="markup: a share of cost. margin: a share of price."),
        _share("Profit rate", "Profit", prompt="By the method above."),
        _share("Contingency share", "Contingency", prompt="Kept for what nobody could see."),
        _share("Material tax rate", "Material tax", prompt="Tax the firm pays on what it buys."),
        _share("Sales tax rate", "Sales tax", prompt="Tax the customer pays."),
        Column("Sales tax on", Kind.CHOICE, required=True, choices=_words(SalesTaxOn), prompt="What the customer's tax is reckoned on."),
        Column("Minimum charge", Kind.MONEY, prompt="Least price of a job; blank for none."),
        Column("Deposit cap", Kind.MONEY, prompt="Greatest first payment; your law may set one."),
        Column("Crew size", Kind.NUMBER, required=True, synonyms=("Crew",), prompt="People at work together."),
        Column("Productive hours a day", Kind.NUMBER, required=True, synonyms=("Productive hours per day", "Hours a day"),
               prompt="Hours of work of one person, breaks and driving apart."),
        _length("Kerf", "Width of the saw's cut.", required=True, synonyms=("Saw kerf",)),
        _length("End trim", "Cut off a board's two ends together.", required=True),
        _length("Shortest piece", "Shortest piece a splice may leave.", required=True),
        _length("Shortest offcut to keep", "Shorter ones are waste.", required=True, synonyms=("Shortest offcut",)),
        _length("Joint stagger", "Least distance between splices of layers on one wall.", required=True, synonyms=("Stagger",)),
        Column("Scarf angle", Kind.ANGLE, required=True, prompt="Saw setting from square, in degrees."),
        Column("Inside joint", Kind.CHOICE, required=True, choices=("cope", "miter"), synonyms=("Inside corner joint",),
               prompt="Where neither sheet nor assembly says otherwise."),
        _yes_no("Splice short runs", "Whether a run that fits one board may be spliced; blank is no."),
        Column("Solver seconds", Kind.NUMBER, prompt="How hard the cutting plan is searched for: 0, 1, 5 or more."),
        _length("Casing reveal", "Jamb edge left showing beside the casing.", required=True, synonyms=("Reveal",)),
        _length("Stool horn", "How far the stool runs past the casing."),
        _share("Spare stock", "Spare stock share", required=False, prompt="Share of boards bought over the need."),
        Column("Saw miter limit", Kind.ANGLE, prompt="Greatest miter the saw can be set to, in degrees."),
        Column("Saw bevel limit", Kind.ANGLE, prompt="Greatest bevel the saw can be set to, in degrees."),
        Column("Shoe nails to", Kind.CHOICE, choices=("floor", "base"), prompt="What the shoe is nailed to."),
        Column("Default finish", Kind.CHOICE, choices=_words(FinishOrder), prompt="Where the sheet orders none."),
        Column("Lead certificate", synonyms=("Lead certification",), prompt="Number of the firm's lead-safe certificate."),
    ),
)  # fmt: skip

WAGES = Tab(
    "Wages", "wages", required=True, synonyms=("Wage",),
    columns=(
        Column("Role", required=True, width=20, prompt="Such as carpenter; the Labor tab uses it."),
        Column("Wage", Kind.MONEY, required=True, synonyms=("Hourly wage", "Wage per hour"), prompt="For one hour, before burden."),
    ),
)  # fmt: skip

PAYMENTS = Tab(
    "Payments", "payments", required=True, synonyms=("Payment",),
    columns=(
        Column("When", required=True, width=34, prompt="When it falls due; the first row is the deposit."),
        Column("Share", Kind.SHARE, required=True, prompt="Shares add to 100%."),
    ),
)  # fmt: skip

PROFILES = Tab(
    "Profiles", "profiles", required=True, synonyms=("Profile",),
    columns=(
        Column("Profile", required=True, synonyms=_PROFILE_WORDS, width=14, prompt="Your name or code for it; the other tabs use it."),
        Column("Description", required=True, width=34, prompt="What the customer reads."),
        Column("Shape", Kind.CHOICE, required=True, choices=_words(Shape), width=10,
               prompt="flat board, molded, or sprung: a crown, with a spring angle."),
        _length("Width", "Face width; of a sprung one, edge to edge as sold.", required=True),
        _length("Thickness", "At its thickest.", required=True),
        Column("Spring angle", Kind.ANGLE, width=9, prompt="Sprung ones: degrees between back and wall, 38 for a 38/52 crown."),
        Column("Material", width=14, prompt="Such as poplar."),
        Column("Finish", Kind.CHOICE, choices=_words(FinishState), width=10, prompt="How it comes."),
        _length("Girth", "Length around the painted face; blank is width and twice the thickness."),
        Column("Weight per foot", Kind.NUMBER, synonyms=("Weight",), width=13,
               prompt="Such as 0.45 lb/ft or 0.67 kg/m; a bare number is pounds a foot on an imperial list, kilograms a foot on a metric one."),
    ),
)  # fmt: skip

STOCK = Tab(
    "Stock", "stock", required=True,
    columns=(
        _PROFILE,
        _length("Length", "Length of the board as sold.", required=True),
        Column("Price", Kind.MONEY, required=True, width=10, prompt="Of one board, or of one foot, as the next column says."),
        Column("Per", Kind.CHOICE, required=True, choices=("each", "foot"), synonyms=("Price per",), width=9,
               prompt="What the price is for: each board, or a foot of it."),
        Column("Available", Kind.NUMBER, width=11, prompt="How many can be had; blank is no limit."),
        _yes_no("Offcut", "Whether it is an offcut on hand."),
    ),
)  # fmt: skip

ASSEMBLIES = Tab(
    "Assemblies", "assemblies", required=True, synonyms=("Assembly",),
    columns=(
        Column("Assembly", required=True, synonyms=("Assembly name",), width=26, prompt="The build-up's name, the same on each of its rows."),
        Column("Layer", Kind.NUMBER, required=True, width=9, prompt="1, 2, … in the order they go up."),
        Column("Position", Kind.CHOICE, required=True, choices=_words(Position), width=11, prompt="Where the layer sits."),
        _PROFILE,
        Column("Inside joint", Kind.CHOICE, choices=_words(InsideJoint), synonyms=("Inside corner joint",), width=9,
               prompt="Blank: the firm's."),
        Column("Outside joint", Kind.CHOICE, choices=_words(OutsideJoint), synonyms=("Outside corner joint",), width=9,
               prompt="In outside corners; blank is miter."),
        Column("Adhesive", Kind.CHOICE, choices=_words(AdhesiveUse), width=10, prompt="How it is glued; blank is none."),
        Column("Beads", Kind.NUMBER, width=8, prompt="How many beads of adhesive along it."),
        _length("Bead diameter", "As thick as the nozzle lays it.", width=10),
        Column("Nail", width=16, listed_in="Supplies", prompt="Supply code; blank: chosen by length."),
        _yes_no("Blocks", "Whether blocks go behind it.", 8),
        _length("Block spacing", "Blank: at every stud.", width=9),
        Column("Caulk edges", Kind.NUMBER, synonyms=("Caulked edges",), width=8, prompt="How many edges are caulked."),
    ),
)  # fmt: skip

SUPPLIES = Tab(
    "Supplies", "supplies", required=True, synonyms=("Supply",),
    columns=(
        Column("Code", required=True, synonyms=("Supply code",), width=18, prompt="Your code for it, once."),
        Column("Description", required=True, width=38, prompt="What it is, for the buying list."),
        Column("Kind", Kind.CHOICE, required=True, choices=_words(SupplyKind), synonyms=("Type",), prompt="What it serves as."),
        Column("Package size", Kind.NUMBER, required=True, width=10, prompt="How many package units in one package."),
        Column("Package unit", required=True, width=14, prompt="each, lb, cartridge, gal, qt, L, oz …"),
        Column("Price", Kind.MONEY, required=True, width=10, prompt="Of one package."),
        _length("Length", "Nails and screws."),
        _length("Shank diameter", "Nails and screws."),
        Column("Volume", prompt="Of one package unit, such as 10.1 fl oz or 300 mL."),
        Column("Coverage", prompt="Of one package unit, such as 400 sq ft or 10 sq m."),
    ),
)  # fmt: skip

LABOR = Tab(
    "Labor", "labor", required=True,
    columns=(
        Column("Task", Kind.CHOICE, required=True, choices=tuple(TASKS), width=18, prompt="One row a task."),
        Column("Unit", Kind.CHOICE, required=True, choices=tuple(dict.fromkeys(task.unit for task in TASKS.values())),
               prompt="The unit that belongs to the task."),
        Column("Hours per unit", Kind.NUMBER, required=True, synonyms=("Hours",), width=11, prompt="Hours of one person for one unit."),
        Column("Role", required=True, width=20, listed_in="Wages", prompt="A role of the Wages tab."),
        Column("Crew", Kind.NUMBER, width=8, prompt="People at it together."),
    ),
)  # fmt: skip

CONDITIONS = Tab(
    "Conditions", "conditions", synonyms=("Condition",),
    columns=(
        Column("Condition", Kind.CHOICE, required=True, choices=_words(ConditionKind), width=18, prompt="What makes the work slower."),
        Column("From", Kind.LENGTH_OR_WORD, width=14, prompt="Ceiling height: lowest. Otherwise the word it holds for, such as over stairs."),
        Column("To", Kind.LENGTH_OR_WORD, prompt="Ceiling height: up to but not including."),
        Column("Applies to", Kind.LIST, required=True, width=26, prompt="all, or positions and tasks with ; between them."),
        Column("Factor", Kind.NUMBER, required=True, width=10, prompt="Multiplies the hours."),
    ),
)  # fmt: skip

NOTICES = Tab(
    "Notices", "notices", synonyms=("Notice",),
    columns=(
        Column("Text", Kind.PROSE, required=True, width=90, prompt="Printed word for word. The program ships no text as law."),
        Column("Smallest type", Kind.NUMBER, synonyms=("Smallest type size",), width=13, prompt="Least size of its letters, in points."),
        _yes_no("Beside signature", "Whether it must stand beside the signature.", 12),
    ),
)  # fmt: skip

TRADE = Tab(
    "Trade", "trade",
    columns=(
        Column("Entry", required=True, width=30, prompt="Key of a trade-book entry."),
        Column("Value", Kind.NUMBER, required=True, prompt="In the entry's own unit."),
        Column("Source", required=True, width=40, prompt="Where the firm has it from."),
    ),
)  # fmt: skip

PRICE_LIST = Layout(
    "price list",
    (FIRM, WAGES, PAYMENTS, PROFILES, STOCK, ASSEMBLIES, SUPPLIES, LABOR, CONDITIONS, NOTICES, TRADE),
)
