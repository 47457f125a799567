//! What is stated and not measured, and which entries a probe's calibration rests on.

use halfskip::findings::{Suspicion, suspicion_of_probe};
use halfskip::record::entry::{AngleKnown, Entry, Text, TimebaseKnown};
use halfskip::record::examination::Refusal;
use halfskip::units::decimal::{Decimal, Entered};
use halfskip_host_tests::frames::fact;
use halfskip_host_tests::told::{Roomy, examined, facts_of};

const PROBE: &str = "probe p60 angle=60 frequency=4 element=8x9\n";

fn told(lines: &str) -> Box<Roomy> {
    examined(&facts_of(&format!("{PROBE}{lines}")))
}

fn void(number: u32) -> Entry {
    Entry::Void { number, reason: Text::try_from("typing error").unwrap() }
}

#[test]
fn a_stated_angle_and_time_base_are_in_force_and_known_as_stated() {
    let examination = told(
        "\
angle p60 stated=60.2 index=0.3
timebase p60 velocity=3.255 delay=2.5
transfer p60 gain=2
",
    );
    let state = examination.settings().probe(0).unwrap();
    let angle = state.axis().unwrap().angle();
    assert_eq!(state.angle_stated(), Some((2, angle)));
    assert_eq!((angle.get(), state.index().get(), state.index_stated()), (60.2, 0.3, Some(state.index())));
    assert_eq!((state.angle_entries(), state.angle_check().is_some()), (None, false));
    assert_eq!((state.timebase_entry(), state.transfer_entry()), (Some((3, true)), Some((4, true))));
    let fit = state.timebase().unwrap();
    assert_eq!((fit.base().velocity.get(), fit.base().delay.get()), (3.255, 2.5));
    assert_eq!(fit.verdict(examination.settings().common().budget.path), None);
}

#[test]
fn what_was_measured_is_known_as_measured_with_its_entries() {
    let mut examination = told(
        "\
angle p60 depth=15 distance=26.2
timebase p60 path=25,100 time=17.31,63.75
angle p60 depth=25 distance=43.5
transfer p60 block=40:41 part=40:43
units mm
",
    );
    let entries = |examination: &Roomy| {
        let state = examination.settings().probe(0).unwrap();
        (state.angle_entries(), state.angle_stated(), state.timebase_entry(), state.transfer_entry())
    };
    let measured = (None, Some((3, false)), Some((5, false)));
    let with = |holes| (Some(holes), measured.0, measured.1, measured.2);
    assert_eq!(entries(&examination), with((2, 4)));
    examination.record(void(2)).unwrap();
    assert_eq!(entries(&examination), with((4, 4)));
}

#[test]
fn holes_and_a_statement_exclude_each_other_until_one_is_voided() {
    let mut examination = told("angle p60 stated=60.2\n");
    let hole = fact("angle p60 depth=15 distance=26.2");
    let stated = fact("angle p60 stated=61");
    let held = |what, number| Err(Refusal::InForce { what, number });
    assert_eq!(examination.record(hole.clone()), held("the stated angle of this probe", 2));
    assert_eq!(examination.record(stated.clone()), held("the stated angle of this probe", 2));
    examination.record(void(2)).unwrap();
    assert_eq!(examination.record(hole), Ok(4));
    assert_eq!(examination.record(stated), held("the measured angle of this probe", 4));
    let mut examination = told("timebase p60 velocity=3.255 delay=2.5\n");
    let echoes = fact("timebase p60 path=25,100 time=17.31,63.75");
    assert_eq!(examination.record(echoes), held("the time base of this probe", 2));
}

#[test]
fn a_stated_value_out_of_its_range_is_refused_from_a_frame_as_from_a_line() {
    let mut examination = told("");
    let Entry::Angle(mut angle) = fact("angle p60 stated=60") else { unreachable!() };
    let AngleKnown::Stated { index, .. } = &mut angle.how else { unreachable!() };
    *index = Some(Entered::new(Decimal::parse("51").unwrap()).unwrap());
    let Entry::Timebase(mut base) = fact("timebase p60 velocity=3.2 delay=1") else { unreachable!() };
    let TimebaseKnown::Stated { delay, .. } = &mut base.how else { unreachable!() };
    *delay = Entered::new(Decimal::parse("1001").unwrap()).unwrap();
    for entry in [Entry::Angle(angle), Entry::Timebase(base)] {
        assert!(matches!(examination.record(entry), Err(Refusal::Range(_))));
    }
}

#[test]
fn a_stated_angle_or_index_off_by_more_than_the_tolerance_is_suspect() {
    let suspicion =
        |line: &str| suspicion_of_probe(&told(&format!("tolerance angle=2 index=1\n{line}")).facts(), 0);
    assert_eq!(suspicion("angle p60 stated=62 index=-1"), None);
    assert_eq!(suspicion("angle p60 stated=57.9"), Some(Suspicion::StatedAngle));
    assert_eq!(suspicion("angle p60 stated=60 index=-1.1"), Some(Suspicion::Index));
}

#[test]
fn reference_points_know_their_entries_and_their_hole_in_order_of_path() {
    let points = |examination: &Roomy| -> Vec<_> {
        let state = examination.settings().probe(0).unwrap();
        let points = state.reference_points();
        points.map(|at| (at.number, at.path.get(), at.gain.get(), at.hole.map(|hole| hole.get()))).collect()
    };
    let mut examination = told(
        "\
dac p60 path=60 height=80 gain=42 hole=3
dac p60 path=20 height=80 gain=34
dac p60 path=40 height=80 gain=38 hole=3.0
",
    );
    let held = [(3, 20.0, 34.0, None), (4, 40.0, 38.0, Some(3.0)), (2, 60.0, 42.0, Some(3.0))];
    assert_eq!(points(&examination), held);
    let other = fact("dac p60 path=80 height=80 gain=46 hole=10");
    let refused = examination.record(other.clone()).unwrap_err();
    assert!(matches!(&refused, Refusal::HoleDiffers { number: 2, hole } if hole.get() == 3.0));
    let says = "points of one curve come from holes of one size; entry 2 has a hole of 3 mm";
    assert_eq!(refused.to_string(), says);
    assert_eq!(points(&examination), held);
    // A point that is refused by its path leaves no trace either.
    assert!(examination.record(fact("dac p60 path=40 height=80 gain=1 hole=3")).is_err());
    assert_eq!(points(&examination), held);
    // With both points of the size voided another size can begin.
    examination.record(void(2)).unwrap();
    let refused = examination.record(other.clone()).unwrap_err();
    assert!(matches!(refused, Refusal::HoleDiffers { number: 4, .. }));
    examination.record(void(4)).unwrap();
    assert_eq!(examination.record(other), Ok(7));
    assert_eq!(points(&examination), [(3, 20.0, 34.0, None), (7, 80.0, 46.0, Some(10.0))]);
}
