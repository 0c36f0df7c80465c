"""Differences within groups: the truth of made data, intervals that cover, columns that add nothing left out."""

import numpy as np
import pytest

from pipeline.statistics.within import demeaned, differences, independent


def test_worked_by_hand() -> None:
    """Two pilots, levels 10 and 100: within each the landing with the fault lies 4 and 6 higher, so 5 on average."""
    y, x = np.array([10.0, 14.0, 100.0, 106.0]), np.array([[0.0], [1.0], [0.0], [1.0]])
    group = np.array([0, 0, 1, 1])

    found = differences(y, x, group=group, clusters=(group,))

    assert found.estimate == pytest.approx([5.0])
    assert found.unique_f2 == pytest.approx([25.0])  # explained 25 of 26, left 1


def test_wider_kind_of_cluster_counts() -> None:
    """Each landing alone as a cluster, and the pilots: the wider of both is told."""
    rng = np.random.default_rng(0)
    group = np.repeat(np.arange(20), 30)
    x = (rng.random((600, 1)) < 0.3).astype(float)
    y = 5.0 * x[:, 0] * rng.normal(1.0, 2.0, 20)[group] + rng.standard_normal(600)
    alone = np.arange(600)

    both = differences(y, x, group=group, clusters=(alone, group)).reach[0]
    each = [differences(y, x, group=group, clusters=(kind,)).reach[0] for kind in (alone, group)]

    assert both == max(each)
    assert each[1] > 2.0 * each[0]


def test_intervals_cover() -> None:
    """Effects that differ by pilot (16 pilots, 300 times): 90 % intervals hold the mean effect 87 to 93 times of 100."""
    rng = np.random.default_rng(1)
    group = np.repeat(np.arange(16), 40)
    hits = []
    for _ in range(300):
        x = (rng.random((640, 1)) < 0.3).astype(float)
        y = rng.normal(2.0, 1.0, 16)[group] * x[:, 0] + rng.normal(0.0, 5.0, 16)[group] + rng.standard_normal(640)
        found = differences(y, x, group=group, clusters=(group,))
        hits.append(abs(found.estimate[0] - 2.0) <= found.reach[0])

    assert 0.85 < np.mean(hits) < 0.95  # two standard errors of 300 draws about 90 %, and the small-sample loss


def test_columns_that_add_nothing_are_left_out() -> None:
    """A constant within groups and the sum of two others are not independent."""
    rng = np.random.default_rng(2)
    group = np.repeat(np.arange(5), 20)
    a, b = rng.standard_normal((2, 100))
    x = np.column_stack([group.astype(float), a, b, a + b])

    assert independent(demeaned(x, group), least=np.full(4, 1.0)).tolist() == [1, 2]
