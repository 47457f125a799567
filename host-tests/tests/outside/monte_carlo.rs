//! Uncertainties against draws: every input off by what its half width allows, evenly and at random, a hundred thousand
//! times over. The formulas here are written out in `f64` and share nothing with the library's.

use halfskip::evaluate::fusion::{View, fuse};
use halfskip::part::Part;
use halfskip::part::locate::{Budget, Face, Peaked, Place, Position, SeenTogether, Side, locate};
use halfskip::part::path::{Axis, Plate};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::drawn::Drawn;

const DRAWS: u32 = 100_000;
/// First-order propagation against the draws.
const WITHIN: f64 = 0.05;

fn mm(value: f64) -> Millimetres {
    Millimetres::new(value as f32).unwrap()
}

fn budget() -> Budget {
    Budget {
        angle: Degrees::new(1.5).unwrap(),
        index: mm(0.8),
        thickness: mm(0.3),
        velocity: 0.01,
        ..Budget::DEFAULT
    }
}

/// What is measured of one reading, and what of it is off.
#[derive(Clone, Copy, Debug)]
struct Inputs {
    side: Side,
    far: bool,
    angle: f64,
    skew: f64,
    path: f64,
    standoff: f64,
    index: f64,
    thickness: f64,
}

/// Errors of one draw that a probe has, and the plate.
#[derive(Clone, Copy)]
struct Shared {
    angle: f64,
    index: f64,
    velocity: f64,
    thickness: f64,
}

impl Shared {
    fn drawn(from: &mut Drawn, budget: &Budget, thickness: f64) -> Self {
        Self {
            angle: off(from, budget.angle.get()),
            index: off(from, budget.index.get()),
            velocity: off(from, budget.velocity),
            thickness,
        }
    }
}

fn off(from: &mut Drawn, half_width: f32) -> f64 {
    from.between(-half_width, half_width).into()
}

impl Inputs {
    /// Off by what is shared, and by a stand-off and a path of its own.
    fn off(mut self, by: &Shared, from: &mut Drawn, budget: &Budget) -> Self {
        // sin a in proportion to c
        self.angle = ((self.angle + by.angle).to_radians().sin() * (1.0 + by.velocity)).asin().to_degrees();
        self.index += by.index;
        self.thickness += by.thickness;
        self.standoff += off(from, budget.standoff.get());
        self.path = (self.path + off(from, budget.path.get())) * (1.0 + by.velocity);
        self
    }

    fn across(&self, distance: f64) -> f64 {
        let g = if self.side == Side::A { 1.0 } else { -1.0 };
        g * (self.index - self.standoff + distance * self.skew.to_radians().cos())
    }

    fn counted_from_near(&self, depth: f64) -> f64 {
        if self.far { self.thickness - depth } else { depth }
    }

    /// On the axis, in the leg that the reading is known to be in.
    fn on_axis(&self, leg: u32) -> [f64; 2] {
        let (sin, cos) = self.angle.to_radians().sin_cos();
        let (u, n) = (self.path * cos, f64::from(leg));
        let depth = if leg % 2 == 1 { u - (n - 1.0) * self.thickness } else { n * self.thickness - u };
        [self.across(self.path * sin), self.counted_from_near(depth)]
    }

    fn corner_distance(&self, leg: u32) -> f64 {
        (self.path.powi(2) - (f64::from(leg) * self.thickness).powi(2)).sqrt()
    }

    fn at_corner(&self, leg: u32) -> [f64; 2] {
        let depth = if leg % 2 == 1 { self.thickness } else { 0.0 };
        [self.across(self.corner_distance(leg)), self.counted_from_near(depth)]
    }

    fn axis(&self) -> Axis {
        Axis::new(Degrees::new(self.angle as f32).unwrap()).unwrap()
    }

    fn part(&self) -> Part {
        Part::Flat(Plate::new(mm(self.thickness)).unwrap())
    }

    fn position(&self) -> Position {
        let position = Position::new(self.side, mm(0.0), mm(self.standoff), mm(self.index)).unwrap();
        let skewed = position.skewed(Degrees::new(self.skew as f32).unwrap()).unwrap();
        skewed.on(if self.far { Face::Far } else { Face::Near })
    }

    fn located(&self) -> Place {
        locate(&self.axis(), &self.part(), &self.position(), mm(self.path), Peaked::Axis).unwrap()
    }
}

/// Mean and standard deviation, sums kept from losing digits.
#[derive(Default)]
struct Spread {
    count: f64,
    mean: f64,
    squares: f64,
}

impl Spread {
    fn add(&mut self, value: f64) {
        self.count += 1.0;
        let apart = value - self.mean;
        self.mean += apart / self.count;
        self.squares += apart * (value - self.mean);
    }

    /// k = 2.
    fn expanded(&self) -> f64 {
        2.0 * (self.squares / self.count).sqrt()
    }

    fn held_to(&self, told: f32, what: &str) {
        let (found, told) = (self.expanded(), f64::from(told));
        assert!((told - found).abs() <= WITHIN * found, "{what}: {told} told, {found} drawn");
    }
}

const SQUARE: Inputs = Inputs {
    side: Side::A,
    far: false,
    angle: 60.0,
    skew: 0.0,
    path: 30.0,
    standoff: 31.0,
    index: 1.0,
    thickness: 20.0,
};

#[test]
fn a_reading_on_the_axis_is_as_uncertain_as_it_says() {
    let mut from = Drawn::seeded(101);
    for inputs in [
        SQUARE,
        Inputs { side: Side::B, path: 60.0, ..SQUARE },
        Inputs { angle: 45.0, path: 70.0, skew: 20.0, ..SQUARE },
        Inputs { angle: 70.0, path: 45.0, far: true, ..SQUARE },
        Inputs { angle: 70.0, path: 95.0, skew: -35.0, far: true, side: Side::B, ..SQUARE },
    ] {
        let (place, budget) = (inputs.located(), budget());
        let mut spread = [Spread::default(), Spread::default()];
        for _ in 0..DRAWS {
            let thickness = off(&mut from, budget.thickness.get());
            let shared = Shared::drawn(&mut from, &budget, thickness);
            let found = inputs.off(&shared, &mut from, &budget).on_axis(place.leg);
            spread.iter_mut().zip(found).for_each(|(spread, value)| spread.add(value));
        }
        let [y, z] = spread;
        y.held_to(place.u_y(&budget), &format!("y of {inputs:?}"));
        z.held_to(place.u_z(&budget), &format!("z of {inputs:?}"));
    }
}

#[test]
fn a_corner_is_as_uncertain_as_it_says() {
    let mut from = Drawn::seeded(102);
    for (leg, inputs) in [
        (1, Inputs { path: 40.0, ..SQUARE }),
        (2, Inputs { path: 80.5, side: Side::B, ..SQUARE }),
        (1, Inputs { angle: 45.0, path: 28.3, skew: 15.0, far: true, ..SQUARE }),
    ] {
        let place =
            locate(&inputs.axis(), &inputs.part(), &inputs.position(), mm(inputs.path), Peaked::Corner)
                .unwrap();
        assert_eq!(place.leg, leg);
        let budget = budget();
        let mut spread = [Spread::default(), Spread::default()];
        for _ in 0..DRAWS {
            let thickness = off(&mut from, budget.thickness.get());
            let shared = Shared::drawn(&mut from, &budget, thickness);
            let found = inputs.off(&shared, &mut from, &budget).at_corner(leg);
            spread.iter_mut().zip(found).for_each(|(spread, value)| spread.add(value));
        }
        let [y, z] = spread;
        y.held_to(place.u_y(&budget), &format!("y of {inputs:?}"));
        if place.u_z(&budget) > 0.0 {
            z.held_to(place.u_z(&budget), &format!("z of {inputs:?}"));
        } else {
            assert_eq!(z.expanded(), 0.0);
        }
    }
}

#[test]
fn a_tip_seen_with_its_corner_is_as_uncertain_as_it_says() {
    let mut from = Drawn::seeded(103);
    let corner = Inputs { path: 40.0, ..SQUARE };
    for tip_path in [38.0, 36.5, 41.6] {
        let (axis, part, position) = (corner.axis(), corner.part(), corner.position());
        let base = locate(&axis, &part, &position, mm(corner.path), Peaked::Corner).unwrap();
        let known = SeenTogether::from_corner(&position, &base);
        let tip = locate(&axis, &part, &position, mm(tip_path), Peaked::Together(known)).unwrap();
        let budget = budget();
        let mut depth = Spread::default();
        for _ in 0..DRAWS {
            let thickness = off(&mut from, budget.thickness.get());
            let shared = Shared::drawn(&mut from, &budget, thickness);
            let base = corner.off(&shared, &mut from, &budget);
            // The same probe position: its stand-off, index and angle do not enter; its own path does.
            let path = (tip_path + off(&mut from, budget.path.get())) * (1.0 + shared.velocity);
            let u = (path.powi(2) - base.corner_distance(1).powi(2)).sqrt();
            depth.add(if tip.leg == 1 { u } else { 2.0 * base.thickness - u });
        }
        depth.held_to(tip.u_z(&budget), &format!("tip at {tip_path}"));
    }
}

/// Two probes from both sides, one of them in two legs, look at one point.
fn looks() -> Vec<(u8, u32, Inputs)> {
    let at = |side, angle: f64, leg: u32| {
        let (sin, cos) = angle.to_radians().sin_cos();
        let (y, z, t) = (1.5, 13.0, 20.0);
        let u = if leg % 2 == 1 { f64::from(leg - 1) * t + z } else { f64::from(leg) * t - z };
        let path = u / cos;
        let g = if side == Side::A { 1.0 } else { -1.0 };
        // y = g (−p + e + s sin a)
        let standoff = 1.0 + path * sin - g * y;
        Inputs { side, angle, path, standoff, ..SQUARE }
    };
    vec![
        (0, 1, at(Side::A, 60.0, 1)),
        (0, 1, at(Side::B, 60.0, 1)),
        (1, 1, at(Side::A, 45.0, 1)),
        (1, 2, at(Side::A, 45.0, 2)),
        (1, 2, at(Side::B, 45.0, 2)),
    ]
}

#[test]
fn a_fused_point_is_as_uncertain_as_it_says_and_its_views_seldom_disagree() {
    let mut from = Drawn::seeded(104);
    let (budget, looks) = (budget(), looks());
    let places: Vec<Place> = looks.iter().map(|(_, _, inputs)| inputs.located()).collect();
    let view = |place: &Place, probe: u8, [y, z]: [f64; 2]| View {
        probe,
        y: y as f32,
        z: Some(z as f32),
        at_face: false,
        of_y: place.y_partials.contributions(&budget),
        of_z: place.z_partials.contributions(&budget),
        of_radius: place.of_radius(),
    };
    let mut spread = [Spread::default(), Spread::default()];
    let (mut disagree, mut told) = (0, None);
    for _ in 0..DRAWS {
        let thickness = off(&mut from, budget.thickness.get());
        let probes = [(); 2].map(|()| Shared::drawn(&mut from, &budget, thickness));
        let mut views = Vec::with_capacity(looks.len());
        for ((probe, leg, inputs), place) in looks.iter().zip(&places) {
            let found = inputs.off(&probes[usize::from(*probe)], &mut from, &budget).on_axis(*leg);
            views.push(view(place, *probe, found));
        }
        let fused = fuse(views.iter().copied()).unwrap();
        let found = [f64::from(fused.y), f64::from(fused.z.unwrap())];
        spread.iter_mut().zip(found).for_each(|(spread, value)| spread.add(value));
        disagree += u32::from(fused.consistent() == Some(false));
        told = Some((fused.u_y, fused.u_z.unwrap()));
    }
    let (u_y, u_z) = told.unwrap();
    let [y, z] = spread;
    y.held_to(u_y, "y");
    z.held_to(u_z, "z");
    assert!((y.mean - 1.5).abs() < 0.05 && (z.mean - 13.0).abs() < 0.05, "{} {}", y.mean, z.mean);
    // 5 % by the test's own terms; fewer, since half widths end where a normal distribution goes on.
    let share = f64::from(disagree) / f64::from(DRAWS);
    assert!((0.005..=0.06).contains(&share), "{share}");
    let best = places.iter().map(|place| place.u_y(&budget)).fold(f32::INFINITY, halfskip::math::smaller);
    assert!(u_y < best, "five views know less than one: {u_y} {best}");
}
