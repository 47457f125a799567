//! What an examination says now: always computed from the facts, never stored.
//!
//! Each file answers one question of the examiner. Absent knowledge is an [`Undetermined`] with its reason.

mod blocked;
mod caution;
mod coverage;
mod extent;
mod fault;
mod geometry;
mod grounds;
mod group;
mod history;
mod indication;
mod measure;
mod passed;
mod point;
mod reach;
mod reading;
mod scanned;
mod scans;
mod strongest;
mod summary;
mod suspect;
mod tip;
mod undetermined;
mod verdict;

pub use blocked::Blocked;
pub use caution::{
    Caution, Doubts, Entries, STANDING, Shared, Voided, Wide, cautions, cautions_with, of_sheet,
    undetermined, unusual, wide,
};
pub use coverage::{NotPlanned, coverage, coverage_from};
pub use extent::{LengthRule, NoLength, extent, sweep};
pub use geometry::{Match, geometry, geometry_of_reading};
pub use grounds::{
    Basis as GroundBasis, GroundFinding, GroundState, Why, first_unmet, ground, grounds, of_reading,
    reference_fault,
};
pub use group::{Extent, Grouped, grouped};
pub use history::{Aspect, Checked, checked, made_anew};
pub use indication::{IndicationFinding, indication};
pub(crate) use passed::looked_beside;
pub use point::{Basis, Point, point, point_views};
pub use reading::{LevelFound, ReadingFinding, corner_with, evaluate};
pub use scanned::{STATIONS, Scanned, scanned};
pub use scans::{NEAR, ProbeScan, faces_in_use, nearest, range, scans};
pub use strongest::{Strongest, strongest};
pub use summary::Summary;
pub use suspect::{Suspicion, suspicion, suspicion_of_probe};
pub use tip::{HeightFinding, HeightMethod, HeightObservation, height, height_observations, height_of};
pub use undetermined::Undetermined;
pub use verdict::{GroupVerdict, VerdictFinding, verdict, verdict_at};
