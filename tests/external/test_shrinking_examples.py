"""Shrinking many estimates to their centre against the batters of Efron and Morris."""

import numpy as np
import pytest

from pipeline.statistics.shrinking import shrunk

HITS = np.array([18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7])
SEASON_THOUSANDTHS = "346 298 276 222 273 270 263 210 269 230 264 256 303 264 226 285 316 200"
SEASON = np.array([int(word) for word in SEASON_THOUSANDTHS.split()]) / 1000.0


def test_eighteen_batters_of_1970() -> None:
    """Efron & Morris 1977, Scientific American 236(5):119-127, as transcribed: shrinking factor 0.212, mean 0.265.

    The first 45 at-bats of 18 batters (18 to 7 hits) foretell the rest of the season: the highest, .400, is drawn to
    .294, 16 of 18 come closer, and the squared errors fall 3.5 times (.077 to .022 printed there, from memory; with hits
    over 45 and the season's averages at three decimals .0753 to .0213).
    """
    average = HITS / 45.0
    centre = float(average.mean())

    told, _ = shrunk(average, np.full(18, centre * (1.0 - centre) / 45.0))

    assert centre == pytest.approx(0.265, abs=0.0005)
    assert (told[0] - centre) / (average[0] - centre) == pytest.approx(0.212, abs=0.0005)
    assert told[0] == pytest.approx(0.294, abs=0.0005)
    before, after = (average - SEASON) ** 2, (told - SEASON) ** 2
    assert (after < before).sum() == 16
    assert before.sum() == pytest.approx(0.0753, abs=5e-5)
    assert after.sum() == pytest.approx(0.0213, abs=5e-5)
