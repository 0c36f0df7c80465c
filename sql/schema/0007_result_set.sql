-- Grain: one row per date for which statistics are held; the five tables that follow hold its rows.
create table result_set (
    as_of date primary key,
    inputs_sha256 varchar not null,
    results_sha256 varchar not null
);

comment on column result_set.as_of is 'Last date whose landings were counted.';
comment on column result_set.inputs_sha256 is 'Hash of what the statistics were computed from.';
comment on column result_set.results_sha256 is 'Hash of the rows they gave.';
