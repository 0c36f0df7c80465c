"""What the pilot holds and remembers from one look to the next."""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from flows.invented.state import State

Floats = NDArray[np.float64]


@dataclass
class Hand:
    """What the pilot holds and remembers; instants are s from the lane's start, infinite until the event happens."""

    theta: Floats
    held: Floats
    lever: Floats
    lever_wish: Floats
    lever_trim: Floats
    speed_sum: Floats
    airspeed_seen: Floats
    wander: Floats
    wander_roll: Floats
    flare_at: Floats
    close_at: Floats
    lever_at_close: Floats
    tau: Floats
    base: Floats
    staged: Floats
    contact_at: Floats
    theta_contact: Floats
    on_wheels_s: Floats
    go_at: Floats

    @classmethod
    def ready(cls, s: State, lever: Floats) -> "Hand":
        """On the approach, in trim."""
        hand = cls(**{field.name: np.zeros(len(lever)) for field in fields(cls)})
        hand.theta, hand.airspeed_seen = s.theta.copy(), s.airspeed.copy()
        hand.lever, hand.lever_wish, hand.lever_trim = lever.copy(), lever.copy(), lever.copy()
        for name in ("flare_at", "close_at", "contact_at", "go_at"):
            setattr(hand, name, np.full(len(lever), np.inf))
        return hand
