//! What an examination says now: always computed from the facts, never stored.
//!
//! Each file answers one question of the examiner. Absent knowledge is an [`Undetermined`] with its reason.

mod blocked;
mod caution;
mod coverage;
mod fault;
mod grounds;
mod group;
mod history;
mod marks;
mod measure;
mod scanned;
mod scans;
mod summary;
mod suspect;
mod verdict;

pub use crate::evaluate::{
    Basis, Extent, Findings, HeightFinding, HeightMethod, HeightObservation, Indication, Lean, LengthRule,
    LevelFound, Match, NoLength, Point, ReadingFinding, SCANS, Scan, Scratch, Strongest, Undetermined,
    corner_with, evaluate, geometry_of_reading, height_of,
};
pub use blocked::Blocked;
pub use caution::{
    Caution, Entries, STANDING, Shared, Voided, Wide, cautions, of_sheet, undetermined, unusual, wide,
};
pub use coverage::{NotPlanned, coverage, coverage_from};
pub use grounds::{Basis as GroundBasis, GroundFinding, GroundState, Why, of_reading, reference_fault};
pub use group::{Grouped, grouped};
pub use history::{Aspect, Checked, checked, made_anew};
pub use scanned::{STATIONS, Scanned, scanned};
pub use scans::{NEAR, ProbeScan, faces_in_use, nearest, range, scans};
pub use summary::Summary;
pub use suspect::{Suspicion, suspicion, suspicion_of_probe};
pub use verdict::{GroupVerdict, VerdictFinding};
