"""Quick parts of the simulation of differences, chosen faults and tails, with bands their size allows."""

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture(scope="module")
def bench() -> ModuleType:
    """Load the simulation, which is a script and no package."""
    spec = importlib.util.spec_from_file_location("cost_benches", Path(__file__).with_name("costs.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def share(text: str) -> float:
    """The percentage a row begins with, as a share."""
    return float(text.split("%", maxsplit=1)[0]) / 100.0


def test_differences_under_confounding(bench: ModuleType) -> None:
    """Eight cohorts, 64 intervals: 90 % -+ 2.5 standard errors (4 % each) cover; no difference is off by 8 ft/min or 30 ft."""
    rows = [(what, found) for what, _, found in bench.costs(8)]

    assert 0.80 <= share(rows[0][1]) <= 1.0
    away = {(what, found.split()[1]): abs(float(found.split()[0])) for what, found in rows[2:]}
    assert len(away) == 8
    assert all(error < (8.0 if unit == "fpm" else 30.0) for (_, unit), error in away.items())


def test_chosen_faults_are_told_without_bias(bench: ModuleType) -> None:
    """Three cohorts: share times difference of the chosen is within 10 % of the truth."""
    (_, _, bias), _ = bench.chosen(3)

    assert abs(share(bias)) < 0.10


def test_tails(bench: ModuleType) -> None:
    """Four cohorts: log10 within 0.40, and the pooled tail is nearer than the count; most truths lie under the bound."""
    (_, _, error), _, (_, _, under) = bench.tails(4)
    pooled, counted = float(error.split()[0]), float(error.rstrip(")").split()[-1])

    assert pooled < 0.40
    assert pooled < counted
    assert share(under) > 0.94
