//! Answers of the feature `planning`: before the probe touches steel.

pub(super) mod coverage;
pub(super) mod expect;
pub(super) mod plan;
pub(super) mod section;

use halfskip::findings::faces_in_use;
use halfskip::part::side::Face;
use halfskip::record::examination::Facts;

use crate::commands::parse::Faces;

/// The faces asked for, else those in use.
pub(super) fn listed(facts: &Facts<'_>, faces: Option<Faces>) -> &'static [Face] {
    faces.map_or_else(|| faces_in_use(facts), Faces::list)
}

/// Where a scan is carried out, behind the name of its side; nothing of the near face.
const fn of_face(face: Face) -> &'static str {
    match face {
        Face::Near => "",
        Face::Far => ", far face",
    }
}
