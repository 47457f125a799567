//! Examinations, line by line: what entries say together, what their findings say and do not say, and of what nature a
//! reflector is.

mod cautions;
mod cautions_told;
mod coverage_jobs;
mod curved_jobs;
mod every_reading;
mod expected_jobs;
mod false_accept;
mod girth;
mod grounds;
mod grouped;
mod in_the_way;
mod made_later;
mod nature;
mod nature_seen;
mod nature_synthetic;
mod point_views;
mod ragged_length;
mod reach;
mod shape_and_sheet;
mod tips;
mod velocities;
mod weighted_job;
mod whole_jobs;
