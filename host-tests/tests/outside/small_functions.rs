//! Functions too small for a check of their own elsewhere, each held to what its name says.

use std::f32::consts::SQRT_2;
use std::iter::from_fn;

use halfskip::calibration::timebase::repeat;
use halfskip::character::{Provenance, Threshold, Width};
use halfskip::evaluate::sizing::height::Height;
use halfskip::math;
use halfskip::part::Part;
use halfskip::part::curved::Pipe;
use halfskip::part::joint::{Joint, JointSpec, Preparation, Reach, ScannedFrom};
use halfskip::part::locate::{
    Budget, Face, Partials, Peaked, Position, SeenTogether, Side, locate, with_own_thickness,
};
use halfskip::part::path::{Axis, Plate};
use halfskip::physics::beam::{Direction, EdgeDrop};
use halfskip::physics::material::preset;
use halfskip::physics::probe::Element;
use halfskip::planning::coverage::{COLUMNS, Grid, ROWS, Reasons, Share};
use halfskip::planning::geometry_echoes::{ReflectorKind, reflectors, with_drawn};
use halfskip::planning::plan::Barrier;
use halfskip::record::entry::{Clock, Date, Entry, LengthUnit};
use halfskip::record::store::{Policy, Store};
use halfskip::units::decimal::{Decimal, DecimalError, Entered};
use halfskip::units::{Decibels, DecibelsPerMillimetre, Degrees, Millimetres};
use halfskip_console::sheets::NoSheets;
use halfskip_console::shell::{Outcome, Shell};
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::job::job;
use halfskip_host_tests::nor::Nor;

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

fn close(got: f64, expected: f64) -> bool {
    (got - expected).abs() <= 1e-7 * (1.0 + expected.abs())
}

#[test]
fn mathematics_agrees_with_the_platforms_to_its_rounding() {
    let mut from = Drawn::seeded(91);
    for _ in 0..2_000 {
        let (angle, value) = (from.between(-360.0, 360.0), from.over_decades(1e-4, 1e4));
        let exact = f64::from(angle).to_radians();
        let (sin, cos) = math::sin_cos_f64(angle);
        assert!((sin - exact.sin()).abs() < 1e-15 && (cos - exact.cos()).abs() < 1e-15);
        assert_eq!(math::sin_cos(angle), (sin as f32, cos as f32));
        assert_eq!(math::floor(angle), angle - angle.rem_euclid(1.0));
        assert_eq!(math::ceil(angle), -math::floor(-angle));
        let exact = f64::from(value);
        assert!(close(math::sqrt(value).unwrap().into(), exact.sqrt()));
        assert!(close(math::sqrt_f64(exact).unwrap(), exact.sqrt()));
        let log = math::log10(value).unwrap();
        assert!(close(log.into(), exact.log10()));
        let power = 10f64.powf(log.into());
        assert!((f64::from(math::exp10(log)) - power).abs() <= 1e-6 * power);
        let ratio = f64::from(from.between(-1.0, 1.0));
        assert!((f64::from(math::acos(ratio).unwrap()) - ratio.acos().to_degrees()).abs() < 2e-5);
        assert!((f64::from(math::asin(ratio).unwrap()) - ratio.asin().to_degrees()).abs() < 1e-5);
        let (opposite, adjacent) = (ratio, f64::from(from.between(-1.0, 1.0)));
        assert!(close(math::arc(exact, opposite, adjacent), exact * opposite.atan2(adjacent)));
        let (sin, cos) = math::sin_cos_of_arc(ratio, exact);
        assert!(close(sin.hypot(cos), 1.0) && close(sin, (ratio / exact).sin()));
    }
    assert_eq!((math::acos(1.1), math::sqrt_f64(-1.0), math::log10(-1.0)), (None, None, None));
    assert_eq!((math::smaller(1.0, 2.0), math::larger(1.0, 2.0)), (1.0, 2.0));
    // The first of two equal ones, whatever the sign of its zero.
    assert!(math::smaller(-0.0, 0.0).is_sign_negative() && math::larger(0.0, -0.0).is_sign_positive());
}

#[test]
fn a_decimal_made_of_a_computed_number_is_the_nearest_one() {
    assert_eq!(Decimal::nearest(36.949, 1).unwrap().to_string(), "36.9");
    assert_eq!(Decimal::nearest(-0.05, 1).unwrap().to_string(), "-0.1");
    assert_eq!(Decimal::nearest(123_456.7, 3), Err(DecimalError::TooManyDigits));
    let entered = Entered::<Millimetres>::nearest(mm(25.4), 2).unwrap();
    assert_eq!((entered.to_string().as_str(), entered.is_alternative()), ("25.40mm", false));
    let inches = Entered::<Millimetres>::in_alternative(Decimal::parse("1").unwrap()).unwrap();
    assert!(inches.is_alternative());
    assert_eq!(inches.within(halfskip::units::limits::PATH).unwrap().get(), 25.4);
    assert!(
        inches.within(halfskip::units::limits::GAP).is_ok()
            && inches.within(halfskip::units::limits::SKEW).is_ok()
    );
    assert!(
        Entered::<Millimetres>::nearest(mm(0.0), 2).unwrap().within(halfskip::units::limits::PATH).is_err()
    );
}

#[test]
fn a_clock_has_1440_minutes_and_reads_as_it_is_typed() {
    let clocks =
        (0..=u8::MAX).flat_map(|hour| (0..=u8::MAX).filter_map(move |minute| Clock::new(hour, minute)));
    let minutes: Vec<u16> = clocks.map(Clock::minutes).collect();
    assert_eq!(minutes, (0..1440).collect::<Vec<_>>());
    let early = Clock::new(8, 5).unwrap();
    assert_eq!((early.parts(), early.to_string().as_str()), ((8, 5), "08:05"));
}

#[test]
fn a_date_gives_back_its_parts() {
    assert_eq!(Date::new(2028, 2, 29).unwrap().parts(), (2028, 2, 29));
}

#[test]
fn sides_and_reaches_know_each_other() {
    assert_eq!((Side::A.letter(), Side::B.letter()), ("a", "b"));
    assert_eq!((Side::A.opposite(), Side::B.opposite()), (Side::B, Side::A));
    assert_eq!(Side::A.sign() + Side::B.sign(), 0.0);
    let spec = JointSpec::new(mm(20.0), Preparation::Square);
    for (reach, a, b) in [
        (Some(Reach::A), true, false),
        (Some(Reach::B), false, true),
        (Some(Reach::Both), true, true),
        (None, true, true),
    ] {
        let spec = JointSpec { reach, ..spec };
        assert_eq!((spec.reaches(Side::A), spec.reaches(Side::B)), (a, b));
    }
}

#[test]
fn preparations_are_what_their_words_say() {
    for preparation in Preparation::ALL {
        let word = preparation.word();
        assert_eq!(preparation.is_double(), word.starts_with("double"), "{word}");
        assert_eq!(preparation.has_radius(), word.ends_with("-u") || word.ends_with("-j"), "{word}");
    }
}

fn joint(crown: Option<f32>) -> Joint {
    let spec = JointSpec {
        gap: Some(mm(3.0)),
        haz: Some(mm(10.0)),
        ..JointSpec::new(mm(20.0), Preparation::SingleV)
    };
    let bevel = Some(Degrees::new(45.0).unwrap());
    Joint::new(JointSpec { bevel, land: Some(mm(2.0)), crown: crown.map(mm), cap: Some(mm(44.0)), ..spec })
        .unwrap()
}

#[test]
fn a_joint_knows_its_cap_and_its_groove() {
    assert!(joint(None).is_flush() && joint(Some(0.0)).is_flush() && !joint(Some(1.5)).is_flush());
    let section = joint(None).section();
    // 3 mm at the root, and 18 mm of 45 degrees on each side above the land.
    assert!((section.groove_width(Face::Far) - 3.0).abs() < 1e-5);
    assert!((section.groove_width(Face::Near) - 39.0).abs() < 1e-4);
}

#[test]
fn the_raster_of_a_volume_covers_it_and_shares_add_up() {
    let grid = Grid::new(&joint(None)).unwrap();
    // The groove of 39 mm and 10 mm beside it on each side; 20 mm deep.
    assert!((grid.column() * f32::from(COLUMNS) - 59.0).abs() < 1e-3);
    assert!((grid.row() * f32::from(ROWS) - 20.0).abs() < 1e-4);
    let share = |area: f32, crossed: f32| Share { area, crossed, ..Share::default() };
    let both = share(30.0, 30.0).with(&share(10.0, 0.0));
    assert_eq!((both.area, both.of(both.crossed)), (40.0, Some(0.75)));
    let mut reasons = Reasons::default();
    reasons.add(&Barrier::NotScanned);
    reasons.add(&Barrier::Cap { standoff: 10.0, least: 20.0 });
    assert_eq!(reasons.words().collect::<Vec<_>>(), ["cap in the way", "not scanned"]);
}

#[test]
fn a_part_has_the_legs_of_its_curvature() {
    let axis = Axis::new(Degrees::new(45.0).unwrap()).unwrap();
    let flat = Part::Flat(Plate::new(mm(20.0)).unwrap());
    let pipe = Pipe::new(mm(1_000.0), mm(20.0), ScannedFrom::Inside).unwrap().from_outside();
    let around = Part::Around(pipe);
    assert_eq!((flat.stretch(10.0), around.stretch(20.0)), (1.0, 0.96));
    assert!((flat.legs(&axis).half_skip() - 20.0).abs() < 1e-5);
    assert!(around.legs(&axis).half_skip() > 20.5);
    assert_eq!(flat.legs(&axis).angle_at(20.0).unwrap().get(), 45.0);
    // R sin a = rho sin(angle there)
    let at_bore = around.legs(&axis).angle_at(20.0).unwrap().get();
    assert!((f64::from(at_bore) - (500.0 / 480.0 * 0.5f64.sqrt()).asin().to_degrees()).abs() < 1e-4);
}

#[test]
fn a_measured_attenuation_is_kept_and_changes_no_velocity() {
    let steel = preset("steel").unwrap().material;
    let loss = DecibelsPerMillimetre::new(0.01).unwrap();
    let lossy = steel.with_attenuation(loss);
    assert_eq!((lossy.attenuation(), lossy.shear()), (Some(loss), steel.shear()));
}

#[test]
fn an_edge_takes_the_constant_of_its_elements_shape() {
    let drop = EdgeDrop::find(6.0, Direction::OneWay).unwrap();
    let round = Element::Round { diameter: mm(10.0) };
    let rectangle = Element::Rectangular { in_plane: mm(8.0), across: mm(9.0) };
    assert_eq!((drop.factor(&round), drop.factor(&rectangle)), (drop.round(), drop.rectangular()));
}

#[test]
fn partials_scale_and_a_thickness_of_its_own_is_nobody_elses() {
    let partials =
        Partials { angle: 1.0, path: -2.0, standoff: 3.0, index: 4.0, thickness: 5.0, velocity: 6.0 };
    assert_eq!(partials.scaled(-1.0), partials.negated());
    assert_eq!(partials.scaled(0.5).scaled(2.0), partials);
    let shared = partials.contributions(&Budget::DEFAULT);
    let own = with_own_thickness(shared);
    assert_eq!((shared[3], shared[6], own[3], own[6]), (1.5, 0.0, 0.0, 1.5));
    let squares = |parts: [f32; 7]| parts.iter().map(|part| part * part).sum::<f32>();
    assert_eq!(squares(shared), squares(own));
    let height = Height { height: 3.0, partials };
    assert_eq!(height.uncertainty(&Budget::DEFAULT), Budget::DEFAULT.expanded(&partials));
}

#[test]
fn a_leg_goes_straight_on_through_the_far_face_into_a_bead() {
    let axis = Axis::new(Degrees::new(45.0).unwrap()).unwrap();
    let legs = Part::Flat(Plate::new(mm(20.0)).unwrap()).legs(&axis);
    for (leg, unfolded) in [(1, 22.0), (3, 62.0)] {
        let (path, distance) = legs.through(leg, mm(22.0)).unwrap();
        assert!((distance.get() - unfolded).abs() < 1e-4 && (path.get() - unfolded * SQRT_2).abs() < 1e-4);
    }
    assert_eq!(legs.through(2, mm(5.0)), legs.reach(2, mm(5.0)));
    assert!(legs.through(2, mm(22.0)).is_err());
}

#[test]
fn reflectors_of_a_bead_face_the_probe_from_beyond_the_centreline() {
    let bead = JointSpec { bead: Some(mm(6.0)), excess: Some(mm(1.0)), ..*joint(None).spec() };
    let bead = Joint::new(bead).unwrap();
    for side in [Side::A, Side::B] {
        let mut toes = Vec::new();
        reflectors(&bead, side, 60.0, |found| {
            if found.kind == ReflectorKind::BeadToe {
                toes.push(found);
            }
        });
        let facing: Vec<_> = toes.iter().filter(|toe| toe.faces).collect();
        assert_eq!((toes.len(), facing.len()), (2, 1));
        assert_eq!((facing[0].side, facing[0].at.y), (Some(side.opposite()), 3.0 * side.sign()));
    }
    // A variance adds to that of the drawing itself.
    let [none, one] = [0.0, 1.0].map(with_drawn);
    assert!(none > 0.0 && (one * one - none * none - 4.0).abs() < 1e-5);
}

#[test]
fn a_threshold_says_where_it_comes_from_and_a_width_whether_it_ends() {
    let given = Threshold::given(Decibels::new(-10.0).unwrap());
    assert_eq!((given.provenance, given.to_string().as_str()), (Provenance::Given, "-10.0 dB as given"));
    for (open_start, open_end) in [(false, false), (true, false), (false, true)] {
        let width = Width { start: 1.0, end: 4.0, open_start, open_end };
        assert_eq!((width.get(), width.open()), (3.0, open_start || open_end));
    }
}

#[test]
fn the_distance_to_a_place_is_the_one_that_led_there() {
    let (axis, plate) = (Axis::new(Degrees::new(60.0).unwrap()).unwrap(), Plate::new(mm(20.0)).unwrap());
    for side in [Side::A, Side::B] {
        let position = Position::new(side, mm(0.0), mm(31.0), mm(1.5)).unwrap();
        assert!(!position.is_skewed() && position.skewed(Degrees::new(1.0).unwrap()).unwrap().is_skewed());
        let place = locate(&axis, &Part::Flat(plate), &position, mm(37.0), Peaked::Axis).unwrap();
        assert!((position.distance_to(place.y) - place.distance.get()).abs() < 1e-4);
    }
}

/// Where y is known from another view, an index error of the same probe cancels on the same side; another probe's
/// does not.
#[test]
fn a_distance_known_from_another_probe_has_both_index_errors() {
    let (axis, plate) = (Axis::new(Degrees::new(45.0).unwrap()).unwrap(), Plate::new(mm(20.0)).unwrap());
    let at = |side| Position::new(side, mm(0.0), mm(15.0), mm(0.0)).unwrap();
    let place = locate(&axis, &Part::Flat(plate), &at(Side::A), mm(20.0), Peaked::Axis).unwrap();
    let index = |side, same_probe| {
        let known = SeenTogether::from_place(&at(side), &place, same_probe);
        locate(&axis, &Part::Flat(plate), &at(side), mm(22.0), Peaked::Together(known))
            .unwrap()
            .z_partials
            .index
            .abs()
    };
    assert_eq!(index(Side::A, true), 0.0);
    let (twice, apart) = (index(Side::B, true), index(Side::B, false));
    assert!((twice / apart - SQRT_2).abs() < 1e-5, "{twice} {apart}");
    assert!(index(Side::A, false) > 0.0);
}

#[test]
fn a_store_gives_its_memory_back_with_all_that_is_in_it() {
    let entry = Entry::Units(LengthUnit::In);
    let mut store = Store::open(Nor::<1024, 8>::blank(2, 1), Policy::Stop).unwrap();
    store.append(&entry).unwrap();
    let mut store = Store::open(store.into_flash(), Policy::Stop).unwrap();
    assert_eq!(store.entries().next(), Some(Ok((1, entry))));
}

#[test]
fn entries_but_readings_are_all_entries_in_order_without_the_readings() {
    let shell =
        job("material steel\nprobe p60 angle=60 frequency=4 element=8x9\nreading 1 probe=p60 side=a x=0 \
        standoff=30 path=40 height=60 gain=40\nobserve 1 tip=seen\nvoid 3 reason=\"twice\"");
    let examination = shell.examination();
    let numbers: Vec<_> = examination.facts().entries_but_readings().map(|(number, ..)| number).collect();
    assert_eq!(numbers, [1, 2, 4, 5]);
    let others = examination.entries().filter(|(.., entry)| !matches!(entry, Entry::Reading(_)));
    assert!(others.eq(examination.facts().entries_but_readings()));
}

#[test]
fn what_was_seen_of_an_indication_and_what_took_an_entry_out_are_found_among_all_entries() {
    let shell = job("probe p60 angle=60 frequency=4 element=8x9\nreading 1 probe=p60 side=a x=0 \
        standoff=30 path=40 height=60 gain=40\nreading 12 probe=p60 side=a x=0 standoff=30 path=40 height=60 \
        gain=40\nobserve 1 tip=seen\nobserve 12 tip=not-seen\nobserve 1 damped=yes\nnote 1\nvoid 4 reason=\"no tip\"\n\
        void 3 reason=\"twice\"");
    let examination = shell.examination();
    let of = |indication| {
        let mut place = 0;
        let next = from_fn(|| examination.facts().observation(indication, &mut place));
        next.map(|(number, voided, _)| (number, voided)).collect::<Vec<_>>()
    };
    assert_eq!(of("1"), [(4, true), (6, false)]);
    assert_eq!(of("12"), [(5, false)]);
    assert_eq!(of("2"), []);
    let mut place = 0;
    let mut taker = |number| {
        examination.facts().voided_by(number, &mut place).map(|(by, reason)| (by, reason.to_string()))
    };
    assert_eq!(taker(3), Some((9, "twice".to_string())));
    assert_eq!(taker(4), Some((8, "no tip".to_string())));
    assert_eq!(taker(5), None);
}

#[test]
fn a_reference_echo_is_above_the_noise_and_at_most_the_top_of_the_screen() {
    let points = |height: &str| {
        let lines = format!(
            "material steel\nprobe p60 angle=60 frequency=4 element=8x9\nscreen noise=5 max=90\n\
             dac p60 path=30 height={height} gain=40"
        );
        let mut shell = Box::new(Shell::<NoSheets>::new(NoSheets));
        lines.lines().map(|line| shell.line(line.as_bytes(), &mut String::new())).last()
    };
    assert_eq!(points("5"), Some(Outcome::Refused { column: None }));
    assert_eq!(points("5.1"), Some(Outcome::Recorded(4)));
    assert_eq!(points("90"), Some(Outcome::Recorded(4)));
    assert_eq!(points("90.1"), Some(Outcome::Refused { column: None }));
}

#[test]
fn a_repeat_echo_names_the_radius_that_cannot_be() {
    let error = repeat(mm(25.0), mm(-1.0), 1).unwrap_err();
    assert_eq!((error.quantity, error.value, error.min), ("other radius", -1.0, 0.0));
    // s_n = R1 + n (R1 + R2)
    assert_eq!(repeat(mm(25.0), mm(0.0), 2), Ok(mm(75.0)));
}
