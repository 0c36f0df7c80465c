-- Offends: a contact before the log begins or after it ends (half a second is left for the lag of a channel).
select
    approaches.landing_id,
    approaches.contact_t_s,
    staged_log.duration_s
from approaches
inner join staged_log using (log_sha256)
where approaches.contact_t_s < -0.5 or approaches.contact_t_s > staged_log.duration_s + 0.5
