//! The reflectors of a joint.

use core::fmt;

use crate::math;
use crate::part::joint::{Counterbore, FaceKind, Joint, Point, Section};
use crate::part::side::{Face, Side};

/// A part of a joint that returns echoes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Feature {
    /// The bead at the far face.
    Bead,
    /// The cap at the scanned face.
    Cap,
    /// A backing bar.
    Backing,
    /// The step of a counterbore.
    Counterbore,
    /// An edge of the preparation, which returns an echo only where it is not fused.
    Edge,
}

impl Feature {
    /// Whether a sound weld has it too, so that it can explain a reading.
    #[must_use]
    pub const fn is_sound(self) -> bool {
        !matches!(self, Self::Edge)
    }

    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bead => "bead",
            Self::Cap => "cap",
            Self::Backing => "backing",
            Self::Counterbore => "counterbore",
            Self::Edge => "edge",
        }
    }
}

/// What a reflector is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum ReflectorKind {
    /// The far-face corner of one edge of the root.
    RootCorner,
    /// The scanned-face corner of an upright prepared face, or the far-face one where the root is elsewhere.
    EdgeCorner,
    /// Where the bead meets the far face.
    BeadToe,
    /// The flank of the bead that looks toward the probe, where the beam is square to it.
    BeadFlank,
    /// The bead's highest point.
    BeadCrown,
    /// Where the cap meets the scanned face.
    CapEdge,
    /// The lower corner of the backing bar.
    BackingCorner,
    /// Where the backing bar's side meets the plate.
    BackingEdge,
    /// The step of a counterbore.
    CounterboreStep,
    /// Where the backing bar's side meets the plate, seen from below: by way of the bar's lower face.
    BackingTop,
}

impl ReflectorKind {
    /// The part of the joint that it belongs to.
    #[must_use]
    pub const fn feature(self) -> Feature {
        match self {
            Self::RootCorner | Self::EdgeCorner => Feature::Edge,
            Self::BeadToe | Self::BeadFlank | Self::BeadCrown => Feature::Bead,
            Self::CapEdge => Feature::Cap,
            Self::BackingCorner | Self::BackingEdge | Self::BackingTop => Feature::Backing,
            Self::CounterboreStep => Feature::Counterbore,
        }
    }
}

impl fmt::Display for ReflectorKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::RootCorner => "root corner",
            Self::EdgeCorner => "edge corner",
            Self::BeadToe => "bead toe",
            Self::BeadFlank => "bead flank",
            Self::BeadCrown => "bead crown",
            Self::CapEdge => "cap edge",
            Self::BackingCorner => "backing corner",
            Self::BackingEdge => "backing edge",
            Self::CounterboreStep => "counterbore step",
            Self::BackingTop => "backing top",
        })
    }
}

/// A reflector of a joint.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Reflector {
    /// What it is.
    pub kind: ReflectorKind,
    /// The side of the weld that it lies on; none on the centreline.
    pub side: Option<Side>,
    /// Where it is, z below the scanned face; beyond the thickness in bead or backing. What is seen by way of the bar's
    /// lower face has the depth that the beam has come by then, t + 2 h.
    pub at: Point,
    /// The face that its depth is counted from.
    pub face: Face,
    /// Whether it looks toward the probe.
    pub faces: bool,
}

/// Tells every reflector that a probe on `side` with a beam of that angle can see.
///
/// Of bead, backing bar and cap it sees what faces it: their halves beyond their middle. The other toe and the other
/// edge of the cap are told as well, since they end the same shape. A counterbore shows the corner of the step on the probe's own
/// side, where the thicker wall ends; the other one turns its back. A backing bar shows its upper edge from below only
/// where the axis enters it through the root, since it is fused to the plate there alone.
pub fn reflectors(joint: &Joint, side: Side, angle: f32, mut tell: impl FnMut(Reflector)) {
    let (section, t) = (joint.section(), joint.thickness().get());
    let beyond = side.opposite();
    if !joint.preparation().is_double() {
        root(joint, &section, &mut tell);
    }
    upright(&section, t, &mut tell);
    bead(joint, &section, beyond, angle, &mut tell);
    if let Some(bar) = joint.spec().backing {
        let (half, height) = (section.developed(0.5 * bar.width.get(), t), bar.height.get());
        let mut add = |kind, z| tell(lying(kind, beyond, half, z, Face::Far, true));
        add(ReflectorKind::BackingEdge, t);
        add(ReflectorKind::BackingCorner, t + height);
        // Down through the root, where plate and bar are fused, and up from the bar's lower face.
        let enters = half - 2.0 * height * math::tan(angle);
        let fused =
            enters >= 0.0 - section.opening(side, Face::Far) && enters <= section.opening(beyond, Face::Far);
        if fused && section.stretch(t).to_bits() == 1f32.to_bits() {
            add(ReflectorKind::BackingTop, t + 2.0 * height);
        }
    }
    if !joint.is_flush() {
        for edge in [side, beyond] {
            tell(lying(ReflectorKind::CapEdge, edge, section.edge(edge), 0.0, Face::Near, edge == beyond));
        }
    }
    if let Some(Counterbore { distance, height }) = joint.spec().counterbore {
        let deep = t + height.get();
        tell(lying(ReflectorKind::CounterboreStep, side, distance.get(), deep, Face::Far, true));
    }
}

/// The far-face corners of the root's edges; those under a bead are its toes' business, unless they stand apart.
fn root(joint: &Joint, section: &Section, tell: &mut impl FnMut(Reflector)) {
    let [a, b] = section.root_edges();
    if a.to == b.to {
        // No gap: the two edges are one line.
        return tell(Reflector {
            kind: ReflectorKind::RootCorner,
            side: None,
            at: a.to,
            face: Face::Far,
            faces: true,
        });
    }
    let t = joint.thickness().get();
    let bead = joint.spec().bead.map_or(0.0, |bead| section.developed(0.5 * bead.get(), t));
    for edge in [a, b].into_iter().filter(|edge| (edge.to.y.abs() - bead).abs() > 1e-3) {
        tell(Reflector {
            kind: ReflectorKind::RootCorner,
            side: Some(edge.side),
            at: edge.to,
            face: Face::Far,
            faces: true,
        });
    }
}

/// The scanned-face corners of upright faces. With a double preparation their far-face corners too, which are not the
/// root's there.
fn upright(section: &Section, t: f32, tell: &mut impl FnMut(Reflector)) {
    let double = section.root_edges().iter().all(|edge| edge.to.z < t);
    let mut told = None;
    for face in section.fusion_faces().filter(|face| face.kind == FaceKind::Upright) {
        let side = (face.from.y != 0.0).then_some(face.side);
        // No gap: both sides have one line.
        if told.replace(face.from) == Some(face.from) {
            continue;
        }
        let kind = ReflectorKind::EdgeCorner;
        tell(Reflector { kind, side, at: face.from, face: Face::Near, faces: true });
        if double {
            tell(Reflector { kind, side, at: Point { z: t, ..face.from }, face: Face::Far, faces: true });
        }
    }
}

/// Toes, flank and crown of the bead, h (1 − (y / w)²) high with w its half width and y from its middle.
fn bead(joint: &Joint, section: &Section, beyond: Side, angle: f32, tell: &mut impl FnMut(Reflector)) {
    let spec = joint.spec();
    let (Some(width), Some(excess)) = (spec.bead, spec.excess.filter(|excess| excess.get() > 0.0)) else {
        return;
    };
    let (w, h, t) = (0.5 * width.get(), excess.get(), joint.thickness().get());
    let middle = section.middle(Face::Far);
    let from_centreline = |side: Side, y: f32| section.developed(y - side.sign() * middle, t);
    for toe in [beyond.opposite(), beyond] {
        let y = from_centreline(toe, w);
        tell(lying(ReflectorKind::BeadToe, toe, y, t, Face::Far, toe == beyond));
    }
    // The flank falls by 2 h y / w² per millimetre; a beam is square to it where that is the tangent of its angle.
    let square = math::tan(angle) * w * w / (2.0 * h);
    if square < w {
        let part = square / w;
        let z = t + h * (1.0 - part * part);
        let y = from_centreline(beyond, square);
        tell(lying(ReflectorKind::BeadFlank, beyond, y, z, Face::Far, true));
    }
    let at = Point { y: section.developed(middle, t), z: t + h };
    let side = (middle != 0.0).then_some(if middle < 0.0 { Side::A } else { Side::B });
    tell(Reflector { kind: ReflectorKind::BeadCrown, side, at, face: Face::Far, faces: true });
}

fn lying(
    kind: ReflectorKind,
    side: Side,
    from_centreline: f32,
    z: f32,
    face: Face,
    faces: bool,
) -> Reflector {
    let y = 0.0 - side.sign() * from_centreline;
    Reflector { kind, side: Some(side), at: Point { y, z }, face, faces }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::joint::{JointSpec, Preparation};
    use crate::units::{Degrees, Millimetres};

    fn mm(value: f32) -> Option<Millimetres> {
        Some(Millimetres::constant(value))
    }

    /// 20 mm, a square joint.
    fn square(gap: f32, bead: f32, excess: f32) -> JointSpec {
        let (gap, bead, excess) = (mm(gap), mm(bead), mm(excess));
        JointSpec { gap, bead, excess, ..JointSpec::new(Millimetres::constant(20.0), Preparation::Square) }
    }

    /// Where the reflectors of one kind lie, as side A sees them.
    fn told(spec: JointSpec, angle: f32, kind: ReflectorKind) -> std::vec::Vec<(Option<Side>, f32, f32)> {
        let mut told = std::vec::Vec::new();
        reflectors(&Joint::new(spec).unwrap(), Side::A, angle, |reflector| {
            if reflector.kind == kind {
                told.push((reflector.side, reflector.at.y, reflector.at.z));
            }
        });
        told
    }

    #[test]
    fn the_root_corners_are_the_toes_business_where_the_bead_is_as_wide_as_the_gap() {
        let corners = |bead| told(square(6.0, bead, 1.0), 60.0, ReflectorKind::RootCorner);
        assert_eq!(corners(6.0), []);
        assert_eq!(corners(10.0), [(Some(Side::A), -3.0, 20.0), (Some(Side::B), 3.0, 20.0)]);
    }

    #[test]
    fn an_upright_face_on_the_centreline_is_told_once() {
        let one = [(None, 0.0, 0.0)];
        assert_eq!(told(square(0.0, 6.0, 1.0), 60.0, ReflectorKind::EdgeCorner), one);
        for bevelled in [Side::A, Side::B] {
            let spec = JointSpec {
                bevel: Some(Degrees::constant(45.0)),
                land: mm(2.0),
                gap: mm(0.0),
                bevelled: Some(bevelled),
                ..JointSpec::new(Millimetres::constant(20.0), Preparation::SingleBevel)
            };
            assert_eq!(told(spec, 60.0, ReflectorKind::EdgeCorner), one, "{bevelled:?}");
        }
    }

    /// Bevelled by 45 degrees on one side from both faces: open from −1.5 to 1.5 + 9 tan 45° = 10.5 at each, middle 4.5.
    #[test]
    fn cap_and_bead_answer_from_over_the_groove() {
        let spec = JointSpec {
            bevel: Some(Degrees::constant(45.0)),
            land: mm(2.0),
            cap: mm(16.0),
            crown: mm(2.0),
            ..JointSpec { preparation: Preparation::DoubleBevel, ..square(3.0, 14.0, 2.0) }
        };
        let at = |side, y, z| (Some(side), y, z);
        let edges = [at(Side::A, -3.5, 0.0), at(Side::B, 12.5, 0.0)];
        assert_eq!(told(spec, 45.0, ReflectorKind::CapEdge), edges);
        let toes = [at(Side::A, -2.5, 20.0), at(Side::B, 11.5, 20.0)];
        assert_eq!(told(spec, 45.0, ReflectorKind::BeadToe), toes);
        assert_eq!(told(spec, 45.0, ReflectorKind::BeadCrown), [at(Side::B, 4.5, 22.0)]);
        // A beam of 20 degrees is square to the flank tan 20° · 7² / (2 · 2) = 4.459 beyond the middle.
        let flank = told(spec, 20.0, ReflectorKind::BeadFlank);
        assert!(matches!(flank[..], [(Some(Side::B), y, _)] if (y - 8.959).abs() < 1e-3), "{flank:?}");
        let centred = JointSpec { centre: mm(-1.0), ..spec };
        let edges = [at(Side::A, -9.0, 0.0), at(Side::B, 7.0, 0.0)];
        assert_eq!(told(centred, 45.0, ReflectorKind::CapEdge), edges);
        assert_eq!(told(centred, 45.0, ReflectorKind::BeadToe), toes);
    }

    #[test]
    fn a_flank_as_steep_as_the_beam_only_at_its_toe_is_the_toe() {
        // The toe falls by 2 h / w = 1: a beam of 45 degrees is square to it there.
        let flank = |angle| told(square(2.0, 8.0, 2.0), angle, ReflectorKind::BeadFlank).len();
        assert_eq!((flank(44.0), flank(45.0), flank(46.0)), (1, 0, 0));
        assert_eq!(told(square(2.0, 8.0, 0.0), 45.0, ReflectorKind::BeadCrown), []);
    }
}
