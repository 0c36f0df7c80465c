-- Grain: one row per measured approach and gate of the policy that applies to it.
-- landing_id and measured_key: owned by measurement.
create table gate (
    landing_id varchar not null,
    measured_key varchar not null,
    gate varchar not null,
    height_ft double not null check (isfinite(height_ft)),
    reference varchar not null,
    conditions varchar not null,
    stable boolean,
    confidence double check (confidence between 0 and 1),
    reason varchar,
    failed varchar,
    not_judged varchar,
    judged bigint not null check (judged >= 0),
    tightest varchar,
    tightest_in_u double check (isfinite(tightest_in_u)),
    first_break varchar,
    first_break_height_ft double check (isfinite(first_break_height_ft)),
    first_break_duration_s double check (isfinite(first_break_duration_s)),
    held_to_50ft boolean,
    primary key (landing_id, measured_key, gate)
);

comment on column gate.landing_id is 'Approach that was judged.';
comment on column gate.measured_key is 'Measurement it was judged by.';
comment on column gate.gate is 'Name of the gate: height, reference, conditions.';
comment on column gate.height_ft is 'Height of the gate above its reference. Unit: ft.';
comment on column gate.reference is 'What that height is above: threshold or airport.';
comment on column gate.conditions is 'Approaches the gate judges: visual, instrument or any.';
comment on column gate.stable is 'Whether every criterion that could be judged was met at the gate.';
comment on column gate.confidence is 'Chance that the verdict is right.';
comment on column gate.reason is 'Why there is no verdict.';
comment on column gate.failed is 'Criteria that were not met, apart by blanks.';
comment on column gate.not_judged is 'Criteria the gate asks for that could not be judged, apart by blanks.';
comment on column gate.judged is 'How many criteria were judged.';
comment on column gate.tightest is 'Criterion nearest to its limit, or farthest beyond it.';
comment on column gate.tightest_in_u is 'Its margin in units of its standard uncertainty, negative beyond the limit.';
comment on column gate.first_break is 'First criterion broken for as long as the gate says, between the gate and 50 ft.';
comment on column gate.first_break_height_ft is 'Where that break began. Unit: ft.';
comment on column gate.first_break_duration_s is 'How long it lasted. Unit: s.';
comment on column gate.held_to_50ft is 'Whether the gate was met and no criterion broken down to 50 ft.';
