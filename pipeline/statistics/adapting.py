"""Adapting or scatter: a pilot's technique, what he arrived with and the outcome in, three parts of his variation out.

A good pilot varies his technique with what he arrives with. The part of it that the state at the threshold predicts is
adapting if the outcome varies less for it than if he had always done the same, otherwise only following. The rest is
scatter, and the recorder's noise. Only scatter is called inconsistency.
"""

from dataclasses import dataclass

import numpy as np

from pipeline.recording import Floats
from pipeline.statistics.standing import Ints

LEAST_SESSIONS = 12
FOLDS = 5


@dataclass(frozen=True)
class Parts:
    """Standard deviations of a technique measure, in its unit: predicted by the state, scattered, and of the recorder.

    `gain` is the share of the outcome's variance that varying with the state saves (negative: that it adds) against
    always doing the same. `adapts` says the pilot varies with the state, and that it saves.
    """

    predicted: float
    scatter: float
    recorder: float
    gain: float

    @property
    def adapts(self) -> bool:
        """Whether the pilot varies his technique with what he arrives with, and the outcome gains."""
        return self.predicted > 0.0 and self.gain > 0.0


def parts(technique: Floats, state: Floats, outcome: Floats, *, noise: Floats, session: Ints) -> Parts | None:
    """Split one pilot's variation; None under 12 sessions.

    Parameters
    ----------
    technique : (n,) measure of technique, no NaN.
    state : (n, p) what he arrived with at the threshold: speed, height, sink.
    outcome : (n,) what came of it.
    noise : (n,) standard uncertainty of `technique`.
    session : (n,) session numbers; what predicts a session is learned from the others.
    """
    code = np.unique(session, return_inverse=True)[1]
    if code.max(initial=-1) + 1 < LEAST_SESSIONS:
        return None
    x = np.column_stack([np.ones(technique.size), (state - state.mean(axis=0)) / np.maximum(state.std(axis=0), 1e-12)])
    told = np.empty(technique.size)
    for fold in range(FOLDS):
        out = code % FOLDS == fold
        told[out] = x[out] @ np.linalg.lstsq(x[~out], technique[~out], rcond=None)[0]
    whole, left = float(np.var(technique)), float(np.mean((technique - told) ** 2))
    recorder = float(np.mean(noise**2))
    predicted = max(whole - left, 0.0)
    scatter = max(whole - predicted - recorder, 0.0)
    gain = _gain(technique, told, x, outcome) if predicted > 0.0 else 0.0
    return Parts(predicted**0.5, scatter**0.5, recorder**0.5, gain)


def _gain(technique: Floats, told: Floats, x: Floats, outcome: Floats) -> float:
    """Share of the outcome's variance saved: that of the state alone less that of the state and what answers it."""
    both = np.column_stack([x, technique])
    effect = np.linalg.lstsq(both, outcome, rcond=None)[0]
    alone = x @ effect[:-1]
    return float((np.var(alone) - np.var(alone + effect[-1] * told)) / max(float(np.var(outcome)), 1e-300))
