//! Tips seen together with a corner, against rays aimed by trial at both: places, heights and their slopes.

use halfskip::evaluate::sizing::height::{BrokenFace, from_face};
use halfskip::findings::{corner_with, evaluate};
use halfskip::part::Part;
use halfskip::part::locate::{Partials, Peaked, Position, SeenTogether, Side, locate};
use halfskip::part::path::{Axis, Plate};
use halfskip::units::{Degrees, Millimetres};
use halfskip_host_tests::accuracy::PROMISED;
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::job::job;
use halfskip_host_tests::rays::{End, Ray, Slab};

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

/// What was measured: the corner's face, its path, the tip's path, the thickness.
#[derive(Clone, Copy, Debug)]
struct Seen {
    count: u32,
    corner: f64,
    tip: f64,
    thickness: f64,
}

/// The tip's place: the corner fixes the surface distance, and one ray comes to that distance after the tip's path.
fn tip_of(seen: Seen) -> End {
    let slab = Slab { thickness: seen.thickness };
    let distance = Ray::corner(seen.corner, seen.count, slab);
    let angle = (distance / seen.tip).asin().to_degrees();
    Ray::of_probe([0.0, 0.0], 1.0, angle, 0.0, slab, false).follow(seen.tip, slab)
}

/// How the tip's depth changes with one input, by central difference.
fn slope(seen: Seen, step: f64, change: impl Fn(&mut Seen, f64)) -> f64 {
    let at = |by: f64| {
        let mut seen = seen;
        change(&mut seen, by);
        let [_, _, z] = tip_of(seen).at;
        z
    };
    (at(step) - at(-step)) / (2.0 * step)
}

#[test]
fn tips_tied_to_a_corner_agree_with_rays_aimed_by_trial() {
    let mut from = Drawn::seeded(30);
    let mut compared = [0; 4];
    while compared[1] < 300 || compared[2] < 300 || compared[3] < 100 {
        let thickness = from.over_decades(2.0, 200.0);
        let angle = from.between(40.0, 72.0);
        let count = from.one_of(&[1u32, 2]);
        let height = thickness * from.between(0.05, 0.6);
        let above = from.one_of(&[true, false]);
        let depth = count as f32 * thickness + if above { -height } else { height };
        let corner_path = f64::from(count as f32 * thickness) / f64::from(angle).to_radians().cos();
        let distance = Ray::corner(corner_path, count, Slab { thickness: thickness.into() });
        let (corner, tip) = (corner_path as f32, distance.hypot(depth.into()) as f32);

        let (axis, plate) =
            (Axis::new(Degrees::new(angle).unwrap()).unwrap(), Plate::new(mm(thickness)).unwrap());
        let probe = Position::new(Side::A, mm(0.0), mm(0.0), mm(0.0)).unwrap();
        let base = locate(&axis, &Part::Flat(plate), &probe, mm(corner), Peaked::Corner).unwrap();
        let known = SeenTogether::from_corner(&probe, &base);
        let place = locate(&axis, &Part::Flat(plate), &probe, mm(tip), Peaked::Together(known)).unwrap();

        let seen = Seen { count, corner: corner.into(), tip: tip.into(), thickness: thickness.into() };
        let end = tip_of(seen);
        let [_, _, z] = end.at;
        compared[end.pieces as usize] += 1;
        assert_eq!(place.leg, end.pieces, "{seen:?}");
        assert!((f64::from(place.z.get()) - z).abs() <= PROMISED * f64::from(corner), "{place:?} {end:?}");
        let face = if count == 1 { BrokenFace::Far } else { BrokenFace::Near };
        let found = from_face(face, &plate, &place);
        assert!((found.height - height).abs() <= 4e-6 * corner, "{found:?} {height} {seen:?}");

        let step = 1e-6 * f64::from(thickness);
        let of_tip = slope(seen, step, |seen, by| seen.tip += by);
        let of_corner = slope(seen, step, |seen, by| seen.corner += by);
        let of_thickness = slope(seen, step, |seen, by| seen.thickness += by);
        let of_velocity = slope(seen, 1e-7, |seen, by| {
            seen.tip *= 1.0 + by;
            seen.corner *= 1.0 + by;
        });
        let Partials { path, thickness: per_thickness, velocity, angle: per_degree, .. } = place.z_partials;
        let close = |got: f32, expected: f64, scale: f64| (f64::from(got) - expected).abs() <= 1e-3 * scale;
        let scale = f64::from(corner) / f64::from(thickness) + f64::from(count);
        assert!(close(path.abs(), of_tip.hypot(of_corner), scale), "{path} {of_tip} {of_corner}");
        assert!(close(per_thickness, of_thickness, scale), "{per_thickness} {of_thickness} {seen:?}");
        assert!(close(velocity, of_velocity, scale * f64::from(corner)), "{velocity} {of_velocity}");
        assert_eq!(per_degree, 0.0);
        let turned = if face == BrokenFace::Far { 1.0 - of_thickness } else { of_thickness };
        assert!(close(found.partials.thickness, turned, scale), "{found:?} {turned}");
    }
}

#[test]
fn why_names_the_corner_that_the_tip_was_located_with() {
    let before = "joint butt thickness=20 prep=square gap=2\nprobe p angle=45 frequency=4 element=9\n";
    let read = |point: &str, x: u32, path: f32, height: &str| {
        format!(
            "reading 1 probe=p side=a x={x} standoff=20 path={path} height={height} gain=40 point={point} together=1\n"
        )
    };
    // The first was not seen, the second at another place of the probe; the third fixes the tip.
    let corners =
        [read("corner", 100, 28.6, "under"), read("corner", 60, 28.5, "80"), read("corner", 100, 28.3, "80")];
    let job = job(&format!("{before}{}{}", corners.concat(), read("upper-tip", 100, 26.0, "30")));
    let facts = job.examination().facts();
    let tip = facts.readings().last().unwrap();
    assert_eq!(corner_with(&facts, tip).map(|corner| corner.map(|corner| corner.number())), Ok(Some(5)));
    let distance = |number: u32| {
        let reading = facts.readings().find(|reading| reading.number() == number).unwrap();
        evaluate(&facts, reading).place.unwrap().distance
    };
    assert_eq!(distance(6), distance(5));
    let mut why = String::new();
    job.ask(b"why 1", &mut why);
    let words = why.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("of the corner seen together with it, entry 5"), "{why}");
}

#[test]
fn of_echoes_that_know_the_place_equally_well_the_first_one_fixes_the_tip() {
    let before = "joint butt thickness=20 prep=square gap=2\nprobe p angle=60 frequency=4 element=9\n";
    let echo = |standoff: f32| {
        format!("reading 1 probe=p side=a x=100 standoff={standoff} path=20 height=80 gain=60\n")
    };
    let tip =
        "reading 1 probe=p side=a x=100 standoff=17 path=19 height=20 gain=60 point=upper-tip together=1";
    for (first, second, y) in [(17.0, 19.0, 0.32), (19.0, 17.0, -1.68)] {
        let job = job(&format!("{before}{}{}{tip}", echo(first), echo(second)));
        let facts = job.examination().facts();
        let place = evaluate(&facts, facts.readings().last().unwrap()).place.unwrap();
        // 20 sin 60° − p
        assert!((place.y.get() - y).abs() < 0.01, "{place:?}");
    }
}
