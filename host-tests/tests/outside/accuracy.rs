//! Every function of the accuracy table against the 50-digit reference, over the whole valid range.

use std::fs;
use std::path::Path;

use halfskip::physics::beam::{Direction, EdgeDrop};
use halfskip::physics::probe::near_field_rectangular;
use halfskip::units::Millimetres;
use halfskip_host_tests::accuracy::{PROMISED, RECTANGLE, TABLE};
use halfskip_host_tests::functions;
use halfskip_host_tests::measured::Worst;
use halfskip_host_tests::reference::Table;

#[test]
fn every_function_keeps_its_accuracy_over_the_whole_range() {
    let worst = Worst::measured();
    println!("{:34} {:>7} {:>8} {:>8}  of", "function", "answers", "worst", "allowed");
    for entry in TABLE {
        let (error, answers) = worst.of(entry.function).unwrap_or_default();
        let (function, allowed, term) = (entry.function, entry.error, entry.term);
        println!("{function:34} {answers:7} {error:8.1e} {allowed:8.0e}  {term}");
        assert!(answers >= 100, "{function}: measured at {answers} points only");
        // An allowance that is never used hides the day when digits are lost.
        assert!(error > allowed / 5.0, "{function}: {error:.1e} measured, {allowed:.0e} is too generous");
    }
}

#[test]
fn no_function_is_allowed_more_than_is_promised() {
    for entry in TABLE {
        assert!(entry.error <= PROMISED, "{}", entry.function);
    }
}

/// Derived: what these sources and their `libm` gave. `HALFSKIP_BLESS=1` writes what they give now.
#[test]
fn mathematics_gives_the_bits_that_it_gave() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("pinned/functions.txt");
    let mut now = String::new();
    functions::write(&mut now).unwrap();
    if std::env::var_os("HALFSKIP_BLESS").is_some() {
        return fs::write(path, now).unwrap();
    }
    assert_eq!(now, fs::read_to_string(path).unwrap());
}

#[test]
fn constants_of_spread_are_the_roots_of_their_equations() {
    let table = Table::read("edge_drops");
    let held = |drop: EdgeDrop, column: &str, k: f32| {
        let one_way = |level: f32| match drop.direction() {
            Direction::OneWay => level,
            Direction::PulseEcho => level / 2.0,
        };
        let level = drop.below().map_or("null".to_owned(), |level| one_way(level.get()).to_string());
        let row =
            table.rows().find(|row| row.text("one_way_db") == level).unwrap_or_else(|| panic!("no {level}"));
        let error = (f64::from(k) - row.get::<f64>(column)).abs();
        assert!(error <= 1e-7, "{drop:?} {column} is off by {error:.1e}");
    };
    for drop in EdgeDrop::ALL.into_iter().chain([EdgeDrop::FIRST_NULL]) {
        held(drop, "round_k", drop.round());
        held(drop, "rectangular_k", drop.rectangular());
    }
}

#[test]
fn near_fields_of_rectangles_keep_to_their_own_wider_allowance() {
    let mm = |value| Millimetres::new(value).unwrap();
    let mut worst = 0.0;
    for row in Table::read("rectangles").rows() {
        let long = row.input("long_mm");
        // With this wavelength L^2 / 4 lambda is 100 mm.
        let wave = mm(long * long / 400.0);
        let found = near_field_rectangular(mm(row.input("short_mm")), mm(long), wave).unwrap();
        let error = (f64::from(found.get()) / 100.0 - row.get::<f64>("k")).abs();
        worst = if error > worst { error } else { worst };
    }
    println!("shape factor of a rectangle: {worst:.1e} of {RECTANGLE:.0e}");
    assert!(worst <= RECTANGLE && worst > RECTANGLE / 5.0, "{worst:.1e}");
}
