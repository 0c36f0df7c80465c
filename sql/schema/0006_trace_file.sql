-- Grain: one row per landing whose aligned trace is kept.
-- landing_id: owned by approach. The traces themselves stay in Parquet files.
create table trace_file (
    landing_id varchar primary key,
    trace_file varchar not null
);

comment on column trace_file.landing_id is 'Landing the trace belongs to.';
comment on column trace_file.trace_file is 'Name of the file in the folder of traces.';
