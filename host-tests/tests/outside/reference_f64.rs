//! The library against rays followed through the plate in double precision, at seeded random places.

use halfskip::part::Part;
use halfskip::part::locate::{Face, Partials, Peaked, Position, Side, locate};
use halfskip::part::path::{Axis, Plate};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::accuracy::PROMISED;
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::rays::{End, Ray, Slab};

/// One set-up of a probe on a plate, in single precision.
#[derive(Clone, Copy, Debug)]
struct SetUp {
    thickness: f32,
    angle: f32,
    path: f32,
    x: f32,
    standoff: f32,
    index: f32,
    skew: f32,
    side: Side,
    face: Face,
}

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

impl SetUp {
    fn drawn(from: &mut Drawn) -> Self {
        let thickness = from.over_decades(0.5, 1000.0);
        let angle = from.between(1.0, 89.0);
        let legs = from.between(0.02, 9.0);
        let path = thickness * legs / f64::from(angle).to_radians().cos() as f32;
        Self {
            thickness,
            angle,
            path: if path < 10_000.0 { path } else { 10_000.0 },
            x: from.between(-2000.0, 2000.0),
            standoff: from.between(0.0, 500.0),
            index: from.between(-3.0, 3.0),
            skew: from.between(-89.0, 89.0),
            side: from.one_of(&[Side::A, Side::B]),
            face: from.one_of(&[Face::Near, Face::Far]),
        }
    }

    fn axis(&self) -> Axis {
        Axis::new(Degrees::new(self.angle).unwrap()).unwrap()
    }

    fn part(&self) -> Part {
        Part::Flat(Plate::new(mm(self.thickness)).unwrap())
    }

    fn position(&self) -> Position {
        let position = Position::new(self.side, mm(self.x), mm(self.standoff), mm(self.index)).unwrap();
        position.skewed(Degrees::new(self.skew).unwrap()).unwrap().on(self.face)
    }

    fn inputs(&self) -> Inputs {
        Inputs {
            thickness: self.thickness.into(),
            angle: self.angle.into(),
            path: self.path.into(),
            standoff: self.standoff.into(),
            index: self.index.into(),
        }
    }

    /// The ray's end when the inputs are these.
    fn follow(&self, with: Inputs) -> End {
        let look = if self.side == Side::A { 1.0 } else { -1.0 };
        let slab = Slab { thickness: with.thickness };
        let index_point = [self.x.into(), look * (with.index - with.standoff)];
        let far = self.face == Face::Far;
        Ray::of_probe(index_point, look, with.angle, self.skew.into(), slab, far).follow(with.path, slab)
    }
}

/// The inputs that carry an uncertainty.
#[derive(Clone, Copy, Debug)]
struct Inputs {
    thickness: f64,
    angle: f64,
    path: f64,
    standoff: f64,
    index: f64,
}

fn within(got: f32, expected: f64, term: f64) -> bool {
    (f64::from(got) - expected).abs() <= PROMISED * term
}

#[test]
fn places_agree_with_rays_followed_face_by_face() {
    let (mut from, mut legs) = (Drawn::seeded(20), [0; 10]);
    for _ in 0..20_000 {
        let set_up = SetUp::drawn(&mut from);
        let end = set_up.follow(set_up.inputs());
        if end.clear < 1e-5 * f64::from(set_up.thickness) * f64::from(end.pieces) {
            continue;
        }
        let place = locate(&set_up.axis(), &set_up.part(), &set_up.position(), mm(set_up.path), Peaked::Axis)
            .unwrap();
        let [x, y, z] = end.at;
        let reach = f64::from(set_up.path) * f64::from(set_up.angle).to_radians().sin();
        let across = [reach, set_up.standoff.into(), set_up.index.abs().into()].into_iter().fold(0.0, larger);
        assert_eq!(place.leg, end.pieces, "{set_up:?}");
        assert!(
            within(place.x.get(), x, larger(reach, set_up.x.abs().into())),
            "x {place:?} {end:?} {set_up:?}"
        );
        assert!(within(place.y.get(), y, across), "y {place:?} {end:?} {set_up:?}");
        let deepest = f64::from(set_up.thickness) * f64::from(end.pieces);
        assert!(within(place.z.get(), z, deepest), "z {place:?} {end:?} {set_up:?}");
        legs[place.leg as usize] += 1;
    }
    assert!(legs[1..10].iter().all(|&count| count > 500), "{legs:?}");
}

fn larger(first: f64, second: f64) -> f64 {
    if second > first { second } else { first }
}

/// How y and z of the ray's end change with one input, by central difference.
fn slopes(set_up: &SetUp, step: f64, change: impl Fn(&mut Inputs, f64)) -> (f64, f64) {
    let at = |by: f64| {
        let mut inputs = set_up.inputs();
        change(&mut inputs, by);
        set_up.follow(inputs).at
    };
    let ([_, y1, z1], [_, y0, z0]) = (at(step), at(-step));
    ((y1 - y0) / (2.0 * step), (z1 - z0) / (2.0 * step))
}

/// A part in which sound is so much faster: the path is longer, and by Snell's law the sine of the angle larger.
fn faster(inputs: &mut Inputs, by: f64) {
    inputs.path *= 1.0 + by;
    inputs.angle = (inputs.angle.to_radians().sin() * (1.0 + by)).asin().to_degrees();
}

#[test]
fn partial_derivatives_agree_with_differences_of_rays() {
    let mut from = Drawn::seeded(21);
    let mut compared = 0;
    for _ in 0..5_000 {
        let set_up = SetUp::drawn(&mut from);
        let end = set_up.follow(set_up.inputs());
        let step = 1e-6 * f64::from(set_up.thickness) / f64::from(end.pieces);
        if end.clear < 1e-3 * f64::from(set_up.thickness) || set_up.angle > 88.0 {
            continue;
        }
        compared += 1;
        let place = locate(&set_up.axis(), &set_up.part(), &set_up.position(), mm(set_up.path), Peaked::Axis)
            .unwrap();
        let path = f64::from(set_up.path);
        let per_degree = step / path;
        for (name, (y, z), partial) in [
            (
                "angle",
                slopes(&set_up, per_degree, |inputs, by| inputs.angle += by),
                (|p| p.angle) as fn(&Partials) -> f32,
            ),
            ("path", slopes(&set_up, step, |inputs, by| inputs.path += by), |p| p.path),
            ("standoff", slopes(&set_up, step, |inputs, by| inputs.standoff += by), |p| p.standoff),
            ("index", slopes(&set_up, step, |inputs, by| inputs.index += by), |p| p.index),
            ("thickness", slopes(&set_up, step, |inputs, by| inputs.thickness += by), |p| p.thickness),
            ("velocity", slopes(&set_up, per_degree, faster), |p| p.velocity),
        ] {
            let scale = match name {
                "angle" => path * 0.02,
                // Path and angle are moved alike: by path tan a across the beam.
                "velocity" => path * (1.0 + f64::from(set_up.angle).to_radians().tan()),
                _ => f64::from(end.pieces),
            };
            for (coordinate, slope, partials) in [("y", y, &place.y_partials), ("z", z, &place.z_partials)] {
                let got = f64::from(partial(partials));
                assert!(
                    (got - slope).abs() <= 2e-4 * scale,
                    "d{coordinate}/d{name} {got} {slope} {set_up:?}"
                );
            }
        }
    }
    assert!(compared > 4_000, "{compared}");
}

#[test]
fn corners_agree_with_rays_tried_at_many_angles() {
    let mut from = Drawn::seeded(22);
    for _ in 0..1_000 {
        let set_up = SetUp { face: Face::Near, skew: 0.0, index: 0.0, x: 0.0, ..SetUp::drawn(&mut from) };
        let count = from.one_of(&[1, 2, 3, 4]);
        let angle = from.between(20.0, 80.0);
        let path = count as f32 * set_up.thickness / f64::from(angle).to_radians().cos() as f32;
        if path > 9_000.0 {
            continue;
        }
        let axis = Axis::new(Degrees::new(angle).unwrap()).unwrap();
        let distance = Ray::corner(path.into(), count, Slab { thickness: set_up.thickness.into() });
        let place = locate(&axis, &set_up.part(), &set_up.position(), mm(path), Peaked::Corner).unwrap();
        assert_eq!(place.leg, count);
        assert!(within(place.distance.get(), distance, path.into()), "{place:?} {distance} {set_up:?}");

        // Slopes of the same construction: path and thickness alone, the angle drops out.
        let look = if set_up.side == Side::A { 1.0 } else { -1.0 };
        let at = |path: f64, thickness: f64| look * Ray::corner(path, count, Slab { thickness });
        let (path, thickness) = (f64::from(path), f64::from(set_up.thickness));
        let step = 1e-6 * thickness;
        let per_path = (at(path + step, thickness) - at(path - step, thickness)) / (2.0 * step);
        let per_thickness = (at(path, thickness + step) - at(path, thickness - step)) / (2.0 * step);
        let scale = path / distance * f64::from(count);
        assert!((f64::from(place.y_partials.path) - per_path).abs() < 1e-4 * scale, "{place:?} {per_path}");
        assert!(
            (f64::from(place.y_partials.thickness) - per_thickness).abs() < 1e-4 * scale,
            "{per_thickness}"
        );
        assert_eq!(place.y_partials.angle, 0.0);
    }
}
