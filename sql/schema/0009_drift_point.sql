-- Grain: one row per as_of, pilot, chart and landing.
-- as_of: owned by result_set. landing_id: owned by approach.
create table drift_point (
    as_of date not null,
    pilot varchar not null,
    chart varchar not null check (chart in ('hard', 'long')),
    landing_id varchar not null,
    sequence bigint not null check (sequence >= 1),
    contact_at timestamptz,
    residual double check (isfinite(residual)),
    standing double check (isfinite(standing)),
    line double check (isfinite(line)),
    cusum double check (isfinite(cusum)),
    "limit" double check (isfinite("limit")),
    state varchar not null check (state in ('learning', 'watching', 'flagged')),
    primary key (as_of, pilot, chart, landing_id)
);

comment on column drift_point.as_of is 'Last date whose landings were counted.';
comment on column drift_point.pilot is 'Pseudonym.';
comment on column drift_point.chart is 'hard or long.';
comment on column drift_point.landing_id is 'Landing.';
comment on column drift_point.sequence is 'Place among the pilot''s landings on this chart, from 1.';
comment on column drift_point.contact_at is 'UTC instant of contact.';
comment on column drift_point.residual is 'Value minus what the conditions predict, positive toward hard or long, in the measure''s unit.';
comment on column drift_point.standing is 'Residual against the pilot''s own baseline, standard normal while nothing changes; null while learning.';
comment on column drift_point.line is 'Exponentially weighted mean of standing, weight 0.1, as it is drawn.';
comment on column drift_point.cusum is 'One-sided cumulative sum of standing.';
comment on column drift_point."limit" is 'Value of cusum at which a flag is raised; null while learning.';
comment on column drift_point.state is 'learning, watching or flagged.';
