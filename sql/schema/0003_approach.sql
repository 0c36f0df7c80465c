-- Grain: one row per approach found in a log, with or without contact.
-- landing_id: first 16 hexadecimal digits of the hash of log and approach index. log_sha256: owned by log.
-- A corrected manifest or map updates the row; an approach no longer found stays, without a current measurement.
create table approach (
    landing_id varchar primary key,
    log_sha256 varchar not null,
    approach_index bigint not null check (approach_index >= 0),
    landing_index bigint check (landing_index >= 0),
    outcome varchar not null check (outcome in ('full_stop', 'touch_and_go', 'rejected', 'go_around', 'unfinished')),
    contact_t_s double check (isfinite(contact_t_s)),
    contact_u_s double check (isfinite(contact_u_s) and contact_u_s >= 0),
    contact_evidence varchar,
    contact_at timestamptz,
    flown_at timestamptz,
    pilot varchar,
    pilot_monitoring varchar,
    seat varchar,
    role varchar,
    takeover varchar,
    device varchar,
    exercise varchar,
    why_logged varchar,
    aircraft varchar,
    aircraft_type varchar,
    recorder varchar,
    recorder_rate_hz double check (isfinite(recorder_rate_hz) and recorder_rate_hz > 0),
    runway varchar,
    vref_kt double check (isfinite(vref_kt)),
    target_speed_kt double check (isfinite(target_speed_kt)),
    landing_flap varchar,
    weight_kg double check (isfinite(weight_kg)),
    conditions varchar,
    intent varchar,
    runway_condition varchar,
    landing_mode varchar
        check (landing_mode in ('manual', 'manual with autothrust', 'automatic', 'unknown')),
    lowest_height_ft double check (isfinite(lowest_height_ft)),
    context_key varchar not null
);

comment on column approach.landing_id is 'First 16 hexadecimal digits of the hash of log and approach index.';
comment on column approach.log_sha256 is 'Log the approach was found in.';
comment on column approach.approach_index is 'Place among all approaches of the log, from 0.';
comment on column approach.landing_index is 'Place among the landings of the log, from 0; null without contact.';
comment on column approach.outcome is 'full_stop, touch_and_go, rejected, go_around or unfinished.';
comment on column approach.contact_t_s is 'First main-wheel contact from the log''s start; null without contact. Unit: s.';
comment on column approach.contact_u_s is 'Standard uncertainty of that instant. Unit: s.';
comment on column approach.contact_evidence is 'Channels that told the contact.';
comment on column approach.contact_at is 'UTC instant of first contact; null where it is not known.';
comment on column approach.flown_at is 'UTC instant of the log''s first row; null where it is not known.';
comment on column approach.pilot is 'Pseudonym of who flew the landing; null where it is not known.';
comment on column approach.pilot_monitoring is 'Pseudonym of the other pilot; null where there was none or it is not known.';
comment on column approach.seat is 'Seat of the pilot who flew the landing.';
comment on column approach.role is 'line, training, instructing or check.';
comment on column approach.takeover is 'none, approach, flare or unknown.';
comment on column approach.device is 'aircraft, qualified_simulator or desktop_simulator.';
comment on column approach.exercise is 'normal, or what was practised.';
comment on column approach.why_logged is 'routine, after_event, chosen or training.';
comment on column approach.aircraft is 'Which aircraft.';
comment on column approach.aircraft_type is 'Its type.';
comment on column approach.recorder is 'What recorded the log.';
comment on column approach.recorder_rate_hz is 'Rate of the pitch channel, else of height. Unit: Hz.';
comment on column approach.runway is 'Runway, as the runway table names it.';
comment on column approach.vref_kt is 'Reference speed. Unit: kt.';
comment on column approach.target_speed_kt is 'Target speed of the approach, where it was stated. Unit: kt.';
comment on column approach.landing_flap is 'Flap setting for landing, as stated.';
comment on column approach.weight_kg is 'Landing weight. Unit: kg.';
comment on column approach.conditions is 'visual or instrument.';
comment on column approach.intent is 'normal or land_long.';
comment on column approach.runway_condition is 'State of the runway surface, as stated.';
comment on column approach.landing_mode is 'manual, manual with autothrust, automatic or unknown.';
comment on column approach.lowest_height_ft is 'Least height above the ground on the approach. Unit: ft.';
comment on column approach.context_key is 'Hash of this row''s values, numbers to a thousandth of their unit.';
