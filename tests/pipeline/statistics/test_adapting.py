"""Varying with what one arrives with is told apart from varying without reason."""

import numpy as np
import pytest

from pipeline.recording import Floats
from pipeline.statistics.adapting import Parts, parts


def split(answer: float, scatter: float, *, helps: float = -1.0, noise: float = 0.5, n: int = 400) -> Parts:
    """A pilot whose technique answers a state of spread 1, scatters, and is measured with noise.

    The outcome is state + helps * technique + 0.3 of chance.
    """
    rng = np.random.default_rng(8)
    state: Floats = rng.standard_normal((n, 2))
    true = answer * state[:, 0] + scatter * rng.standard_normal(n)
    outcome = state[:, 0] + helps * true + 0.3 * rng.standard_normal(n)
    seen = true + noise * rng.standard_normal(n)
    found = parts(seen, state, outcome, noise=np.full(n, noise), session=np.arange(n) // 3)
    assert found is not None
    return found


@pytest.mark.parametrize(("answer", "scatter"), [(1.0, 0.5), (0.5, 1.0), (2.0, 0.0)])
def test_the_parts_are_recovered(answer: float, scatter: float) -> None:
    """What the state predicts, the scatter behind the recorder's noise, and the noise: within 15 %, or 0.25 where none."""
    found = split(answer, scatter)

    assert found.predicted == pytest.approx(answer, rel=0.15)
    assert found.scatter == pytest.approx(scatter, rel=0.15, abs=0.25)
    assert found.recorder == pytest.approx(0.5)


def test_answering_the_state_is_adapting_only_where_the_outcome_gains() -> None:
    """The same answer is adapting where it takes the state's effect off the outcome, following where it adds to it."""
    assert split(0.7, 0.5, helps=-1.0).adapts
    assert not split(0.7, 0.5, helps=1.0).adapts
    assert split(0.7, 0.5, helps=1.0).gain < 0.0


def test_variation_without_a_reason_is_scatter() -> None:
    """A technique that has nothing to do with the state is not adapting: nearly all of it is scatter."""
    found = split(0.0, 1.0)

    assert found.predicted < 0.15
    assert found.scatter == pytest.approx(1.0, rel=0.1)


def test_few_sessions_cannot_tell() -> None:
    """Eleven sessions give no split."""
    assert parts(np.zeros(33), np.ones((33, 1)), np.zeros(33), noise=np.zeros(33), session=np.arange(33) // 3) is None
