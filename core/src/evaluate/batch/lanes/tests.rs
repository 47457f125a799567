use super::*;
use crate::calibration::curve::{Beyond, DacPoint};
use crate::calibration::level::Screen;
use crate::part::locate::{Budget, Side};
use crate::part::path::{Axis, Plate};
use crate::units::Degrees;

/// The values given, and the last of them in all lanes that are left.
fn lane<const N: usize>(values: [f32; N]) -> Lane {
    core::array::from_fn(|at| values.get(at).or(values.last()).copied().unwrap())
}

fn curve(points: &[(f32, f32)]) -> Dac<4> {
    let height = ScreenPercent::constant(80.0);
    let mut dac = Dac::new(height);
    for &(path, gain) in points {
        let (path, gain) = (Millimetres::constant(path), Decibels::constant(gain));
        dac.insert(DacPoint { path, height, gain }).unwrap();
    }
    dac
}

fn common(dac: &Dac<4>) -> ScanSetUp<'_, 4> {
    ScanSetUp {
        axis: Axis::new(Degrees::constant(60.0)).unwrap(),
        plate: Plate::new(Millimetres::constant(25.0)).unwrap(),
        side: Side::A,
        face: Face::Near,
        index: Millimetres::constant(0.0),
        dac,
        beyond: Beyond::Refuse,
        transfer: Decibels::constant(2.0),
        screen: Screen::DEFAULT,
        budget: Budget::DEFAULT,
    }
}

/// Every path of a lane has the bits of the curve itself, or none where the curve refuses.
fn held_to_the_curve(dac: &Dac<4>, path: &Lane) {
    let (mut reference, mut usable) = ([0.0; LANES], [1; LANES]);
    reference_gains(dac, path, &mut reference, &mut usable);
    for ((path, reference), usable) in path.iter().zip(reference).zip(usable) {
        let alone = dac.gain_at(Millimetres::constant(*path), Beyond::Refuse).ok();
        let abreast = (usable == 1).then_some(reference.to_bits());
        assert_eq!(abreast, alone.map(|found| found.gain.get().to_bits()), "{path} mm of {dac:?}");
    }
}

#[test]
fn references_between_points_are_the_curves_and_those_beyond_it_are_left() {
    let mut state = 1_u32;
    let mut drawn = |from: f32, to: f32| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        from + (to - from) * (state >> 8) as f32 / 16_777_216.0
    };
    for _ in 0..4_000 {
        let points = [0, 1, 2, 3].map(|at| (drawn(5.0, 90.0) + 100.0 * at as f32, drawn(-90.0, 90.0)));
        let near = points.map(|(path, _)| [path.next_down(), path, path.next_up()]);
        let mut path: Lane = core::array::from_fn(|_| drawn(5.0, 400.0));
        for (path, near) in path.iter_mut().zip(near.iter().flatten()) {
            *path = *near;
        }
        held_to_the_curve(&curve(&points), &path);
        held_to_the_curve(&curve(&points[..2]), &path);
    }
}

#[test]
fn a_row_left_before_stays_left() {
    let (mut reference, mut usable) = ([0.0; LANES], [0; LANES]);
    reference_gains(&curve(&[(20.0, 30.0), (40.0, 36.0)]), &[30.0; LANES], &mut reference, &mut usable);
    assert_eq!((reference, usable), ([33.0; LANES], [0; LANES]));
}

#[test]
fn a_curve_without_points_serves_no_row_and_one_point_serves_at_its_path() {
    for (points, serves) in [(&[][..], 0), (&[(30.0, 41.0)], 1)] {
        let (mut reference, mut usable) = ([0.0; LANES], [1; LANES]);
        let path = lane([30.0, 30.0_f32.next_up(), 30.0_f32.next_down()]);
        reference_gains(&curve(points), &path, &mut reference, &mut usable);
        assert_eq!(usable.first_chunk(), Some(&[serves, 0, 0]));
        assert!(serves == 0 || reference.first() == Some(&41.0));
    }
}

#[test]
fn heights_off_the_screen_count_as_its_ends_and_no_height_of_none_is_used() {
    let dac = curve(&[]);
    let mut common = common(&dac);
    let percent = ScreenPercent::constant;
    common.screen = Screen::new(percent(100.0), percent(5.0), percent(80.0)).unwrap();
    let (mut ratio, mut bound, mut usable) = ([0.0; LANES], [9; LANES], [1; LANES]);
    let height = lane([80.0, 100.0, 100.5, 1_000.0, 5.0, 4.5, 0.0, -0.5, 1_000.5, f32::NAN]);
    ratios(&common, &height, &mut ratio, &mut bound, &mut usable);
    assert_eq!(ratio[..7], [1.0, 1.25, 1.25, 1.25, 0.0625, 0.0625, 0.0625]);
    assert_eq!(bound[..7], [0, 0, 1, 1, 0, 2, 2]);
    assert_eq!(usable[..10], [1, 1, 1, 1, 1, 1, 1, 0, 0, 0]);

    common.screen = Screen::new(percent(100.0), percent(0.0), percent(80.0)).unwrap();
    let mut usable = [1, 0].map(|was| [was; LANES]);
    for usable in &mut usable {
        ratios(&common, &lane([0.0, 40.0]), &mut ratio, &mut bound, usable);
    }
    assert_eq!(ratio[..2], [1.0, 0.5], "the logarithm of nothing is not asked");
    assert_eq!((usable[0].first_chunk(), usable[1]), (Some(&[0, 1]), [0; LANES]));
}

#[test]
fn levels_count_the_transfer_and_are_used_where_all_parts_are_in_range() {
    let dac = curve(&[]);
    let rows = [
        // db, reference, gain, level and whether it is used
        (0.5, 34.0, 30.0, 16.0, 1),
        (0.0, 300.0, 298.0, 4.0, 1),
        (0.0, 34.0, 300.5, -264.5, 0),
        (0.0, 300.5, 300.0, 2.5, 0),
        (15.5, -100.0, 0.0, 212.0, 0),
        (0.0, 200.0, -150.0, 352.0, 0),
        (15.0, -100.0, 102.0, 100.0, 1),
    ];
    let column = |of: fn(&(f32, f32, f32, f32, u32)) -> f32| lane(rows.each_ref().map(of));
    let (mut db, reference, gain) = (column(|row| row.0), column(|row| row.1), column(|row| row.2));
    let (mut usable, mut left, mut again) = ([1; LANES], [0; LANES], db);
    levels(&common(&dac), &reference, &gain, &mut db, &mut usable);
    levels(&common(&dac), &reference, &gain, &mut again, &mut left);
    assert_eq!(db, column(|row| row.3));
    assert_eq!(usable[..rows.len()], rows.each_ref().map(|row| row.4));
    assert_eq!((again, left), (db, [0; LANES]));
}

#[test]
fn places_are_used_where_path_standoff_and_place_are_in_range() {
    let dac = curve(&[]);
    let common = common(&dac);
    let standoff = lane([30.0, -10_000.0, -10_000.5, 10_000.0, 10_000.5, f32::NAN, 30.0, 30.0, 30.0, 30.0]);
    let path = lane([40.0, 40.0, 40.0, 40.0, 40.0, 40.0, 0.01, 0.0, 10_000.0, 10_000.5]);
    assert_eq!(place(&common, &standoff, &path).usable[..10], [1, 1, 0, 1, 0, 0, 1, 0, 1, 0]);
}

#[test]
fn a_place_on_the_centreline_has_no_sign() {
    let dac = curve(&[]);
    for side in [Side::A, Side::B] {
        let common = ScanSetUp { side, ..common(&dac) };
        let path = [40.0; LANES];
        let standoff = path.map(|path| path * common.axis.sin());
        let placed = place(&common, &standoff, &path);
        assert_eq!(placed.y.map(f32::to_bits), [0; LANES]);
    }
}
