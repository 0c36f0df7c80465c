-- Grain of log_channel: one row per log and channel that was read or should have been.
-- log_sha256: owned by log. The loader replaces the rows of a log that comes again.
create table log_channel (
    log_sha256 varchar not null,
    channel varchar not null,
    samples bigint not null check (samples >= 0),
    rate_hz double check (isfinite(rate_hz) and rate_hz > 0),
    resolution double check (isfinite(resolution) and resolution >= 0),
    gaps bigint not null check (gaps >= 0),
    longest_gap_s double not null check (isfinite(longest_gap_s) and longest_gap_s >= 0),
    stuck_s double not null check (isfinite(stuck_s) and stuck_s >= 0),
    repeats bigint not null check (repeats >= 0),
    spikes bigint not null check (spikes >= 0),
    outside bigint not null check (outside >= 0),
    lag_s double check (isfinite(lag_s)),
    lag_against varchar,
    suspect varchar,
    primary key (log_sha256, channel)
);

comment on column log_channel.log_sha256 is 'Log the channel is of.';
comment on column log_channel.channel is 'Canonical channel.';
comment on column log_channel.samples is 'Samples it was measured with; 0 where it could not be read.';
comment on column log_channel.rate_hz is 'Usual rate of its samples. Unit: Hz.';
comment on column log_channel.resolution is 'Smallest step between samples that follow each other, in the channel''s unit; null where it never moves.';
comment on column log_channel.gaps is 'Times without samples of more than 1 s and 2.5 usual intervals.';
comment on column log_channel.longest_gap_s is 'Longest of them. Unit: s.';
comment on column log_channel.stuck_s is 'Longest time without any change, of a channel that changes at other times. Unit: s.';
comment on column log_channel.repeats is 'Values repeated on rows faster than the channel, left out.';
comment on column log_channel.spikes is 'Values that stood apart from the channel''s course, left out.';
comment on column log_channel.outside is 'Values outside the channel''s plausible range, left out.';
comment on column log_channel.lag_s is 'How late the channel is against lag_against; null where the log does not tell. Unit: s.';
comment on column log_channel.lag_against is 'Channel it is held against.';
comment on column log_channel.suspect is 'Why the channel is not to be believed; null where it is.';

alter table approach add column suspect varchar;
alter table approach add column artefact varchar;
comment on column approach.suspect is 'Channels of its log that are not to be believed, separated by spaces; null where none is.';
comment on column approach.artefact is 'What no flight does, up to 30 s before it; null where nothing did.';
