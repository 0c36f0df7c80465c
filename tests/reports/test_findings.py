"""The sentences a pilot's page opens with: what differs, what may, and that nothing does."""

from collections.abc import Callable

import polars as pl
import pytest

from pipeline.policy import Limits
from reports.edition_data import EditionData
from reports.findings import gates_missed, opening, past_limits, unusual, usual_words
from reports.selection import Own, own
from reports.usual import FEWEST, Usual, usual

PILOT, ZONES = "P-00001", {"Undry 08": (500.0, 2297.0), "Undry 26": (500.0, 2130.0)}


@pytest.fixture(scope="module")
def data(edition) -> EditionData:
    return edition()


@pytest.fixture
def week_with(data) -> Callable[..., pl.DataFrame]:
    """The pilot's week, every value replaced as given."""

    def build(**values: object) -> pl.DataFrame:
        kinds = data.landings.schema
        return own(data.flown(), PILOT, data.week).week.with_columns(
            pl.lit(value, kinds[name]).alias(name) for name, value in values.items()
        )

    return build


def test_past_the_limit_is_said_only_beyond_doubt(week_with):
    """400 is past 360 by 4 u; 350 may be, though more likely not; 300 is not: said, "cannot tell", silence."""
    said = [
        past_limits(
            week_with(vertical_speed_at_contact_fpm=v, vertical_speed_at_contact_fpm_u=10.0),
            limits=Limits(),
            zones=ZONES,
        )
        for v in (-400.0, -350.0, -300.0)
    ]

    assert all(", past the training limit of \N{MINUS SIGN}360 ft/min" in sentence for sentence in said[0])
    assert all("cannot tell whether it passed" in sentence for sentence in said[1])
    assert [len(sentences) > 0 for sentences in said] == [True, True, False]


@pytest.mark.parametrize(
    ("distance", "intent", "words"),
    [
        (2600.0, "normal", "beyond the touchdown zone, which ends at 2,"),
        (2600.0, "land_long", "a long landing was intended"),
        (310.0, "normal", "short of the touchdown zone, which begins at 500 ft"),
    ],
)
def test_outside_the_zone_says_where_it_lies(week_with, distance, intent, words):
    """Both ends of the zone count; an intended long landing says so."""
    week = week_with(
        touchdown_distance_ft=distance, in_touchdown_zone=False, in_touchdown_zone_confidence=0.99, intent=intent
    )

    assert all(words in sentence for sentence in past_limits(week, limits=Limits(), zones=ZONES))


def test_an_uncertain_place_is_not_called_outside(week_with):
    """Confidence below 95 % is no finding."""
    week = week_with(touchdown_distance_ft=2310.0, in_touchdown_zone=False, in_touchdown_zone_confidence=0.7)

    assert past_limits(week, limits=Limits(), zones=ZONES) == []


def test_a_landing_far_softer_than_usual_is_named_as_one_far_firmer(week_with):
    """Neither end is the good one."""
    known = {
        "vertical_speed_at_contact_fpm": Usual("vertical_speed_at_contact_fpm", 45, -200, -210, -190, -270, -130, 40.0)
    }

    sentences = [unusual(week_with(vertical_speed_at_contact_fpm=v), known) for v in (-20.0, -200.0, -380.0)]

    assert [len(found) for found in sentences] == [1, 0, 1]


def test_usual_needs_twenty_landings(edition):
    """With fewer the page says that it cannot tell."""
    few = edition(pilots=1, each=FEWEST - 1)
    pilot = few.pilots()[0]
    mine = own(few.flown(), pilot, few.week)
    outcomes = {row["measure"]: row for row in few.outcomes.to_dicts()}

    known = usual(mine, outcomes, [])
    said = opening(mine, known, [], week=few.week, limits=Limits(), zones=ZONES)

    assert known == {}
    assert any("Too few landings yet" in sentence for sentence in said)


def test_the_usual_band_is_the_middle_of_own_landings(data):
    """Nine in ten of the landings counted from the frame lie in it, give or take the rank at its ends."""
    mine = own(data.flown(), PILOT, data.week)
    outcomes = {row["measure"]: row for row in data.outcomes.filter(pl.col("pilot") == PILOT).to_dicts()}

    known = usual(mine, outcomes, [])

    for name, one in known.items():
        values = [row[name] for row in data.landings.filter(pl.col("pilot") == PILOT).to_dicts()]
        inside = sum(one.low <= value <= one.high for value in values)
        assert abs(inside - 0.9 * len(values)) <= 2
    assert all("90 % interval" in words and "n = 45" in words for words in usual_words(mine, known))


def test_an_untimed_low_pass_is_not_praised_as_a_go_around(data):
    """Where a recorder cannot see contact the page says so, and counts no go-around."""
    flown = data.flown().with_columns(
        outcome=pl.lit("go_around"), contact_t_s=pl.lit(None, pl.Float64), lowest_height_ft=pl.lit(2.0)
    )
    mine: Own = own(flown, PILOT, data.week)

    said = opening(mine, {}, [], week=data.week, limits=Limits(), zones=ZONES)

    assert "cannot tell whether the wheels touched" in said[0]
    assert "go-around" not in said[0]


def test_usual_after_an_open_flag_is_what_it_was_before_the_change(data):
    """A middle over before and after describes neither."""
    mine = own(data.flown(), PILOT, data.week)
    outcomes = {row["measure"]: row for row in data.outcomes.filter(pl.col("pilot") == PILOT).to_dicts()}
    change = mine.history["flown"][30]
    before = mine.history.head(30)["touchdown_distance_ft"]

    known = usual(mine, outcomes, [{"chart": "long", "change_at": change}])

    assert known["touchdown_distance_ft"].n == 30
    assert known["touchdown_distance_ft"].centre == pytest.approx(before.median())
    assert known["vertical_speed_at_contact_fpm"].until is None
    assert f"before {change.day} {change:%B %Y}" in usual_words(mine, known)[1]


def test_an_approach_that_missed_its_gate_is_not_nothing():
    """The opening never says that nothing differs over a gate not met; each gate has its sentence, the highest first."""
    gates = pl.DataFrame(
        {
            "gate": ["500 ft"] * 3 + ["1000 ft above airport"],
            "height_ft": [500.0] * 3 + [1000.0],
            "reference": ["threshold"] * 3 + ["airport"],
            "stable": [True, False, None, False],
        }
    )

    assert gates_missed(gates) == [
        "1 of 1 approach did not meet the gate at 1,000 ft above the airport.",
        "1 of 2 approaches did not meet the gate at 500 ft.",
    ]
    assert gates_missed(gates.head(1)) == []
