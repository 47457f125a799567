//! Curved parts against rays followed circle by circle, and against the plate that they become as the radius grows.

use halfskip::part::Part;
use halfskip::part::curved::{Course, CurvedError, Pipe};
use halfskip::part::joint::ScannedFrom;
use halfskip::part::locate::{Face, Partials, Peaked, Place, Position, SeenTogether, Side, locate};
use halfskip::part::path::{Axis, Plate};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::accuracy::PROMISED;
use halfskip_host_tests::circles::{End, Wall};
use halfskip_host_tests::drawn::Drawn;

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

fn axis(angle: f32) -> Axis {
    Axis::new(Degrees::new(angle).unwrap()).unwrap()
}

/// One set-up of a probe on a pipe, in single precision.
#[derive(Clone, Copy, Debug)]
struct SetUp {
    od: f32,
    thickness: f32,
    from: ScannedFrom,
    angle: f32,
    path: f32,
    standoff: f32,
    index: f32,
    skew: f32,
    side: Side,
    face: Face,
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

impl SetUp {
    fn drawn(from: &mut Drawn) -> Self {
        let od = from.over_decades(20.0, 20_000.0);
        let share = from.over_decades(0.005, 0.45);
        let mut set_up = Self {
            od,
            thickness: (od * share).clamp(0.5, 900.0),
            from: from.one_of(&[ScannedFrom::Outside, ScannedFrom::Inside]),
            angle: from.between(20.0, 80.0),
            path: 0.0,
            standoff: from.between(0.0, 200.0),
            index: from.between(-3.0, 3.0),
            skew: from.one_of(&[0.0, 0.0, from.clone().between(-60.0, 60.0)]),
            side: from.one_of(&[Side::A, Side::B]),
            face: from.one_of(&[Face::Near, Face::Near, Face::Far]),
        };
        let leg = Course::new(&axis(set_up.angle), &set_up.met()).leg_length();
        let path = leg * from.between(0.02, 5.0);
        set_up.path = if path < 9_000.0 { path } else { 9_000.0 };
        set_up
    }

    fn pipe(&self) -> Pipe {
        Pipe::new(mm(self.od), mm(self.thickness), self.from).unwrap()
    }

    /// The pipe from the face that the probe stands on.
    fn met(&self) -> Pipe {
        if self.face == Face::Far { self.pipe().turned() } else { self.pipe() }
    }

    fn wall(&self, thickness: f64) -> Wall {
        let outer = f64::from(self.od) / 2.0;
        Wall { outer, inner: outer - thickness, inside: self.met().from() == ScannedFrom::Inside }
    }

    fn position(&self) -> Position {
        let position = Position::new(self.side, mm(0.0), mm(self.standoff), mm(self.index)).unwrap();
        position.skewed(Degrees::new(self.skew).unwrap()).unwrap().on(self.face)
    }

    fn place(&self) -> Place {
        locate(&axis(self.angle), &Part::Around(self.pipe()), &self.position(), mm(self.path), Peaked::Axis)
            .unwrap()
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

    fn follow(&self, with: Inputs) -> End {
        self.wall(with.thickness).follow(with.angle, self.skew.into(), with.path)
    }

    /// y along the near face and z below it of the ray's end when the inputs are these.
    fn end(&self, with: Inputs) -> [f64; 2] {
        let (end, wall) = (self.follow(with), self.wall(with.thickness));
        let (near, stood_on) = match (self.from, self.face) {
            (ScannedFrom::Outside, Face::Near) => (wall.outer, wall.outer),
            (ScannedFrom::Outside, Face::Far) => (wall.outer, wall.inner),
            (ScannedFrom::Inside, Face::Near) => (wall.inner, wall.inner),
            (ScannedFrom::Inside, Face::Far) => (wall.inner, wall.outer),
        };
        let ahead = (with.index - with.standoff) / stood_on + end.turned;
        [f64::from(self.side.sign()) * ahead * near, (end.radius - near).abs()]
    }

    /// Whether the ray ends clearly within a leg, and the beam does not graze the bore.
    fn is_clear(&self, share: f64) -> bool {
        let end = self.follow(self.inputs());
        let turned = |by: f64| {
            let inputs = Inputs { angle: f64::from(self.angle) * (1.0 + by), ..self.inputs() };
            self.follow(inputs).missed
        };
        let grazes = self.follow(self.inputs()).missed != turned(share)
            || self.follow(self.inputs()).missed != turned(-share);
        end.clear > share * f64::from(self.thickness) * f64::from(end.pieces) && !grazes
    }
}

fn within(got: f32, expected: f64, term: f64) -> bool {
    (f64::from(got) - expected).abs() <= PROMISED * term
}

#[test]
fn places_agree_with_rays_followed_circle_by_circle() {
    let (mut from, mut legs, mut missed) = (Drawn::seeded(40), [0; 20], 0);
    for _ in 0..20_000 {
        let set_up = SetUp::drawn(&mut from);
        // Single precision holds the skew's sine and cosine: near grazing a skewed beam magnifies their rounding.
        if !set_up.is_clear(if set_up.skew == 0.0 { 1e-4 } else { 3e-2 }) {
            continue;
        }
        let (end, [y, z]) = (set_up.follow(set_up.inputs()), set_up.end(set_up.inputs()));
        let place = set_up.place();
        assert_eq!(place.leg, end.pieces, "{set_up:?} {end:?}");
        let term = f64::from(set_up.path) + f64::from(set_up.standoff);
        assert!(within(place.y.get(), y, term), "y {place:?} {y} {set_up:?}");
        assert!(within(place.z.get(), z, term), "z {place:?} {z} {set_up:?}");
        assert!(within(place.x.get(), end.x, term), "x {place:?} {end:?}");
        legs[place.leg as usize] += 1;
        missed += usize::from(end.missed);
    }
    assert!(legs[1..6].iter().all(|&count| count > 1_000) && missed > 1_000, "{legs:?} {missed}");
}

/// A part in which sound is so much faster: the path is longer, and by Snell's law the sine of the angle larger.
fn faster(inputs: &mut Inputs, by: f64) {
    inputs.path *= 1.0 + by;
    inputs.angle = (inputs.angle.to_radians().sin() * (1.0 + by)).asin().to_degrees();
}

#[test]
fn partial_derivatives_agree_with_differences_of_rays() {
    let (mut from, mut compared) = (Drawn::seeded(41), 0);
    for _ in 0..5_000 {
        let set_up = SetUp::drawn(&mut from);
        if !set_up.is_clear(1e-2) {
            continue;
        }
        compared += 1;
        let (place, step) = (set_up.place(), 1e-6 * f64::from(set_up.thickness));
        let path = f64::from(set_up.path);
        let slopes = |step: f64, change: fn(&mut Inputs, f64)| {
            let at = |by: f64| {
                let mut inputs = set_up.inputs();
                change(&mut inputs, by);
                set_up.end(inputs)
            };
            let ([y1, z1], [y0, z0]) = (at(step), at(-step));
            [(y1 - y0) / (2.0 * step), (z1 - z0) / (2.0 * step)]
        };
        let partial = |read: fn(&Partials) -> f32| [read(&place.y_partials), read(&place.z_partials)];
        for (name, expected, got) in [
            ("angle", slopes(step / path, |inputs, by| inputs.angle += by), partial(|p| p.angle)),
            ("path", slopes(step, |inputs, by| inputs.path += by), partial(|p| p.path)),
            ("standoff", slopes(step, |inputs, by| inputs.standoff += by), partial(|p| p.standoff)),
            ("index", slopes(step, |inputs, by| inputs.index += by), partial(|p| p.index)),
            ("thickness", slopes(step, |inputs, by| inputs.thickness += by), partial(|p| p.thickness)),
            ("velocity", slopes(step / path, faster), partial(|p| p.velocity)),
        ] {
            let scale = match name {
                "angle" => path * 0.02,
                "velocity" => path,
                _ => 5.0,
            };
            for (expected, got) in expected.into_iter().zip(got) {
                let scale = if expected.abs() > scale { expected.abs() } else { scale };
                assert!(
                    (f64::from(got) - expected).abs() <= 2e-4 * scale,
                    "{name} {got} {expected} {set_up:?}"
                );
            }
        }
    }
    assert!(compared > 3_000, "{compared}");
}

#[test]
fn a_corner_lies_where_a_ray_of_any_angle_meets_the_face_after_that_path() {
    let (mut from, mut compared) = (Drawn::seeded(42), 0);
    for _ in 0..4_000 {
        let set_up =
            SetUp { skew: 0.0, face: Face::Near, index: 0.0, standoff: 0.0, ..SetUp::drawn(&mut from) };
        let course = Course::new(&axis(set_up.angle), &set_up.pipe());
        let count = from.one_of(&[1, 2, 3, 4]);
        // The corner's own ray is up to two degrees off the axis.
        let ray = f64::from(set_up.angle + from.between(-2.0, 2.0));
        let wall = set_up.wall(set_up.thickness.into());
        let own = Pipe::new(mm(set_up.od), mm(set_up.thickness), set_up.from).unwrap();
        let own = Course::new(&axis(ray as f32), &own);
        if own.misses_bore() || course.misses_bore() {
            continue;
        }
        let path = own.leg_length() * count as f32;
        let off = (f64::from(path) / f64::from(course.leg_length()) - f64::from(count)).abs();
        if path > 9_000.0 || off > 0.45 {
            continue;
        }
        compared += 1;
        // Just short of the face, so that the count of pieces is sure.
        let end = wall.follow(ray as f32 as f64, 0.0, f64::from(path) * (1.0 - 1e-9));
        let place = locate(
            &axis(set_up.angle),
            &Part::Around(set_up.pipe()),
            &set_up.position(),
            mm(path),
            Peaked::Corner,
        )
        .unwrap();
        let radius = f64::from(set_up.pipe().scanned_radius());
        assert_eq!(place.leg, count, "{set_up:?}");
        let tangent = f64::from(own.half_skip()) / f64::from(own.leg_length());
        let term = f64::from(path) * (1.0 + 1.0 / tangent);
        let y = f64::from(set_up.side.sign()) * end.turned * radius;
        assert!((f64::from(place.y.get()) - y).abs() <= 3e-6 * term, "{place:?} {y} {set_up:?}");
        assert_eq!(place.z.get(), if count % 2 == 1 { set_up.pipe().thickness() } else { 0.0 });
        assert_eq!(place.y_partials.angle, 0.0);
    }
    assert!(compared > 1_500, "{compared}");
}

#[test]
fn a_tip_seen_together_with_its_corner_lies_on_the_ray_that_reaches_it() {
    let (mut from, mut legs) = (Drawn::seeded(43), [0; 4]);
    for _ in 0..6_000 {
        let set_up = SetUp { skew: 0.0, ..SetUp::drawn(&mut from) };
        let ray = SetUp { angle: set_up.angle + from.between(-2.0, 2.0), ..set_up };
        let missed = |set_up: &SetUp| set_up.follow(set_up.inputs()).missed;
        if missed(&ray) || missed(&set_up) || !ray.is_clear(1e-2) || ray.place().leg > 3 {
            continue;
        }
        // The reflector is at the end of a ray beside the axis; its y is known from elsewhere.
        let reflector = ray.place();
        let known = SeenTogether::from_corner(&set_up.position(), &reflector);
        let (axis, pipe, path) = (axis(set_up.angle), set_up.pipe(), mm(set_up.path));
        let tip =
            locate(&axis, &Part::Around(pipe), &set_up.position(), path, Peaked::Together(known)).unwrap();
        let scale = f64::from(set_up.path) + f64::from(set_up.standoff);
        // Steep rays: a depth by the leg's length is as sensitive to the arc as the tangent of the angle.
        assert!(
            within(tip.z.get(), reflector.z.get().into(), 30.0 * scale),
            "{tip:?} {reflector:?} {set_up:?}"
        );
        assert_eq!((tip.leg, tip.y), (reflector.leg, reflector.y));
        legs[tip.leg as usize] += 1;
    }
    assert!(legs[1..].iter().all(|&count| count > 300), "{legs:?}");
}

#[test]
fn everything_becomes_the_flat_plate_as_the_radius_grows() {
    let mut from = Drawn::seeded(44);
    for _ in 0..2_000 {
        let set_up = SetUp {
            od: 100_000.0,
            thickness: from.over_decades(2.0, 30.0),
            angle: from.between(30.0, 75.0),
            ..SetUp::drawn(&mut from)
        };
        let (axis, plate) = (axis(set_up.angle), Plate::new(mm(set_up.thickness)).unwrap());
        let leg = plate.leg_length(&axis);
        let path = mm(leg * (from.one_of(&[0.0, 1.0, 2.0]) + from.between(0.05, 0.95)));
        let (pipe, position) = (set_up.pipe(), set_up.position());
        let curved = locate(&axis, &Part::Around(pipe), &position, path, Peaked::Axis).unwrap();
        let flat = locate(&axis, &Part::Flat(plate), &position, path, Peaked::Axis).unwrap();
        let near = |curved: &Place, flat: &Place, times: f32| {
            assert_eq!(curved.leg, flat.leg);
            // A chord falls short of the tangent by its square over the diameter, and the two faces differ by t / R.
            let sag = times * (path.get() * path.get() / 10_000.0 + 0.01 + 7e-4 * set_up.standoff);
            assert!((curved.y.get() - flat.y.get()).abs() < sag, "{curved:?} {flat:?}");
            assert!((curved.z.get() - flat.z.get()).abs() < sag, "{curved:?} {flat:?}");
            for (of_curved, of_flat) in
                [(&curved.y_partials, &flat.y_partials), (&curved.z_partials, &flat.z_partials)]
            {
                let pairs = [
                    (of_curved.angle, of_flat.angle),
                    (of_curved.path, of_flat.path),
                    (of_curved.standoff, of_flat.standoff),
                    (of_curved.thickness, of_flat.thickness),
                ];
                for (curved, flat) in pairs {
                    assert!(
                        (curved - flat).abs() < 0.02 * times * (1.0 + flat.abs()),
                        "{curved} {flat} {set_up:?}"
                    );
                }
            }
        };
        near(&curved, &flat, 1.0);
        let square = SetUp { skew: 0.0, ..set_up }.position();
        let corner_path = mm(leg * (from.one_of(&[1.0, 2.0, 3.0]) + from.between(-0.02, 0.02)));
        let corner = locate(&axis, &Part::Around(pipe), &square, corner_path, Peaked::Corner).unwrap();
        let flat_corner = locate(&axis, &Part::Flat(plate), &square, corner_path, Peaked::Corner).unwrap();
        near(&corner, &flat_corner, 1.0);
        let known = SeenTogether::from_place(&square, &flat_corner, true);
        let tip_path = mm(corner_path.get() - 0.1 * leg);
        let tip = locate(&axis, &Part::Around(pipe), &square, tip_path, Peaked::Together(known));
        let flat_tip = locate(&axis, &Part::Flat(plate), &square, tip_path, Peaked::Together(known));
        if let (Ok(tip), Ok(flat_tip)) = (tip, flat_tip)
            && flat_tip.z_partials.path.abs() < 5.0
        {
            // A depth by the arc moves by the tangent of the ray's angle times the arc's own fault.
            near(&tip, &flat_tip, 5.0);
        }
    }
}

#[test]
fn sides_mirror_each_other_to_the_last_bit() {
    let mut from = Drawn::seeded(45);
    for _ in 0..500 {
        let set_up = SetUp { side: Side::A, ..SetUp::drawn(&mut from) };
        let (a, b) = (set_up.place(), SetUp { side: Side::B, ..set_up }.place());
        assert_eq!((a.y.get(), a.z, a.leg, a.x), (0.0 - b.y.get(), b.z, b.leg, b.x));
    }
}

#[test]
fn reach_undoes_a_path_and_tells_what_lies_deeper_than_the_beam_gets() {
    let (mut from, mut too_deep) = (Drawn::seeded(46), 0);
    for _ in 0..4_000 {
        let set_up = SetUp::drawn(&mut from);
        let course = Course::new(&axis(set_up.angle), &set_up.pipe());
        let (leg, share) = (from.one_of(&[1, 2, 3, 4]), from.between(0.05, 0.99));
        let depth = set_up.pipe().thickness() * share;
        match course.reach(leg, mm(depth)) {
            Ok((path, arc)) => {
                let end = course.at(path).unwrap();
                // Near the deepest point a path runs level: the depth it is read from there is blurred.
                let blur = 2e-6 * (path.get() + depth);
                assert!((end.depth - depth).abs() <= blur, "{end:?} {depth} {set_up:?}");
                assert!((end.distance - arc.get()).abs() <= 2e-6 * (path.get() + arc.get()));
                assert!(depth <= course.deepest() + blur);
            }
            Err(CurvedError::TooDeep { .. }) => {
                assert!(course.misses_bore());
                assert!(depth >= course.deepest() * (1.0 - 1e-6));
                too_deep += 1;
            }
            // The only other thing in the way is a path outside its range.
            Err(error) => assert!(matches!(error, CurvedError::Range(_)), "{error} {set_up:?}"),
        }
    }
    assert!(too_deep > 100, "{too_deep}");
}
