"""At what height the automatics were let go before the landing.

Goes in: a window and the height above the threshold. Comes out: the answers by measure name.
"""

import numpy as np
from numpy.typing import NDArray

from pipeline import rows
from pipeline.measures.answers import Answer, answer
from pipeline.measures.biases import BIAS
from pipeline.measures.window import COARSE, Window

Floats = NDArray[np.float64]

_JUST_BEFORE_S = -0.5
_SWITCHES = {"autopilot_off_ft": "autopilot_on", "autothrottle_off_ft": "autothrottle_on"}


def automation(w: Window, *, gate_height: Floats) -> dict[str, Answer]:
    """Height at which the autopilot and autothrust were last disengaged.

    Null `no_channel` without the switch or a height, `automation` where it was engaged at contact (or at the lowest
    point of a go-around), `not_reached` where it was not engaged in the 200 s before.
    """
    blind = ~rows.has(gate_height)
    return {name: _off(w, switch, gate_height, blind) for name, switch in _SWITCHES.items()}


def _off(w: Window, switch: str, height: Floats, blind: NDArray[np.bool_]) -> Answer:
    """Half a sample interval before the first sample that shows it off, uncertain by that interval."""
    on = w.coarse(switch)
    interval = np.minimum(w.interval_s(switch), 10.0)
    seen = rows.last_down_crossing(on, COARSE, 0.5, before=np.zeros(w.n))
    when = seen - 0.5 * interval
    engaged = rows.at(on, COARSE, np.full(w.n, _JUST_BEFORE_S)) > 0.5
    value = rows.at(height, COARSE, when)
    sink = (rows.at(height, COARSE, when - 2.0) - rows.at(height, COARSE, when)) / 2.0
    late = np.hypot(interval, COARSE[1] - COARSE[0]) / np.sqrt(12.0)
    u = np.hypot(BIAS["geometric_altitude_ft"], np.abs(np.nan_to_num(sink, nan=12.0)) * late)
    missing = (
        *w.lacking(w.lacks(switch) | blind, switch),
        (engaged, "automation"),
        (~np.isfinite(seen), "not_reached"),
    )
    return answer(value, u, missing=missing)
