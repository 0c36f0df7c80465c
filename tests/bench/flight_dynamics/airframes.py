"""What the rig's pilot and recorders know of the three airframes, by letter; the models themselves are in `models`."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Airframe:
    """What the rig's pilot and recorders know of one airframe.

    `pitch_power`, `roll_power`, `yaw_power`: rad/s2 for each unit of command and lb/ft2 of dynamic pressure.
    `main_stiffness` lb/ft each, `main_damping` lb s/ft each, `tyre_ft` over which the damper takes hold.
    `vref_kt`, `flap`, `antenna_ahead_ft` (of the main wheels), `radio_arm_ft` (radio antenna ahead of them).
    """

    letter: str
    engines: int
    jet: bool
    vref_kt: float
    flap: float
    flap_deg: float
    pitch_power: float
    roll_power: float
    yaw_power: float
    main_stiffness: float
    main_damping: float
    nose_stiffness: float
    nose_damping: float
    tyre_ft: float
    antenna_ahead_ft: float
    radio_arm_ft: float
    attitude_bandwidth: float
    rise_deg: tuple[float, float]
    flare_ft: tuple[float, float]
    pitch_guess_deg: float
    elevator_guess: float
    lever_guess: float
    slowed_kt: float


AIRFRAMES = {
    "A": Airframe(
        letter="A", engines=2, jet=True, vref_kt=134.0, flap=1.0, flap_deg=40.0,
        pitch_power=0.00528, roll_power=0.0069, yaw_power=0.0041,
        main_stiffness=46_000.0, main_damping=5_000.0, nose_stiffness=16_000.0, nose_damping=2_500.0, tyre_ft=0.30,
        antenna_ahead_ft=45.0, radio_arm_ft=10.0, attitude_bandwidth=2.0, rise_deg=(1.8, 3.4), flare_ft=(29.0, 56.0),
        pitch_guess_deg=2.2, elevator_guess=-0.22, lever_guess=0.5, slowed_kt=35.0,
    ),
    "B": Airframe(
        letter="B", engines=4, jet=True, vref_kt=146.0, flap=1.0, flap_deg=30.0,
        pitch_power=0.00212, roll_power=0.0023, yaw_power=0.0017,
        main_stiffness=190_000.0, main_damping=25_000.0, nose_stiffness=90_000.0, nose_damping=12_000.0, tyre_ft=0.35,
        antenna_ahead_ft=85.0, radio_arm_ft=-16.0, attitude_bandwidth=1.6, rise_deg=(1.6, 3.2), flare_ft=(38.0, 72.0),
        pitch_guess_deg=1.0, elevator_guess=-0.46, lever_guess=0.42, slowed_kt=35.0,
    ),
    "C": Airframe(
        letter="C", engines=1, jet=False, vref_kt=61.0, flap=0.667, flap_deg=20.0,
        pitch_power=0.28, roll_power=0.53, yaw_power=0.058,
        main_stiffness=2_200.0, main_damping=95.0, nose_stiffness=1_400.0, nose_damping=120.0, tyre_ft=0.08,
        antenna_ahead_ft=2.0, radio_arm_ft=3.0, attitude_bandwidth=3.0, rise_deg=(3.5, 7.0), flare_ft=(12.0, 24.0),
        pitch_guess_deg=0.3, elevator_guess=-0.09, lever_guess=0.50, slowed_kt=16.0,
    ),
}  # fmt: skip
