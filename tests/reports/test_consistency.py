"""What a pilot's page says of consistency, and what it says cannot be told."""

import polars as pl

from pipeline.statistics.consistency import CONSISTENCY
from pipeline.statistics.reviews import REVIEW
from reports.consistency import told

SHARE = {"pilot": "P-1", "measure": "in_target_box", "n": 120, "value": 0.72, "value_low": 0.65, "value_high": 0.78}
SPREAD = {
    "pilot": "P-1",
    "measure": "touchdown_distance_ft",
    "n": 90,
    "value": 250.0,
    "value_low": 220.0,
    "value_high": 285.0,
}


def said(rows: list[dict[str, object]], reviews: list[dict[str, object]]) -> list[str]:
    """Sentences on pilot P-1, their narrow blanks as blanks."""
    lines = told(pl.DataFrame(rows, schema=CONSISTENCY), pl.DataFrame(reviews, schema=REVIEW), "P-1")
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def test_share_comes_first_with_its_interval_then_the_spreads():
    """The primary outcome leads, whatever the order of the rows; other pilots' are not here."""
    lines = said([SPREAD, SHARE, SHARE | {"pilot": "P-2"}], [])

    assert len(lines) == 2
    assert lines[0].startswith("72 % of your landings were inside the target box")
    assert "90 % interval 65 % to 78 %, n = 120" in lines[0]
    assert "scatters by 250 ft (90 % interval 220 to 285, n = 90)" in lines[1]
    assert all("reviewed every 50 landings" in line for line in lines)


def test_a_review_that_cannot_tell_says_how_many_landings_would():
    """No word of change, but the number of landings that would show one."""
    review = {"pilot": "P-1", "measure": "in_target_box", "review": 2, "landings": 100, "change": 0.05}
    review |= {"change_low": -0.3, "change_high": 0.4, "said": "cannot tell yet", "landings_needed": 900}

    (line,) = said([SHARE], [review])

    assert "cannot be told yet" in line
    assert "a change by 15 points would show in about 900" in line


def test_a_review_that_tells_gives_the_interval():
    """Better by so much to so much; a spread that became narrower gives its sizes without a sign."""
    better = {"pilot": "P-1", "measure": "in_target_box", "review": 4, "landings": 200, "change": 0.2}
    better |= {"change_low": 0.05, "change_high": 0.35, "said": "better", "landings_needed": 300}
    narrower = better | {"measure": "touchdown_distance_ft", "change": -0.3, "change_low": -0.5, "change_high": -0.1}

    lines = said([SHARE, SPREAD], [better, narrower | {"said": "narrower"}])

    assert "better since the first, by 5 % to 35 % of landings" in lines[0]
    assert "narrower since the first, by 10 % to 50 % of the spread" in lines[1]


def test_no_value_is_no_sentence():
    """Under 20 landings nothing is said."""
    assert said([SHARE | {"value": None}], []) == []
