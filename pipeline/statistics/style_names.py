"""Names of styles from what sets them apart: centres in spreads from the middle of all landings in, words out."""

from collections.abc import Sequence

import numpy as np

from pipeline.recording import Floats

WORDS = {
    "flare_height_ft": ("flare begun higher", "flare begun lower"),
    "pitch_change_deg": ("larger pitch change", "smaller pitch change"),
    "pitch_rate_dps": ("quicker rotation", "slower rotation"),
    "thrust_close_height_ft": ("thrust closed higher", "thrust closed lower"),
    "thrust_close_lag_s": ("thrust closed later", "thrust closed earlier"),
}
"""What a feature above, and below, the middle is called."""

DISTINCT = 0.5
"""Spreads from the middle of all landings from which a feature sets a style apart."""
MOST_WORDS = 2


def names(distance: Floats, features: Sequence[str]) -> list[str]:
    """Name each style by its two most distinctive features, or more where two styles would share a name.

    Of height and time of thrust closing only the more distinctive is named: they say much the same.

    Parameters
    ----------
    distance : (styles, features) centre less the middle of all landings, in spreads of all landings.
    features : names of the columns.
    """
    if len(distance) == 1:
        return ["one style"]
    for most in range(MOST_WORDS, len(features) + 1):
        found = [_name(row, features, most) for row in distance]
        if len(set(found)) == len(found):
            return found
    return [f"{name} ({i + 1})" for i, name in enumerate(found)]


def _name(row: Floats, features: Sequence[str], most: int) -> str:
    far = np.abs(np.nan_to_num(row))
    said: dict[str, str] = {}
    for f in np.argsort(-far, kind="stable"):
        if far[f] >= DISTINCT and len(said) < most:
            said.setdefault(
                features[f].removesuffix("_height_ft").removesuffix("_lag_s"), WORDS[features[f]][int(row[f] < 0.0)]
            )
    return ", ".join(said.values()) or "near the middle in everything"
