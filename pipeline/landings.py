"""Find the approaches of one recording: where the wheels touched, what followed, and on what evidence.

Goes in: a recording. Comes out: its approaches in time order, each with the contact where there was one.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.signal import find_peaks, medfilt

from pipeline.contact_evidence import Instant, fuse
from pipeline.ground_height import GroundHeight, ground_height
from pipeline.recording import Recording, Samples
from pipeline.rows import middle

Floats = NDArray[np.float64]

LOW_FT, LOW_BY_ALTITUDE_FT = 50.0, 200.0
"""A descent below this may hold a contact, a climb above it ends the landing; an altitude wanders on the ground."""
APPROACH_FT = 1000.0
"""A descent that turns below this height is an approach, with or without contact."""
_TURN_FT = 150.0
"""A descent and climb of less than this are no approach of their own."""
_ROLL_S = 3.0
"""On the main wheels for at least this long before flying on: a touch-and-go; shorter: a rejected landing."""
_STOPPED_KT, _SLOWED = 60.0, 0.8
"""A log ends stopped below 60 kt; a light aircraft that lands near that speed must have slowed to this share of it."""
_TAXI_KT = 10.0
_BOUNCE_S = 0.2
_SLOWEST_SWITCH_S, _SLOWEST_HEIGHT_S = 0.55, 0.26
"""A switch read twice a second shows a bounce of half a second; height must show its course."""
_BOUNCE_LOOK_S = 15.0
_OFF_FT, _ON_FT = 1.5, 0.9


@dataclass(frozen=True)
class Approach:
    """One approach.

    `outcome`: full_stop, touch_and_go, rejected, go_around or unfinished. `anchor_s`: first contact where it is known,
    else the lowest point. `contact_s` with standard uncertainty `contact_u_s` and `evidence` (what told it) are None
    without a contact that can be timed. `touches_s`: start of every contact, the first included; None where the
    channels are too slow to see a bounce. `airborne_s`: how long the wheels were off before each later contact.
    `lowest_ft`: least height above the ground. `grounded_s`: the low stretch in
    which the wheels touched, None where they did not.
    """

    outcome: str
    anchor_s: float
    contact_s: float | None
    contact_u_s: float | None
    evidence: str | None
    touches_s: tuple[float, ...] | None
    lowest_ft: float
    grounded_s: tuple[float, float] | None
    airborne_s: tuple[float, ...] = ()

    @property
    def grounded(self) -> bool:
        """Whether the wheels touched."""
        return self.grounded_s is not None

    def moved(self, offset_s: float, u_s: float) -> "Approach":
        """The same landing with its first contact `offset_s` later, known to `u_s`."""
        contact_s = self.anchor_s + offset_s
        known = self.touches_s or (contact_s,)
        kept = [(t, off) for t, off in zip(known[1:], self.airborne_s, strict=True) if t > contact_s + _BOUNCE_S]
        return replace(
            self,
            anchor_s=contact_s,
            contact_s=contact_s,
            contact_u_s=u_s,
            touches_s=None if self.touches_s is None else (contact_s, *(t for t, _ in kept)),
            airborne_s=tuple(off for _, off in kept),
        )


def find_approaches(recording: Recording) -> list[Approach]:
    """Return the approaches of a recording in time order; empty where it has no height or never comes down."""
    height = ground_height(recording)
    if height is None:
        return []
    low = [_contact_episode(recording, height, a, b) for a, b in _low_episodes(height)]
    landings = [approach for approach in low if approach is not None]
    others = _turns(height, landings)
    return sorted([*landings, *others], key=lambda approach: approach.anchor_s)


def _low_episodes(height: GroundHeight) -> list[tuple[float, float]]:
    """Stretches below 50 ft entered from above, as (time of entry, time of leaving or the log's end)."""
    limit = _low_limit(height)
    low = height.above_ground < limit
    edges = np.flatnonzero(np.diff(low.astype(int)))
    entries = [i for i in edges if low[i + 1]]
    leaves = [i for i in edges if not low[i + 1]]
    last = float(height.t[-1])
    return [
        (float(height.t[i]), next((float(height.t[j + 1]) for j in leaves if j > i), last))
        for i in entries
        if height.above_ground[: i + 1].max() > limit
    ]


def _low_limit(height: GroundHeight) -> float:
    return LOW_FT if height.wheels else LOW_BY_ALTITUDE_FT


def _contact_episode(recording: Recording, height: GroundHeight, start_s: float, end_s: float) -> Approach | None:
    """The landing of one low stretch; None where the wheels did not touch in it."""
    instant = fuse(recording, height, start_s, end_s)
    if instant is None:
        return None
    inside = (height.t >= start_s) & (height.t <= end_s)
    left = _left_ground(height, instant, end_s)
    outcome = _outcome(recording, instant, left, end_s)
    lowest = float(height.above_ground[inside].min()) if inside.any() else 0.0
    if instant.contact_s is None:
        return Approach(outcome, instant.anchor_s, None, None, None, None, lowest, (start_s, end_s))
    back = _returns_to_ground(recording, height, instant, min(end_s, instant.contact_s + _BOUNCE_LOOK_S))
    return Approach(
        outcome=outcome,
        anchor_s=instant.contact_s,
        contact_s=instant.contact_s,
        contact_u_s=instant.u_s,
        evidence=instant.evidence,
        touches_s=None if back is None else (instant.contact_s, *(t for t, _ in back)),
        lowest_ft=lowest,
        grounded_s=(start_s, end_s),
        airborne_s=() if back is None else tuple(off for _, off in back),
    )


def _left_ground(height: GroundHeight, instant: Instant, end_s: float) -> float | None:
    """When the wheels left the ground for good in this stretch; None where they stayed until the log's end."""
    if end_s >= height.t[-1] - 1e-9 and height.above_ground[-1] < _low_limit(height):
        return None
    inside = (height.t >= instant.anchor_s) & (height.t <= end_s) & (height.above_ground < 2.0)
    return float(height.t[inside][-1]) if inside.any() else instant.anchor_s


def _outcome(recording: Recording, instant: Instant, left_s: float | None, end_s: float) -> str:
    speed = recording.channels.get("ground_speed_kt") or recording.channels.get("airspeed_kt")
    if left_s is not None:
        if speed is not None and _stood(speed, instant.anchor_s, left_s):
            return "full_stop"
        return "touch_and_go" if left_s - instant.anchor_s >= _ROLL_S else "rejected"
    if speed is None:
        return "full_stop" if end_s - instant.anchor_s > 20.0 else "unfinished"
    final = float(np.median(speed.value[speed.t >= speed.t[-1] - 1.0]))
    near = speed.value[(speed.t > instant.anchor_s - 5.0) & (speed.t <= instant.anchor_s + 1.0)]
    landing = float(np.median(near)) if len(near) else np.inf
    return "full_stop" if final < min(_STOPPED_KT, _SLOWED * landing) else "unfinished"


def _stood(speed: Samples, start_s: float, end_s: float) -> bool:
    """Whether the aircraft came to a taxi or a stand between two times: it landed, and later took off again."""
    between = speed.value[(speed.t >= start_s) & (speed.t <= end_s)]
    return len(between) >= 5 and float(medfilt(between, 5)[2:-2].min(initial=np.inf)) < _TAXI_KT


def _returns_to_ground(
    recording: Recording, height: GroundHeight, instant: Instant, end_s: float
) -> list[tuple[float, float]] | None:
    """Every later contact up to `end_s`, and the time off before it; None where the channels are too slow for one."""
    assert instant.contact_s is not None  # noqa: S101 - the caller has a timed contact
    first = instant.contact_s
    switch = recording.channels.get("main_on_ground")
    if switch is not None and _interval(switch) <= _SLOWEST_SWITCH_S:
        inside = (switch.t >= first - 0.2) & (switch.t <= end_s)
        return _returns(switch.t[inside], switch.value[inside] > 0.5, gap_s=_BOUNCE_S)
    if height.wheels and height.interval_s <= _SLOWEST_HEIGHT_S:
        inside = (height.t >= first) & (height.t <= end_s)
        t, above = height.t[inside], height.above_ground[inside]
        return _returns(t, _bears(t - first, above), gap_s=_BOUNCE_S)
    return None


def _bears(since_s: Floats, above: Floats) -> NDArray[np.bool_]:
    """Whether the wheels bear, by height: off above its value at contact by 1.5 ft, on again within 0.9 ft of it.

    The value at contact, not the rollout's, because the antenna stands otherwise at the landing attitude.
    """
    at_contact = float(np.median(above[since_s <= 0.5])) if (since_s <= 0.5).any() else 0.0
    off, on = above > at_contact + _OFF_FT, above < at_contact + _ON_FT
    last = np.maximum.accumulate(np.where(off | on, np.arange(len(above)), 0))
    return np.asarray(~off[last])


def _interval(samples: Samples) -> float:
    return middle(np.diff(samples.t)) if len(samples.t) > 1 else np.inf


def _returns(t: Floats, on: NDArray[np.bool_], *, gap_s: float) -> list[tuple[float, float]]:
    """When `on` comes back, and how long it was off, where that was at least `gap_s` and it has been on before; s."""
    rises = np.flatnonzero(~on[:-1] & on[1:]) + 1
    falls = np.flatnonzero(on[:-1] & ~on[1:]) + 1
    back = []
    for rise in rises:
        before = falls[falls < rise]
        if len(before) and t[rise] - t[before[-1]] >= gap_s - 1e-6:
            back.append((float(t[rise]), float(t[rise] - t[before[-1]])))
    return back


def _turns(height: GroundHeight, landings: list[Approach]) -> list[Approach]:
    """Descents that turn, or end with the log, below 1,000 ft without contact."""
    valleys, _ = find_peaks(-height.above_ground, prominence=_TURN_FT)
    found = []
    for i in _apart(height.above_ground, valleys):
        lowest = float(height.above_ground[i])
        if lowest < APPROACH_FT and not _covered(float(height.t[i]), landings):
            found.append(_without_contact("go_around", float(height.t[i]), lowest))
    return [*found, *_cut_short(height, landings)]


def _apart(above: Floats, valleys: NDArray[np.intp]) -> list[int]:
    """The valleys with a climb of 150 ft between them; of several in one turn the lowest."""
    kept: list[int] = []
    for i in valleys:
        if kept and above[kept[-1] : i + 1].max() - max(above[kept[-1]], above[i]) < _TURN_FT:
            kept[-1] = int(i) if above[i] < above[kept[-1]] else kept[-1]
        else:
            kept.append(int(i))
    return kept


def _covered(t: float, landings: list[Approach]) -> bool:
    spans = [landing.grounded_s for landing in landings if landing.grounded_s is not None]
    return any(start <= t <= end for start, end in spans)


def _cut_short(height: GroundHeight, landings: list[Approach]) -> list[Approach]:
    """The approach the log ends on, still coming down."""
    end = float(height.t[-1])
    since = max([landing.anchor_s for landing in landings], default=-np.inf)
    tail = height.above_ground[height.t > since]
    if not len(tail) or _covered(end, landings):
        return []
    last = float(tail[-1])
    coming_down = last < APPROACH_FT and tail.max() - last >= _TURN_FT and last <= tail.min() + 1.0
    return [_without_contact("unfinished", end, last)] if coming_down else []


def _without_contact(outcome: str, anchor_s: float, lowest_ft: float) -> Approach:
    return Approach(outcome, anchor_s, None, None, None, None, lowest_ft, None)


def owned(approaches: list[Approach], recording: Recording) -> list[Approach]:
    """The approaches whose anchor lies in the stretch of the log that this recording owns."""
    return [a for a in approaches if recording.own_from_s <= a.anchor_s < recording.own_to_s]
