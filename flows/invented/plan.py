"""One approach a lane, as arrays: where, in what air, how the pilot means to fly it. SI and radians."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flows.invented.airframes import Airframe

Floats = NDArray[np.float64]

FULL_STOP, TOUCH_AND_GO, GO_AROUND, REJECTED = range(4)
"""What the pilot does: the values of `Plan.kind`."""


@dataclass(frozen=True)
class Plan:
    """Arrays (lanes,); heights are of the main wheels above the runway, speeds are true.

    Parameters
    ----------
    a : the type flown by every lane.
    kind : one of the four constants above.
    mass_kg, density_kg_m3, slope : `slope` is rise over run, positive uphill.
    path : tangent of the approach path; `aim_m` is the height that path has at the threshold.
    start_m : height the log begins at; `target_ms`: speed aimed at.
    head_ms, cross_ms : wind at 10 m from ahead, from the right; `gust_ms`: spread of its gusts.
    offset_m, offset_ms, offset_until_m : path and speed error carried down to about that height.
    rough : spread of the pilot's attitude keeping, rad; `path_gain`: eagerness to correct the path, 1/s.
    flare_m : height the pilot starts to flare at; `sink_ms`: sink the flare aims at.
    stage_m, stage_sink_ms : a first stage aims at `stage_sink_ms` down to `stage_m` (0: one stage).
    lag_s : slowness of the hand in the flare.
    close_lag_s, close_s : lever closing after the start of the flare (negative: before), and its duration.
    after_close : attitude change allowed once the lever is closed.
    decrab_m, decrab : height of kicking off drift, and the share kicked off.
    derotate_s, derotate_rate : wait before lowering the nose, rate of it.
    brake : share of full braking; `ground_s`: time on the wheels before going again; `go_m`: height of going around.
    vs_lag_s : lag of the vertical speed channel.
    """

    a: Airframe
    kind: Floats
    mass_kg: Floats
    density_kg_m3: Floats
    slope: Floats
    path: Floats
    aim_m: Floats
    start_m: Floats
    target_ms: Floats
    vref_ms: Floats
    head_ms: Floats
    cross_ms: Floats
    gust_ms: Floats
    offset_m: Floats
    offset_ms: Floats
    offset_until_m: Floats
    rough: Floats
    path_gain: Floats
    flare_m: Floats
    sink_ms: Floats
    stage_m: Floats
    stage_sink_ms: Floats
    lag_s: Floats
    close_lag_s: Floats
    close_s: Floats
    after_close: Floats
    decrab_m: Floats
    decrab: Floats
    derotate_s: Floats
    derotate_rate: Floats
    brake: Floats
    ground_s: Floats
    go_m: Floats
    vs_lag_s: Floats

    @property
    def lanes(self) -> int:
        """How many approaches."""
        return len(self.kind)
