-- Offends: a landing that meets the runway climbing by more than its noise, three standard uncertainties.
select
    landing_id,
    vertical_speed_at_contact_fpm,
    vertical_speed_at_contact_fpm_u
from landing
where vertical_speed_at_contact_fpm > 3 * vertical_speed_at_contact_fpm_u
