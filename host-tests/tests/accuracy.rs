//! Every function of the accuracy table against the 50-digit reference, over the whole valid range.

use std::collections::BTreeMap;

use halfskip::beam::spread;
use halfskip::curve::{Beyond, Dac, DacPoint};
use halfskip::decibels::{above, decibels_to_ratio};
use halfskip::level::{EchoHeight, Screen, level};
use halfskip::locate::{Position, Side, locate, locate_corner, locate_tied};
use halfskip::material::Material;
use halfskip::path::{Axis, Plate, corner, reach, unfold};
use halfskip::probe::{Element, Probe, ProbeSpec, near_field_round, near_field_round_short, wavelength};
use halfskip::refraction::{incident, refracted_shear, second_critical};
use halfskip::units::{Decibels, Degrees, Megahertz, Millimetres, MillimetresPerMicrosecond, ScreenPercent};
use halfskip_host_tests::accuracy::{self, PROMISED, TABLE};
use halfskip_host_tests::reference::{Row, Table};

/// The worst error of each function so far.
#[derive(Default)]
struct Worst(BTreeMap<&'static str, (f64, usize)>);

impl Worst {
    fn note(&mut self, function: &'static str, error: f64, row: Row) {
        let (worst, rows) = self.0.entry(accuracy::of(function).function).or_default();
        *rows += 1;
        let allowed = accuracy::of(function).error;
        assert!(
            error <= allowed,
            "{function}: off by {error:.2e} of the term, {allowed:.0e} allowed, at {row:?}"
        );
        if error > *worst {
            *worst = error;
        }
    }
}

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

fn speed(value: f32) -> MillimetresPerMicrosecond {
    MillimetresPerMicrosecond::new(value).unwrap()
}

fn axis(row: Row) -> Axis {
    Axis::new(Degrees::new(row.input("angle_deg")).unwrap()).unwrap()
}

fn plate(row: Row) -> Plate {
    Plate::new(mm(row.input("thickness_mm"))).unwrap()
}

fn flat_path(worst: &mut Worst) {
    for row in Table::read("flat_path").rows() {
        let (axis, plate, path) = (axis(row), plate(row), mm(row.input("path_mm")));
        let end = unfold(&axis, &plate, path).unwrap();
        assert_eq!(end.leg, row.get::<u32>("leg"), "{row:?}");
        worst.note(
            "path::unfold depth",
            row.error("depth_mm", end.depth, "depth_term"),
            row,
        );
        worst.note(
            "path::unfold distance",
            row.error("surface_mm", end.distance, "surface_mm"),
            row,
        );

        let side = if row.text("side") == "a" { Side::A } else { Side::B };
        let position = Position::new(side, mm(0.0), mm(row.input("standoff_mm")), mm(0.0)).unwrap();
        let position = position
            .skewed(Degrees::new(row.input("skew_deg")).unwrap())
            .unwrap();
        let place = locate(&axis, &plate, &position, path).unwrap();
        worst.note("locate y", row.error("y_mm", place.y.get(), "y_term"), row);
        worst.note(
            "locate x",
            row.error("along_mm", place.x.get(), "surface_mm"),
            row,
        );
        worst.note(
            "locate z",
            row.error("depth_mm", place.z.get(), "depth_term"),
            row,
        );
    }
}

fn skips(worst: &mut Worst) {
    for row in Table::read("skips").rows() {
        let (axis, plate) = (axis(row), plate(row));
        worst.note(
            "path::half_skip",
            row.error("half_skip_mm", plate.half_skip(&axis), "half_skip_mm"),
            row,
        );
        worst.note(
            "path::leg_length",
            row.error("leg_mm", plate.leg_length(&axis), "leg_mm"),
            row,
        );
        if row.get::<f64>("path_mm") > 10_000.0 {
            assert!(reach(&axis, &plate, row.get("leg"), mm(row.input("depth_mm"))).is_err());
            continue;
        }
        let (path, distance) = reach(&axis, &plate, row.get("leg"), mm(row.input("depth_mm"))).unwrap();
        worst.note(
            "path::reach path",
            row.error("path_mm", path.get(), "path_term"),
            row,
        );
        worst.note(
            "path::reach distance",
            row.error("surface_mm", distance.get(), "surface_term"),
            row,
        );
    }
}

fn corners(worst: &mut Worst) {
    for row in Table::read("corner").rows() {
        // The axis only chooses the face: the one whose leg ends at this path.
        let face = row.get::<f64>("thickness_mm") * row.get::<f64>("leg");
        let angle = (face / row.get::<f64>("path_mm")).acos().to_degrees();
        let axis = Axis::new(Degrees::new(angle as f32).unwrap()).unwrap();
        let end = corner(&axis, &plate(row), mm(row.input("path_mm"))).unwrap();
        assert_eq!(end.leg, row.get::<u32>("leg"), "{row:?}");
        worst.note(
            "path::corner distance",
            row.error("distance_mm", end.distance, "distance_term"),
            row,
        );
    }
}

fn tied_tips(worst: &mut Worst) {
    for row in Table::read("heights").rows() {
        let form = row.text("form");
        if !form.contains("together") {
            continue;
        }
        let (axis, plate) = (axis(row), plate(row));
        let position = Position::new(Side::A, mm(0.0), mm(0.0), mm(0.0)).unwrap();
        let base = locate_corner(&axis, &plate, &position, mm(row.input("corner_mm"))).unwrap();
        let tip = locate_tied(&plate, &position, mm(row.input("tip_mm")), &base).unwrap();
        let height = if form == "near-face-together" {
            tip.z.get()
        } else {
            plate.thickness() - tip.z.get()
        };
        worst.note(
            "locate_tied z",
            row.error("height_mm", height, "height_term"),
            row,
        );
    }
}

/// How far apart the sines of two angles are: near grazing a sine hardly moves while the angle runs away.
fn sine_error(got: Degrees, expected: f64) -> f64 {
    (f64::from(got.get()).to_radians().sin() - expected.to_radians().sin()).abs()
}

fn refraction(worst: &mut Worst) {
    for row in Table::read("snell").rows() {
        let (first, second) = (
            speed(row.input("first_mm_per_us")),
            speed(row.input("second_mm_per_us")),
        );
        let angle = Degrees::new(row.input("incident_deg")).unwrap();
        let part = Material::new(second, None, None).unwrap();
        let refracted = refracted_shear(angle, first, &part).unwrap();
        worst.note(
            "refraction refracted angle",
            sine_error(refracted, row.get("refracted_deg")),
            row,
        );
        // The same law the other way round: the angle that the wedge must give.
        let wedge_angle = incident(angle, second, first).unwrap();
        worst.note(
            "refraction::incident",
            sine_error(wedge_angle, row.get("refracted_deg")),
            row,
        );
        if row.text("critical_deg").is_empty() {
            assert!(second_critical(first, &part).is_err());
        } else {
            let critical = second_critical(first, &part).unwrap();
            worst.note(
                "refraction critical angle",
                sine_error(critical, row.get("critical_deg")),
                row,
            );
        }
    }
}

fn megahertz(value: f32) -> Megahertz {
    Megahertz::new(value).unwrap()
}

fn beam(worst: &mut Worst) {
    for row in Table::read("beam").rows() {
        let (speed, diameter) = (speed(row.input("speed_mm_per_us")), mm(row.input("element_mm")));
        let wave = wavelength(speed, megahertz(row.input("frequency_mhz")));
        worst.note(
            "probe::wavelength",
            row.error("wavelength_mm", wave.get(), "wavelength_mm"),
            row,
        );
        let long = near_field_round(diameter, wave).unwrap().get();
        worst.note(
            "probe::near_field_round",
            row.error("near_field_mm", long, "near_field_term"),
            row,
        );
        let short = near_field_round_short(diameter, wave).unwrap().get();
        let error = row.error("near_field_term", short, "near_field_term");
        worst.note("probe::near_field_round_short", error, row);
        let half_angle = spread(row.input("k"), wave, diameter).unwrap();
        worst.note("beam::spread", sine_error(half_angle, row.get("spread_deg")), row);
    }
    for row in Table::read("near_field_left").rows() {
        let probe = Probe::new(ProbeSpec {
            angle: Degrees::new(row.input("refracted_deg")).unwrap(),
            frequency: megahertz(row.input("frequency_mhz")),
            element: Element::Round {
                diameter: mm(row.input("element_mm")),
            },
            front: None,
            wedge: Some(speed(row.input("wedge_mm_per_us"))),
            wedge_path: Some(mm(row.input("wedge_path_mm"))),
            temperature: None,
        });
        let left = probe
            .unwrap()
            .near_field(speed(row.input("part_mm_per_us")))
            .unwrap()
            .unwrap();
        let error = row.error("in_plane_mm", left.in_plane.get(), "in_plane_term");
        worst.note("probe near field left, in plane", error, row);
        let error = row.error("across_mm", left.across.get(), "across_term");
        worst.note("probe near field left, across", error, row);
    }
}

fn percent(value: f32) -> ScreenPercent {
    ScreenPercent::new(value).unwrap()
}

fn db(value: f32) -> Decibels {
    Decibels::new(value).unwrap()
}

fn decibels(worst: &mut Worst) {
    for row in Table::read("decibels").rows() {
        let level = above(percent(row.input("first_pct")), percent(row.input("second_pct")))
            .unwrap()
            .get();
        let expected: f64 = row.get("ratio_db");
        let term = if expected.abs() > 20.0 {
            expected.abs()
        } else {
            20.0
        };
        worst.note("decibels::above", (f64::from(level) - expected).abs() / term, row);
        let ratio = decibels_to_ratio(db(row.input("db")));
        worst.note(
            "decibels::decibels_to_ratio",
            row.error("db_ratio", ratio, "db_ratio"),
            row,
        );
    }
}

fn levels(worst: &mut Worst) {
    for row in Table::read("level").rows() {
        let reference = percent(row.input("reference_pct"));
        let mut dac = Dac::<8>::new(reference);
        for point in row.text("curve").split(' ') {
            let numbers: Vec<f32> = point.split(':').map(|number| number.parse().unwrap()).collect();
            let [path, height, gain] = numbers[..] else {
                panic!("{point}")
            };
            dac.insert(DacPoint {
                path: mm(path),
                height: percent(height),
                gain: db(gain),
            })
            .unwrap();
        }
        let at = dac.gain_at(mm(row.input("path_mm")), Beyond::Refuse).unwrap();
        worst.note(
            "curve::gain_at",
            row.error("reference_gain_db", at.gain.get(), "level_term"),
            row,
        );
        let screen = Screen::new(percent(100.0), percent(0.0), reference).unwrap();
        let height = EchoHeight::Shown(percent(row.input("height_pct")));
        let (gain, transfer) = (db(row.input("gain_db")), db(row.input("transfer_db")));
        let found = level(height, gain, &at, transfer, &screen).unwrap();
        worst.note("level", row.error("level_db", found.db.get(), "level_term"), row);
    }
}

#[test]
fn every_function_keeps_its_accuracy_over_the_whole_range() {
    let mut worst = Worst::default();
    flat_path(&mut worst);
    skips(&mut worst);
    corners(&mut worst);
    tied_tips(&mut worst);
    refraction(&mut worst);
    beam(&mut worst);
    decibels(&mut worst);
    levels(&mut worst);
    println!(
        "{:28} {:>6} {:>9} {:>8}  of",
        "function", "rows", "worst", "allowed"
    );
    for entry in TABLE {
        let (error, rows) = worst.0.get(entry.function).copied().unwrap_or_default();
        println!(
            "{:28} {rows:6} {error:9.1e} {:8.0e}  {}",
            entry.function, entry.error, entry.term
        );
        assert!(rows >= 100, "{}: measured at {rows} points only", entry.function);
    }
}

#[test]
fn no_function_is_allowed_more_than_is_promised() {
    for entry in TABLE {
        assert!(entry.error <= PROMISED, "{}", entry.function);
    }
}
