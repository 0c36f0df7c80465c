-- Grain: one row per as_of, pilot and measure.
-- as_of: owned by result_set. Intervals hold 90 %.
create table pilot_outcome (
    as_of date not null,
    pilot varchar not null,
    measure varchar not null,
    n bigint not null check (n >= 0),
    centre double check (isfinite(centre)),
    centre_low double check (isfinite(centre_low)),
    centre_high double check (isfinite(centre_high)),
    spread double check (isfinite(spread)),
    spread_low double check (isfinite(spread_low)),
    spread_high double check (isfinite(spread_high)),
    cohort_pilots bigint check (cohort_pilots >= 0),
    cohort_n bigint check (cohort_n >= 0),
    cohort_centre double check (isfinite(cohort_centre)),
    cohort_spread double check (isfinite(cohort_spread)),
    primary key (as_of, pilot, measure)
);

comment on column pilot_outcome.as_of is 'Last date whose landings were counted.';
comment on column pilot_outcome.pilot is 'Pseudonym.';
comment on column pilot_outcome.measure is 'Name of the measure; the numbers have its unit and sign.';
comment on column pilot_outcome.n is 'Landings of the pilot with a value.';
comment on column pilot_outcome.centre is 'Robust centre.';
comment on column pilot_outcome.centre_low is 'Lower end of its interval.';
comment on column pilot_outcome.centre_high is 'Upper end of its interval.';
comment on column pilot_outcome.spread is 'Robust spread, one standard deviation.';
comment on column pilot_outcome.spread_low is 'Lower end of its interval.';
comment on column pilot_outcome.spread_high is 'Upper end of its interval.';
comment on column pilot_outcome.cohort_pilots is 'Pilots in the cohort beside.';
comment on column pilot_outcome.cohort_n is 'Landings in the cohort beside.';
comment on column pilot_outcome.cohort_centre is 'Centre of the cohort.';
comment on column pilot_outcome.cohort_spread is 'Spread of the cohort.';
