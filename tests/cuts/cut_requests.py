"""Cutting jobs by themselves for tests, some by hand, some by chance. Every length and price is invented."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from random import Random

from service.estimate.cuts.request import CutRequest, PieceRow, RunRow, StockRow
from tests.cuts.examples import IN

STOCK_FEET = (6, 8, 10, 12, 14, 16)


def stock(length, price, *, of="board", available=None, is_offcut=False):
    """A stock row, its length in inches."""
    return StockRow(of, IN(length), Decimal(price), available, is_offcut)


def run(name, length, backing=(), *, of="board", wall="A", start=0):
    """A run, all its lengths in inches."""
    return RunRow(name, of, wall, IN(start), IN(length), tuple(IN(at) for at in backing))


def pieces(name, length, quantity=1, *, of="board"):
    """So many pieces of a length in inches."""
    return PieceRow(name, of, IN(length), quantity)


def request(rows, runs=(), fixed=(), **changes):
    """A job without kerf, trim, overlap, stagger or shortest piece unless told; a joint costs 6.00."""
    members = {
        "kerf": 0, "end_trim": 0, "scarf_overlap": 0, "shortest_piece": 0, "stagger": 0,
    } | {name: value for name, value in changes.items() if name not in {"joint_cost", "splice_short_runs", "seconds"}}  # fmt: skip
    return CutRequest(
        currency="USD",
        **{name: IN(value) for name, value in members.items()},
        joint_cost=Decimal(changes.get("joint_cost", "6.00")),
        splice_short_runs=changes.get("splice_short_runs", False),
        stock=tuple(rows),
        runs=tuple(runs),
        pieces=tuple(fixed),
        seconds=changes.get("seconds"),
    )


def small_request(seed):
    """One to three runs on one or two walls, two or three stock lengths, a few pieces; some have no plan."""
    random = Random(seed)  # noqa: S311 - chance for tests, no secret
    profiles = ("board",) if random.random() < 0.6 else ("board", "crown")
    shortest = random.choice([0, 6, 12, 24])
    rows = [row for profile in profiles for row in _random_stock(random, profile)]
    count = random.randint(1, 3)
    runs = [_random_run(random, f"r{number}", random.choice(profiles), 6 - count) for number in range(count)]
    fixed = [
        pieces(f"p{number}", Fraction(random.randint(12, 190), 2), random.randint(1, 2), of=random.choice(profiles))
        for number in range(random.randint(0, 3 - count))
    ]
    return request(
        rows, runs, fixed,
        kerf=random.choice(["0", "1/8", "1/4", "1/10"]),
        end_trim=random.choice(["0", "0", "1/2", "2"]),
        scarf_overlap=random.choice(["0", "3/4", "1/3"]),
        shortest_piece=shortest,
        stagger=random.choice([0, 8, 16, 24]),
        joint_cost=random.choice(["0.00", "1.37", "6.00", "15.00"]),
        splice_short_runs=random.random() < 0.4,
    )  # fmt: skip


def _random_stock(random, profile):
    """Two or three lengths, at a price a foot or at any price; the longest may be limited, offcuts are free or dear."""
    feet = random.sample(STOCK_FEET[:5], random.randint(1, 2))
    rate = random.choice([100, 125, 0])
    rows = [stock(12 * one, _price(random, one, rate), of=profile) for one in feet]
    if random.random() < 0.6:
        price = random.choice(["0.00", "0.00", "2.50"])
        length = Fraction(random.randint(40, 300), 2)
        rows.append(stock(length, price, of=profile, available=random.randint(1, 2), is_offcut=True))
    elif random.random() < 0.5:
        rows.append(stock(192, _price(random, 16, rate), of=profile, available=random.randint(0, 2)))
    random.shuffle(rows)
    return rows


def _price(random, feet, rate):
    cents = rate * feet if rate else random.randint(60 * feet, 160 * feet)
    return str(Decimal(cents).scaleb(-2))


def _random_run(random, name, profile, most):
    """A run of 2 to 24 ft with positions for joints at studs, at joists or anywhere."""
    length = Fraction(random.randint(24 * 4, 288 * 4), 4)
    first, spacing = random.randint(1, 24), random.choice([16, 24, Fraction(96, 5), 40])
    studs = [first + spacing * step for step in range(30) if first + spacing * step < length]
    anywhere = [Fraction(random.randint(1, int(length) * 2 - 1), 2) for _ in range(most)]
    backing = sorted(random.sample(studs, min(len(studs), most)) if random.random() < 0.7 else set(anywhere))
    return run(name, length, backing, of=profile, wall=random.choice("AB"), start=random.choice([0, 0, 4, 30]))


def room_request(seed):
    """Two to four walls of a room with one or two layers on each, whole inches throughout, prices by the foot or at random."""
    random = Random(seed)  # noqa: S311 - chance for tests, no secret
    profiles = ("base", "shoe")[: random.randint(1, 2)]
    rows = [
        stock(12 * feet, _price(random, feet, random.choice([0, 100])), of=profile)
        for profile in profiles
        for feet in sorted(random.sample(STOCK_FEET[1:], random.randint(2, 3)))
    ]
    runs = []
    for wall in "ABCD"[: random.randint(2, 4)]:
        length, first = random.randint(60, 260), random.randint(1, 16)
        for profile in profiles:
            studs = range(first, length, random.choice([16, 24]))
            runs.append(run(f"{profile} {wall}", length, studs, of=profile, wall=wall))
    return request(
        rows, runs,
        kerf=random.choice([0, 1]), end_trim=random.choice([0, 1]), scarf_overlap=2,
        shortest_piece=24, stagger=16, joint_cost="6.00",
    )  # fmt: skip
