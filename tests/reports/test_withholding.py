"""Groups that would tell on a pilot are withheld, and cannot be had by taking away."""

import polars as pl

from reports.withholding import large_enough, visible


def flown(*groups: tuple[str, int, int]) -> pl.DataFrame:
    """Rows of groups: name, pilots, landings of each pilot."""
    rows = [(name, f"P{p}") for name, pilots, each in groups for p in range(pilots) for _ in range(each)]
    return pl.DataFrame(rows, schema=["runway", "pilot"], orient="row")


def test_five_pilots_and_twenty_landings_are_needed():
    """One fewer of either is too small; unknown pilots hide nobody."""
    assert large_enough(flown(("a", 5, 4)))
    assert not large_enough(flown(("a", 4, 50)))
    assert not large_enough(flown(("a", 5, 3)))
    assert not large_enough(flown(("a", 5, 4)).with_columns(pilot=pl.lit(None, pl.String)))


def test_a_small_group_takes_the_next_smallest_with_it():
    """Else whole minus shown would be the small group."""
    held = visible(flown(("large", 8, 20), ("middle", 6, 10), ("small", 2, 5)), "runway")

    assert held.shown == ["large"]
    assert held.withheld == 2


def test_nothing_is_shown_where_two_groups_give_each_other_away():
    """One large and one small group: showing the large one shows the small one."""
    assert visible(flown(("large", 8, 20), ("small", 1, 40)), "runway").shown == []


def test_large_groups_are_all_shown():
    """No group is withheld without need; rows of no group are left out."""
    rows = pl.concat(
        [flown(("a", 5, 5), ("b", 6, 5)), pl.DataFrame({"runway": [None], "pilot": ["P1"]})], how="vertical_relaxed"
    )

    held = visible(rows, "runway")

    assert (held.shown, held.withheld, held.rows.height) == (["a", "b"], 0, 55)
