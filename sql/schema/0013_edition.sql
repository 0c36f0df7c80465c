-- Grain: one row per edition written.
create table edition (
    as_of date primary key,
    week varchar not null,
    inputs_sha256 varchar not null,
    written_at timestamptz not null
);

comment on column edition.as_of is 'Last date whose landings were counted.';
comment on column edition.week is 'ISO week of the edition, as in 2026-W47.';
comment on column edition.inputs_sha256 is 'Hash of what its statistics were computed from.';
comment on column edition.written_at is 'UTC instant at which it was written.';
