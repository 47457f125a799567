//! Readings in columns: the same bits as one at a time, and `None` exactly where one at a time gives an error.

use halfskip::calibration::curve::{Beyond, Dac, DacPoint};
use halfskip::calibration::level::Screen;
use halfskip::evaluate::ReadingError;
use halfskip::evaluate::batch::{Evaluated, LengthsDiffer, Readings, ScanSetUp};
use halfskip::part::locate::{Budget, Face, Side};
use halfskip::part::path::{Axis, Plate};
use halfskip::units::{Decibels, Degrees, Millimetres, ScreenPercent};
use halfskip_host_tests::drawn::Drawn;

const ROWS: usize = 203;
/// Values at the ends of ranges, and no values at all.
const ODD: [f32; 12] =
    [0.0, -0.0, 0.01, 5.0, 80.0, 100.0, 1_000.0, 10_000.0, 10_000.1, -1.0, f32::NAN, f32::INFINITY];

fn drawn_curve(from: &mut Drawn, points: usize, screen: &Screen) -> (Dac<7>, Vec<f32>) {
    let mut dac = Dac::new(screen.reference());
    let mut paths = vec![20.0, 10_000.0];
    for _ in 0..points {
        let path = Millimetres::constant(from.between(5.0, 300.0));
        let (height, gain) = (from.between(20.0, 100.0), from.between(20.0, 60.0));
        let (height, gain) = (ScreenPercent::constant(height), Decibels::constant(gain));
        dac.insert(DacPoint { path, height, gain }).unwrap();
        paths.push(path.get());
    }
    (dac, paths)
}

fn column(from: &mut Drawn, low: f32, high: f32, special: &[f32]) -> Vec<f32> {
    (0..ROWS)
        .map(|_| match from.bits() % 64 {
            0 => from.one_of(&ODD),
            1..8 => from.one_of(special),
            _ => from.between(low, high),
        })
        .collect()
}

fn bits(found: &Evaluated) -> ([u32; 5], u32, halfskip::calibration::level::Bound) {
    let figures = [found.y.get(), found.z.get(), found.u_y, found.u_z, found.level.db.get()];
    (figures.map(f32::to_bits), found.leg, found.level.bound)
}

#[test]
fn columns_give_the_bits_that_readings_give_one_by_one() {
    let mut from = Drawn::seeded(2026);
    let (mut evaluated, mut refused) = (0, 0);
    for round in 0..600 {
        let [max, noise, reference] =
            [from.between(90.0, 130.0), from.one_of(&[0.0, 4.0, 5.0]), from.between(30.0, 90.0)]
                .map(ScreenPercent::constant);
        let screen = Screen::new(max, noise, reference).unwrap();
        let (dac, paths) = drawn_curve(&mut from, round % 8, &screen);
        let (angle, thickness) = (from.between(30.0, 75.0), from.between(4.0, 60.0));
        let mut common = ScanSetUp {
            axis: Axis::new(Degrees::constant(angle)).unwrap(),
            plate: Plate::new(Millimetres::constant(thickness)).unwrap(),
            side: from.one_of(&[Side::A, Side::B]),
            face: from.one_of(&Face::both()),
            index: Millimetres::constant(from.one_of(&[0.0, 1.5, -2.0])),
            dac: &dac,
            beyond: from.one_of(&[Beyond::Refuse, Beyond::Hold, Beyond::Slope]),
            transfer: Decibels::constant(from.one_of(&[0.0, 2.0, -1.3])),
            screen,
            budget: Budget::default(),
        };
        common.budget.velocity = from.one_of(&[0.0, 0.01]);
        common.budget.index = Millimetres::constant(from.one_of(&[0.0, 1.0]));
        // Paths that end at a face, to within a rounding, among the rest.
        let faces = [1.0, 2.0, 3.0, 4.0].map(|leg| leg * common.plate.leg_length(&common.axis));
        let special: Vec<f32> = paths.iter().copied().chain(faces).collect();
        let standoff = column(&mut from, -20.0, 200.0, &[0.0]);
        let path = column(&mut from, 5.0, 320.0, &special);
        let height = column(&mut from, 0.0, 140.0, &[max.get(), noise.get(), reference.get(), 300.0]);
        let gain = column(&mut from, 20.0, 70.0, &[-300.0, 300.0]);
        let readings = Readings { standoff: &standoff, path: &path, height: &height, gain: &gain };
        let mut found = [None; ROWS];
        common.evaluate(&readings, &mut found).unwrap();
        for (row, found) in found.iter().enumerate() {
            let alone = common.one(standoff[row], path[row], height[row], gain[row]).ok();
            assert_eq!(found.as_ref().map(bits), alone.as_ref().map(bits), "round {round}, row {row}");
            *(if alone.is_some() { &mut evaluated } else { &mut refused }) += 1;
        }
    }
    assert!(evaluated > 60_000 && refused > 20_000, "{evaluated} evaluated, {refused} refused");
}

#[test]
fn columns_of_different_lengths_are_refused_and_nothing_is_written() {
    let screen = Screen::default();
    let dac: Dac<7> = Dac::new(screen.reference());
    let common = ScanSetUp {
        axis: Axis::new(Degrees::constant(60.0)).unwrap(),
        plate: Plate::new(Millimetres::constant(20.0)).unwrap(),
        side: Side::A,
        face: Face::Near,
        index: Millimetres::constant(0.0),
        dac: &dac,
        beyond: Beyond::Refuse,
        transfer: Decibels::constant(0.0),
        screen,
        budget: Budget::default(),
    };
    let (three, two) = ([40.0; 3], [40.0; 2]);
    let readings = Readings { standoff: &three, path: &three, height: &two, gain: &three };
    let told = common.evaluate(&readings, &mut [None; 3]).unwrap_err();
    assert_eq!(told, LengthsDiffer { longest: 3, shortest: 2 });
    assert_eq!(told.to_string(), "the columns are 2 to 3 long: they must be of one length");
    assert!(matches!(common.one(40.0, 40.0, 40.0, 40.0), Err(ReadingError::Curve(_))));
    assert!(matches!(common.one(-10_000.5, 40.0, 40.0, 40.0), Err(ReadingError::Range(_))));
}
