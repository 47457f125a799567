//! Block and part of different velocities and temperatures: what the beam is in the part, and what an error of the
//! velocity does. The expected figures are worked out here from Snell's law and the path, in f64.

use halfskip::findings::{Undetermined, cautions, evaluate};
use halfskip::part::locate::Place;
use halfskip_host_tests::job::{answers, findings, job, refusal};

const SHEET: &str = "title = 'invented'\nsource = 'invented'\nmeasure = 'level'\nlength-by = 'drop-6'\n[[row]]\nverdict = 'accept'\n";

fn place_of(lines: &str) -> Result<Place, Undetermined> {
    let job = job(lines);
    let facts = job.examination().facts();
    let last = facts.readings().last().unwrap();
    evaluate(&facts, last).place
}

fn uncertainty(lines: &str) -> (f32, f32) {
    let job = job(lines);
    let facts = job.examination().facts();
    let last = facts.readings().last().unwrap();
    evaluate(&facts, last).uncertainty().unwrap()
}

fn told(lines: &str) -> Vec<String> {
    let job = job(lines);
    let (facts, mut told) = (job.examination().facts(), Vec::new());
    cautions(findings(&facts, None), |caution| told.push(caution.told(&facts).to_string()));
    told
}

/// A block of 3.255 mm/us, and a part as its material says.
fn of_material(material: &str, angle: f64, reading: &str) -> String {
    format!(
        "{material}\njoint butt thickness=40 prep=square gap=0\nprobe p angle={angle} frequency=4 element=9\n\
         timebase p velocity=3.255 delay=2.5\nreading 1 probe=p side=a x=0 {reading} height=50 gain=40\n"
    )
}

#[test]
fn in_another_metal_than_the_blocks_path_and_angle_are_both_turned() {
    let (shown, block, part) = (60.0f64, 3.255f64, 3.2f64);
    let path = shown * part / block;
    let angle = (70f64.to_radians().sin() * part / block).asin();
    // 58.99 mm at 67.49 degrees, y -1.9 and z 22.6; as on the block 60 mm at 70 degrees, 0.0 and 20.5.
    assert!((path - 58.99).abs() < 0.005 && (angle.to_degrees() - 67.49).abs() < 0.005);
    let (y, z) = (path * angle.sin() - 56.4, path * angle.cos());
    assert!((y + 1.9).abs() < 0.05 && (z - 22.6).abs() < 0.05);
    let lines = of_material("material m shear=3.2 long=5.9", 70.0, "standoff=56.4 path=60");
    let found = place_of(&lines).unwrap();
    assert!((f64::from(found.y.get()) - y).abs() < 1e-3 && (f64::from(found.z.get()) - z).abs() < 1e-3);
    // The same by the time: 2.5 + 2 · 60 / 3.255.
    let time = 2.5 + 2.0 * shown / block;
    let by_time =
        of_material("material m shear=3.2 long=5.9", 70.0, &format!("standoff=56.4 time={time:.4}"));
    let timed = place_of(&by_time).unwrap();
    assert!((timed.z.get() - found.z.get()).abs() < 1e-3 && (timed.y.get() - found.y.get()).abs() < 1e-3);
    let [why] = answers(SHEET, by_time.lines(), ["why 1"]);
    assert!(why.contains("s_b c_b (time - delay) / 2 = 3.255 mm/us"), "{why}");
    assert!(why.contains("s s_b c / c_b = 60.00 x 3.200 / 3.255 = 58.99 mm, c of the part"), "{why}");
    assert!(why.contains("a sin a = sin a_b c / c_b = sin 70.00 deg x 3.200 / 3.255: 67.49 deg"), "{why}");
}

#[test]
fn the_velocity_of_a_table_counts_as_the_blocks_within_30_metres_a_second_and_turns_the_beam_beyond() {
    let at = |material: &str, velocity: &str| {
        let lines = of_material(material, 60.0, "standoff=40 path=40").replace("velocity=3.255", velocity);
        place_of(&lines).unwrap().z.get()
    };
    assert_eq!(at("material steel", "velocity=3.230"), 20.0);
    assert_eq!(at("material steel", "velocity=3.285"), 20.0);
    assert!(at("material steel", "velocity=3.290") > 20.3);
    // A velocity of the part's own counts to the last metre a second.
    assert!(at("material m shear=3.250 long=5.9", "velocity=3.255") > 20.01);
    assert_eq!(at("material m shear=3.255 long=5.9", "velocity=3.255"), 20.0);
}

#[test]
fn an_error_of_the_velocity_moves_path_and_angle() {
    let none = "tolerance angle=0 path=0 index=0 standoff=0 thickness=0 velocity=0.03\n";
    for (angle, printed_y, printed_z) in [(70.0f64, 1.20, 1.43), (60.0, 1.11, 0.64), (45.0, 0.90, 0.0)] {
        let lines = of_material("", angle, "standoff=50 path=60").replacen('\n', none, 1);
        let (u_y, u_z) = uncertainty(&lines);
        // U = 2 half / √3 of the slope, the slope as a difference of the whole formula.
        let at = |c: f64| {
            let (path, sine) = (60.0 * c / 3.255, angle.to_radians().sin() * c / 3.255);
            (path * sine, path * (1.0 - sine * sine).sqrt())
        };
        let (up, down) = (at(3.256), at(3.254));
        let of = |up: f64, down: f64| ((up - down) / 0.002).abs() * 0.03 * 2.0 / 3f64.sqrt();
        let (y, z) = (of(up.0, down.0), of(up.1, down.1));
        assert!(
            (f64::from(u_y) - y).abs() < 1e-3 && (f64::from(u_z) - z).abs() < 1e-3,
            "{angle} {u_y} {u_z}"
        );
        assert!((y - printed_y).abs() < 0.005 && (z - printed_z).abs() < 0.005, "{angle} {y} {z}");
    }
}

#[test]
fn around_a_pipe_the_velocity_acts_by_both_terms_too() {
    let none = "tolerance angle=0 path=0 index=0 standoff=0 thickness=0 velocity=0.03\n";
    let reading = |path: f64, angle: f64, extra: &str| {
        format!(
            "{extra}joint butt thickness=20 prep=square gap=0 curvature=around od=200\n\
             probe p angle={angle:.4} frequency=4 element=9\ntimebase p velocity=3.255 delay=2.5\n\
             reading 1 probe=p side=b x=0 standoff=30 path={path:.4} height=50 gain=40\n"
        )
    };
    for path in [20.0f64, 45.0] {
        let (u_y, u_z) = uncertainty(&reading(path, 45.0, none));
        let at = |change: f64| {
            let sine = 45f64.to_radians().sin() * (1.0 + change);
            let place = place_of(&reading(path * (1.0 + change), sine.asin().to_degrees(), "")).unwrap();
            (f64::from(place.y.get()), f64::from(place.z.get()))
        };
        let (up, down) = (at(0.002), at(-0.002));
        let of = |up: f64, down: f64| ((up - down) / 0.004).abs() * 0.03 / 3.255 * 2.0 / 3f64.sqrt();
        let (y, z) = (of(up.0, down.0), of(up.1, down.1));
        assert!(
            (f64::from(u_y) - y).abs() < 0.01 && (f64::from(u_z) - z).abs() < 0.01,
            "{path} {u_y} {y} {u_z} {z}"
        );
    }
}

#[test]
fn a_beam_that_does_not_exist_in_the_part_has_no_place_anywhere() {
    let lines = of_material("material m shear=3.5 long=6.3", 70.0, "standoff=56.4 path=60");
    let why = place_of(&lines).unwrap_err();
    let job = job(&lines);
    let state = &job.examination().facts().probes()[0];
    assert!(state.no_beam().is_some() && state.axis().is_none());
    assert_eq!(state.velocities().map(|found| (found.block().get(), found.part().get())), Some((3.255, 3.5)));
    assert!(matches!(why, Undetermined::NoBeam(_)), "{why}");
    assert!(why.to_string().contains("does not exist in the part"), "{why}");
    let [findings, plan, beam, section] =
        answers(SHEET, lines.lines(), ["findings", "plan", "beam p", "section probe=p side=a"]);
    assert!(findings.contains("does not exist in the part"), "{findings}");
    assert!(plan.contains("its beam does not exist in the part"), "{plan}");
    assert!(beam.contains("angle, in the part NONE"), "{beam}");
    assert!(section.contains("does not exist in the part"), "{section}");
}

/// An invented wedge: at 60 degrees Celsius it runs at 2.73 − 0.08 = 2.65 mm/us.
const HOT: &str = "wedge=2.73 wedge-slope=-0.002 marked-at=20 at=60";

fn warm(heat: &str, angle: &str) -> String {
    format!(
        "joint butt thickness=40 prep=square gap=0\nprobe p angle=60 frequency=4 element=9 {heat}\n{angle}\n\
         reading 1 probe=p side=a x=0 standoff=55 path=62 height=50 gain=40\n"
    )
}

#[test]
fn an_angle_measured_cold_is_used_at_the_temperature_of_the_part() {
    // 60 degrees on a block of 20 degrees Celsius: asin(sin 60 · 2.73 / 2.65) = 63.1 on the part.
    let angle = (60f64.to_radians().sin() * 2.73 / 2.65).asin();
    assert!((angle.to_degrees() - 63.1).abs() < 0.06);
    let cold = format!("{:.4}", 15.0 * 60f64.to_radians().tan());
    let lines = warm(HOT, &format!("angle p depth=15 distance={cold} at=20"));
    let found = place_of(&lines).unwrap();
    let (y, z) = (62.0 * angle.sin() - 55.0, 62.0 * angle.cos());
    assert!(
        (f64::from(found.y.get()) - y).abs() < 2e-3 && (f64::from(found.z.get()) - z).abs() < 2e-3,
        "{found:?}"
    );
    // 1.6 mm in y and 2.9 in z from the place by the angle as it was measured.
    let untold = place_of(&warm(HOT, &format!("angle p depth=15 distance={cold}"))).unwrap();
    assert!((found.y.get() - untold.y.get() - 1.6).abs() < 0.06, "{untold:?}");
    assert!((untold.z.get() - found.z.get() - 2.95).abs() < 0.06, "{untold:?}");
    let [why] = answers(SHEET, lines.lines(), ["why 1"]);
    let step = "a sin a = sin a_b w_b / w = sin 60.00 deg x 2.730 / 2.650: 63.15 deg, w of the wedge at 60 C, w_b at 20 C";
    assert!(why.contains(step), "{why}");
}

#[test]
fn an_angle_without_its_temperature_is_used_as_it_is_and_told() {
    let lines = warm(HOT, "angle p stated=60");
    assert!(
        told(&lines)
            .iter()
            .any(|text| text.contains("temperature is not recorded (at=)") && text.contains("3.1 deg"))
    );
    assert!(
        !told(&warm(HOT, "angle p stated=60 at=20")).iter().any(|text| text.contains("not recorded (at=)"))
    );
    let job = job(&lines);
    let state = &job.examination().facts().probes()[0];
    let sixty = halfskip::units::Degrees::new(60.0).ok();
    assert_eq!((state.block_at(), state.angle_on_block(), state.angle_as_marked()), (None, sixty, sixty));
    assert!((state.turned_untold().unwrap() - 3.15).abs() < 0.01);
    let [why] = answers(SHEET, lines.lines(), ["why 1"]);
    assert!(why.contains("60.00 deg as measured: the block's temperature is not recorded"), "{why}");
}

#[test]
fn a_probe_measured_hot_is_compared_at_its_marked_temperature() {
    let suspect =
        |angle: &str| told(&warm(HOT, angle)).iter().any(|text| text.contains("off the nominal one"));
    // 63.2 degrees at 60 degrees Celsius are 60.05 at the marked 20.
    assert!(!suspect("angle p stated=63.2 at=60"));
    assert!(suspect("angle p stated=63.2 at=20") && suspect("angle p stated=63.2"));
    let distance = 15.0 * 63.2f64.to_radians().tan();
    assert!(!suspect(&format!("angle p depth=15 distance={distance:.3} at=60")));
    let [beam] = answers(SHEET, warm(HOT, "angle p stated=63.2 at=60").lines(), ["beam p"]);
    assert!(beam.contains("63.2 deg at 60 C: 60.0 deg at 20 C, 0.0 deg off nominal: within"), "{beam}");
    assert!(beam.contains("angle, in the part 63.2 deg"), "{beam}");
}

#[test]
fn holes_of_one_angle_have_one_temperature() {
    let lines = "probe p angle=60 frequency=4 element=9\nangle p depth=15 distance=26 at=20\n";
    let other = refusal(&format!("{lines}angle p depth=30 distance=52 at=25"));
    assert!(other.contains("entry 2 has another"), "{other}");
    assert!(refusal(&format!("{lines}angle p depth=30 distance=52")).contains("entry 2 has another"));
    let _ = job(&format!("{lines}angle p depth=30 distance=52 at=20"));
    assert!(refusal("probe p angle=60 frequency=4 element=9\nangle p at=20").contains("depth"));
}
