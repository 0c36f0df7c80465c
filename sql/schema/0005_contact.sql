-- Grain: one row per main-wheel contact of a measured landing.
-- landing_id and measured_key: owned by measurement.
create table contact (
    landing_id varchar not null,
    measured_key varchar not null,
    contact_index bigint not null check (contact_index >= 0),
    t_s double not null check (isfinite(t_s)),
    airtime_before_s double check (isfinite(airtime_before_s)),
    height_before_ft double check (isfinite(height_before_ft)),
    vertical_speed_fpm double check (isfinite(vertical_speed_fpm)),
    vertical_speed_fpm_u double check (isfinite(vertical_speed_fpm_u) and vertical_speed_fpm_u >= 0),
    peak_g double check (isfinite(peak_g)),
    peak_g_u double check (isfinite(peak_g_u) and peak_g_u >= 0),
    primary key (landing_id, measured_key, contact_index)
);

comment on column contact.landing_id is 'Landing the contact belongs to.';
comment on column contact.measured_key is 'Measurement that found it.';
comment on column contact.contact_index is 'Place among the contacts of the landing, from 0.';
comment on column contact.t_s is 'Contact from the log''s start. Unit: s.';
comment on column contact.airtime_before_s is 'Time airborne since the contact before; null for the first. Unit: s.';
comment on column contact.height_before_ft is 'Greatest wheel height since the contact before; null for the first. Unit: ft.';
comment on column contact.vertical_speed_fpm is 'Vertical speed of the main wheels the instant before, positive up; null where it cannot be told. Unit: ft/min.';
comment on column contact.vertical_speed_fpm_u is 'Standard uncertainty of vertical_speed_fpm. Unit: ft/min.';
comment on column contact.peak_g is 'Largest normal acceleration after the contact; 1 is steady flight. Unit: g.';
comment on column contact.peak_g_u is 'Standard uncertainty of peak_g. Unit: g.';
