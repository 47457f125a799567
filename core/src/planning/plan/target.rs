//! What a plan aims at: root, fusion faces, cap edges, and the outer edge of the heat-affected zone.

use heapless::Vec;

use crate::part::joint::{FaceKind, FusionFace, Point, Section};
use crate::part::side::Side;

/// Corners of a target's line: the longest is the edge of the heat-affected zone beside a double U.
pub const TARGET_POINTS: usize = 24;

/// What a target is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum TargetKind {
    /// One edge of the root: the land of that side, or what an upright face has opposite to it.
    Root,
    /// A bevel, or an unbevelled face over the whole thickness.
    Face(FaceKind),
    /// The root radius of a U or J preparation.
    Radius,
    /// An edge of the weld at the scanned face: the cap's, or the groove's where no cap is known.
    CapEdge,
    /// The outer edge of the heat-affected zone.
    HeatAffected,
}

/// A line of the cross-section that a beam is to cross over its whole length.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Target {
    /// What it is.
    pub kind: TargetKind,
    /// The side of the weld that it lies on.
    pub side: Side,
    /// Its corners, top down; one alone is a point.
    pub points: Vec<Point, TARGET_POINTS>,
}

impl Target {
    fn new(kind: TargetKind, side: Side, points: &[Point]) -> Self {
        // A target of more corners than the longest does not exist.
        Self { kind, side, points: Vec::from_slice(points).unwrap_or_default() }
    }

    /// Its straight pieces.
    pub fn pieces(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        self.points.iter().copied().zip(self.points.iter().copied().skip(1))
    }
}

/// Tells every target of a cross-section: side A before side B, root, faces from the top, cap edge, heat-affected zone.
pub fn targets(section: &Section, mut tell: impl FnMut(Target)) {
    for side in [Side::A, Side::B] {
        for edge in section.root_edges().iter().filter(|edge| edge.side == side) {
            let whole = [edge.from, edge.to];
            let points = if edge.from == edge.to { whole.get(1..).unwrap_or(&whole) } else { &whole };
            tell(Target::new(TargetKind::Root, side, points));
        }
        faces(section, side, &mut tell);
        let outward = -side.sign();
        let edge = Point { y: outward * section.edge(side) + 0.0, z: 0.0 };
        tell(Target::new(TargetKind::CapEdge, side, &[edge]));
        heat_affected(section, side, &mut tell);
    }
}

/// Bevels and upright faces each by itself, the chords of a radius as one; the land is the root's.
fn faces(section: &Section, side: Side, tell: &mut impl FnMut(Target)) {
    let mut radius: Option<Target> = None;
    for FusionFace { kind, from, to, .. } in section.fusion_faces().filter(|face| face.side == side) {
        if kind == FaceKind::Radius {
            let held = radius.get_or_insert_with(|| Target::new(TargetKind::Radius, side, &[from]));
            // Eight chords fit.
            let _ = held.points.push(to);
            continue;
        }
        if let Some(radius) = radius.take() {
            tell(radius);
        }
        if kind != FaceKind::Land {
            tell(Target::new(TargetKind::Face(kind), side, &[from, to]));
        }
    }
    if let Some(radius) = radius {
        tell(radius);
    }
}

fn heat_affected(section: &Section, side: Side, tell: &mut impl FnMut(Target)) {
    if section.zone(0.0).is_none() {
        return;
    }
    let outward = -side.sign();
    let mut edge = Target::new(TargetKind::HeatAffected, side, &[]);
    let mut push = |point: Point| {
        // As many corners as the longest profile has.
        let width = section.zone(point.z).unwrap_or(0.0);
        let _ = edge.points.push(Point { y: point.y + outward * width, z: point.z });
    };
    let mut faces = section.fusion_faces().filter(|face| face.side == side).peekable();
    if let Some(first) = faces.peek() {
        push(first.from);
    }
    for face in faces {
        push(face.to);
    }
    tell(edge);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::joint::{Joint, JointSpec, Preparation};
    use crate::units::Millimetres;

    #[test]
    fn the_edge_of_a_weld_without_width_has_no_sign() {
        let spec = JointSpec {
            gap: Some(Millimetres::constant(0.0)),
            ..JointSpec::new(Millimetres::constant(20.0), Preparation::Square)
        };
        targets(&Joint::new(spec).unwrap().section(), |target| {
            for point in target.points {
                assert_eq!(point.y.to_bits(), 0, "{:?}", target.kind);
            }
        });
    }
}
