"""Constants of gear and instruments: what many weak tellings add up to, and under which name."""

import numpy as np
import polars as pl
import pytest

from pipeline.constants import CONSTANTS, LEAST, NONE, SEEN, installation_of, installed, learned, pooled
from pipeline.measures.installation import USUAL, Usual

PRIOR = Usual(0.1, 0.1, 0.02)


def told(truth: float, own_sd: np.ndarray, prior: Usual, seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Posterior mean and deviation of each landing that saw `truth` to `own_sd` behind the same prior."""
    seen = truth + own_sd * np.random.default_rng(seed).normal(size=len(own_sd))
    variance = 1.0 / (own_sd**-2 + prior.sd**-2)
    return variance * (seen / own_sd**2 + prior.mean / prior.sd**2), np.sqrt(variance)


def frame(n: int, *, recorder: str = "north-4", value: float = 0.25, sd: float = 0.05) -> pl.DataFrame:
    """Landings of one installation that all tell the same delay of radio height."""
    return pl.DataFrame(
        {
            "log_sha256": [f"{recorder}{i:04d}" for i in range(n)],
            "recorder": [recorder] * n,
            "aircraft_type": ["Tovik L2"] * n,
            "constant": ["radio_delay_s"] * n,
            "value": [value] * n,
            "sd": [sd] * n,
        },
        schema=SEEN,
    )


def test_weak_tellings_add_up_to_the_truth_and_the_prior_counts_once() -> None:
    """Forty landings that each see the constant to four fifths of the prior find it; their mean alone would not."""
    means, truth = [], 0.28
    for seed in range(30):
        value, sd = told(truth, np.full(40, 0.08), PRIOR, seed)
        means.append(pooled(value, sd, PRIOR)[0])
        assert abs(value.mean() - truth) > 0.04
    assert np.mean(means) == pytest.approx(truth, abs=0.008)
    assert np.std(means) == pytest.approx(0.08 / np.sqrt(40), rel=0.4)


def test_the_claimed_deviation_covers_the_error() -> None:
    """Errors over the claimed deviation are no wider than one, and the floor is never undercut."""
    errors = []
    for seed in range(200):
        own = np.random.default_rng(seed).uniform(0.03, 0.3, 25)
        mean, sd = pooled(*told(0.2, own, PRIOR, seed + 1000), PRIOR)
        assert sd >= PRIOR.floor
        errors.append((mean - 0.2) / sd)
    assert np.std(errors) < 1.0


def test_a_tenth_of_wild_landings_moves_a_constant_little() -> None:
    """Three of thirty landings that are quite wrong move the constant by less than a third of what they move a mean."""
    value, sd = told(0.2, np.full(30, 0.03), PRIOR, 3)
    wild = value.copy()
    wild[:3] += 0.5
    moved = pooled(wild, sd, PRIOR)[0] - pooled(value, sd, PRIOR)[0]
    assert 0.0 < moved < (wild.mean() - value.mean()) / 3.0


def test_nothing_told_leaves_the_usual() -> None:
    """Landings as unsure as the prior itself say nothing, and nothing is claimed."""
    assert pooled(np.full(50, 0.4), np.full(50, PRIOR.sd), PRIOR) == (PRIOR.mean, PRIOR.sd)


def test_constants_wait_for_enough_landings() -> None:
    """An installation gets a version from its twentieth landing on, and only its own."""
    few, enough = frame(LEAST - 1, recorder="south-8"), frame(LEAST)
    found = learned(pl.concat([few, enough]))
    assert found["recorder"].unique().to_list() == ["north-4"]
    assert found["constant"].to_list() == list(USUAL)
    delay = found.row(by_predicate=pl.col("constant") == "radio_delay_s", named=True)
    assert delay["landings"] == LEAST
    assert delay["mean"] > 0.25


def test_a_version_names_its_landings_and_not_their_order() -> None:
    """The same landings in any order give one version; one landing more gives another."""
    seen = frame(LEAST)
    again = learned(seen.sample(fraction=1.0, shuffle=True, seed=5))
    assert again.equals(learned(seen))
    assert learned(frame(LEAST + 1))["version"][0] != again["version"][0]


def test_each_landing_gets_its_own_installation() -> None:
    """Landings of an installation of which nothing was learned stand on the usual constants, and say so."""
    constants = learned(frame(LEAST))
    keys = [("north-4", "Tovik L2"), ("north-4", "Sarnel J4")]
    known, version = installed(keys, constants)
    usual = USUAL["radio_delay_s"]
    assert known.radio_delay_s[0, 1] < known.radio_delay_s[1, 1] == usual.sd
    assert known.radio_delay_s[1, 0] == usual.mean
    assert version == [constants["version"][0], NONE]


def test_nothing_learned_is_an_empty_table() -> None:
    """Without landings there are no constants, and no landing has any."""
    assert learned(pl.DataFrame(schema=SEEN)).schema == pl.Schema(CONSTANTS)
    known, version = installed([], pl.DataFrame(schema=CONSTANTS))
    assert known.radio_arm_ft.shape == (0, 2)
    assert version == []


def test_a_recorder_without_a_name_goes_by_its_map() -> None:
    """Two recorders that nobody named are told apart by their channel maps."""
    assert installation_of(None, "a" * 64, "Tovik L2") != installation_of(None, "b" * 64, "Tovik L2")
    assert installation_of("north-4", "a" * 64, "Tovik L2") == installation_of("north-4", "b" * 64, "Tovik L2")
