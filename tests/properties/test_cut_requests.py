"""What one cutting job says of another: more to choose from never costs more, names and order do not matter."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from service.estimate.cuts.direct import direct_plan
from service.problems import Problems
from service.units import Length
from tests.cuts.cut_requests import small_request

FEW = settings(max_examples=20, deadline=None)
JOBS = st.integers(0, 10**6).map(small_request)


def plan_of(job):
    """The plan, None where there is none."""
    return direct_plan(job, Problems())


def is_no_dearer(new, old):
    """True where the new job costs no more than the old one, or where the old one has no plan.

    What is proven must not cost more; what is not must at least be bounded below that.
    """
    if old is None:
        return True
    if new is None:
        return False
    cost = new.cutting.cost if new.cutting.is_proven else new.cutting.lower_bound
    return cost <= old.cutting.cost


def costs(answer):
    """Cost, bound and proof, None without a plan."""
    return answer and (answer.cutting.cost, answer.cutting.lower_bound, answer.cutting.is_proven)


@FEW
@given(JOBS, st.data())
def test_one_more_stock_length(job, data):
    """One more length never costs more: in any number where runs may be spliced anyway, else not the longest.

    A longer one without limit would forbid splices that were the cheaper way, since a run that fits it stays whole.
    """
    row = data.draw(st.sampled_from(job.stock))
    longest = max(other.length for other in job.stock if other.profile == row.profile and other.available is None)
    length = Length.of(Fraction(data.draw(st.integers(10, 500)), 2))
    is_limited = not job.splice_short_runs and length > longest
    limit = data.draw(st.integers(0, 2)) if is_limited else data.draw(st.sampled_from([None, 1, 2]))
    more = replace(row, length=length, available=limit, is_offcut=False)
    assert is_no_dearer(plan_of(replace(job, stock=(*job.stock, more))), plan_of(job))


@FEW
@given(JOBS, st.sampled_from([Fraction(0), Fraction(1, 2), Fraction(9, 10)]))
def test_thinner_saw(job, share):
    """A smaller kerf never costs more."""
    assert is_no_dearer(plan_of(replace(job, kerf=job.kerf * share)), plan_of(job))


@FEW
@given(JOBS, st.data())
def test_more_studs(job, data):
    """More places where a joint may fall never cost more."""
    more = [Length.of(Fraction(at, 4)) for at in data.draw(st.lists(st.integers(-20, 1200), min_size=1, max_size=4))]
    place = data.draw(st.integers(0, len(job.runs) - 1))
    runs = list(job.runs)
    runs[place] = replace(runs[place], backing=(*runs[place].backing, *more))
    assert is_no_dearer(plan_of(replace(job, runs=tuple(runs))), plan_of(job))


@FEW
@given(JOBS, st.sampled_from(["stagger", "shortest_piece", "end_trim"]))
def test_looser_rule(job, rule):
    """Half the stagger or half the shortest piece never costs more; no trim neither, where that changes no splices."""
    if rule == "end_trim" and not job.splice_short_runs:
        rule = "stagger"
    assert is_no_dearer(plan_of(replace(job, **{rule: getattr(job, rule) / 2})), plan_of(job))


@FEW
@given(JOBS, st.sampled_from([Fraction(2), Fraction(1, 3)]))
def test_scaled_lengths(job, factor):
    """A job of twice or a third of the size costs the same, bound and proof included."""
    assert costs(plan_of(scaled(job, factor))) == costs(plan_of(job))


def scaled(job, factor):
    """Every length times a factor."""
    names = ("kerf", "end_trim", "scarf_overlap", "shortest_piece", "stagger")
    return replace(
        job,
        **{name: getattr(job, name) * factor for name in names},
        stock=tuple(replace(row, length=row.length * factor) for row in job.stock),
        pieces=tuple(replace(row, length=row.length * factor) for row in job.pieces),
        runs=tuple(
            replace(
                row,
                start=row.start * factor,
                length=row.length * factor,
                backing=tuple(at * factor for at in row.backing),
            )
            for row in job.runs
        ),
    )


@FEW
@given(JOBS, st.randoms(use_true_random=False))
def test_order_of_rows(job, random):
    """Runs, stock, pieces and backing in another order cost the same."""

    def shuffled(rows):
        return tuple(random.sample(rows, len(rows)))

    other = replace(
        job,
        stock=shuffled(job.stock),
        pieces=shuffled(job.pieces),
        runs=tuple(replace(row, backing=shuffled(row.backing)) for row in shuffled(job.runs)),
    )
    mine, others = plan_of(job), plan_of(other)
    assert (mine and mine.cutting.cost) == (others and others.cutting.cost)


@FEW
@given(JOBS)
def test_names(job):
    """Other names for runs, pieces, walls and profiles give the same plan under these names."""
    other = replace(
        job,
        stock=tuple(replace(row, profile=f"x{row.profile}") for row in job.stock),
        pieces=tuple(replace(row, id=f"q{row.id}", profile=f"x{row.profile}") for row in job.pieces),
        runs=tuple(
            replace(row, id=f"z{row.id}", profile=f"x{row.profile}", wall=f"wall {row.wall}") for row in job.runs
        ),
    )
    mine, others = plan_of(job), plan_of(other)
    assert costs(mine) == costs(others)
    assert mine is None or [run.joints for run in mine.runs] == [run.joints for run in others.runs]


@FEW
@given(JOBS)
def test_same_again(job):
    """The same request gets the same answer."""
    assert plan_of(job) == plan_of(job)


@FEW
@given(JOBS, st.sampled_from(["r1", "far"]))
def test_walls_apart(job, name):
    """A run moved to a wall of its own never costs more, for nothing has to keep away from its joints."""
    runs = (replace(job.runs[0], wall=name), *job.runs[1:])
    assert is_no_dearer(plan_of(replace(job, runs=runs)), plan_of(job))
