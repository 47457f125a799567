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
    pub(in crate::desk) shape: Option<&'static str>,
    pub(in crate::desk) breaks: Option<&'static str>,
    /// What lies at a face: a flaw, the shape of the weld, or both.
    pub(in crate::desk) root: Option<&'static str>,
    /// The advice in one line.
    pub(in crate::desk) advice: String,
    /// How many pieces of evidence support it, and how many speak against it.
    pub(in crate::desk) supported_by: u32,
    pub(in crate::desk) against: u32,
    /// How a plane leans off upright, positive where its upper edge lies toward side B.
    pub(in crate::desk) lean_deg: Option<f32>,
    pub(in crate::desk) u_lean_deg: Option<f32>,
    pub(in crate::desk) evidence: Vec<String>,
    /// The classification standard's stages; none where they do not speak of it.
    pub(in crate::desk) stages: Option<Vec<String>>,
    /// What would settle what is open.
    pub(in crate::desk) to_settle: Vec<String>,
    pub(in crate::desk) caution: &'static str,
}

/// The character of an indication: what is told, and each piece of evidence with its bearing on that.
pub(super) fn advice(character: &halfskip::character::Nature) -> Nature {
    let shape = character.shape.map(|shape| match shape {
        Shape::Planar => "planar",
        Shape::Volumetric => "volumetric",
    });
    let breaks = character.breaks.map(|breaks| match breaks {
        Breaks::FarFace => "far-face",
        Breaks::NearFace => "near-face",
        Breaks::Neither => "buried",
    });
    let told = |evidence| match character.bearing(evidence) {
        bearing if bearing > 0 => format!("for: {evidence}"),
        bearing if bearing < 0 => format!("against: {evidence}"),
        _ => format!("beside: {evidence}"),
    };
    let root = character.root.map(|root| match root {
        Root::Flaw => "flaw",
        Root::Geometry => "geometry",
        Root::Both => "both",
    });
    let (supported_by, against) = character.counts();
    let [.., caution] = STANDING;
    Nature {
        shape,
        breaks,
        root,
        advice: character.to_string(),
        supported_by,
        against,
        lean_deg: character.orientation.map(|orientation| orientation.lean),
        u_lean_deg: character.orientation.and_then(|orientation| orientation.u),
        evidence: character.evidence().map(told).collect(),
        stages: character.staged.then(|| character.stages.iter().map(ToString::to_string).collect()),
        to_settle: character.next().map(ToString::to_string).collect(),
        caution,
    }
}
