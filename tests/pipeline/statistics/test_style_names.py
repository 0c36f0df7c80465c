"""Names of styles come from what sets them apart."""

import numpy as np

from pipeline.statistics.style_features import FEATURES
from pipeline.statistics.style_names import WORDS, names

THREE = ("flare_height_ft", "pitch_rate_dps", "thrust_close_lag_s")


def test_the_two_most_distinctive_features_name_a_style() -> None:
    """Flare 2 spreads lower and rotation 1 quicker; the lag of 0.6 is third and left out."""
    found = names(np.array([[-2.0, 1.0, 0.6], [0.1, 0.0, 0.2]]), THREE)

    assert found == ["flare begun lower, quicker rotation", "near the middle in everything"]


def test_one_style_is_called_so() -> None:
    """There is nothing to set it apart from."""
    assert names(np.array([[0.0, 0.0, 0.0]]), THREE) == ["one style"]


def test_two_styles_never_share_a_name() -> None:
    """Where two words do not tell them apart a third does, and else a number."""
    assert len(set(names(np.array([[2.0, 1.0, 0.9], [2.0, 1.0, -0.9]]), THREE))) == 2
    assert len(set(names(np.array([[2.0, 1.0, 0.9], [2.0, 1.0, 0.9]]), THREE))) == 2


def test_thrust_closing_is_named_once() -> None:
    """Thrust closed 2 spreads higher and 1.8 earlier is one thing to say; the flare, third, is the other."""
    found = names(
        np.array([[1.0, 2.0, -1.8], [0.0, 0.0, 0.0]]),
        ("flare_height_ft", "thrust_close_height_ft", "thrust_close_lag_s"),
    )

    assert found[0] == "thrust closed higher, flare begun higher"


def test_every_feature_has_words() -> None:
    """A feature without words could not name a style."""
    assert set(FEATURES) == set(WORDS)
