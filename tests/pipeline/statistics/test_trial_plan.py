"""What a trial takes: more for smaller changes, for sessions that agree, and never more than a pilot could fly."""

import numpy as np

from pipeline.statistics.trial_plan import Series, landings_needed


def series(n: int, *, session: int, agreement: float) -> Series:
    """Residuals of unit spread that agree within sessions."""
    rng = np.random.default_rng(1)
    code = np.arange(n) // session
    shared = rng.standard_normal(n)[code]
    return Series(np.sqrt(agreement) * shared + np.sqrt(1.0 - agreement) * rng.standard_normal(n), code)


def test_number_by_the_textbook() -> None:
    """Half a spread against very many, one-sided 5 %, planned for 84 %: (1.645 + 0.994)^2 / 0.25 = 27.9 landings.

    A few more, because 200 are not very many: 1 / 27.9 = 1 / n + 1 / 200 gives 32.4.
    """
    before = series(200, session=1, agreement=0.0)
    spread = float(np.std(before.values, ddof=1))

    needed = landings_needed(before, useful=0.5 * spread)

    assert needed.landings in {33, 34}
    assert needed.sessions == needed.landings
    assert needed.useful == 0.5 * spread


def test_smaller_changes_and_agreeing_sessions_take_more() -> None:
    """A third of a spread takes more than half; sessions of six that agree take more than single landings."""
    single, joined = series(200, session=1, agreement=0.0), series(198, session=6, agreement=0.4)
    half, third = (landings_needed(single, useful=useful).landings for useful in (0.5, 0.34))
    together = landings_needed(joined, useful=0.5).landings

    assert half is not None
    assert third is not None
    assert together is not None
    assert third > 1.5 * half
    assert together > 1.3 * half


def test_what_no_pilot_could_show_is_not_tried() -> None:
    """A tenth of a spread would take more than 400 landings."""
    needed = landings_needed(series(200, session=1, agreement=0.0), useful=0.1)

    assert (needed.landings, needed.sessions) == (None, None)
