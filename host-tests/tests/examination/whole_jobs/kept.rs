//! What an examination gives back of what it was told, and how single facts act on the findings.

use halfskip::character::Thresholds;
use halfskip::evaluate::sizing::length::Length;
use halfskip::findings::{Basis, LengthRule, NEAR, evaluate, range, scans};
use halfskip::part::locate::{Budget, Side};
use halfskip::planning::plan::Scan;
use halfskip::record::entry::{EnteredHeight, Entry, LengthUnit, ReadingEntry, Steadiness};
use halfskip::record::examination::Examination;
use halfskip::units::{Decibels, Millimetres};
use halfskip_host_tests::job::{height, indication};
use halfskip_host_tests::told::{examined, fact, facts_of};

use super::day;

fn readings(entries: &[Entry]) -> Vec<&ReadingEntry> {
    let mut found = Vec::new();
    for entry in entries {
        if let Entry::Reading(reading) = entry {
            found.push(reading);
        }
    }
    found
}

#[test]
fn a_packed_reading_is_the_one_that_was_entered() {
    let day = day();
    let examination = examined(&day);
    let facts = examination.facts();
    let entered = readings(&day);
    assert_eq!(facts.readings().count(), entered.len());
    for (kept, entered) in facts.readings().zip(entered) {
        assert_eq!(facts.indications()[usize::from(kept.indication())], entered.indication);
        assert_eq!(facts.probe(kept.probe()).unwrap().name(), &entered.probe);
        assert_eq!((kept.side(), kept.face()), (entered.side, entered.face));
        assert_eq!((kept.point(), kept.sweep()), (entered.point, entered.sweep));
        assert_eq!((kept.x(), kept.standoff()), (entered.x.quantity(), entered.standoff.quantity()));
        assert_eq!((kept.travel(), kept.height()), (entered.travel, entered.height));
        assert_eq!(kept.gain(), entered.gain.quantity());
        assert_eq!(kept.skew(), entered.skew.map(|skew| skew.quantity()));
        assert_eq!(kept.thickness(), entered.thickness.map(|thickness| thickness.quantity()));
        assert_eq!(kept.together(), entered.together.unwrap_or(0));
        assert!(!kept.is_void());
    }
    assert_eq!(
        facts.last_reading().map(|last| last.number()),
        facts.readings().last().map(|last| last.number())
    );
}

#[test]
fn what_is_in_force_of_a_probe_is_what_its_lines_said() {
    let lines = "\
probe p60 angle=60 frequency=4 element=8x9 front=11
timebase p60 path=25,100 time=17.31,63.75
angle p60 depth=10 distance=18.3205
angle p60 depth=30 distance=52.9615
dac p60 path=60 height=40 gain=44
dac p60 path=30 height=80 gain=38
transfer p60 gain=2.5
scanning p60 margin=6
";
    let examination = examined(&facts_of(lines));
    let state = examination.settings().probe(0).unwrap();
    assert_eq!(state.holes().len(), 2);
    assert!((state.index().get() - 1.0).abs() < 1e-4);
    assert!((state.axis().unwrap().angle().get() - 60.0).abs() < 1e-4);
    assert_eq!(state.angle_check().unwrap().index(), Some(state.index()));
    let paths: Vec<f32> = state.dac().points().map(|point| point.path.get()).collect();
    assert_eq!(paths, [30.0, 60.0]);
    let path = state.timebase().unwrap().base().path(halfskip::units::Microseconds::new(63.75).unwrap());
    assert!((path.unwrap().get() - 100.0).abs() < 1e-3);
    let transfer = state.transfer().unwrap().at(Millimetres::new(50.0).unwrap());
    assert_eq!(transfer.unwrap().get(), 2.5);
    assert_eq!(state.margin(), Some(Decibels::new(6.0).unwrap()));
}

#[test]
fn a_half_width_of_the_velocity_is_relative_to_the_best_velocity_known() {
    let of = |lines: &str| {
        let examination = examined(&facts_of(&format!(
            "probe p60 angle=60 frequency=4 element=9\ntolerance velocity=0.0324\n{lines}"
        )));
        let facts = examination.facts();
        facts.budget(facts.probe(0).unwrap()).velocity
    };
    assert!((of("material own shear=3.24 long=5.9") - 0.01).abs() < 1e-6);
    // 75 mm there and back in 50 us is 3 mm/us.
    assert!((of("timebase p60 path=25,100 time=20,70") - 0.0108).abs() < 1e-6);
    assert_eq!(of(""), Budget::DEFAULT.velocity);
}

const PLATE: &str = "joint butt thickness=20 prep=square gap=2\nprobe p45 angle=45 frequency=4 element=9\n";

/// Corners on plates that were measured apart, and differ by more than any path does.
#[test]
fn corners_on_measured_thicknesses_do_not_disagree() {
    let corner = |thickness: f32| {
        // Peaked at 45 degrees, stand-off where the beam meets the far face.
        let path = thickness * std::f32::consts::SQRT_2;
        format!("standoff={thickness} path={path:.3} height=50 gain=40 point=corner thickness={thickness}")
    };
    let lines = format!(
        "{PLATE}reading 1 probe=p45 side=a x=0 {}\nreading 1 probe=p45 side=b x=0 {}\n",
        corner(19.7),
        corner(20.1)
    );
    let examination = examined(&facts_of(&lines));
    let found = indication(&examination.facts(), 0).place().unwrap();
    assert_eq!(found.consistent, Some(true), "{found:?}");
    assert!(found.z > 19.7 && found.z < 20.1 && found.y.abs() < 0.3, "{found:?}");
    // Two gauges know more than one: 2 * 0.3 / sqrt(3) / sqrt(2).
    assert!((found.u_z - 0.245).abs() < 0.01, "{found:?}");
}

#[test]
fn an_echo_that_was_not_seen_lies_nowhere_and_has_no_height() {
    let lines = format!(
        "{PLATE}dac p45 path=40 height=80 gain=40
reading 1 probe=p45 side=a x=0 standoff=20 path=28.284 height=50 gain=40 point=corner
reading 1 probe=p45 side=a x=0 standoff=15 path=21.2 height=under gain=70 point=upper-tip
reading 2 probe=p45 side=a x=0 standoff=15 path=21.2 height=under gain=70
"
    );
    let examination = examined(&facts_of(&lines));
    let facts = examination.facts();
    assert!(indication(&facts, 0).heights(indication(&facts, 0).place().as_ref()).is_empty());
    assert!(height(&facts, 0).is_none());
    assert!(indication(&facts, 1).place().is_none());
    let unseen: Vec<bool> = facts.readings().map(|reading| evaluate(&facts, reading).unseen()).collect();
    assert_eq!(unseen, [false, true, true]);
    assert_eq!(facts.readings().filter(|reading| reading.height() == EnteredHeight::Under).count(), 2);
}

/// A series across the weld walks from leg 1 into leg 2: its flank there is stronger than the peak that leg 2 has.
#[test]
fn a_weaker_peak_stands_for_its_leg_where_a_flank_is_stronger() {
    let member = |standoff: f32, path: f32, height: f32| {
        format!(
            "reading 1 probe=p45 side=a x=0 standoff={standoff} path={path} height={height} gain=40 sweep=across\n"
        )
    };
    let lines = [
        PLATE.to_owned(),
        "dac p45 path=40 height=80 gain=40\n".to_owned(),
        member(17.0, 25.0, 60.0),
        member(18.0, 27.0, 80.0),
        // Past the far face: still falling.
        member(19.0, 29.0, 70.0),
        member(20.0, 31.0, 30.0),
        member(21.0, 33.0, 20.0),
        member(22.0, 34.0, 35.0),
        member(23.0, 35.0, 10.0),
    ];
    let examination = examined(&facts_of(&lines.concat()));
    let facts = examination.facts();
    let found = indication(&facts, 0).place().unwrap();
    assert_eq!((found.basis, found.views), (Basis::Echoes, 2));
    let standoffs: Vec<f32> =
        indication(&facts, 0).views().iter().map(|view| view.standoff().get()).collect();
    assert_eq!(standoffs, [18.0, 22.0]);
}

#[test]
fn a_passing_reading_takes_the_place_of_those_before_it() {
    type Passing = Examination<2, 2, 3, 1024>;
    let mut passing: Box<Passing> = Box::default();
    for entry in facts_of(PLATE) {
        passing.record(entry).unwrap();
    }
    let reading = |indication: &str, more: &str| {
        let line = format!(
            "reading {indication} probe=p45 side=a x=0 standoff=20 path=28.3 height=50 gain=40 {more}"
        );
        let Some(Entry::Reading(reading)) = fact(&line, LengthUnit::Mm) else { panic!("{line}") };
        reading
    };
    for number in 3..100 {
        assert_eq!(passing.pass(&reading(&number.to_string(), "")), Ok(number));
        assert_eq!(passing.facts().readings().count(), 1);
    }
    assert_eq!((passing.pass_over(), passing.last()), (Ok(100), 100));
    // A tip needs the corner that was seen with it.
    passing.pass(&reading("c", "point=corner together=1")).unwrap();
    passing.pass(&reading("c", "point=upper-tip together=1")).unwrap();
    let facts = passing.facts();
    assert_eq!(facts.readings().count(), 2);
    assert!(evaluate(&facts, facts.last_reading().unwrap()).place.is_ok());
    passing.pass(&reading("c", "point=upper-tip together=2")).unwrap();
    assert_eq!(passing.facts().readings().count(), 1);
}

#[test]
fn a_probe_in_force_can_be_moved_on_both_sides_within_its_gain_line() {
    let lines = "\
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2
probe p60 angle=60 frequency=4 element=9 front=10
probe p45 angle=45 frequency=4 element=9 front=10
dac p60 path=30 height=80 gain=38
dac p60 path=60 height=80 gain=44
dac p45 path=30 height=80 gain=38
";
    let examination = examined(&facts_of(lines));
    let facts = examination.facts();
    let ranges: Vec<_> = facts.probes().iter().map(|state| range(state).map(Millimetres::get)).collect();
    // A single reference point holds at every path.
    assert_eq!(ranges, [Some(60.0), None]);
    let found: Vec<_> = scans(&facts, NEAR, 2).map(|found| (found.probe, found.side)).collect();
    assert_eq!(found, [(0, Side::A), (0, Side::B), (1, Side::A), (1, Side::B)]);
    let (_, joint) = facts.common().joint.as_ref().unwrap();
    for found in scans(&facts, NEAR, 2) {
        // Leg 2 comes back to the far edge of the groove after a full skip.
        let edge = joint.section().half_width(found.side.opposite(), 0.0).unwrap();
        let scan: Scan = found.scan.unwrap();
        let tan = if found.probe == 0 { 1.732_050_8 } else { 1.0 };
        let greatest = scan.greatest(&joint.section());
        assert!((greatest - (40.0 * tan + edge)).abs() < 1e-3, "{greatest} {tan} {edge}");
    }
}

#[test]
fn a_sweep_that_ends_on_the_echo_is_open_and_its_half_widths_are_told_input_by_input() {
    let member = |x: u32, height: u32| {
        format!(
            "reading 1 probe=p45 side=a x={x} standoff=20 path=28.284 height={height} gain=40 sweep=along\n"
        )
    };
    let lines = [
        PLATE.to_owned(),
        "dac p45 path=40 height=80 gain=40\n".to_owned(),
        member(0, 20),
        member(4, 60),
        member(8, 50),
    ];
    let examination = examined(&facts_of(&lines.concat()));
    let facts = examination.facts();
    let length: Length = indication(&facts, 0).length(LengthRule::DROP_6).unwrap();
    assert!(length.is_open() && length.open_end && !length.open_start, "{length:?}");
    let scan = indication(&facts, 0).scan_along().unwrap();
    assert_eq!(scan.sampled(|series| series.samples().len()), Ok(3));
    let finding = evaluate(&facts, facts.last_reading().unwrap());
    let place = finding.place.unwrap();
    assert_eq!(facts.thickness_of(finding.reading).map(halfskip::units::Millimetres::get), Some(20.0));
    let parts = finding.contributions(&place.y_partials);
    let sum: f32 = parts.iter().map(|part| part * part).sum();
    assert!((halfskip::math::sqrt(sum * 4.0 / 3.0).unwrap() - finding.uncertainty().unwrap().0).abs() < 1e-5);
}

#[test]
fn a_later_observation_adds_to_an_earlier_one_and_replaces_what_it_says_again() {
    let reading = "reading 1 probe=p45 side=a x=0 standoff=20 path=28.3 height=50 gain=40\n";
    let lines =
        format!("{PLATE}{reading}observe 1 swivel=ragged tip=seen\nobserve 1 tip=not-seen damped=yes\n");
    let mut examination = examined(&facts_of(&lines));
    let observed = examination.facts().observed(0);
    assert_eq!((observed.swivel, observed.tip), (Some(Steadiness::Ragged), Some(false)));
    assert_eq!((observed.damped, observed.orbit), (Some(true), None));
    examination.record(fact("void 5 reason=\"looked again\"", LengthUnit::Mm).unwrap()).unwrap();
    assert_eq!(examination.facts().observed(0).tip, Some(true));
}

#[test]
fn evidence_is_counted_by_what_it_says_of_what_is_told() {
    let day = day();
    let examination = examined(&day);
    let facts = examination.facts();
    for place in facts.seen() {
        let told = indication(&facts, place).character();
        let same = indication(&facts, place).character_by::<128>(&Thresholds::DEFAULT);
        assert_eq!(format!("{told:?}"), format!("{same:?}"));
        let bearings: Vec<i32> = told.evidence().map(|evidence| told.bearing(evidence)).collect();
        let count = |sign: i32| bearings.iter().filter(|bearing| bearing.signum() == sign).count() as u32;
        assert_eq!(told.counts(), (count(1), count(-1)));
    }
}

/// Sweeps along the weld in leg 1 and in leg 2 stand side by side: the weaker one has a peak of its own.
#[test]
fn each_leg_of_a_sweep_along_the_weld_is_a_view_with_its_own_peak() {
    let mut lines = format!("{PLATE}dac p45 path=40 height=80 gain=40\n");
    for (x, first, second) in [(0, 20, 10), (5, 60, 25), (10, 80, 40), (15, 50, 30), (20, 15, 10)] {
        lines += &format!(
            "reading 1 probe=p45 side=a x={x} standoff=15 path=21.2 height={first} gain=40 sweep=along\n"
        );
        lines += &format!(
            "reading 1 probe=p45 side=a x={x} standoff=25 path=35.4 height={second} gain=40 sweep=along\n"
        );
    }
    let examination = examined(&facts_of(&lines));
    let facts = examination.facts();
    let views: Vec<_> =
        indication(&facts, 0).views().iter().map(|view| (view.x().get(), view.standoff().get())).collect();
    assert_eq!(views, [(10.0, 15.0), (10.0, 25.0)]);
}

/// Two legs see both tips of a buried flaw: each upper tip goes with the lower tip that tells the height best.
#[test]
fn tips_are_paired_by_what_they_tell_and_not_by_the_order_of_entry() {
    let tips = [
        "path=14.142 standoff=10 height=50 gain=50 point=upper-tip",
        "path=42.426 standoff=30 height=50 gain=50 point=upper-tip",
        "path=21.213 standoff=15 height=50 gain=50 point=lower-tip",
        "path=35.355 standoff=25 height=50 gain=50 point=lower-tip",
    ];
    let told = |order: [usize; 4]| {
        let lines: String =
            order.iter().map(|tip| format!("reading 1 probe=p45 side=a x=0 {}\n", tips[*tip])).collect();
        let examination = examined(&facts_of(&format!("{PLATE}dac p45 path=40 height=80 gain=40\n{lines}")));
        let facts = examination.facts();
        let found = height(&facts, 0).unwrap();
        let mut pairs: Vec<_> = indication(&facts, 0)
            .heights(indication(&facts, 0).place().as_ref())
            .iter()
            .map(|pair| (pair.tip.standoff().get(), pair.lower.unwrap().standoff().get()))
            .collect();
        pairs.sort_by(|one, other| one.partial_cmp(other).unwrap());
        (found, pairs)
    };
    let (found, pairs) = told([0, 1, 2, 3]);
    assert!((found.height - 5.0).abs() < 0.01, "{found:?}");
    assert_eq!(pairs, [(10.0, 15.0), (30.0, 25.0)]);
    for order in [[3, 2, 1, 0], [2, 0, 3, 1], [1, 3, 0, 2]] {
        let (other, same_pairs) = told(order);
        assert_eq!(same_pairs, pairs);
        assert!(
            (other.height - found.height).abs() < 1e-5
                && (other.uncertainty - found.uncertainty).abs() < 1e-5
        );
    }
}

#[test]
fn a_tie_of_nothing_is_refused_and_never_taken_for_none() {
    let mut examination = examined(&facts_of(PLATE));
    let line = "reading 1 probe=p45 side=a x=0 standoff=20 path=28.3 height=50 gain=40 together=1";
    let Some(Entry::Reading(mut reading)) = fact(line, LengthUnit::Mm) else { panic!() };
    // As from a frame: no line can say it.
    reading.together = Some(0);
    assert!(examination.record(Entry::Reading(reading.clone())).is_err());
    reading.together = Some(255);
    assert!(examination.record(Entry::Reading(reading)).is_ok());
}
