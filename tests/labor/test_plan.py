"""The work by day: what must hold for any work, any drying times and any crew."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from service.estimate.labor.clock import Hours, Moment
from service.estimate.labor.days import Chunk, RoomWork, put_into_days
from service.estimate.labor.stages import Drying, DryingRules, Phase, Stage, edges_of

TASKS_BY_STAGE = {
    Stage(Phase.TAKE_OFF): "tear-out", Stage(Phase.BOARDS): "hang-ceiling", Stage(Phase.HANG): "hang-wall",
    Stage(Phase.LOAD): "hang-crown", Stage(Phase.FILL): "fill", Stage(Phase.CAULK): "caulk", Stage(Phase.SAND): "sand",
    Stage(Phase.PRIME): "prime", Stage(Phase.COAT, 0): "paint", Stage(Phase.COAT, 1): "paint",
    Stage(Phase.LAST): "clean-up",
}  # fmt: skip
hours_of_a_task = st.integers(min_value=1, max_value=900)
rooms_of_work = st.lists(
    st.tuples(st.dictionaries(st.sampled_from(list(TASKS_BY_STAGE)), hours_of_a_task, min_size=1), st.booleans()),
    min_size=1, max_size=4,
)  # fmt: skip
waits = st.integers(min_value=0, max_value=60).map(Fraction)
rules = st.lists(waits, min_size=6, max_size=6).map(
    lambda found: DryingRules(*(Drying(f"wait {i}", wait, "labor.caulk-dry") for i, wait in enumerate(found)))
)
clocks = st.builds(
    Hours,
    crew=st.integers(min_value=1, max_value=4),
    day=st.sampled_from([Fraction(4), Fraction(13, 2), Fraction(8)]),
    night=st.integers(min_value=8, max_value=16).map(Fraction),
    longest_idle=st.integers(min_value=0, max_value=4).map(Fraction),
    shortest_stay=st.integers(min_value=0, max_value=3).map(Fraction),
)
set_up_hundredths = st.integers(min_value=0, max_value=150)
PROMPT = settings(deadline=None)


def work_of(rooms, drying):
    """Rooms with one task a stage."""
    made = []
    for number, (stages, is_propped) in enumerate(rooms, start=1):
        chunks = {stage: [Chunk(TASKS_BY_STAGE[stage], str(stage), hours)] for stage, hours in stages.items()}
        edges = edges_of([(stage, TASKS_BY_STAGE[stage]) for stage in stages], is_propped, drying)
        made.append(RoomWork(number, f"room {number}", chunks, edges))
    return made


def put(rooms, drying, hours, set_up=75):
    """The site of these rooms, each set-up taking the same time."""
    work = work_of(rooms, drying)
    return work, put_into_days(work, hours, lambda room, times: Chunk("set-up", "Set up", set_up))


@PROMPT
@given(rooms_of_work, rules, clocks, set_up_hundredths)
def test_every_hour_stands_on_a_day_and_no_day_is_too_long(rooms, drying, hours, set_up):
    """Parts of each task add up to it, and no day holds more than people × productive hours."""
    work, site = put(rooms, drying, hours, set_up)
    parts, days = defaultdict(int), defaultdict(int)
    for item in site.placed:
        parts[item.room.room, item.chunk] += item.hundredths
        days[item.day] += item.hundredths
    for one in work:
        for chunks in one.stages.values():
            for chunk in chunks:
                assert parts[one.room, chunk] == chunk.hundredths
    assert max(days.values()) <= hours.crew * hours.day * 100
    assert [item.day for item in site.placed] == sorted(item.day for item in site.placed)


@PROMPT
@given(rooms_of_work, rules, clocks)
def test_phases_of_a_room_follow_one_another(rooms, drying, hours):
    """In each room no stage begins before all that come before it there are done."""
    _, site = put(rooms, drying, hours)
    for number, (stages, _) in enumerate(rooms, start=1):
        of_room = [item.chunk.description for item in site.placed if item.room.room == number]
        order = [text for text in of_room if text != "Set up"]
        assert list(dict.fromkeys(order)) == [str(stage) for stage in sorted(stages)]
        assert all(order.count(text) == 1 or one_stretch(order, text) for text in order)


def one_stretch(order, text):
    """True when a text stands in one stretch of a list."""
    places = [i for i, item in enumerate(order) if item == text]
    return places == list(range(places[0], places[-1] + 1))


@PROMPT
@given(rooms_of_work, rules, clocks)
def test_every_wait_is_kept(rooms, drying, hours):
    """Between what is wet and what waits for it lie at least its hours, with a night counted as the book has it.

    Worked out on one line of hours: a day of the calendar is 24, and of what lies between two days of work the time
    that is neither work nor `overnight` is left out once.
    """
    work, site = put(rooms, drying, hours)
    unsure = 24 - hours.day - hours.night
    for one in work:
        for edge in one.edges:
            if edge.after is None:
                continue
            start, end = site.ended[one.room, edge.before], site.begun[one.room, edge.after]
            line = (end.day * 24 + end.hour) - (start.day * 24 + start.hour)
            assert line - (unsure if end.day > start.day else 0) >= edge.drying.hours


@PROMPT
@given(rooms_of_work, rules, clocks)
def test_rooms_are_set_up_once_a_visit(rooms, drying, hours):
    """A visit ends where a day has no work; on each visit every room worked in is set up once, before anything else."""
    _, site = put(rooms, drying, hours)
    visit, last = 1, 0
    for item in site.placed:
        visit += item.day > last + 1
        last = item.day
        assert item.visit == visit
    by_visit = defaultdict(list)
    for item in site.placed:
        by_visit[item.room.room, item.visit].append(item.chunk.task)
    for tasks in by_visit.values():
        assert tasks[0] == "set-up"
        assert one_stretch(tasks, "set-up")
    times = defaultdict(int)
    for number, _ in by_visit:
        times[number] += 1
    assert site.set_up == times


@PROMPT
@given(rooms_of_work, clocks)
def test_without_waits_days_are_full(rooms, hours):
    """Where nothing has to dry, days are all the hours over people × productive hours, rounded up, in one visit."""
    nothing = DryingRules(*[Drying("nothing", Fraction(0), "labor.caulk-dry")] * 6)
    _, site = put(rooms, nothing, hours)
    total = sum(item.hundredths for item in site.placed)
    assert len({item.day for item in site.placed}) == -(-total // hours.capacity)
    assert site.visit == 1
    two = replace(hours, crew=hours.crew * 2)
    _, faster = put(rooms, nothing, two)
    assert sum(item.hundredths for item in faster.placed) == total
    assert faster.day <= site.day


@PROMPT
@given(rooms_of_work, clocks)
def test_without_waits_the_house_is_done_phase_by_phase(rooms, hours):
    """Where nothing has to dry, a phase is done in all rooms, in the sheet's order, before the next is begun in any."""
    nothing = DryingRules(*[Drying("nothing", Fraction(0), "labor.caulk-dry")] * 6)
    _, site = put(rooms, nothing, hours)
    begun = [(stage, number) for number, stage in site.begun]
    assert begun == sorted((stage, number) for number, (stages, _) in enumerate(rooms, start=1) for stage in stages)


def test_another_room_is_worked_in_while_one_dries():
    """Paint takes 5 h between coats in the hall; its second coat comes after the den's clean-up, on the same day."""
    drying = DryingRules(*[Drying("paint", Fraction(5), "labor.paint-dry")] * 6)
    hall = {Stage(Phase.COAT, 0): 100, Stage(Phase.COAT, 1): 100}
    den = {Stage(Phase.LAST): 1100}
    hours = Hours(2, Fraction(8), Fraction(14), Fraction(0), Fraction(0))
    _, site = put([(hall, False), (den, False)], drying, hours, set_up=0)
    assert [(i.room.room, i.day) for i in site.placed] == [(1, 0), (2, 0), (1, 0)]


@PROMPT
@given(rooms_of_work, rules, clocks)
def test_the_plan_is_the_same_every_time(rooms, drying, hours):
    """The same work gives the same days."""
    first, second = (put(rooms, drying, hours)[1] for _ in range(2))
    assert [(i.day, i.visit, i.chunk, i.hundredths) for i in first.placed] == [
        (i.day, i.visit, i.chunk, i.hundredths) for i in second.placed
    ]


@PROMPT
@given(clocks, st.integers(0, 30).map(lambda tenths: Fraction(tenths, 10)), st.integers(0, 100).map(Fraction))
def test_dry_is_the_first_moment_after_the_wait(hours, start, wait):
    """When something is dry at least its hours have passed, and a quarter of an hour before they had not."""
    begin = Moment(0, start)
    end = hours.dry(begin, wait)
    assert hours.passed(begin, end) >= wait
    if end.hour >= Fraction(1, 4):
        assert hours.passed(begin, Moment(end.day, end.hour - Fraction(1, 4))) < wait
