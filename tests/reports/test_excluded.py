"""What a page says of the landings its rates leave out."""

import polars as pl

from pipeline.landing_frame import landing_schema
from reports.excluded import excluded_of_all, excluded_words

KINDS: list[dict[str, object]] = [
    {},
    {},
    {"disputed": True, "device": "qualified_simulator"},
    {"pilot": None},
    {"takeover": "flare"},
    {"device": "desktop_simulator"},
    {"exercise": "flapless"},
    {"why_logged": "after_event"},
    {"landing_mode": "automatic"},
    {"landing_index": None},
]


def flown(rows: list[dict[str, object]]) -> pl.DataFrame:
    """Landings, each as a change of a routine one."""
    usual = {"pilot": "P-1", "landing_index": 0, "disputed": False, "landing_mode": "manual"}
    return pl.DataFrame([usual | row for row in rows], schema={**landing_schema(), "disputed": pl.Boolean})


def test_each_landing_is_left_out_for_one_reason() -> None:
    """Nine landings, two of which count; a go-around is none of them."""
    words = excluded_words(flown(KINDS))
    assert words.startswith("Of 9 landings, 2 count in rates and trends. Left out, and never counted as good: 1 (11")
    assert words.count("1 (") == 7
    assert words.index("disputed") < words.index("in a simulator")


def test_all_pilots_together_keep_what_is_nobodys() -> None:
    """Unattributed landings count in the cohort, and the page says how many are in nobody's record."""
    words = excluded_of_all(flown(KINDS))
    assert words.startswith("Of 9 landings, 4 count in the rates of all pilots together.")
    assert words.endswith("In nobody's record are 1 without a known pilot; 1 taken over, or that is not known.")


def test_nothing_left_out_is_said_without_a_list() -> None:
    """A page without landings says nothing, and one of routine landings has one short sentence."""
    assert excluded_words(flown([{}])) == "Of 1 landing, 1 count in rates and trends."
    assert excluded_words(flown([{"landing_index": None}])) == excluded_of_all(flown([])) == ""
