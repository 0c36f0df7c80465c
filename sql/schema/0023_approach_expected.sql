-- Grain: one row per measured approach.
-- landing_id and measured_key: owned by measurement.
create table approach_expected (
    landing_id varchar not null,
    measured_key varchar not null,
    approach_pitch_over_expected_deg double check (isfinite(approach_pitch_over_expected_deg)),
    approach_pitch_over_expected_deg_u double check (isfinite(approach_pitch_over_expected_deg_u) and approach_pitch_over_expected_deg_u >= 0),
    approach_pitch_over_expected_deg_reason varchar,
    approach_thrust_over_expected_pct double check (isfinite(approach_thrust_over_expected_pct)),
    approach_thrust_over_expected_pct_u double check (isfinite(approach_thrust_over_expected_pct_u) and approach_thrust_over_expected_pct_u >= 0),
    approach_thrust_over_expected_pct_reason varchar,
    approach_engine_speed_over_expected_pct double check (isfinite(approach_engine_speed_over_expected_pct)),
    approach_engine_speed_over_expected_pct_u double check (isfinite(approach_engine_speed_over_expected_pct_u) and approach_engine_speed_over_expected_pct_u >= 0),
    approach_engine_speed_over_expected_pct_reason varchar,
    primary key (landing_id, measured_key)
);

comment on column approach_expected.landing_id is 'Approach that was measured.';
comment on column approach_expected.measured_key is 'Measurement it rests on.';
comment on column approach_expected.approach_pitch_over_expected_deg is 'Pitch between 500 and 100 ft less what the type is expected to show at that flap and weight, positive above it. Unit: deg.';
comment on column approach_expected.approach_pitch_over_expected_deg_u is 'Standard uncertainty of approach_pitch_over_expected_deg: that of the measured part.';
comment on column approach_expected.approach_pitch_over_expected_deg_reason is 'Why approach_pitch_over_expected_deg is null.';
comment on column approach_expected.approach_thrust_over_expected_pct is 'Thrust lever between 500 and 100 ft less what the type is expected to show at that flap and weight, positive above it. Unit: %.';
comment on column approach_expected.approach_thrust_over_expected_pct_u is 'Standard uncertainty of approach_thrust_over_expected_pct: that of the measured part.';
comment on column approach_expected.approach_thrust_over_expected_pct_reason is 'Why approach_thrust_over_expected_pct is null.';
comment on column approach_expected.approach_engine_speed_over_expected_pct is 'Engine speed between 500 and 100 ft less what the type is expected to show at that flap and weight, positive above it. Unit: %.';
comment on column approach_expected.approach_engine_speed_over_expected_pct_u is 'Standard uncertainty of approach_engine_speed_over_expected_pct: that of the measured part.';
comment on column approach_expected.approach_engine_speed_over_expected_pct_reason is 'Why approach_engine_speed_over_expected_pct is null.';
