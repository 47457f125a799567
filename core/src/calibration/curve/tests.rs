use super::*;

fn mm(path: f32) -> Millimetres {
    Millimetres::new(path).unwrap()
}

fn point(path: f32, height: f32, gain: f32) -> DacPoint {
    DacPoint {
        path: mm(path),
        height: ScreenPercent::new(height).unwrap(),
        gain: Decibels::new(gain).unwrap(),
    }
}

fn curve(points: &[DacPoint]) -> Dac<4> {
    let mut dac = Dac::new(ScreenPercent::new(80.0).unwrap());
    for point in points {
        dac.insert(*point).unwrap();
    }
    dac
}

#[test]
fn order_of_entry_changes_nothing() {
    let [a, b, c] = [point(20.0, 80.0, 30.0), point(40.0, 64.0, 36.0), point(80.0, 50.0, 41.0)];
    let sorted = curve(&[a, b, c]);
    for order in [[a, c, b], [b, a, c], [b, c, a], [c, a, b], [c, b, a]] {
        assert_eq!(curve(&order), sorted);
    }
}

#[test]
fn a_lower_reference_echo_needs_more_gain() {
    let dac = curve(&[point(20.0, 8.0, 30.0)]);
    let flat = dac.gain_at(mm(500.0), Beyond::Refuse).unwrap();
    assert_eq!((flat.gain.get(), flat.how), (50.0, How::Flat));
}

#[test]
fn both_end_points_are_inside_and_a_hair_beyond_is_not() {
    let dac = curve(&[point(20.0, 80.0, 30.0), point(40.0, 80.0, 36.0)]);
    for (path, gain) in [(20.0f32, 30.0), (40.0, 36.0)] {
        let found = dac.gain_at(mm(path), Beyond::Refuse).unwrap();
        assert_eq!((found.gain.get(), found.how), (gain, How::Between));
    }
    for path in [20.0f32.next_down(), 40.0f32.next_up()] {
        let refused = dac.gain_at(mm(path), Beyond::Refuse).unwrap_err();
        assert_eq!(refused, CurveError::Outside { path: mm(path), min: mm(20.0), max: mm(40.0) });
    }
}

#[test]
fn what_lies_outside_is_answered_only_by_a_named_policy() {
    // Rise 0.3, then 0.1 dB/mm: the fitted slope is neither.
    let dac = curve(&[point(20.0, 80.0, 30.0), point(40.0, 80.0, 36.0), point(60.0, 80.0, 38.0)]);
    let slope = dac.slope().unwrap();
    assert!((slope - 0.2).abs() < 1e-6);
    for (path, end) in [(10.0f32, 30.0), (75.0, 38.0)] {
        let held = dac.gain_at(mm(path), Beyond::Hold).unwrap();
        assert_eq!((held.gain.get(), held.how), (end, How::Held));
    }
    let before = dac.gain_at(mm(10.0), Beyond::Slope).unwrap();
    let after = dac.gain_at(mm(75.0), Beyond::Slope).unwrap();
    assert_eq!((before.how, after.how), (How::Sloped, How::Sloped));
    assert!((before.gain.get() - 28.0).abs() < 1e-5 && (after.gain.get() - 41.0).abs() < 1e-5);
    // The policy changes nothing inside.
    assert_eq!(dac.gain_at(mm(50.0), Beyond::Slope), dac.gain_at(mm(50.0), Beyond::Refuse));
}

#[test]
fn a_rising_curve_never_falls_between_its_points() {
    let dac = curve(&[point(12.64, 78.2, 40.0), point(33.85, 76.4, 41.0), point(55.06, 80.0, 45.0)]);
    let mut last = f32::MIN;
    let mut path = 12.64f32;
    while path < 55.06 {
        let gain = dac.gain_at(mm(path), Beyond::Refuse).unwrap().gain.get();
        assert!(gain >= last, "at {path}");
        (last, path) = (gain, path + 0.013);
    }
}

#[test]
fn what_is_no_reference_is_refused_and_changes_nothing() {
    let mut dac = curve(&[point(20.0, 80.0, 30.0)]);
    let before = dac.clone();
    let twice = dac.insert(point(20.0, 40.0, 31.0));
    assert_eq!(twice, Err(CurveError::Duplicate { path: mm(20.0) }));
    assert_eq!(dac.insert(point(30.0, 0.0, 31.0)), Err(CurveError::NoHeight));
    assert!(matches!(dac.insert(point(0.0, 80.0, 31.0)), Err(CurveError::Range(_))));
    assert!(matches!(dac.insert(point(30.0, 1.0, 299.0)), Err(CurveError::Range(_))));
    assert_eq!(dac, before);
    for path in [30.0, 40.0, 50.0] {
        dac.insert(point(path, 80.0, 31.0)).unwrap();
    }
    assert_eq!(dac.insert(point(60.0, 80.0, 31.0)), Err(CurveError::Full { capacity: 4 }));
    assert_eq!(curve(&[]).gain_at(mm(20.0), Beyond::Hold), Err(CurveError::Empty));
}

#[test]
fn just_before_a_point_the_curve_does_not_pass_it() {
    // 10.9 + 46.3 · 1 is rounded up.
    for (near, far) in [(10.9, 57.2), (-10.9, -57.2)] {
        let dac = curve(&[point(96.6, 80.0, near), point(230.9, 80.0, far)]);
        assert_eq!(dac.gain_at(mm(230.9f32.next_down()), Beyond::Refuse).unwrap().gain.get(), far);
    }
}
