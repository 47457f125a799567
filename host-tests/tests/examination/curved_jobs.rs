//! Jobs on curved parts and with warm wedges: what the entries say must reach the place of a reading.

use halfskip::findings::{Undetermined, cautions, evaluate};
use halfskip::part::locate::Place;
use halfskip::part::side::Side;
use halfskip::record::entry::PointPeaked;
use halfskip_host_tests::job::{Job, answers, findings, height, job, refusal};

const PLAIN: &str = "title = 'invented'\nsource = 'invented'\nmeasure = 'level'\nlength-by = 'drop-6'\n[[row]]\nverdict = 'accept'\n";

const SEAM: &str = "\
units mm
material steel
probe p45 angle=45 frequency=4 element=8x9
";

fn places(job: &Job) -> Vec<(PointPeaked, Result<Place, Undetermined>)> {
    let facts = job.examination().facts();
    facts.readings().map(|reading| (reading.point(), evaluate(&facts, reading).place)).collect()
}

fn place(lines: &str) -> Place {
    let job = job(lines);
    places(&job).last().unwrap().1.unwrap()
}

/// Tube of 6 in and 0.75 in: the beam of 45 degrees meets the bore after 34.831 mm, at an arc of 33.952 mm.
#[test]
fn a_seam_around_a_pipe_is_located_along_its_surface() {
    let joint = "joint butt thickness=19.05 prep=square gap=0 curvature=around od=152.4\n";
    let reading = "reading 1 probe=p45 side=a x=0 standoff=30 path=34.831 height=50 gain=40";
    let place = place(&format!("{SEAM}{joint}{reading}"));
    assert!((place.y.get() - 3.952).abs() < 0.002 && (place.z.get() - 19.05).abs() < 0.002, "{place:?}");
    let along = joint.replace("around", "along");
    let flat = self::place(&format!("{SEAM}{along}{reading}"));
    assert!((flat.y.get() - ((34.831 * 0.5f64.sqrt()) as f32 - 30.0)).abs() < 1e-4, "{flat:?}");
}

#[test]
fn from_the_bore_the_arc_is_the_bores() {
    let joint = "joint butt thickness=25 prep=square gap=0 curvature=around od=300 from=inside\n";
    let reading = "reading 1 probe=p45 side=b x=0 standoff=20 path=10 height=50 gain=40";
    let place = place(&format!("{SEAM}{joint}{reading}"));
    // r atan2(s sin a, r + s cos a) with r = 125 and s sin a = s cos a = 7.07107
    let arc = 125.0 * 7.07107f64.atan2(125.0 + 7.07107);
    assert!((place.y.get() - (20.0 - arc as f32)).abs() < 1e-4, "{place:?}");
    let depth = ((132.07107f64 * 132.07107 + 50.0).sqrt() - 125.0) as f32;
    assert!((place.z.get() - depth).abs() < 1e-4, "{place:?}");
}

/// A notch 4 mm high at the bore of a pipe of 200 x 20, at an arc of 30 mm from the probe.
#[test]
fn a_corner_and_its_tip_seen_together_give_the_notch_of_a_pipe() {
    let (outer, arc) = (100.0f64, 0.3f64);
    let path = |rho: f64| (outer * outer + rho * rho - 2.0 * outer * rho * arc.cos()).sqrt();
    let (corner, tip) = (path(80.0), path(84.0));
    let lines = format!(
        "{SEAM}joint butt thickness=20 prep=square gap=0 curvature=around od=200\n\
         reading 1 probe=p45 side=a x=0 standoff=30 path={corner:.4} height=50 gain=40 point=corner together=1\n\
         reading 1 probe=p45 side=a x=0 standoff=30 path={tip:.4} height=20 gain=50 point=upper-tip together=1\n"
    );
    let job = job(&lines);
    let places = places(&job);
    let corner = places[0].1.unwrap();
    assert!(corner.y.get().abs() < 0.001 && corner.z.get() == 20.0, "{corner:?}");
    let facts = job.examination().facts();
    let height = height(&facts, 0).unwrap();
    assert!((height.height - 4.0).abs() < 0.002, "{height:?}");
    assert!(height.uncertainty > 0.5 && height.uncertainty < 3.0, "{height:?}");
}

#[test]
fn a_skewed_corner_on_a_pipe_is_undetermined_and_says_why() {
    let lines = format!(
        "{SEAM}joint butt thickness=20 prep=square gap=0 curvature=around od=200\n\
         reading 1 probe=p45 side=a x=0 standoff=30 path=35 height=50 gain=40 point=corner skew=10\n"
    );
    let job = job(&lines);
    let told = places(&job)[0].1.unwrap_err().to_string();
    assert!(told.contains("square to the weld"), "{told}");
}

#[test]
fn a_wall_as_thick_as_the_radius_is_refused_where_it_is_entered() {
    let joint = "joint butt thickness=20 prep=square gap=0 curvature=around od=40";
    let told = refusal(&format!("{SEAM}{joint}"));
    assert!(told.contains("wall 20 mm leaves no bore in a pipe of 40 mm"), "{told}");
    let lines = format!(
        "{SEAM}{}\nreading 1 probe=p45 side=a x=0 standoff=30 path=35 height=50 gain=40 thickness=30",
        joint.replace("od=40", "od=50")
    );
    let told = places(&job(&lines))[0].1.unwrap_err().to_string();
    assert!(told.contains("leaves no bore"), "{told}");
}

#[test]
fn a_beam_that_misses_the_bore_is_placed_on_its_chord_with_a_caution() {
    let joint = "joint butt thickness=19.05 prep=square gap=0 curvature=around od=152.4\n";
    let probe = "material steel\nprobe p60 angle=60 frequency=4 element=8x9\n";
    // The whole chord, 2 R cos 60 = 76.2 mm, comes back to the outside after an arc of R pi / 3.
    let reading = "reading 1 probe=p60 side=a x=0 standoff=80 path=76.2 height=50 gain=40";
    let job = job(&format!("{probe}{joint}{reading}"));
    let place = places(&job)[0].1.unwrap();
    assert!((place.y.get() - (76.2 * core::f32::consts::FRAC_PI_3 - 80.0)).abs() < 1e-3, "{place:?}");
    assert!(place.z.get().abs() < 1e-3 && place.leg == 2, "{place:?}");
    let (facts, mut told) = (job.examination().facts(), Vec::new());
    cautions(findings(&facts, None), |caution| told.push(caution.told(&facts).to_string()));
    assert!(told.iter().any(|text| text.contains("misses the bore") && text.contains("48.59")), "{told:?}");
}

/// The angle of a hot wedge rises: sin b = sin 60 · 2.73 / (2.73 - 0.0273) for 1 % less, 61.02 degrees (derived).
#[test]
fn a_warm_wedge_moves_the_place_and_a_measured_angle_overrules_it() {
    let joint = "joint butt thickness=25 prep=square gap=0\n";
    let probe = |heat: &str| {
        format!("material steel\nprobe p60 angle=60 frequency=4 element=8x9 wedge=2.73 {heat}\n{joint}")
    };
    let reading = "reading 1 probe=p60 side=a x=0 standoff=0 path=40 height=50 gain=40";
    let heat = "wedge-slope=-0.00273 marked-at=20 at=30";
    let (cold, warm) =
        (place(&format!("{}{reading}", probe(""))), place(&format!("{}{reading}", probe(heat))));
    assert!((cold.z.get() - 20.0).abs() < 1e-4);
    assert!((warm.z.get() - (40.0 * 61.021f64.to_radians().cos()) as f32).abs() < 0.01, "{warm:?}");
    assert!(warm.y.get() > cold.y.get());
    // A peaked hole measures the angle as it is, warm or not.
    let measured = place(&format!("{}angle p60 depth=15 distance=25.9808\n{reading}", probe(heat)));
    assert!((measured.z.get() - 20.0).abs() < 0.001, "{measured:?}");
    // The slope is an input: without it no temperature is taken.
    let told = refusal("probe p60 angle=60 frequency=4 element=8x9 wedge=2.73 at=30");
    assert!(told.contains("wedge-slope"), "{told}");
}

/// Outside 120 mm, wall 20 mm: the bore has a radius of 40 mm, so that what is w wide there is 1.5 w on the outside.
#[test]
fn gap_and_zone_at_a_bore_are_arcs_of_the_bore() {
    let joint = "joint butt thickness=20 prep=square gap=4 haz=10 curvature=around od=120";
    let lines = format!("material steel\nprobe p38 angle=38 frequency=4 element=8x9\n{joint}\n");
    let job = job(&lines);
    let section = job.examination().facts().common().joint.as_ref().unwrap().1.section();
    // (2 + 10) · 60 / 40 = 18, where an arc of the outside would be 12; at the outside nothing changes.
    let zone = |z| section.heat_affected(Side::B, z).unwrap();
    let near = |found: (f32, f32), from: f32, to: f32| {
        assert!((found.0 - from).abs() < 1e-4 && (found.1 - to).abs() < 1e-4, "{found:?}");
    };
    near(zone(20.0), 3.0, 18.0);
    near(zone(0.0), 2.0, 12.0);
    assert!((section.heat_affected_extent(Side::A).unwrap() - 18.0).abs() < 1e-4);
    assert!((section.area() - 80.0).abs() < 1e-4);
    assert!((section.developed(4.0, 20.0) - 6.0).abs() < 1e-5 && section.developed(4.0, 0.0) == 4.0);
    // The root's edge on the probe's side: by the law of sines 30.8 to the bore, and 3 short of the centreline, where it was 2.
    let b = (38f64.to_radians().sin() * 60.0 / 40.0).asin();
    let to_bore = 60.0 * (b - 38f64.to_radians());
    assert!((to_bore - 30.8).abs() < 0.1);
    let [plan] = answers(PLAIN, lines.lines(), ["expect p38 side=a"]);
    assert!(plan.contains(&format!("root corner* a 1 {:.1}", to_bore + 3.0)), "{plan}");
    // From the bore outward it is the other way about: 12 mm on the outside are 8 along the bore.
    let inside = self::job(&lines.replace("od=120", "od=120 from=inside"));
    let section = inside.examination().facts().common().joint.as_ref().unwrap().1.section();
    assert!((section.heat_affected(Side::B, 20.0).unwrap().1 - 8.0).abs() < 1e-5);
}
