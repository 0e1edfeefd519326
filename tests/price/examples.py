"""Hand-made stage records for tests of price and quote. Firm, house, people and every price are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from service.estimate.cuts.model import CutPlan, Cutting, Pattern, Piece, ProfileBoards, Proof, Purchase, Splice
from service.estimate.labor import Labor, LaborRow
from service.estimate.materials.model import Materials, RunFastening, SupplyRow
from service.estimate.price import Priced, priced
from service.estimate.takeoff.model import Backing, End, Joint, Run, Span
from service.firm import (
    Assembly,
    FirmSettings,
    Layer,
    Payment,
    Position,
    PriceList,
    Profile,
    ProfitMethod,
    SalesTaxOn,
    Shape,
    SupplyKind,
)
from service.problems import Problems
from service.survey import (
    CornerKind,
    Extra,
    ExtraKind,
    InsideJoint,
    Job,
    Joists,
    Room,
    Studs,
    Survey,
    TrimOrder,
    Wall,
)
from service.units import ZERO, Length, Units

D = Decimal
SQUARE = End(Joint.SQUARE)


def inches(value: int | str) -> Length:
    """A length in inches."""
    return Length.of(value)


SETTINGS = FirmSettings(
    name="Larkspur Hollow Finish Carpentry",
    currency="USD",
    units=Units.IMPERIAL,
    time_zone="America/Chicago",
    valid_for_days=30,
    burden_share=D("0.20"),
    overhead_share=D("0.10"),
    profit_method=ProfitMethod.MARKUP,
    profit_rate=D("0.25"),
    contingency_share=D("0.05"),
    material_tax_rate=D("0.08"),
    sales_tax_rate=D("0.06"),
    sales_tax_on=SalesTaxOn.NOTHING,
    crew_size=2,
    productive_hours_a_day=D(7),
    kerf=inches("0.125"),
    end_trim=inches("0.5"),
    shortest_piece=inches(24),
    shortest_offcut_to_keep=inches(24),
    joint_stagger=inches(16),
    scarf_angle_deg=45.0,
    inside_joint=InsideJoint.COPE,
    casing_reveal=inches("0.1875"),
)

BASE = Profile("LH-BASE", "Base 1x4 poplar", Shape.FLAT, inches("3.5"), inches("0.75"))
CROWN = Profile("LH-CROWN", "Crown 3 5/8 poplar", Shape.SPRUNG, inches("3.625"), inches("0.6875"), 38.0)
PROFILES = {profile.name: profile for profile in (BASE, CROWN)}


def price_list(*, payments: tuple[Payment, ...] = (), **settings: object) -> PriceList:
    """A price list; keyword arguments replace settings of the firm."""
    return PriceList(
        settings=replace(SETTINGS, **settings),
        wages={"carpenter": D(30)},
        payments=payments,
        profiles=PROFILES,
        stock=(),
        assemblies={"plain": Assembly("plain", (Layer(1, Position.BASE, BASE.name),))},
        supplies={},
        labor={},
    )


def wall(name: str, length: int, **members: object) -> Wall:
    """A wall with an inside corner at its right-hand end, studs at 8" and every 16"."""
    standing = {"corner": CornerKind.INSIDE, "angle_deg": 90.0, "studs": Studs(inches(8), inches(16))}
    return Wall(pointer=f"/rooms/0/walls/{name}", name=name, length=inches(length), **(standing | members))


def room(name: str = "Hall", number: int = 1, **members: object) -> Room:
    """A rectangle 96" × 120" with joists along wall A, 6" from it and every 16"."""
    standing = {
        "walls": tuple(wall(letter, 96 if letter in "AC" else 120) for letter in "ABCD"),
        "joists": Joists("A", inches(6), inches(16)),
    }
    return Room(
        pointer=f"/rooms/{number - 1}", name=name, ceiling_height=inches(96), wall_covering=inches("0.5"),
        ceiling_covering=inches("0.5"), **(standing | members),
    )  # fmt: skip


def survey(*, extras: tuple[Extra, ...] = (), rooms: tuple[Room, ...] = (), **job: object) -> Survey:
    """A survey; keyword arguments are members of the job."""
    standing = {
        "pointer": "/job", "job_name": "Hall and den", "customer": "Orla Fenwick",
        "site_address": "9 Tamarack Bend", "units": Units.IMPERIAL,
    }  # fmt: skip
    return Survey(
        Job(**(standing | job)), rooms or (room(), room("Den", 2)), (TrimOrder("/trim/0", None, None, "plain"),), extras
    )


def extra(kind: ExtraKind, price: str, quantity: str = "1", unit: str = "each") -> Extra:
    """An extra for the whole job."""
    return Extra("/extras/0", None, f"Extra {kind}", D(quantity), unit, D(price), kind)


def run(number: int = 1, room_number: int = 1, name: str = "Hall", **members: object) -> Run:
    """A run of base on wall A, 90" long."""
    standing: dict[str, object] = {
        "layer": Layer(1, Position.BASE, BASE.name), "profile": BASE, "near": ZERO, "far": inches("0.75"),
        "low": ZERO, "high": inches("3.5"), "start": ZERO, "length": inches(90), "cut_start": ZERO,
        "cut_length": inches(90), "cut_short": inches(90), "left": SQUARE, "right": SQUARE,
        "backing": Backing((inches(8), inches(24)), unbacked=(Span(inches(24), inches(90)),)), "splice_at": (),
    }  # fmt: skip
    return Run(
        number, room_number, name, "A", f"/rooms/{room_number - 1}/walls/0", "/trim/0", "plain", **(standing | members)
    )


def piece(
    mark: str = "A1", length: int | str = 90, room_number: int = 1, name: str = "Hall", **members: object
) -> Piece:
    """A piece of base on wall A."""
    standing: dict[str, object] = {
        "run": room_number, "wall": "A", "assembly": "plain", "layer": 1, "position": Position.BASE,
        "profile": BASE.name, "short_point": inches(length), "start": ZERO, "left": SQUARE, "right": SQUARE, "board": 1,
    }  # fmt: skip
    return Piece(mark=mark, room=room_number, room_name=name, long_point=inches(length), **(standing | members))


def boards(cost: str, profile: str = BASE.name) -> ProfileBoards:
    """One 16 ft board of a profile at a price."""
    length = inches(192)
    return ProfileBoards(
        profile, (Purchase(length, 1, D(cost), D(cost)),), (Pattern(1, length, (), ZERO, ZERO, length),), D(cost), 0
    )


def plan(
    pieces: tuple[Piece, ...] = (), bought: tuple[ProfileBoards, ...] = (), splices: tuple[Splice, ...] = ()
) -> CutPlan:
    """A cut plan; its joint cost is a large figure that must never reach the price."""
    cutting = Cutting(D(999), D(0), D(999), D(0), Fraction(0), D(0), is_proven=False, proof=Proof.NONE, groups=())
    return CutPlan(pieces, bought, splices, cutting)


def hours(amount: str, room_number: int | None = 1, task: str = "hang-base", worked: str = "1.5") -> LaborRow:
    """A labor row with its wages."""
    name = {1: "Hall", 2: "Den", None: None}[room_number]
    return LaborRow(
        task, room_number, name, f"Task {task}", D(30), "ft", D("0.05"), (), D(worked), "carpenter", D(30), D(amount),
        ("trade:labor.long-piece",),
    )  # fmt: skip


def supply(amount: str, kind: SupplyKind = SupplyKind.NAIL, **members: object) -> SupplyRow:
    """A supply bought in whole packages."""
    standing: dict[str, object] = {
        "code": "LH-NAIL", "description": "Finish nails", "need": D(80), "unit": "each", "waste_share": D("0.2"),
        "package_size": D(1000), "packages": 1, "rest": D(904), "unit_price": D(amount), "room_needs": {1: Fraction(80)},
        "basis": ("trade:waste.nails",),
    }  # fmt: skip
    return SupplyRow(kind=kind, amount=D(amount), **(standing | members))


def materials(*rows: SupplyRow, fastening: tuple[RunFastening, ...] = ()) -> Materials:
    """Supplies and what holds the runs."""
    return Materials(rows, fastening)


def fastening(run_number: int = 1, **members: object) -> RunFastening:
    """A run held by nails alone."""
    standing: dict[str, object] = {
        "nails": {"LH-NAIL": 12}, "cross_nailed": 0, "blocks": 0, "glue_plates": 0, "adhesive_length": ZERO,
        "caulked_length": ZERO, "painted_area_sqft": Fraction(0), "primed_area_sqft": Fraction(0), "coats": 0,
    }  # fmt: skip
    return RunFastening(run=run_number, **(standing | members))


def labor(*rows: LaborRow) -> Labor:
    """Labor of these rows."""
    return Labor(rows, sum((row.hours for row in rows), D(0)), D("0.2"))


def price(
    *,
    wages: tuple[LaborRow, ...] = (),
    supplies: tuple[SupplyRow, ...] = (),
    bought: tuple[ProfileBoards, ...] = (),
    pieces: tuple[Piece, ...] = (),
    job: Survey | None = None,
    firm: PriceList | None = None,
    problems: Problems | None = None,
) -> Priced:
    """The price stage over these records."""
    return priced(
        (run(), run(2, 2, "Den")), plan(pieces, bought), materials(*supplies), labor(*wages), job or survey(),
        firm or price_list(), Problems() if problems is None else problems,
    )  # fmt: skip
