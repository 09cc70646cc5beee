"""Working days on which lines start, worked by hand, and what always holds of them."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from labour.engine.vocabulary import Phase
from quoting.engine.needed_on import Crew, LineOfWork, date_of, days_of_lines, first_day

ALONE, TWO = Crew(1, Decimal(8)), Crew(2, Decimal(8))
THURSDAY, FRIDAY, SATURDAY = date(2026, 11, 5), date(2026, 11, 6), date(2026, 11, 7)


def line(key: str, phase: Phase, hours: str, cure: str = "0", room: str = "Bath") -> LineOfWork:
    return LineOfWork(key, room, phase, Decimal(hours), Decimal(cure))


BOARD, TILE = line("board", Phase.BOARD, "12"), line("tile", Phase.TILE, "10")


def test_one_person_starts_a_line_when_the_one_before_is_done():
    """12 h are day 1 and half of day 2; 10 h more end on day 3, hour 6."""
    grout = line("grout", Phase.GROUT, "3")

    assert days_of_lines([BOARD, TILE, grout], ALONE) == {"board": 1, "tile": 2, "grout": 3}


def test_two_people_take_half_as_long():
    """6 h, then 5 h: the tile begins on day 1, and what follows on day 2."""
    grout = line("grout", Phase.GROUT, "3")

    assert days_of_lines([BOARD, TILE, grout], TWO) == {"board": 1, "tile": 1, "grout": 2}


def test_the_phase_goes_before_the_place_in_the_list():
    assert list(days_of_lines([TILE, BOARD], ALONE).items()) == [("board", 1), ("tile", 2)]


def test_a_line_that_follows_a_full_day_starts_the_next_morning():
    assert days_of_lines([line("a", Phase.BOARD, "8"), TILE], ALONE)["tile"] == 2


def test_a_cure_runs_over_the_night_and_holds_the_room():
    """Done at hour 4 of day 1, cured 24 h later at hour 4 of day 2; one of 36 h ends in the night after."""
    membrane = line("membrane", Phase.WATERPROOFING, "4", "24")
    longer = replace(membrane, cure_hours=Decimal(36))

    assert days_of_lines([membrane, TILE], ALONE)["tile"] == 2
    assert days_of_lines([longer, TILE], ALONE)["tile"] == 3


def test_a_cure_of_a_night_holds_no_one_who_begins_the_next_morning():
    """The day ends at hour 8; 16 h later it is the next morning."""
    membrane = line("membrane", Phase.WATERPROOFING, "8", "16")

    assert days_of_lines([membrane, TILE], ALONE)["tile"] == 2


def test_a_cure_in_another_room_holds_no_one():
    membrane = line("membrane", Phase.WATERPROOFING, "4", "48", room="Other bath")

    assert days_of_lines([membrane, TILE], ALONE)["tile"] == 1


def test_a_weekend_counts_for_the_cure_when_the_first_day_is_known():
    """48 h after Friday's hour 4 is Sunday: Monday, working day 2. Without dates it is day 3."""
    membrane = line("membrane", Phase.WATERPROOFING, "4", "48")

    assert days_of_lines([membrane, TILE], ALONE, FRIDAY)["tile"] == 2
    assert days_of_lines([membrane, TILE], ALONE)["tile"] == 3


def test_a_licensed_trade_takes_no_time_of_the_crew():
    pipes = replace(line("pipes", Phase.ROUGH_IN, "16"), is_licensed=True)

    assert days_of_lines([pipes, TILE], ALONE) == {"pipes": 1, "tile": 1}


def test_material_is_needed_for_the_first_of_its_lines():
    assert first_day(["tile", "board", "gone"], {"board": 2, "tile": 4}) == 2
    assert first_day(["gone"], {"board": 2}) is None


def test_dates_leave_out_weekends_and_a_weekend_start_is_monday():
    assert [date_of(day, THURSDAY).day for day in (1, 2, 3)] == [5, 6, 9]
    assert date_of(1, SATURDAY) == date(2026, 11, 9)
    assert days_of_lines([TILE], ALONE, SATURDAY) == {"tile": 1}


hours = st.decimals("0", "60", places=2)
works = st.lists(
    st.tuples(st.sampled_from(["Bath", "Hall"]), st.sampled_from(Phase), hours, hours, st.booleans()),
    max_size=12,
).map(lambda rows: [LineOfWork(str(place), *row) for place, row in enumerate(rows)])
starts = st.none() | st.dates(date(2026, 1, 1), date(2026, 12, 31))
crews = st.builds(Crew, st.integers(1, 6), st.decimals("1", "24", places=1))


@given(works, crews, starts)
def test_days_never_go_backward_along_the_order(lines, crew, starts_on):
    days = list(days_of_lines(lines, crew, starts_on).values())

    assert all(1 <= before <= after for before, after in pairwise(days))
    assert len(days) == len(lines)


@given(works, crews, starts)
def test_more_people_are_never_later(lines, crew, starts_on):
    few, more = (days_of_lines(lines, one, starts_on) for one in (crew, replace(crew, size=crew.size + 1)))

    assert all(more[key] <= few[key] for key in few)
