-- Grain: one row per as_of and flag, as before; the chance that it is real, and whether it may be the recorder's.
-- as_of: owned by result_set. Landings: owned by approach. Intervals hold 90 %.
create table drift_flag_again (
    as_of date not null,
    pilot varchar not null,
    chart varchar not null check (chart in ('hard', 'long')),
    flagged_landing_id varchar not null,
    flagged_sequence bigint not null,
    flagged_at timestamptz,
    change_landing_id varchar,
    change_sequence bigint,
    change_at timestamptz,
    shift double check (isfinite(shift)),
    shift_low double check (isfinite(shift_low)),
    shift_high double check (isfinite(shift_high)),
    shift_sd double check (isfinite(shift_sd)),
    landings_since_change bigint,
    "open" boolean not null,
    chance_real double check (chance_real between 0 and 1),
    source varchar check (source in ('pilot', 'recorder', 'cannot tell')),
    primary key (as_of, pilot, chart, flagged_landing_id)
);

insert into drift_flag_again by name
select drift_flag.*, null as chance_real, null as source
from drift_flag;

drop table drift_flag;
alter table drift_flag_again rename to drift_flag;

comment on column drift_flag.as_of is 'Last date whose landings were counted.';
comment on column drift_flag.pilot is 'Pseudonym.';
comment on column drift_flag.chart is 'hard or long.';
comment on column drift_flag.flagged_landing_id is 'Landing at which the limit was reached.';
comment on column drift_flag.flagged_sequence is 'Its place among the pilot''s landings on this chart, from 1.';
comment on column drift_flag.flagged_at is 'UTC instant of its contact.';
comment on column drift_flag.change_landing_id is 'Landing from which the change is estimated to date.';
comment on column drift_flag.change_sequence is 'Its place among the pilot''s landings on this chart, from 1.';
comment on column drift_flag.change_at is 'UTC instant of its contact.';
comment on column drift_flag.shift is 'Mean residual since the change, positive toward hard or long, in the measure''s unit.';
comment on column drift_flag.shift_low is 'Lower end of its interval.';
comment on column drift_flag.shift_high is 'Upper end of its interval.';
comment on column drift_flag.shift_sd is 'The same in spreads of the pilot''s own.';
comment on column drift_flag.landings_since_change is 'Landings from the change to the flag.';
comment on column drift_flag."open" is 'Whether the flag still stands.';
comment on column drift_flag.chance_real is 'Chance that the change is real, by the landings after the flag and the flags of all pilots.';
comment on column drift_flag.source is 'Whether others on the same aircraft changed with the pilot: pilot, recorder or cannot tell.';
