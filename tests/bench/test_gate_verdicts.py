"""Verdicts at the gates that are beyond doubt are right, at a seed nothing was tuned on."""

import importlib
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import polars as pl
import pytest

HERE = str(Path(__file__).parent)


@pytest.fixture(scope="module")
def script() -> Iterator[ModuleType]:
    """The script, imported as it is run."""
    sys.path.insert(0, HERE)
    yield importlib.import_module("gate_verdicts")
    sys.path.remove(HERE)


@pytest.fixture(scope="module")
def verdicts(script, tmp_path_factory) -> pl.DataFrame:
    landings, truth = script.measured_scenario(tmp_path_factory.mktemp("gates"), scale=0.03, seed=43)
    return script.told(landings, truth.landings)


def test_clear_verdicts_are_right_on_both_sides(verdicts) -> None:
    """Further than two uncertainties from every limit none is wrong, and some gates were truly missed."""
    clear = verdicts.filter("clear")

    assert clear.height > 50
    assert clear.filter(~pl.col("true_stable")).height > 0
    assert clear.filter(pl.col("stable") != pl.col("true_stable")).is_empty()


def test_confidence_is_never_boasted(verdicts) -> None:
    """Over all verdicts the share that is right is at least the stated confidence, less what chance does to so few."""
    right = (verdicts["stable"] == verdicts["true_stable"]).mean()

    assert right >= verdicts["confidence"].mean() - 0.05


def test_the_table_counts_every_verdict_once(script, verdicts) -> None:
    """Bands of rates and gates part the verdicts without loss."""
    assert script.report(verdicts)["all"].sum() == verdicts.height
