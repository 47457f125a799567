//! The character of an indication as JSON.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::character::{Breaks, Root, Shape};
use halfskip::findings::STANDING;
use serde::Serialize;

/// Advice, with its evidence.
#[derive(Serialize)]
pub struct Nature {
    shape: Option<&'static str>,
    breaks: Option<&'static str>,
    /// What lies at a face: a flaw, the shape of the weld, or both.
    root: Option<&'static str>,
    /// The advice in one line.
    advice: String,
    /// How many pieces of evidence support it, and how many speak against it.
    supported_by: u32,
    against: u32,
    /// How a plane leans off upright, positive where its upper edge lies toward side B.
    lean_deg: Option<f32>,
    u_lean_deg: Option<f32>,
    evidence: Vec<String>,
    /// The classification standard's stages; none where they do not speak of it.
    stages: Option<Vec<String>>,
    /// What would settle what is open.
    to_settle: Vec<String>,
    caution: &'static str,
}

impl Nature {
    /// What is told of a character, and each piece of evidence with its bearing on that.
    pub(in crate::desk) fn of(character: &halfskip::character::Nature) -> Self {
        let root = character.root.map(|root| match root {
            Root::Flaw => "flaw",
            Root::Geometry => "geometry",
            Root::Both => "both",
        });
        let (supported_by, against) = character.counts();
        let [.., caution] = STANDING;
        Self {
            shape: character.shape.map(shape),
            breaks: character.breaks.map(breaks),
            root,
            advice: character.to_string(),
            supported_by,
            against,
            lean_deg: character.orientation.map(|orientation| orientation.lean),
            u_lean_deg: character.orientation.and_then(|orientation| orientation.u),
            evidence: evidence(character),
            stages: character.staged.then(|| character.stages.iter().map(ToString::to_string).collect()),
            to_settle: character.next().map(ToString::to_string).collect(),
            caution,
        }
    }
}

/// The word of a shape.
pub(in crate::desk) const fn shape(shape: Shape) -> &'static str {
    match shape {
        Shape::Planar => "planar",
        Shape::Volumetric => "volumetric",
    }
}

/// The word of the face that is broken.
pub(in crate::desk) const fn breaks(breaks: Breaks) -> &'static str {
    match breaks {
        Breaks::FarFace => "far-face",
        Breaks::NearFace => "near-face",
        Breaks::Neither => "buried",
    }
}

/// Each piece of evidence with its bearing on what is told.
pub(in crate::desk) fn evidence(character: &halfskip::character::Nature) -> Vec<String> {
    let told = |evidence| match character.bearing(evidence) {
        bearing if bearing > 0 => format!("for: {evidence}"),
        bearing if bearing < 0 => format!("against: {evidence}"),
        _ => format!("beside: {evidence}"),
    };
    character.evidence().map(told).collect()
}
