-- Grain: one row per main-wheel contact of any measurement. landing_id, measured_key: owned by measurement.
select
    landing_id,
    measured_key,
    contact_index,
    t_s as contact_t_s,
    airtime_before_s,
    height_before_ft,
    vertical_speed_fpm,
    vertical_speed_fpm_u,
    peak_g,
    peak_g_u
from contact
