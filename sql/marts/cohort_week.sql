-- Grain: one row per aircraft type and ISO week of contact; baseline landings of all pilots.
-- Columns as in pilot_week, with pilots, the number of pilots who flew them.
with landing as (
    from eligible_landing
    where contact_at is not null
)

select
    aircraft_type,
    isoyear(contact_at) as iso_year,
    week(contact_at) as iso_week,
    count(distinct pilot) as pilots,
    count(*) as landings,
    count(vertical_speed_at_contact_fpm) as vertical_speeds,
    median(vertical_speed_at_contact_fpm) as vertical_speed_at_contact_fpm_median,
    median(peak_g) as peak_g_median,
    count(touchdown_distance_ft) as touchdown_distances,
    median(touchdown_distance_ft) as touchdown_distance_ft_median,
    median(distance_from_50ft_ft) as distance_from_50ft_ft_median,
    median(flare_height_ft) as flare_height_ft_median,
    median(pitch_change_deg) as pitch_change_deg_median,
    median(threshold_height_ft) as threshold_height_ft_median,
    median(threshold_speed_over_vref_kt) as threshold_speed_over_vref_kt_median,
    sum(bounces)::bigint as bounces
from landing
group by all
