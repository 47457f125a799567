//! Invented reflectors in plates, and what an examiner would read of them: own trigonometry, nothing of the library's.
//!
//! Every input of the budget is off by an even draw within its half width: angle, index point and velocity for each
//! probe, thickness for all, stand-off and path for each reading. A velocity that is off turns the beam too, by Snell.

use std::fmt::Write;

use crate::drawn::Drawn;

/// Half widths that the program takes where no line says another: degrees and mm.
const ANGLE: f64 = 2.0;
const INDEX: f64 = 1.0;
const THICKNESS: f64 = 0.3;
const STANDOFF: f64 = 1.0;
const PATH: f64 = 0.5;
/// Velocity of the stated material, mm/us.
const VELOCITY: f64 = 3.255;
/// Half width where the velocity is off, mm/us.
pub const VELOCITY_OFF: f64 = 0.03;

/// What there is in the plate.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Reflector {
    /// A round void of this diameter, 0 for a point.
    Void {
        /// mm.
        across: f64,
    },
    /// A crack from the far face whose corner is named; peaked up to 4 degrees off the axis, as such corners are.
    Corner,
    /// The upper tip of a plane, named.
    Tip,
    /// A plane inside, unnamed: each view has its echo from a facet somewhere along it.
    Plane {
        /// Through the wall, mm.
        height: f64,
    },
}

/// From where it is looked at.
#[derive(Clone, Debug)]
pub struct SetUp {
    /// Nominal angles, degrees.
    pub angles: Vec<f64>,
    /// +1 for side A, -1 for side B.
    pub sides: Vec<f64>,
    /// Legs of each probe and side.
    pub legs: Vec<u32>,
}

impl SetUp {
    /// How many views it gives.
    #[must_use]
    pub fn views(&self) -> usize {
        self.angles.len() * self.sides.len() * self.legs.len()
    }

    /// "45+60, both sides, legs 1 2".
    #[must_use]
    pub fn named(&self) -> String {
        let angles: Vec<String> = self.angles.iter().map(f64::to_string).collect();
        let legs: Vec<String> = self.legs.iter().map(u32::to_string).collect();
        let sides = if self.sides.len() > 1 { "both sides" } else { "side A" };
        let leg = if legs.len() > 1 { "legs" } else { "leg" };
        format!("{} deg, {sides}, {leg} {}", angles.join("+"), legs.join("+"))
    }
}

/// A probe as it truly is in this part.
#[derive(Clone, Copy)]
pub struct Probe {
    /// True angle in the part, radians.
    angle: f64,
    index: f64,
    /// True velocity over the stated one.
    faster: f64,
}

/// A job and the truth of it.
pub struct Drawing {
    /// Its lines.
    pub job: String,
    /// From one end of what may be told to the other: (y, z) of both, the same for a point.
    pub truth: [(f64, f64); 2],
}

pub fn off(from: &mut Drawn, half: f64) -> f64 {
    half * f64::from(from.between(-1.0, 1.0))
}

impl Probe {
    pub fn drawn(from: &mut Drawn, stated: f64, velocity: f64) -> Self {
        let faster = 1.0 + off(from, velocity) / VELOCITY;
        let sine = (stated + off(from, ANGLE)).to_radians().sin() * faster;
        let sine = if sine < 0.999 { sine } else { 0.999 };
        Self { angle: sine.asin(), index: off(from, INDEX), faster }
    }

    /// Stand-off and path as read, of an echo `short` of the point on the axis that lies `down` the unfolded plate.
    fn peaked(&self, from: &mut Drawn, g: f64, y: f64, down: f64, short: f64, turned: f64) -> (f64, f64) {
        let angle = self.angle + turned;
        let distance = down * angle.tan();
        (self.standoff(distance, g, y) + off(from, STANDOFF), self.read(from, down / angle.cos() - short))
    }

    /// Where the index point stands for a surface distance.
    pub fn standoff(&self, distance: f64, g: f64, y: f64) -> f64 {
        self.index + distance - g * y
    }

    /// The path that is read for a true one.
    pub fn read(&self, from: &mut Drawn, path: f64) -> f64 {
        path / self.faster + off(from, PATH)
    }

    pub fn tangent(&self) -> f64 {
        self.angle.tan()
    }
}

/// The lines before the readings, and the true thickness.
pub fn plate(from: &mut Drawn, stated: f64, angles: &[f64], tolerance: &str, velocity: f64) -> (String, f64) {
    let mut job = String::from("material MODEL shear=3.255 long=5.92\n");
    let _ = writeln!(job, "joint butt thickness={stated:.3} prep=square gap=0 cap=8");
    if velocity > 0.0 {
        let _ = writeln!(job, "tolerance velocity={velocity}");
    }
    if !tolerance.is_empty() {
        let _ = writeln!(job, "tolerance {tolerance}");
    }
    for angle in angles {
        let _ = writeln!(job, "probe p{angle} angle={angle} frequency=4 element=9x9");
    }
    (job, stated + off(from, THICKNESS))
}

pub fn reading(job: &mut String, angle: f64, g: f64, (standoff, path): (f64, f64), point: &str) {
    let side = if g > 0.0 { 'a' } else { 'b' };
    let _ = writeln!(
        job,
        "reading 1 probe=p{angle} side={side} x=0 standoff={standoff:.3} path={path:.3} height=50 gain=40 {point}"
    );
}

/// One job: plate of 8 to 40 mm, the reflector anywhere in it.
#[must_use]
pub fn draw(
    set_up: &SetUp,
    reflector: Reflector,
    tolerance: &str,
    velocity: f64,
    from: &mut Drawn,
) -> Drawing {
    let stated = f64::from((from.between(8.0, 40.0) * 10.0).round() / 10.0);
    let (mut job, t) = plate(from, stated, &set_up.angles, tolerance, velocity);
    let y = off(from, 5.0);
    let lean = off(from, 30.0).to_radians();
    let (radius, height) = match reflector {
        Reflector::Void { across } => (across / 2.0, 0.0),
        Reflector::Plane { height } => (0.0, height),
        Reflector::Corner | Reflector::Tip => (0.0, 0.0),
    };
    let clear = radius + height / 2.0 + 0.3;
    let z = if reflector == Reflector::Corner {
        t
    } else {
        clear + (t - 2.0 * clear) * f64::from(from.between(0.0, 1.0))
    };
    let end = |way: f64| (y - way * height / 2.0 * lean.tan(), z + way * height / 2.0);
    let point = match reflector {
        Reflector::Void { .. } | Reflector::Plane { .. } => "",
        Reflector::Corner => "point=corner",
        Reflector::Tip => "point=upper-tip",
    };
    for angle in &set_up.angles {
        let probe = Probe::drawn(from, *angle, velocity);
        for g in &set_up.sides {
            for leg in &set_up.legs {
                let (y, z) = end(off(from, 1.0));
                let n = f64::from(*leg);
                let down = if leg % 2 == 1 { (n - 1.0) * t + z } else { n * t - z };
                let turned = if reflector == Reflector::Corner && *leg == 1 {
                    off(from, 4.0).to_radians()
                } else {
                    0.0
                };
                let read = probe.peaked(from, *g, y, down, radius, turned);
                if read.1 > 1.0 {
                    reading(&mut job, *angle, *g, read, point);
                }
            }
        }
    }
    Drawing { job, truth: [end(-1.0), end(1.0)] }
}
