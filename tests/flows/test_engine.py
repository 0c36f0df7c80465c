"""The engine: the same results in the same order, wherever the work is done."""

import os
from collections.abc import Sequence

import pytest

from flows.engine import Workers, here, spread_for
from flows.settings_tables import EngineTable
from pipeline.errors import StoreError


def _square(number: int) -> int:
    return number * number


def _die(number: int) -> int:
    os._exit(number)


def test_results_come_in_the_order_of_the_jobs() -> None:
    """Two processes give what one gives."""
    jobs: Sequence[int] = range(6)

    assert list(here(_square, jobs)) == list(Workers(2)(_square, jobs)) == [0, 1, 4, 9, 16, 25]


def test_a_worker_that_dies_ends_in_a_sentence() -> None:
    """A worker ended from outside is told as trouble of the machine, and what to do."""
    with pytest.raises(StoreError, match=r"engine\.workers = 1"):
        list(Workers(1)(_die, [9]))


def test_few_logs_stay_in_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Worker processes are started for many logs, or where the settings ask for them."""
    monkeypatch.setattr("multiprocessing.cpu_count", lambda: 2)

    assert spread_for(EngineTable(), 300) is here
    assert isinstance(spread_for(EngineTable(), 301), Workers)
    assert spread_for(EngineTable(workers=1), 5000) is here
    assert isinstance(spread_for(EngineTable(workers=4), 1), Workers)
