"""Who flies, and how their landings go over the weeks."""

import numpy as np

from flows.invented.pilots import HARD, IMPROVING, LONG, SOFT, STEADY, Pilot, invent_pilots
from flows.invented.technique import STYLES, technique


def _all(pilot: Pilot, numbers: range) -> np.ndarray:
    rng = np.random.default_rng(3)
    ways = [technique(pilot, number=number, mood=0.0, rng=rng) for number in numbers for _ in range(20)]
    return np.array([(way.sink_fpm, way.speed_kt, way.flare_ft, way.close_lag_s) for way in ways])


def test_the_operator_has_twenty_pilots_of_100_and_four_of_250() -> None:
    """Two of the four drift, one hard and one long; one of the others is too soft and long, four improve."""
    pilots = invent_pilots(np.random.default_rng(1), scale=1.0, solo=False)

    assert sorted(pilot.landings for pilot in pilots) == [100] * 20 + [250] * 4
    kinds = [pilot.kind for pilot in pilots if pilot.landings == 250]
    assert sorted([HARD, LONG, STEADY, STEADY]) == sorted(kinds)
    assert tuple(sum(pilot.kind == kind for pilot in pilots) for kind in (SOFT, IMPROVING)) == (1, 4)
    assert {0, 1, 2} == {pilot.style for pilot in pilots}


def test_a_drift_begins_at_its_landing_and_not_before() -> None:
    """Aimed sink of the hard one, speed of the long one: level to landing 150, beyond by 1 SD of his own from 160."""
    pilots = {pilot.kind: pilot for pilot in invent_pilots(np.random.default_rng(1), scale=1.0, solo=False)}
    for kind, column in ((HARD, 0), (LONG, 1)):
        early, before, after = (_all(pilots[kind], n) for n in (range(1, 75), range(75, 151), range(160, 251)))
        spread = before[:, column].std()

        assert abs(early[:, column].mean() - before[:, column].mean()) < 0.25 * spread
        assert after[:, column].mean() - before[:, column].mean() > spread


def test_improving_pilots_spread_shrinks_by_half_and_more() -> None:
    """Flare height of the last tenth varies less than half as much as that of the first tenth."""
    pilot = next(p for p in invent_pilots(np.random.default_rng(1), scale=1.0, solo=False) if p.kind == IMPROVING)
    first, last = _all(pilot, range(1, 11))[:, 2], _all(pilot, range(91, 101))[:, 2]

    width = [np.subtract(*np.percentile(part, [75, 25])) for part in (first, last)]
    assert width[1] < 0.5 * width[0]


def test_the_widest_spread_lets_the_nose_go_little_further_than_the_habit() -> None:
    """After the lever is closed even an unpractised pilot allows half a degree or so beyond his style's own."""
    pilot = next(p for p in invent_pilots(np.random.default_rng(1), scale=1.0, solo=False) if p.kind == IMPROVING)
    rng = np.random.default_rng(3)
    ways = [technique(pilot, number=1, mood=0.0, rng=rng) for _ in range(200)]

    off = np.array([way.after_close_deg - STYLES[way.style].after_close_deg for way in ways])
    assert 0.5 < np.abs(off).max() < 0.7


def test_solo_is_one_owner_of_the_light_type() -> None:
    """About 200 landings."""
    (pilot,) = invent_pilots(np.random.default_rng(1), scale=1.0, solo=True)

    assert (pilot.profile, pilot.landings) == ("light", 200)
