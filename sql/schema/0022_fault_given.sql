-- Grain: one row per measured approach and fault that is judged for it, as before; the chance of its other conditions.
create table fault_again (
    landing_id varchar not null,
    measured_key varchar not null,
    fault varchar not null,
    verdict varchar not null check (verdict in ('seen', 'not_seen', 'cannot_tell')),
    probability double check (probability between 0 and 1),
    value double check (isfinite(value)),
    value_u double check (isfinite(value_u) and value_u >= 0),
    limit_value double check (isfinite(limit_value)),
    given double check (given between 0 and 1),
    reason varchar,
    primary key (landing_id, measured_key, fault)
);

insert into fault_again by name
select fault.*, null as given
from fault;

drop table fault;
alter table fault_again rename to fault;

comment on column fault.landing_id is 'Approach that was judged.';
comment on column fault.measured_key is 'Measurement it was judged by.';
comment on column fault.fault is 'Name of the fault.';
comment on column fault.verdict is 'seen: beyond doubt; not_seen; cannot_tell.';
comment on column fault.probability is 'Chance of the fault, given the measures and their uncertainty.';
comment on column fault.value is 'What was judged first, in its measure''s unit; null where the fault is no matter of a limit.';
comment on column fault.value_u is 'Its standard uncertainty.';
comment on column fault.limit_value is 'Limit it was judged against.';
comment on column fault.given is 'Chance that every other condition holds; 1 where there is no other.';
comment on column fault.reason is 'Why there is no probability.';
