//! Cross-sections: the joint as prepared, and what lies in it.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::part::joint::{Curvature, Joint};
use halfskip::part::locate::Place;
use halfskip::part::side::{Face, Side};

use super::canvas::Canvas;
use super::ink;
use crate::desk::drawing::{Drawing, Ink, Pen, larger};
use crate::desk::findings::Indication;
use crate::desk::report::basis::Basis;

/// The joint by itself.
pub fn joint(basis: &Basis<'_>, joint: &Joint) -> Drawing {
    let mut canvas = Canvas::new(basis, joint, "Cross-section of the joint as recorded", [], 0.0);
    canvas.metal(joint);
    canvas.drawing.about = format!(
        "{} preparation in {}, seen along the weld; side A on the left, the scanned face on top.{}",
        joint.preparation(),
        basis.lengths.of(joint.thickness().get()),
        curved(joint)
    );
    canvas.finished()
}

/// The joint with every indication and its uncertainty.
pub fn indications(basis: &Basis<'_>, joint: &Joint) -> Drawing {
    let found = &basis.findings.indications;
    let points = found.iter().filter_map(|found| found.point.as_ref());
    let reach = points.map(|point| point.y.abs() + point.u_y);
    let deepest = found.iter().filter_map(deep).fold(0.0, larger);
    let mut canvas = Canvas::new(basis, joint, "Cross-section with every indication", reach, deepest);
    canvas.metal(joint);
    let placed = found.iter().filter(|found| canvas.indication(found)).count();
    canvas.drawing.about = format!(
        "{placed} of {} indications on the cross-section, each by its number, with the ellipse of its expanded \
         uncertainty, k = 2.{}",
        found.len(),
        curved(joint)
    );
    canvas.finished()
}

/// The joint with one indication and the beam of every reading of it that was peaked by itself.
pub fn beams(basis: &Basis<'_>, joint: &Joint, found: &Indication<'_>) -> Drawing {
    let of_it = basis.findings.readings.iter().filter(|one| one.reading.indication() == found.number);
    let peaked = of_it.filter(|one| one.reading.sweep().is_none() && one.reading.face() == Face::Near);
    let readings: Vec<(Side, Place)> =
        peaked.filter_map(|one| Some((one.reading.side(), one.place.ok()?))).collect();
    // The index point stands its surface distance away from the reflector, toward the probe's own side.
    let stands = readings.iter().map(|(side, place)| stand(*side, place));
    let reach = stands.clone().map(f32::abs).chain(found.point.map(|point| point.y.abs()));
    let title = format!("Indication {}: where the beams met it", found.id);
    let mut canvas = Canvas::new(basis, joint, &title, reach, deep(found).unwrap_or(0.0));
    canvas.metal(joint);
    if !matches!(joint.spec().curvature, Some(Curvature::AroundPipe { .. })) {
        for ((side, place), from) in readings.iter().zip(stands) {
            canvas.beam(*side, place, from);
        }
    }
    canvas.indication(found);
    canvas.drawing.about = format!(
        "The beams of {} readings, drawn from index point to reflector, solid from side A and dashed from side B.{}",
        readings.len(),
        curved(joint)
    );
    canvas.finished()
}

/// How far down the uncertainty of an indication reaches.
fn deep(found: &Indication<'_>) -> Option<f32> {
    found.point.map(|point| point.z + point.u_z)
}

fn stand(side: Side, place: &Place) -> f32 {
    let toward = if side == Side::A { -1.0 } else { 1.0 };
    place.y.get() + toward * place.distance.get()
}

fn curved(joint: &Joint) -> String {
    match joint.spec().curvature {
        Some(Curvature::AroundPipe { .. }) => {
            " The curved part is drawn flat: y is measured along the scanned face, z below it.".to_string()
        }
        _ => String::new(),
    }
}

impl Canvas<'_, '_> {
    /// An indication's place, its ellipse and its number; whether it has a place.
    fn indication(&mut self, found: &Indication<'_>) -> bool {
        let Some(point) = &found.point else { return false };
        let at = self.at(point.y, point.z);
        let far = self.at(point.y + point.u_y, point.z + point.u_z);
        let room = (larger(far.0 - at.0, 0.6), larger(far.1 - at.1, 0.6));
        self.drawing.oval(at, room, None, Some(Pen::solid(Ink::Found, 1.2)));
        self.drawing.oval(at, (2.2, 2.2), Some(Ink::Found), None);
        self.labels.keep_off((at.0 - room.0, at.1 - room.1), (at.0 + room.0, at.1 + room.1));
        self.labels.write(&mut self.drawing, at, room, Ink::Found, found.id);
        true
    }

    /// A beam from its index point through every face it met; a flat plate folds it at whole thicknesses.
    fn beam(&mut self, side: Side, place: &Place, from: f32) {
        let (unfolded, thickness) = (place.unfolded.get(), self.thickness as f32);
        let thickness = if self.basis.unit() == "in" { thickness * 25.4 } else { thickness };
        let mut corners = Vec::from([self.at(from, 0.0)]);
        for fold in 1..place.leg {
            let share = fold as f32 * thickness / unfolded;
            let z = if fold % 2 == 1 { thickness } else { 0.0 };
            if share < 1.0 {
                corners.push(self.at(from + share * (place.y.get() - from), z));
            }
        }
        corners.push(self.at(place.y.get(), place.z.get()));
        let pen = if side == Side::A { Pen::solid(ink(side), 1.1) } else { Pen::dashed(ink(side), 1.1) };
        let foot = self.at(from, 0.0);
        self.drawing.line(corners, pen);
        self.drawing.area(
            [(foot.0 - 4.0, foot.1 - 8.0), (foot.0 + 4.0, foot.1 - 8.0), foot],
            Some(ink(side)),
            None,
        );
    }
}
