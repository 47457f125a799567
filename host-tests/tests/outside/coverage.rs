//! Coverage on the raster against exact areas by polygons.

use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon};
use halfskip::part::joint::{Curvature, Joint, JointSpec, Preparation, Reach, ScannedFrom};
use halfskip::part::locate::Side;
use halfskip::part::path::Axis;
use halfskip::planning::coverage::{Coverage, Grid, Holes, survey};
use halfskip::planning::plan::{Limits, Scan};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::drawn::Drawn;

const NONE: Millimetres = Millimetres::constant(0.0);

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

/// A scan in numbers of its own.
#[derive(Clone, Copy, Debug)]
struct Strip {
    angle: f64,
    sign: f64,
    least: f64,
    index: f64,
    range: f64,
    legs: u32,
}

/// The part in numbers of its own: radii of the scanned and the opposite face, or a plate.
#[derive(Clone, Copy, Debug)]
enum Shape {
    Flat(f64),
    Around { scanned: f64, other: f64 },
}

impl Shape {
    fn of(joint: &Joint) -> Self {
        let t = f64::from(joint.thickness().get());
        match joint.spec().curvature {
            Curvature::AroundPipe { od, from } => {
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
        if self.sign > 0.0 {
            shape.between([top, bottom], |_| -wide, axis)
        } else {
            shape.between([top, bottom], axis, |_| wide)
        }
    }
}

/// Body, and body with zone.
fn volumes(joint: &Joint, shape: Shape) -> [MultiPolygon; 2] {
    let section = joint.section();
    let t = shape.thickness();
    let half = |side: Side, z: f64| f64::from(section.half_width(side, z as f32).unwrap_or(0.0));
    let zone = f64::from(joint.spec().haz.map_or(0.0, Millimetres::get));
    [0.0, zone].map(|more| {
        shape.between([0.0, t * (1.0 - 1e-7)], |z| -half(Side::A, z) - more, |z| half(Side::B, z) + more)
    })
}

struct Exact {
    body: f64,
    whole: f64,
    crossed: f64,
    twice: f64,
    legs: [f64; 3],
}

fn exact(joint: &Joint, strips: &[Strip]) -> Exact {
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

fn surveyed(joint: &Joint, scans: &[Scan]) -> (Coverage, Holes) {
    let mut holes = Holes::new(&Grid::new(joint).unwrap());
    let coverage =
        survey::<8>(joint, scans, |scan, aim| scans[scan].bar(aim), |cell| holes.take(cell)).unwrap();
    (coverage, holes)
}

fn drawn_joint(from: &mut Drawn, around: bool) -> Joint {
    let thickness = from.between(8.0, 40.0);
    let preparation = from.one_of(&Preparation::ALL);
    let prepared = preparation != Preparation::Square;
    let scanned = from.one_of(&[ScannedFrom::Outside, ScannedFrom::Inside]);
    let od = mm(thickness * from.between(5.0, 40.0));
    let spec = JointSpec {
        bevel: Degrees::new(from.between(5.0, 35.0)).ok().filter(|_| prepared),
        gap: Some(mm(from.between(1.0, 5.0))),
        land: Some(mm(from.between(0.5, 3.0))).filter(|_| prepared),
        radius: Some(mm(from.between(0.5, 2.0))).filter(|_| preparation.has_radius()),
        cap: Some(mm(from.between(10.0, 50.0))),
        crown: Some(mm(2.0)),
        haz: from.one_of(&[None, Some(mm(8.0))]),
        curvature: if around { Curvature::AroundPipe { od, from: scanned } } else { Curvature::Flat },
        ..JointSpec::new(mm(thickness), preparation)
    };
    Joint::new(spec).unwrap()
}

fn drawn_scans(from: &mut Drawn, joint: &Joint) -> (Vec<Scan>, Vec<Strip>) {
    let (mut scans, mut strips) = (Vec::new(), Vec::new());
    for _ in 0..from.one_of(&[1, 2, 4]) {
        let (angle, side) = (from.between(35.0, 72.0), from.one_of(&[Side::A, Side::B]));
        let (front, index) = (from.between(3.0, 15.0), from.between(-2.0, 2.0));
        let legs = from.one_of(&[1, 2, 3]);
        let range = from.one_of(&[None, Some(mm(from.clone().between(30.0, 120.0)))]);
        let axis = Axis::new(Degrees::new(angle).unwrap()).unwrap();
        let limits = Limits { legs, range };
        let Ok(scan) = Scan::new(joint, &axis, Some(mm(front)), mm(index), side, limits) else { continue };
        scans.push(scan);
        strips.push(Strip {
            angle: angle.into(),
            sign: side.sign().into(),
            least: scan.least().into(),
            index: index.into(),
            range: range.map_or(f64::INFINITY, |range| range.get().into()),
            legs,
        });
    }
    (scans, strips)
}

/// What a cell's middle stands for may be off by half a cell along every edge of what is compared.
const RASTER: f64 = 0.015;

#[test]
fn areas_on_a_plate_are_those_of_exact_polygons() {
    let (mut from, mut partial) = (Drawn::seeded(60), 0);
    for _ in 0..40 {
        let joint = drawn_joint(&mut from, false);
        let (scans, strips) = drawn_scans(&mut from, &joint);
        let (coverage, holes) = surveyed(&joint, &scans);
        let (exact, whole) = (exact(&joint, &strips), coverage.whole());
        let near = |name: &str, got: f32, expected: f64| {
            let off = (f64::from(got) - expected).abs() / exact.whole;
            assert!(off < RASTER, "{name} {got} {expected} of {} {joint:?} {strips:?}", exact.whole);
        };
        near("body", coverage.body.area, exact.body);
        near("whole", whole.area, exact.whole);
        near("crossed", whole.crossed, exact.crossed);
        near("twice", whole.twice, exact.twice);
        for (got, expected) in whole.legs.into_iter().zip(exact.legs) {
            near("leg", got, expected);
        }
        let open: f32 = holes.iter().map(|hole| hole.area).sum::<f32>() + holes.unlisted();
        near("holes", open, exact.whole - exact.crossed);
        partial += usize::from((0.1..0.95).contains(&(exact.crossed / exact.whole)));
    }
    assert!(partial > 10, "{partial}");
}

#[test]
fn areas_around_a_pipe_are_those_of_exact_polygons() {
    let (mut from, mut partial) = (Drawn::seeded(61), 0);
    for _ in 0..40 {
        let joint = drawn_joint(&mut from, true);
        let (scans, strips) = drawn_scans(&mut from, &joint);
        let (coverage, _) = surveyed(&joint, &scans);
        let (exact, whole) = (exact(&joint, &strips), coverage.whole());
        for (got, expected) in [
            (whole.area, exact.whole),
            (whole.crossed, exact.crossed),
            (whole.legs[0], exact.legs[0]),
            (whole.legs[1], exact.legs[1]),
        ] {
            let off = (f64::from(got) - expected).abs() / exact.whole;
            assert!(off < RASTER, "{got} {expected} of {} {joint:?} {strips:?}", exact.whole);
        }
        partial += usize::from((0.1..0.95).contains(&(exact.crossed / exact.whole)));
    }
    assert!(partial > 10, "{partial}");
}

fn single_v(reach: Reach) -> Joint {
    let spec = JointSpec {
        bevel: Some(Degrees::constant(30.0)),
        gap: Some(mm(3.0)),
        land: Some(mm(2.0)),
        cap: Some(mm(26.0)),
        crown: Some(mm(2.0)),
        haz: Some(mm(8.0)),
        reach,
        ..JointSpec::new(mm(20.0), Preparation::SingleV)
    };
    Joint::new(spec).unwrap()
}

fn scans(joint: &Joint, angle: f32, sides: &[Side], legs: u32, range: Option<Millimetres>) -> Vec<Scan> {
    let axis = Axis::new(Degrees::new(angle).unwrap()).unwrap();
    let limits = Limits { legs, range };
    let scan = |side: &Side| Scan::new(joint, &axis, Some(mm(11.0)), NONE, *side, limits).unwrap();
    sides.iter().map(scan).collect()
}

/// 60 degrees, 20 mm, cap 26 mm, nose 11 mm: leg 1 meets what lies beyond the line y = z tan 60 - 24, leg 2 all of it.
#[test]
fn holes_lie_where_the_cap_keeps_leg_1_away_and_leg_2_closes_them() {
    let joint = single_v(Reach::Both);
    let (one_leg, holes) = surveyed(&joint, &scans(&joint, 60.0, &[Side::A], 1, None));
    let found: Vec<_> = holes.iter().collect();
    assert_eq!(found.len(), 1);
    let hole = found[0];
    assert_eq!(hole.reasons.to_string(), "cap in the way");
    // The zone's edge on side B, and down to the far face on the far side of the root.
    assert!(hole.from.z == 0.0 && (hole.to.y - 19.9).abs() < 0.3, "{hole:?}");
    assert!((hole.area - (one_leg.whole().area - one_leg.whole().crossed)).abs() < 0.01);
    let (both, holes) = surveyed(&joint, &scans(&joint, 60.0, &[Side::A], 2, None));
    assert!(both.fraction().unwrap() > 0.999_9 && holes.iter().next().is_none());
}

#[test]
fn beams_that_meet_head_on_are_one_direction_and_crossing_ones_two() {
    let joint = single_v(Reach::Both);
    // Leg 2 from side A and leg 1 from side B run along one line, in opposite senses.
    let axis = Axis::new(Degrees::constant(60.0)).unwrap();
    let anywhere = |side| Scan::anywhere(&joint, &axis, NONE, side, Limits::default()).unwrap();
    let only = |side: Side, leg: u32| (side, leg);
    let twice = |chosen: [(Side, u32); 2]| {
        let scans = [anywhere(Side::A), anywhere(Side::B)];
        let kept = |scan: usize, aim: &halfskip::planning::plan::Aim| {
            let side = [Side::A, Side::B][scan];
            (!chosen.contains(&(side, aim.leg))).then_some(halfskip::planning::plan::Barrier::NotScanned)
        };
        let whole = survey::<8>(&joint, &scans, kept, |_| {}).unwrap().whole();
        assert!(whole.of(whole.crossed).unwrap() > 0.999);
        whole.of(whole.twice).unwrap()
    };
    assert_eq!(twice([only(Side::A, 2), only(Side::B, 1)]), 0.0);
    assert!(twice([only(Side::A, 1), only(Side::B, 1)]) > 0.999);
}

#[test]
fn a_short_range_and_a_missed_bore_are_named() {
    let joint = single_v(Reach::Both);
    let (_, holes) = surveyed(&joint, &scans(&joint, 60.0, &[Side::A, Side::B], 2, Some(mm(45.0))));
    let reasons: Vec<String> = holes.iter().map(|hole| hole.reasons.to_string()).collect();
    assert!(reasons.iter().any(|reason| reason.contains("beyond range")), "{reasons:?}");
    let spec = JointSpec {
        curvature: Curvature::AroundPipe { od: mm(120.0), from: ScannedFrom::Outside },
        ..*joint.spec()
    };
    let pipe = Joint::new(spec).unwrap();
    let (coverage, holes) = surveyed(&pipe, &scans(&pipe, 60.0, &[Side::A, Side::B], 2, None));
    let deep = holes.iter().find(|hole| hole.reasons.to_string().contains("bore missed")).unwrap();
    // R (1 - sin 60) = 8.04 mm
    assert!((deep.from.z - 8.04).abs() < 0.5 && (deep.to.z - 20.0).abs() < 0.01, "{deep:?}");
    assert!(coverage.fraction().unwrap() < 0.7);
}
