//! The same areas as exact polygons, in numbers of their own.

use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon};
use halfskip::part::joint::{Curvature, Joint, ScannedFrom};
use halfskip::part::locate::Side;
use halfskip::units::Millimetres;

/// A scan in numbers of its own.
#[derive(Clone, Copy, Debug)]
pub struct Strip {
    pub angle: f64,
    pub sign: f64,
    pub least: f64,
    pub index: f64,
    pub range: f64,
    pub legs: u32,
    /// From where to where the cap stands on the scanned face.
    pub cap: [f64; 2],
}

/// The part in numbers of its own: radii of the scanned and the opposite face, or a plate.
#[derive(Clone, Copy, Debug)]
pub enum Shape {
    Flat(f64),
    Around { scanned: f64, other: f64 },
}

impl Shape {
    fn of(joint: &Joint) -> Self {
        let t = f64::from(joint.thickness().get());
        match joint.spec().curvature {
            Some(Curvature::AroundPipe { od, from }) => {
                let outer = f64::from(od.get()) / 2.0;
                let (scanned, other) = match from {
                    ScannedFrom::Outside => (outer, outer - t),
                    ScannedFrom::Inside => (outer - t, outer),
                };
                Self::Around { scanned, other }
            }
            _ => Self::Flat(t),
        }
    }

    fn thickness(self) -> f64 {
        match self {
            Self::Flat(t) => t,
            Self::Around { scanned, other } => (scanned - other).abs(),
        }
    }

    fn deepest(self, angle: f64) -> f64 {
        match self {
            Self::Around { scanned, other } if other < scanned => {
                let (chord, wall) = (scanned * (1.0 - angle.to_radians().sin()), self.thickness());
                if chord < wall { chord } else { wall }
            }
            _ => self.thickness(),
        }
    }

    /// Path and surface distance of a leg at a depth, from the angles of the triangle rather than its sides.
    fn reach(self, angle: f64, leg: u32, z: f64) -> (f64, f64) {
        let a = angle.to_radians();
        let once = |z: f64| match self {
            Self::Flat(_) => (z / a.cos(), z * a.tan()),
            Self::Around { scanned, other } => {
                let rho = if other < scanned { scanned - z } else { scanned + z };
                let sine = scanned * a.sin() / rho;
                let b = if sine < 1.0 { sine.asin() } else { std::f64::consts::FRAC_PI_2 };
                // The law of sines; the angle at the pipe's axis is what a and b differ by.
                let turned = (b - a).abs();
                (rho * turned.sin() / a.sin(), scanned * turned)
            }
        };
        let ((path, arc), (whole, turn)) = (once(z), once(self.deepest(angle)));
        if leg % 2 == 1 {
            let behind = f64::from(leg - 1);
            (behind * whole + path, behind * turn + arc)
        } else {
            let behind = f64::from(leg);
            (behind * whole - path, behind * turn - arc)
        }
    }

    /// A place of the developed section as it is in space, so that areas are true.
    fn place(self, y: f64, z: f64) -> Coord {
        match self {
            Self::Flat(_) => Coord { x: y, y: z },
            Self::Around { scanned, other } => {
                let rho = if other < scanned { scanned - z } else { scanned + z };
                Coord { x: rho * (y / scanned).sin(), y: rho * (y / scanned).cos() }
            }
        }
    }

    /// The area between two curves y = left(z) and y = right(z), over some depths.
    fn between(
        self,
        [top, bottom]: [f64; 2],
        left: impl Fn(f64) -> f64,
        right: impl Fn(f64) -> f64,
    ) -> MultiPolygon {
        const STEPS: u32 = 400;
        let at = |step: u32| top + (bottom - top) * f64::from(step) / f64::from(STEPS);
        let down = (0..=STEPS).map(|step| self.place(left(at(step)), at(step)));
        let up = (0..=STEPS).rev().map(|step| self.place(right(at(step)), at(step)));
        // The two ends are arcs too.
        let end = |z: f64, from: f64, to: f64| {
            (1..50).map(move |step| self.place(from + (to - from) * f64::from(step) / 50.0, z))
        };
        let below = end(bottom, left(bottom), right(bottom));
        let above = end(top, right(top), left(top));
        if bottom <= top {
            return MultiPolygon::new(vec![]);
        }
        MultiPolygon::new(vec![Polygon::new(
            LineString::from_iter(down.chain(below).chain(up).chain(above)),
            vec![],
        )])
    }
}

impl Strip {
    /// What a leg crosses: everything on the far side of the axis at the least stand-off, as deep as it gets in range.
    fn crossed(&self, shape: Shape, leg: u32, wide: f64) -> MultiPolygon {
        let (mut top, mut bottom) = (0.0, shape.deepest(self.angle));
        let in_range = |z: f64| shape.reach(self.angle, leg, z).0 <= self.range;
        match (in_range(top), in_range(bottom)) {
            (true, true) => {}
            (false, false) => return MultiPolygon::new(vec![]),
            (near, _) => {
                let (mut low, mut high) = (top, bottom);
                for _ in 0..60 {
                    let middle = 0.5 * (low + high);
                    if in_range(middle) == near {
                        low = middle;
                    } else {
                        high = middle;
                    }
                }
                if near {
                    bottom = low;
                } else {
                    top = high;
                }
            }
        }
        let axis = |z: f64| {
            // p = e + D - g y
            let y = self.sign * (self.index + shape.reach(self.angle, leg, z).1 - self.least);
            y.clamp(-wide, wide)
        };
        let all = if self.sign > 0.0 {
            shape.between([top, bottom], |_| -wide, axis)
        } else {
            shape.between([top, bottom], axis, |_| wide)
        };
        if leg < 3 {
            return all;
        }
        // What turns under the cap after a full skip: the axis comes back to the scanned face at y = g (e + 2 H - p).
        let (_, half_skip) = shape.reach(self.angle, 1, shape.deepest(self.angle));
        let at = |y: f64| {
            move |z: f64| {
                (y + self.sign * (shape.reach(self.angle, leg, z).1 - 2.0 * half_skip)).clamp(-wide, wide)
            }
        };
        all.difference(&shape.between([top, bottom], at(self.cap[0]), at(self.cap[1])))
    }
}

/// Body, and body with zone.
fn volumes(joint: &Joint, shape: Shape) -> [MultiPolygon; 2] {
    let section = joint.section();
    let t = shape.thickness();
    let half = |side: Side, z: f64| f64::from(section.half_width(side, z as f32).unwrap_or(0.0));
    let zone = f64::from(joint.spec().haz.map_or(0.0, Millimetres::get));
    // Widths are arcs where they lie: at the scanned face they are as much longer as its radius is.
    let at_the_face = move |width: f64, z: f64| match shape {
        Shape::Flat(_) => width,
        Shape::Around { scanned, other } => {
            width * scanned / if other < scanned { scanned - z } else { scanned + z }
        }
    };
    [0.0, zone].map(|more| {
        let beside = |side: Side, z: f64| half(side, z) + at_the_face(more, z);
        shape.between([0.0, t * (1.0 - 1e-7)], |z| -beside(Side::A, z), |z| beside(Side::B, z))
    })
}

pub struct Exact {
    pub body: f64,
    pub whole: f64,
    pub crossed: f64,
    pub twice: f64,
    pub legs: [f64; 3],
}

pub fn exact(joint: &Joint, strips: &[Strip]) -> Exact {
    let shape = Shape::of(joint);
    let [body, whole] = volumes(joint, shape);
    let mut regions = Vec::new();
    for strip in strips {
        for leg in 1..=strip.legs {
            let tilt = strip.sign * if leg % 2 == 1 { 1.0 } else { -1.0 };
            regions.push((leg, tilt, strip.angle, strip.crossed(shape, leg, 90.0).intersection(&whole)));
        }
    }
    let nothing = || MultiPolygon::new(vec![]);
    let union = |chosen: Vec<&MultiPolygon>| chosen.into_iter().fold(nothing(), |sum, one| sum.union(one));
    let mut twice = nothing();
    for (place, (_, tilt, angle, one)) in regions.iter().enumerate() {
        for (_, other_tilt, other_angle, other) in &regions[..place] {
            // Lines through the origin, compared as directions in the plane; on a plate their tilt is the angle.
            let apart = (tilt * angle - other_tilt * other_angle).abs();
            let apart = if apart > 90.0 { 180.0 - apart } else { apart };
            if apart >= 10.0 {
                twice = twice.union(&one.intersection(other));
            }
        }
    }
    Exact {
        body: body.unsigned_area(),
        whole: whole.unsigned_area(),
        crossed: union(regions.iter().map(|region| &region.3).collect()).unsigned_area(),
        twice: twice.unsigned_area(),
        legs: [1, 2, 3].map(|leg| {
            let chosen = regions.iter().filter(|region| region.0 == leg).map(|region| &region.3);
            union(chosen.collect()).unsigned_area()
        }),
    }
}
