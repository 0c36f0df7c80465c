"""Two invented aircraft types as numbers: mass, wing, engines, gear, response. SI and radians.

Every value is our own choice for a plausible invented type; none describes a real aircraft.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Airframe:
    """One type.

    Parameters
    ----------
    name, profile : invented name; "jet" or "light".
    mass_kg : nominal landing mass; `vref_kt` belongs to it and goes with the square root of mass.
    wing_m2, span_m : wing area and span.
    lift_0, lift_slope, lift_max : lift coefficient at zero angle of attack (landing flap), slope a radian, greatest.
    drag_0, drag_induced : drag polar in landing configuration, CD = drag_0 + drag_induced * CL**2.
    thrust_idle_n, thrust_full_n : at approach speed.
    spool_up_s, spool_down_s : first-order lags of thrust behind the lever.
    pitch_rad_s, pitch_damping : attitude response (pilot and aircraft together) as a second-order system.
    thrust_pitch : rad the nose moves with a change of thrust equal to the weight, before the pilot corrects.
    ground_pitch : rad of nose-down trim change in full ground effect.
    wing_height_m : wing above the main wheels' contact plane.
    mains_behind_m : main wheels behind the centre of gravity.
    gear_linear, gear_cubic, gear_damping, gear_rebound : force a unit of mass, 1/s2, 1/(m2 s2), 1/s, 1/s.
    gear_rise_s : tyre's smoothing of the strut force.
    antenna_ahead_m, radio_ahead_m : position and radio antenna ahead of the main wheels.
    rest_pitch : attitude with all wheels down.
    spoiler_lift : share of lift lost with spoilers out (0 where there are none).
    reverse_n : reverse thrust.
    """

    name: str
    profile: str
    mass_kg: float
    vref_kt: float
    wing_m2: float
    span_m: float
    lift_0: float
    lift_slope: float
    lift_max: float
    drag_0: float
    drag_induced: float
    thrust_idle_n: float
    thrust_full_n: float
    spool_up_s: float
    spool_down_s: float
    pitch_rad_s: float
    pitch_damping: float
    thrust_pitch: float
    ground_pitch: float
    wing_height_m: float
    mains_behind_m: float
    gear_linear: float
    gear_cubic: float
    gear_damping: float
    gear_rebound: float
    gear_rise_s: float
    antenna_ahead_m: float
    radio_ahead_m: float
    rest_pitch: float
    spoiler_lift: float
    reverse_n: float
    landing_flap_deg: float
    circuit_height_ft: float
    wheel_track_ft: float
    tail_pitch_deg: float
    pod_roll_deg: float | None
    tip_roll_deg: float
    crosswind_max_kt: float
    tailwind_max_kt: float
    crab_max_deg: float


JET = Airframe(
    name="Sarnel J4",
    profile="jet",
    mass_kg=6200.0,
    vref_kt=118.0,
    wing_m2=28.0,
    span_m=15.0,
    lift_0=0.613,
    lift_slope=5.0,
    lift_max=1.75,
    drag_0=0.075,
    drag_induced=0.055,
    thrust_idle_n=900.0,
    thrust_full_n=21000.0,
    spool_up_s=1.6,
    spool_down_s=0.9,
    pitch_rad_s=2.8,
    pitch_damping=0.85,
    thrust_pitch=0.10,
    ground_pitch=0.030,
    wing_height_m=1.5,
    mains_behind_m=0.6,
    gear_linear=18.0,
    gear_cubic=150.0,
    gear_damping=2.0,
    gear_rebound=0.6,
    gear_rise_s=0.012,
    antenna_ahead_m=4.0,
    radio_ahead_m=2.4,
    rest_pitch=-0.012,
    spoiler_lift=0.55,
    reverse_n=4000.0,
    landing_flap_deg=35.0,
    circuit_height_ft=1500.0,
    wheel_track_ft=10.5,
    tail_pitch_deg=13.0,
    pod_roll_deg=14.0,
    tip_roll_deg=17.0,
    crosswind_max_kt=25.0,
    tailwind_max_kt=10.0,
    crab_max_deg=8.0,
)

LIGHT = Airframe(
    name="Tovik L2",
    profile="light",
    mass_kg=1150.0,
    vref_kt=72.0,
    wing_m2=15.5,
    span_m=10.8,
    lift_0=0.445,
    lift_slope=4.8,
    lift_max=1.80,
    drag_0=0.075,
    drag_induced=0.060,
    thrust_idle_n=40.0,
    thrust_full_n=2700.0,
    spool_up_s=0.35,
    spool_down_s=0.3,
    pitch_rad_s=2.7,
    pitch_damping=0.8,
    thrust_pitch=0.08,
    ground_pitch=0.025,
    wing_height_m=0.9,
    mains_behind_m=0.3,
    gear_linear=20.0,
    gear_cubic=200.0,
    gear_damping=2.1,
    gear_rebound=0.6,
    gear_rise_s=0.012,
    antenna_ahead_m=0.8,
    radio_ahead_m=0.5,
    rest_pitch=0.0,
    spoiler_lift=0.0,
    reverse_n=0.0,
    landing_flap_deg=30.0,
    circuit_height_ft=1000.0,
    wheel_track_ft=7.2,
    tail_pitch_deg=15.0,
    pod_roll_deg=None,
    tip_roll_deg=19.0,
    crosswind_max_kt=16.0,
    tailwind_max_kt=8.0,
    crab_max_deg=6.0,
)

AIRFRAMES = {airframe.profile: airframe for airframe in (JET, LIGHT)}
