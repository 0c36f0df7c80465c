-- Grain: one row per approach found in a log, as before; how its runway and its wind are known.
alter table approach add column runway_found varchar;
alter table approach add column wind_source varchar;
alter table approach add column report_found varchar;
alter table approach add column report_age_min bigint;

comment on column approach.runway_found is 'stated, matched, or why the runway is not known: no position, none fits, several fit, contradicted (stated one place, flown at another).';
comment on column approach.wind_source is 'Where the wind is from: recorded, stated or report; null without one.';
comment on column approach.report_found is 'What became of the weather report: read, no wind in it, unreadable, not of this hour; null without one.';
comment on column approach.report_age_min is 'Landing minus weather report, negative where the report is the later one. Unit: min.';
comment on column measurement.runways_sha256 is 'Hash of the runway''s row in the runway table; null without one.';
