-- Grain: one row per version and constant. A version holds what was learned of one installation, a recorder on an
-- aircraft type; the one learned last is the one landings are measured with.
-- version: made by the pipeline from definition, logs and values; measurement.constants names it.
create table constant (
    version varchar not null,
    recorder varchar not null,
    aircraft_type varchar not null,
    constant varchar not null,
    mean double not null check (isfinite(mean)),
    sd double not null check (isfinite(sd) and sd > 0),
    landings bigint not null check (landings >= 0),
    learned_at timestamptz not null,
    primary key (version, constant)
);

comment on column constant.version is 'First 12 hexadecimal digits of the hash of definition, logs and values.';
comment on column constant.recorder is 'Recorder as the manifest names it, else its channel map.';
comment on column constant.aircraft_type is 'Type the recorder is on; empty where it is not known.';
comment on column constant.constant is 'Name of the constant; its unit is its ending, logarithms begin with log_.';
comment on column constant.mean is 'What is believed of it before a landing''s own samples are looked at.';
comment on column constant.sd is 'Standard deviation of that belief.';
comment on column constant.landings is 'Landings that told something of it.';
comment on column constant.learned_at is 'UTC instant the version was learned.';
