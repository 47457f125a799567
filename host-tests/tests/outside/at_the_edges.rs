//! Small functions at the edges of what they take, where a sign or a comparison decides.

use std::fs;
use std::path::Path;

use halfskip::acceptance::criteria::{DEFAULT_ROWS, Depth, Sheet, read_frame};
use halfskip::calibration::curve::CurveError;
use halfskip::calibration::gain_accuracy::GainAccuracyError;
use halfskip::calibration::level::LevelError;
use halfskip::calibration::linearity::{Window, screen};
use halfskip::evaluate::sizing::height::seen_together;
use halfskip::evaluate::sizing::series::SeriesFull;
use halfskip::part::joint::{Joint, JointSpec, Point, Preparation};
use halfskip::part::locate::Side;
use halfskip::part::path::Plate;
use halfskip::physics::attenuation::loss;
use halfskip::physics::beam::half_width;
use halfskip::physics::decibels::DecibelsError;
use halfskip::physics::far_field::{LawError, disc_to_back_wall, hole_to_back_wall};
use halfskip::physics::probe::{near_field_rectangular, near_field_round};
use halfskip::record::entry::frame::{FrameError, Mixed, Piece, Skipped};
use halfskip::record::entry::{Entry, LengthUnit};
use halfskip::record::examination::Examination;
use halfskip::units::decimal::{Decimal, Entered};
use halfskip::units::error::RangeError;
use halfskip::units::{DecibelsPerMillimetre, Degrees, Millimetres, ScreenPercent};
use halfskip_console::commands::parse::{self, Line};
use halfskip_console::sheets::criteria as sheet;

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

fn joint(thickness: f32, preparation: Preparation, radius: Option<Millimetres>) -> Joint {
    let bevelled = preparation != Preparation::Square;
    Joint::new(JointSpec {
        gap: Some(mm(2.0)),
        land: bevelled.then(|| mm(2.0)),
        bevel: bevelled.then(|| Degrees::new(30.0).unwrap()),
        radius,
        ..JointSpec::new(mm(thickness), preparation)
    })
    .unwrap()
}

fn decimal(text: &str) -> Decimal {
    Decimal::parse(text).unwrap()
}

#[test]
fn an_edge_is_as_far_off_the_axis_on_either_side_and_never_beside_it() {
    let degrees = |value| Degrees::new(value).unwrap();
    let (path, axis) = (mm(40.0), degrees(60.0));
    // 40 tan 5, from memory of the tables of tangents: tan 5 = 0.087489.
    for edge in [55.0, 65.0] {
        assert!((half_width(path, axis, degrees(edge)).unwrap().get() - 3.49955).abs() < 1e-4, "{edge}");
    }
    assert_eq!(half_width(path, axis, axis), Some(mm(0.0)));
    assert!(half_width(path, degrees(0.0), degrees(89.0)).is_some());
    assert_eq!(half_width(path, degrees(0.0), degrees(90.0)), None);
}

#[test]
fn a_root_radius_is_assumed_where_the_preparation_has_one_and_none_was_given() {
    let (assumed, given) =
        (joint(30.0, Preparation::SingleU, None), joint(30.0, Preparation::SingleU, Some(mm(5.0))));
    assert!(assumed.radius_is_assumed() && assumed.radius().is_some());
    assert!(!given.radius_is_assumed() && given.radius() == Some(mm(5.0)));
    let none = joint(30.0, Preparation::SingleV, None);
    assert!(!none.radius_is_assumed() && none.radius().is_none());
}

#[test]
fn every_preparation_is_known_by_its_word_alone() {
    for preparation in Preparation::ALL {
        assert_eq!(Preparation::from_word(preparation.word()), Some(preparation));
    }
    assert_eq!(Preparation::from_word("v"), None);
}

#[test]
fn a_groove_with_one_bevel_holds_points_of_that_side_only() {
    let section = joint(20.0, Preparation::SingleBevel, None).section();
    let (a, b) = (section.half_width(Side::A, 2.0).unwrap(), section.half_width(Side::B, 2.0).unwrap());
    assert!(a != b);
    for (side, sign) in [(Side::A, -1.0), (Side::B, 1.0)] {
        let edge = section.half_width(side, 2.0).unwrap();
        assert!(section.contains(Point { y: sign * edge, z: 2.0 }), "{side:?}");
        assert!(!section.contains(Point { y: sign * (edge + 0.01), z: 2.0 }), "{side:?}");
    }
}

#[test]
fn a_tip_seen_with_its_corner_in_the_third_leg_is_as_high_as_the_triangle_says() {
    // 75² + 40² = 85² and 68² + 40² = 78.892²: the tip is 7 mm off the face.
    let plate = Plate::new(mm(25.0)).unwrap();
    let height = seen_together(&plate, 3, mm(85.0), mm(78.892_33)).unwrap();
    assert!((height.get() - 7.0).abs() < 1e-3, "{height:?}");
    let error = seen_together(&plate, 3, mm(85.0), mm(30.0)).unwrap_err();
    assert_eq!((error.quantity, error.value, error.min), ("tip path", 30.0, 40.0));
    let error = seen_together(&plate, 3, mm(75.0), mm(30.0)).unwrap_err();
    assert_eq!((error.quantity, error.value, error.min), ("corner path", 75.0, 75.0));
}

#[test]
fn the_near_field_grows_with_the_longer_side_squared_and_falls_with_the_wavelength() {
    let near =
        |one, other, wavelength| near_field_rectangular(mm(one), mm(other), mm(wavelength)).unwrap().get();
    assert_eq!(near(8.0, 20.0, 2.0), near(20.0, 8.0, 2.0));
    assert!((near(8.0, 20.0, 2.0) / near(8.0, 20.0, 4.0) - 2.0).abs() < 1e-6);
    assert!((near(20.0, 8.0, 2.0) / near(10.0, 4.0, 2.0) - 4.0).abs() < 1e-6);
    // N = (D² − λ²) / (4 λ)
    assert!((near_field_round(mm(10.0), mm(2.0)).unwrap().get() - 12.0).abs() < 1e-5);
}

#[test]
fn a_hole_is_too_near_where_the_path_is_no_longer_than_it_is_wide() {
    let error = hole_to_back_wall(mm(3.0), mm(3.0)).unwrap_err();
    assert_eq!(error, LawError::TooNear { path: mm(3.0), wall: 1.5 });
    assert!(hole_to_back_wall(mm(3.0), mm(3.1)).is_ok());
}

#[test]
fn a_travel_below_nothing_is_refused_as_a_travel() {
    let error = loss(DecibelsPerMillimetre::new(0.01).unwrap(), mm(-1.0)).unwrap_err();
    assert_eq!((error.quantity, error.value, error.min), ("travel", -1.0, 0.0));
}

#[test]
fn a_number_may_be_signed_and_have_a_power_of_ten() {
    for (text, same) in
        [("+1.5", "1.5"), ("1.5e+2", "150"), ("1.5e-2", "0.015"), ("15e2", "1500"), ("0e-50", "0e-10")]
    {
        assert_eq!(decimal(text).value(), decimal(same).value(), "{text}");
    }
    assert_eq!(decimal("0e-50"), decimal("0e-10"));
    assert_eq!(Decimal::nearest(1.5, 9), Decimal::nearest(1.5, 6));
    let entered: Entered<Millimetres> = Entered::new(decimal("26.30")).unwrap();
    assert_eq!(format!("{entered:?}"), format!("{entered}"));
    assert!(format!("{entered:?}").starts_with("26.30"));
    let inches = |text| Entered::<Millimetres>::in_alternative(decimal(text)).unwrap().quantity().get();
    assert_eq!([inches("-2"), inches("2"), inches("-0.25")], [-50.8, 50.8, -6.35]);
}

#[test]
fn what_is_out_of_its_range_stays_so_in_every_error_that_takes_it_up() {
    let range = RangeError { quantity: "ratio", unit: "", value: 2.0, min: 0.0, max: 1.0 };
    assert_eq!(CurveError::from(DecibelsError::Range(range)), CurveError::Range(range));
    assert_eq!(LevelError::from(DecibelsError::Range(range)), LevelError::Range(range));
    assert_eq!(GainAccuracyError::from(DecibelsError::Range(range)), GainAccuracyError::Range(range));
}

#[test]
fn what_stopped_is_told_in_words() {
    let skipped = Skipped { bytes: 7, why: FrameError::Cut };
    assert_eq!(skipped.to_string(), "7 bytes skipped: the frame is cut short");
    assert_eq!(SeriesFull { capacity: 4 }.to_string(), "series is full: it holds 4 samples");
    let spans = Depth::Within { from: mm(4.0), to: mm(6.0) };
    assert_eq!(spans.to_string(), "4 to 6 mm spans a quarter line of the thickness");
}

#[test]
fn a_frame_given_up_tells_of_its_bytes_and_nothing_begun_tells_of_nothing() {
    let mut mixed = Mixed::new();
    assert!(mixed.finish().is_none());
    for byte in [0, 5, 6] {
        assert!(mixed.push(byte).is_none());
    }
    let Some(Piece::Skipped(skipped)) = mixed.finish() else { panic!("nothing was told") };
    assert_eq!((skipped.bytes, skipped.why), (2, FrameError::Cut));
}

#[test]
fn a_sheet_comes_out_of_its_bytes_as_it_went_in() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/criteria");
    let mut read = 0;
    for file in fs::read_dir(folder).unwrap().map(|file| file.unwrap().path()) {
        let Ok(sheet) = sheet::read(&fs::read_to_string(&file).unwrap()) else { continue };
        let mut buffer = [0; 4096];
        let bytes: &[u8] = postcard::to_slice::<Sheet<DEFAULT_ROWS>>(&sheet, &mut buffer).unwrap();
        let mut place = None;
        read_frame(bytes, &mut place).unwrap();
        assert_eq!(place.as_ref(), Some(&sheet), "{}", file.display());
        let mut cut = None::<Sheet<DEFAULT_ROWS>>;
        assert!(read_frame(bytes.get(..bytes.len() - 1).unwrap(), &mut cut).is_err());
        read += 1;
    }
    assert!(read > 1);
}

/// A line of each kind of entry with a text in it; Q stands for one that is not plain.
const TEXTS: [&str; 24] = [
    "title \"Q\"",
    "procedure \"Q\"",
    "note \"Q\"",
    "criteria Q",
    "technique Q",
    "examiner \"Q\" certificate=\"x\"",
    "examiner \"x\" certificate=\"Q\"",
    "equipment \"Q\" serial=\"x\"",
    "equipment \"x\" serial=\"Q\"",
    "detail couplant is=\"Q\"",
    "material Q shear=3.24 long=5.92",
    "void 1 reason=\"Q\"",
    "observe Q swivel=ragged",
    "reading Q probe=p side=a x=120 standoff=31 path=36.9 height=76 gain=44",
    "reading 1 probe=Q side=a x=120 standoff=31 path=36.9 height=76 gain=44",
    "probe Q angle=60 frequency=4 element=8x9",
    "timebase Q path=25,100 time=17.31,63.75",
    "angle Q depth=15 distance=26.3",
    "dac Q path=30 height=80 gain=38",
    "dac Q beyond=hold",
    "transfer Q gain=2",
    "check Q path=100 shown=99.2",
    "scanning Q margin=6",
    "date 2026-03-14",
];

#[test]
fn no_entry_of_any_kind_hides_a_control_character_and_each_names_its_probe() {
    for text in TEXTS {
        let Ok(Some(Line::Fact(entry))) = parse::line(text.as_bytes(), LengthUnit::Mm) else {
            panic!("{text}")
        };
        assert!(entry.is_plain(), "{text}");
        let mut buffer = [0; 512];
        let bytes = postcard::to_slice(&entry, &mut buffer).unwrap();
        let marked = bytes.iter().filter(|byte| **byte == b'Q').count();
        assert_eq!(marked, usize::from(text.contains('Q')), "{text}");
        bytes.iter_mut().filter(|byte| **byte == b'Q').for_each(|byte| *byte = 0x1b);
        let spoiled: Entry = postcard::from_bytes(bytes).unwrap();
        assert_eq!(spoiled.is_plain(), marked == 0, "{text}");
        let probe = entry.probe().map(|name| name.as_str());
        let named = text.split_whitespace().find_map(|word| word.strip_prefix("probe="));
        let about =
            ["probe", "timebase", "angle", "dac", "transfer", "check", "scanning"].contains(&entry.verb());
        assert_eq!(probe, if about { Some("Q") } else { named }, "{text}");
    }
}

#[test]
fn of_two_steps_that_deviate_alike_the_first_is_the_worst() {
    let pair = |large, small| (ScreenPercent::new(large).unwrap(), ScreenPercent::new(small).unwrap());
    let found =
        screen(&[pair(80.0, 40.0), pair(60.0, 33.0), pair(60.0, 27.0)], Window::T9074Vertical).unwrap();
    assert_eq!((found.worst().step, found.worst().deviation), (1, 3.0));
}

#[test]
fn a_disc_returns_as_much_as_the_wall_at_the_path_where_its_law_begins() {
    // s = π d² / 2 λ, at which the law gives 0 dB.
    let wall = core::f32::consts::FRAC_PI_2 * 4.0 * 4.0 / 2.0;
    assert!(disc_to_back_wall(mm(4.0), mm(2.0), mm(wall)).unwrap().get().abs() < 1e-5);
    let error = disc_to_back_wall(mm(4.0), mm(2.0), mm(12.5)).unwrap_err();
    assert_eq!(error, LawError::TooNear { path: mm(12.5), wall });
}

#[test]
fn a_stream_keeps_readings_seen_together_only_while_the_longest_more_would_fit() {
    let mut examination: Examination<1, 2, 4, 512> = Examination::new();
    let entry = |text: &str| match parse::line(text.as_bytes(), LengthUnit::Mm) {
        Ok(Some(Line::Fact(entry))) => entry,
        other => panic!("{other:?}"),
    };
    examination.record(entry("probe p angle=60 frequency=4 element=8x9")).unwrap();
    let together = "reading 1 probe=p side=a x=1 standoff=31 path=36 height=76 gain=44 together=1";
    let Entry::Reading(reading) = entry(together) else { panic!("not a reading") };
    // Room for four, and for the longest one it takes two.
    for held in [1, 2, 3, 1, 2] {
        examination.pass(&reading).unwrap();
        assert_eq!(examination.facts().readings_of(0).count(), held);
    }
    assert_eq!([0, 1].map(|place| examination.facts().name(place)), ["1", ""]);
}
