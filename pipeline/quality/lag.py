"""How late a channel is against the best other evidence of the same motion."""

import numpy as np

from pipeline.quality.courses import FOUR_S, KT_FPS, Courses, Floats
from pipeline.quality.grid import STEP_S, change, gained
from pipeline.quality.relation import relate

_REACH = 4
_SURE = 0.8
_TWO_S = 4


def lags(courses: Courses, suspect: dict[str, str]) -> dict[str, tuple[float, str]]:
    """Seconds by which a channel is late, with the channel it is held against; only where the log tells.

    Vertical speed is held against radio height, else another height; ground speed against positions. Positive: late.
    """
    grid = courses.grid
    heights = ("radio_height_ft", "geometric_altitude_ft", "pressure_altitude_ft")
    height = next((name for name in heights if grid.has(name) and name not in suspect), None)
    told: dict[str, tuple[float, str]] = {}
    if height is not None and grid.has("vertical_speed_fpm"):
        climbed = np.where(courses.flying[_TWO_S:], change(grid.of(height), _TWO_S), np.nan)
        late = _lag(gained(grid.of("vertical_speed_fpm") / 60.0, _TWO_S), climbed)
        told |= {"vertical_speed_fpm": (late, height)} if late is not None else {}
    if grid.has("ground_speed_kt") and grid.has("latitude_deg") and grid.has("longitude_deg"):
        late = _lag(gained(grid.of("ground_speed_kt") * KT_FPS, FOUR_S), courses.moved_ft)
        told |= {"ground_speed_kt": (late, "latitude_deg")} if late is not None else {}
    return told


def _lag(first: Floats, second: Floats) -> float | None:
    """Seconds by which `first` (m,) is late against `second`, between steps by a parabola; None where unclear."""
    together = [_together(first, second, k) for k in range(-_REACH, _REACH + 1)]
    best = int(np.argmax(together))
    if together[best] < _SURE or best in (0, len(together) - 1):
        return None
    left, top, right = together[best - 1 : best + 2]
    bend = left - 2.0 * top + right
    shift = 0.5 * (left - right) / bend if bend < 0 else 0.0
    return round((best - _REACH + shift) * STEP_S, 2)


def _together(first: Floats, second: Floats, late: int) -> float:
    """Correlation of `first` that is `late` steps late with `second`; -1 where there is none."""
    a, b = (first[late:], second[: len(second) - late]) if late >= 0 else (first[:late], second[-late:])
    relation = relate(a, b, centred=True)
    return relation.correlation if relation is not None else -1.0
