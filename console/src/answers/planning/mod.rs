//! Answers of the feature `planning`: before the probe touches steel.

mod coverage;
mod expect;
mod plan;
mod section;

use core::fmt;

use halfskip::findings::faces_in_use;
use halfskip::part::side::Face;

use super::Known;
use crate::answers::page::Page;
use crate::commands::parse::Planning;
use crate::commands::planning::Faces;

/// Answers a question of planning.
pub(super) fn answer(known: &Known<'_>, question: &Planning, page: &mut Page<'_>) -> fmt::Result {
    match question {
        Planning::Plan { legs, faces, pulse_rate, pulses } => {
            plan::answer(&known.facts, (*legs, listed(known, *faces)), *pulse_rate, *pulses, page)
        }
        Planning::Coverage { legs, faces } => {
            coverage::answer(&known.facts, *legs, listed(known, *faces), page)
        }
        Planning::Expect { probe, side, legs } => expect::answer(&known.facts, probe, *side, *legs, page),
        Planning::Section { beam, standoff, legs } => {
            let beam =
                beam.as_ref().map(|(probe, side)| section::Beam { probe, side: *side, standoff: *standoff });
            section::answer(known, beam, *legs, page)
        }
    }
}

/// The faces asked for, else those in use.
fn listed(known: &Known<'_>, faces: Option<Faces>) -> &'static [Face] {
    faces.map_or_else(|| faces_in_use(&known.facts), Faces::list)
}

/// Where a scan is carried out, behind the name of its side; nothing of the near face.
fn of_face(face: Face) -> &'static str {
    match face {
        Face::Near => "",
        Face::Far => ", far face",
    }
}
