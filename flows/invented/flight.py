"""A plan and a type go in; every lane's flight from the start of the log to its end comes out, sampled densely."""

from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from flows.invented.dynamics import needed_alpha, step, trim_lever
from flows.invented.hand import Hand
from flows.invented.lane import HISTORY, Lane
from flows.invented.pilot_law import Look, command
from flows.invented.plan import GO_AROUND, Plan
from flows.invented.state import Air, Controls, State
from flows.invented.units import G
from flows.invented.weather import gust_step, wind_share

Floats = NDArray[np.float64]

APPROACH_STEP_S = 0.125
CONTACT_STEP_S = 1.0 / 128.0
ROLLOUT_STEP_S = 1.0 / 64.0
APPROACH_S, ROLLOUT_S = 420.0, 22.0
"""Longest approach flown; how long after the contact phase a lane goes on."""
SLOW_RAD_S = 2.0 * np.pi * 5.0
"""Corner, 5 Hz, of the second-order Butterworth low-pass through which peak acceleration is told."""


@dataclass
class _Run:
    """Everything that moves; `t` (lanes,) is each lane's own clock."""

    plan: Plan
    s: State
    hand: Hand
    c: Controls
    gust: Floats
    t: Floats
    sink_at_contact: Floats

    def record(self, kept: NDArray[np.float32]) -> None:
        """Write this instant into `kept` (lanes, len(HISTORY))."""
        s, c = self.s, self.c
        down = s.h < 0.0
        nose = down & (s.theta <= self.plan.a.rest_pitch + 1e-4)
        share = wind_share(s.h)
        values = (
            s.x, s.y, s.h, s.w, s.u, s.v, s.theta, s.phi, s.psi, s.airspeed, s.nz, s.ax, s.ay, c.lever, s.thrust,
            c.spoiler, c.reverse, c.brake, down, nose, s.vs_lagged, s.nz_slow,
            self.plan.head_ms * share, self.plan.cross_ms * share, c.clean,
        )  # fmt: skip
        kept[...] = np.stack(values).T


def fly(plan: Plan, rng: np.random.Generator) -> Iterator[Lane]:
    """Fly all lanes of `plan` together, then yield them one by one, in the plan's order.

    Three phases differ in step: down to near the flare, to the wheels and just after, and the rest. A lane passes from
    the first to the second where it crosses its own height; what the first phase computes past that is dropped.
    """
    run = _start(plan)
    approach, times, first = _approach(run, rng)
    began = run.t.copy()
    contact = _phase(run, rng, dt=CONTACT_STEP_S, every=2, seconds=60.0, settle_s=2.5)
    middle = run.t.copy()
    rollout = _phase(run, rng, dt=ROLLOUT_STEP_S, every=4, seconds=ROLLOUT_S, settle_s=np.inf)
    for lane in range(plan.lanes):
        parts = (
            (times[: first[lane] + 1], approach[lane, : first[lane] + 1]),
            (began[lane] + 2 * CONTACT_STEP_S * np.arange(1, contact.shape[1] + 1), contact[lane]),
            (middle[lane] + 4 * ROLLOUT_STEP_S * np.arange(1, rollout.shape[1] + 1), rollout[lane]),
        )
        yield _lane(run, parts, lane)


def _lane(run: _Run, parts: tuple[tuple[Floats, NDArray[np.float32]], ...], lane: int) -> Lane:
    hand = run.hand
    return Lane(
        t=np.concatenate([t for t, _ in parts]),
        values=np.concatenate([values for _, values in parts]),
        contact_s=float(hand.contact_at[lane]),
        flare_s=float(hand.flare_at[lane]),
        close_s=float(hand.close_at[lane]),
        go_s=float(hand.go_at[lane]),
        sink_at_contact_ms=float(run.sink_at_contact[lane]),
    )


def _start(plan: Plan) -> _Run:
    """All lanes in trim on the path at the height their log begins."""
    a = plan.a
    s = State.zeros(plan.lanes)
    speed = plan.target_ms + plan.offset_ms
    share = wind_share(plan.start_m)
    s.x = (plan.aim_m + plan.offset_m - plan.start_m) / plan.path
    s.u = speed - plan.head_ms * share
    s.w = -plan.path * s.u
    s.airspeed = speed.copy()
    s.theta = needed_alpha(speed, 1.0, plan) - plan.path
    s.z = plan.start_m + a.mains_behind_m * s.theta
    s.h = plan.start_m - plan.slope * s.x
    s.vs_lagged = s.w.copy()
    s.psi = np.arctan2(plan.cross_ms * share, speed)
    lever = trim_lever(plan)
    s.thrust = lever.copy()
    s.trim = (a.thrust_idle_n + (a.thrust_full_n - a.thrust_idle_n) * lever) / plan.mass_kg / G
    s.nz = np.ones(plan.lanes)
    zero = np.zeros(plan.lanes)
    controls = Controls(*(zero.copy() for _ in range(8)))
    empty = np.full(plan.lanes, np.nan)
    return _Run(plan, s, Hand.ready(s, lever), controls, np.zeros((3, plan.lanes)), zero.copy(), empty)


def _advance(run: _Run, rng: np.random.Generator, *, dt: float, steps: int, wheels: bool) -> None:
    """The pilot looks and moves once, then `steps` steps of the aeroplane, for every lane."""
    s, plan = run.s, run.plan
    noise = rng.standard_normal((5, plan.lanes))
    run.gust = gust_step(run.gust, h=s.h, airspeed=s.airspeed, spread=plan.gust_ms, dt=dt * steps, noise=noise[:3])
    share = wind_share(s.h)
    right = plan.cross_ms * share
    air = Air(head=plan.head_ms * share + run.gust[0], right=right + run.gust[1], up=run.gust[2])
    command(s, run.hand, run.c, plan, Look(run.t, dt * steps, right, noise[3:], far=not wheels))
    for _ in range(steps):
        before = s.h
        step(s, run.c, air, plan, dt=dt, wheels=wheels)
        run.t = run.t + dt
        if wheels:
            _touch(run, before, dt=dt)
            s.nz_rate += (SLOW_RAD_S**2 * (s.nz - s.nz_slow) - np.sqrt(2.0) * SLOW_RAD_S * s.nz_rate) * dt
            s.nz_slow += s.nz_rate * dt


def _touch(run: _Run, before: Floats, *, dt: float) -> None:
    """Note each lane's first contact, interpolated within the step, and the sink the legs have not yet felt."""
    s, hand = run.s, run.hand
    new = (s.h < 0.0) & np.isinf(hand.contact_at)
    if new.any():
        part = before / np.maximum(before - s.h, 1e-9)
        hand.contact_at = np.where(new, run.t - dt + dt * part, hand.contact_at)
        hand.theta_contact = np.where(new, s.theta, hand.theta_contact)
        run.sink_at_contact = np.where(new, s.sink, run.sink_at_contact)


def _approach(run: _Run, rng: np.random.Generator) -> tuple[NDArray[np.float32], Floats, NDArray[np.int64]]:
    """Fly down to each lane's own hand-over height and leave `run` there; history, times, last indices."""
    plan = run.plan
    over = np.maximum(plan.flare_m * 1.6 + 6.0, np.where(plan.kind == GO_AROUND, plan.go_m + 5.0, 0.0))
    most = int(APPROACH_S / APPROACH_STEP_S)
    history = np.empty((plan.lanes, most, len(HISTORY)), dtype=np.float32)
    first = np.full(plan.lanes, -1, dtype=np.int64)
    left = deepcopy(run)
    for index in range(most):
        _advance(run, rng, dt=APPROACH_STEP_S, steps=1, wheels=False)
        run.record(history[:, index])
        new = (run.s.h < over) & (first < 0)
        if new.any():
            first[new] = index
            _keep(left, run, new)
            if (first >= 0).all():
                break
    run.s, run.hand, run.c, run.gust, run.t = left.s, left.hand, left.c, left.gust, left.t
    run.s.nz_slow = run.s.nz.copy()
    return history, APPROACH_STEP_S * np.arange(1, most + 1, dtype=np.float64), first


def _keep(left: _Run, run: _Run, lanes: NDArray[np.bool_]) -> None:
    """Copy the state of `lanes` as it is now from `run` to `left`."""
    for kept, now in ((left.s, run.s), (left.hand, run.hand), (left.c, run.c)):
        for field in fields(kept):
            getattr(kept, field.name)[lanes] = getattr(now, field.name)[lanes]
    left.gust[:, lanes] = run.gust[:, lanes]
    left.t[lanes] = run.t[lanes]


def _phase(
    run: _Run, rng: np.random.Generator, *, dt: float, every: int, seconds: float, settle_s: float
) -> NDArray[np.float32]:
    """Fly on for `seconds`, or until every lane has been down (or going) for `settle_s`; history (lanes, k, values)."""
    most = int(seconds / dt / every)
    history = np.empty((run.plan.lanes, most, len(HISTORY)), dtype=np.float32)
    for index in range(most):
        _advance(run, rng, dt=dt, steps=every, wheels=True)
        run.record(history[:, index])
        settled = run.t - np.minimum(run.hand.contact_at, run.hand.go_at) > settle_s
        if settled.all():
            return history[:, : index + 1]
    return history
