"""What an unseen factor would need, against the published example."""

import pytest

from pipeline.statistics.unseen import unseen_needed, unseen_needed_to_doubt

ESTIMATE, FREE = 0.097, 783
T = 4.18
STUDENT = 1.963


def test_survey_of_attitudes_after_violence() -> None:
    """Estimate 0.097, t 4.18 on 783 degrees of freedom: 13.9 % to explain all away, 7.6 % to bring doubt at 5 %.

    Cinelli and Hazlett 2020, JRSS B 82:39-67, table 1; its figures from memory.
    """
    f2 = T**2 / FREE

    assert unseen_needed(f2) == pytest.approx(0.139, abs=0.0005)
    assert unseen_needed_to_doubt(f2, estimate=ESTIMATE, reach=STUDENT / T * ESTIMATE) == pytest.approx(
        0.076, abs=0.0005
    )
