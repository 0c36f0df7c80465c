-- Grain: one row per as_of, pilot and measure.
-- as_of: owned by result_set. Intervals hold 90 %.
create table consistency (
    as_of date not null,
    pilot varchar not null,
    measure varchar not null,
    n bigint not null check (n >= 0),
    sessions bigint not null check (sessions >= 0),
    value double check (isfinite(value)),
    value_low double check (isfinite(value_low)),
    value_high double check (isfinite(value_high)),
    cohort_middle double check (isfinite(cohort_middle)),
    widest_quarter double check (widest_quarter between 0 and 1),
    primary key (as_of, pilot, measure)
);

comment on column consistency.as_of is 'Last date whose landings were counted.';
comment on column consistency.pilot is 'Pseudonym.';
comment on column consistency.measure is 'in_target_box, or the measure.';
comment on column consistency.n is 'Landings it is told from, on the type the pilot landed most.';
comment on column consistency.sessions is 'Days and aircraft they were flown in.';
comment on column consistency.value is 'in_target_box: share inside; else spread in the measure''s unit, conditions and recorder taken out.';
comment on column consistency.value_low is 'Lower end of its interval.';
comment on column consistency.value_high is 'Upper end of its interval.';
comment on column consistency.cohort_middle is 'Median spread of all pilots; null under 5 pilots and for the share.';
comment on column consistency.widest_quarter is 'Chance to be among the quarter of pilots that scatters most; null likewise.';
