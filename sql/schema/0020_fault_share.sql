-- Grain: one row per as_of, pilot, aircraft type and fault. pilot is empty for all pilots of a type together.
-- as_of: owned by result_set. Intervals hold 90 %.
create table fault_share (
    as_of date not null,
    pilot varchar not null,
    aircraft_type varchar not null,
    fault varchar not null,
    n bigint not null check (n >= 0),
    sessions bigint not null check (sessions >= 0),
    seen bigint not null check (seen >= 0),
    share double not null check (share between 0 and 1),
    share_low double not null check (share_low between 0 and 1),
    share_high double not null check (share_high between 0 and 1),
    untold bigint not null check (untold >= 0),
    primary key (as_of, pilot, aircraft_type, fault)
);

comment on column fault_share.as_of is 'Last date whose landings were counted.';
comment on column fault_share.pilot is 'Pseudonym; empty for all pilots of the type together, over complete months.';
comment on column fault_share.aircraft_type is 'Type the landings were flown in.';
comment on column fault_share.fault is 'Name of the fault.';
comment on column fault_share.n is 'Routine landings that could be judged.';
comment on column fault_share.sessions is 'Sessions they were flown in.';
comment on column fault_share.seen is 'Landings on which the fault is beyond doubt.';
comment on column fault_share.share is 'Share of landings with the fault, measurement error taken out.';
comment on column fault_share.share_low is 'Lower end of its interval.';
comment on column fault_share.share_high is 'Upper end of its interval.';
comment on column fault_share.untold is 'Landings that could not be judged.';
