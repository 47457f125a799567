//! Cases drawn at random, with what a perfect examiner would say of them.

use halfskip::character::{Breaks, Root, Shape};

use super::reflector::Reflector;
use super::sweep::{Errors, Sweeps};
use crate::drawn::Drawn;

/// What is in the plate.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
#[expect(missing_docs, reason = "the words of the trade")]
pub enum Kind {
    Void,
    UprightPlane,
    LeaningPlane,
    RoughPlane,
    RootCrack,
    LeaningRootCrack,
    Bead,
    BeadWithCrack,
    Cluster,
    Slag,
    NearCrack,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 11] = [
        Self::Void,
        Self::UprightPlane,
        Self::LeaningPlane,
        Self::RoughPlane,
        Self::RootCrack,
        Self::LeaningRootCrack,
        Self::Bead,
        Self::BeadWithCrack,
        Self::Cluster,
        Self::Slag,
        Self::NearCrack,
    ];
}

/// How a case is examined.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum SetUp {
    /// Three probes from both sides, 1 to 2.5 mm between readings.
    Thorough,
    /// The same from side A alone.
    OneSide,
    /// One probe of 60 degrees from both sides.
    OneProbe,
    /// Three probes from both sides, 4 to 6 mm between readings.
    Coarse,
}

impl SetUp {
    /// Every one.
    pub const ALL: [Self; 4] = [Self::Thorough, Self::OneSide, Self::OneProbe, Self::Coarse];
}

/// What is true of a case.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Truth {
    /// None of a bead alone.
    pub shape: Option<Shape>,
    /// None of a bead alone.
    pub breaks: Option<Breaks>,
    /// None of what is buried.
    pub root: Option<Root>,
}

/// One case.
#[derive(Clone, Debug)]
pub struct Drawing {
    /// What it is.
    pub kind: Kind,
    /// How it was examined.
    pub sweeps: Sweeps,
    /// What is there.
    pub reflectors: Vec<Reflector>,
    /// What is true.
    pub truth: Truth,
}

/// Draws a case of a kind; the same reflector whatever the set-up.
#[must_use]
pub fn draw(kind: Kind, set_up: SetUp, seed: u64) -> Drawing {
    let mut drawn = Drawn::seeded(seed);
    let mut between = |low: f64, high: f64| f64::from(drawn.between(low as f32, high as f32));
    let t = between(12.0, 30.0);
    let y = between(-2.0, 2.0);
    let plane = |foot: (f64, f64), height: f64, lean: f64, rough: f64| {
        let head = (foot.0 + height * lean.to_radians().tan(), foot.1 - height);
        Reflector::Plane { foot, head, rough, seed }
    };
    let lean = |low: f64, high: f64, draw: &mut dyn FnMut(f64, f64) -> f64| {
        let lean = draw(low, high);
        if draw(0.0, 1.0) < 0.5 { -lean } else { lean }
    };
    let reflectors = match kind {
        Kind::Void => {
            let diameter = between(1.0, 3.0);
            vec![Reflector::Void { y, z: between(0.3, 0.7) * t, diameter }]
        }
        Kind::UprightPlane | Kind::LeaningPlane | Kind::RoughPlane => {
            let height = between(2.5, 0.35 * t);
            let foot = (y, between(0.7, 0.75) * t);
            let lean = match kind {
                Kind::LeaningPlane => lean(20.0, 45.0, &mut between),
                _ => between(-4.0, 4.0),
            };
            vec![plane(foot, height, lean, if kind == Kind::RoughPlane { 0.25 } else { 0.0 })]
        }
        Kind::RootCrack => vec![plane((y, t), between(1.5, 5.0), between(-4.0, 4.0), 0.0)],
        Kind::LeaningRootCrack => {
            let lean = lean(8.0, 20.0, &mut between);
            vec![plane((y, t), between(1.5, 5.0), lean, 0.0)]
        }
        Kind::Bead | Kind::BeadWithCrack => {
            let width = between(4.0, 8.0);
            let bead = Reflector::Bead { y: y / 4.0, width, height: between(1.0, 2.0), thickness: t };
            let crack = plane((y / 4.0, t), between(2.0, 4.0), between(-4.0, 4.0), 0.0);
            if kind == Kind::Bead { vec![bead] } else { vec![bead, crack] }
        }
        Kind::Slag => {
            let (width, height) = (between(2.0, 5.0), between(1.0, 2.0));
            vec![Reflector::Slag { y, z: between(0.35, 0.65) * t, width, height, lean: between(-20.0, 20.0) }]
        }
        Kind::NearCrack => {
            // Its mouth at the near face.
            let height = between(1.5, 5.0);
            let lean = between(-4.0, 4.0);
            vec![plane((y + height * lean.to_radians().tan(), height), height, -lean, 0.0)]
        }
        Kind::Cluster => (0..6)
            .map(|_| Reflector::Void {
                y: y + between(-3.0, 3.0),
                z: 0.5 * t + between(-2.5, 2.5),
                diameter: between(0.6, 1.2),
            })
            .collect(),
    };
    let errors = Errors {
        path: 0.2,
        standoff: 0.4,
        level: 0.7,
        index: between(-0.5, 0.5),
        angle: between(-1.0, 1.0),
        thickness: between(-0.15, 0.15),
    };
    let angles = [45.0, 60.0, 70.0].map(|angle: f64| angle + between(-1.0, 1.0)).to_vec();
    let fine = between(1.0, 2.5);
    let mut sweeps = Sweeps { thickness: t, angles, both_sides: true, step: fine, errors };
    match set_up {
        SetUp::Thorough => {}
        SetUp::OneSide => sweeps.both_sides = false,
        SetUp::OneProbe => sweeps.angles.retain(|angle| (55.0..65.0).contains(angle)),
        SetUp::Coarse => sweeps.step = between(4.0, 6.0),
    }
    let (planar, volumetric) = (Some(Shape::Planar), Some(Shape::Volumetric));
    let truth = match kind {
        Kind::Void | Kind::Cluster | Kind::Slag => {
            Truth { shape: volumetric, breaks: Some(Breaks::Neither), root: None }
        }
        Kind::UprightPlane | Kind::LeaningPlane | Kind::RoughPlane => {
            Truth { shape: planar, breaks: Some(Breaks::Neither), root: None }
        }
        Kind::RootCrack | Kind::LeaningRootCrack => {
            Truth { shape: planar, breaks: Some(Breaks::FarFace), root: Some(Root::Flaw) }
        }
        Kind::NearCrack => Truth { shape: planar, breaks: Some(Breaks::NearFace), root: Some(Root::Flaw) },
        Kind::Bead => Truth { shape: None, breaks: None, root: Some(Root::Geometry) },
        Kind::BeadWithCrack => Truth { shape: planar, breaks: Some(Breaks::FarFace), root: Some(Root::Both) },
    };
    Drawing { kind, sweeps, reflectors, truth }
}
