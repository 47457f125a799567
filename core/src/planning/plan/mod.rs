//! The scan plan: where a probe must stand so that its beam crosses the parts of the weld that matter, and what keeps it
//! from them.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | p | stand-off, index point to centreline along the scanned surface | mm |
//! | e | true index point ahead of the mark | mm |
//! | g | +1 on side A, −1 on side B | – |
//! | D | surface distance by which a leg reaches a depth | mm |
//!
//! A leg's axis meets the point (y, z) from p = e + D(leg, z) − g y. Everything is said of the axis alone: the beam's
//! width is a reserve that the plan does not spend. Only the faces between scanned and far face are planned for, not cap
//! and bead.

mod barrier;
mod raster;
mod reach;
mod scan;
mod suggest;
mod target;

pub use barrier::{Barrier, PlanError};
pub use raster::{OVERLAP, Raster, fastest, raster, scan_width};
pub use reach::{LegReach, off_square};
pub use scan::{Aim, Limits, MAX_LEGS, Scan};
pub use suggest::{CANDIDATES, RootMissed, Suggestion, suggest};
pub use target::{TARGET_POINTS, Target, TargetKind, targets};
