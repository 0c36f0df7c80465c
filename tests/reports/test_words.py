"""Numbers, reasons and dates as a page prints them."""

from datetime import date

import pytest

from pipeline.measures.table import REASONS
from reports.words import (
    OUTCOME_NOUNS,
    OUTCOME_WORDS,
    REASON_WORDS,
    counted,
    listed,
    measured,
    number,
    percent,
    quantity,
    week_dates,
    week_words,
)


def plain(text: str) -> str:
    """Spaces and signs as a keyboard has them."""
    return text.replace("\xa0", " ").replace("\N{MINUS SIGN}", "-")


@pytest.mark.parametrize(
    ("value", "uncertainty", "printed"),
    [
        (-182.4, 24.3, "-182 ± 24 ft"),
        (1432.0, 61.0, "1,430 ± 60 ft"),
        (3.046, 0.152, "3.05 ± 0.15 ft"),
        (12.0, 0.96, "12.0 ± 1.0 ft"),
        (0.4, 3.2, "0 ± 3 ft"),
        (-0.4, 3.2, "0 ± 3 ft"),
        (99.6, 10.0, "100 ± 10 ft"),
    ],
)
def test_a_quantity_is_rounded_as_its_uncertainty_allows(value, uncertainty, printed):
    """Two figures of an uncertainty that begins with 1 or 2, else one, and the value to the same place."""
    assert plain(quantity(value, uncertainty, "ft")) == printed


def test_without_an_uncertainty_none_is_shown():
    """A value whose uncertainty is not known stands alone."""
    assert quantity(3.14159, None, "s").replace("\xa0", " ") == "3.1 s"


def test_a_small_negative_number_has_no_sign():
    """Minus nought is nought."""
    assert number(-0.3) == "0"
    assert number(-1234.5, decimals=1) == "\N{MINUS SIGN}1,234.5"


@pytest.mark.parametrize(("share", "printed"), [(0.0, "0 %"), (0.001, "under 1 %"), (0.178, "18 %"), (1.0, "100 %")])
def test_a_share_that_is_not_nothing_is_not_printed_as_nothing(share, printed):
    """A few in a thousand are "under 1 %"."""
    assert percent(share).replace("\xa0", " ") == printed


def test_every_reason_and_outcome_has_words():
    """A code never reaches a reader."""
    assert set(REASON_WORDS) == set(REASONS)
    assert set(OUTCOME_NOUNS) == set(OUTCOME_WORDS)


def test_a_null_measure_says_why():
    """The words of its reason, never a nought or a blank."""
    row = {"flare_height_ft": None, "flare_height_ft_u": None, "flare_height_ft_reason": "too_slow"}

    assert measured(row, "flare_height_ft") == "not shown: recorded too slowly to see it"


def test_counts_and_lists_read_as_a_sentence_does():
    """Nouns agree with their number."""
    assert [counted(n, "landing") for n in (0, 1, 1200)] == ["no landings", "1 landing", "1,200 landings"]
    assert [listed(list(part)) for part in ("", "a", "ab", "abc")] == ["", "a", "a and b", "a, b and c"]


def test_iso_weeks_run_over_the_turn_of_the_year():
    """ISO 8601: 1 January 2027 is a Friday and lies in week 53 of 2026."""
    assert week_dates("2026-W53") == (date(2026, 12, 28), date(2027, 1, 3))
    assert week_words("2026-W53") == "week 53 of 2026 (28 December to 3 January)"
    assert week_words("2026-W47") == "week 47 of 2026 (16 to 22 November)"
