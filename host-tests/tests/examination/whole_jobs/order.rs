//! Where the trade knows no order, the order of entry changes nothing.

use halfskip::record::entry::Entry;
use halfskip::record::entry::LengthUnit;
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::told::{difference, examined, fact, told, without_numbers, without_reasons};

use super::day;

/// What must not change: all but the numbers of entries, and which of several reasons is named.
fn said(told: &str) -> String {
    without_reasons(&without_numbers(told))
}

fn shuffle<T>(items: &mut [T], from: &mut Drawn) {
    for last in (1..items.len()).rev() {
        items.swap(last, (from.bits() % (last as u64 + 1)) as usize);
    }
}

/// Numbers in a text that differ by rounding at most; all other words alike.
fn alike(one: &str, other: &str) -> Result<(), String> {
    let words = |text: &str| -> Vec<String> {
        let cut = |c: char| c.is_whitespace() || "(),{}[]".contains(c);
        text.split(cut).filter(|word| !word.is_empty()).map(String::from).collect()
    };
    let (one, other) = (words(one), words(other));
    if one.len() != other.len() {
        return Err(format!("{} words, {} words", one.len(), other.len()));
    }
    for (place, (a, b)) in one.iter().zip(&other).enumerate() {
        let close = match (a.parse::<f64>(), b.parse::<f64>()) {
            (Ok(a), Ok(b)) => (a - b).abs() <= 2e-5 * (1.0 + a.abs()),
            _ => a == b,
        };
        if !close {
            return Err(format!("{a} and {b} behind {}", one[place.saturating_sub(12)..place].join(" ")));
        }
    }
    Ok(())
}

#[test]
fn reference_points_holes_and_readings_may_come_in_any_order() {
    let day = day();
    let before = told(&examined(&day).facts());
    let is_setup = |entry: &Entry| {
        !matches!(
            entry,
            Entry::Angle(_) | Entry::Dac(_) | Entry::Reading(_) | Entry::Observe(_) | Entry::Tolerance(_)
        )
    };
    let setup: Vec<Entry> = day.iter().filter(|entry| is_setup(entry)).cloned().collect();
    let mut from = Drawn::seeded(71);
    for _ in 0..60 {
        let mut points: Vec<Entry> = day
            .iter()
            .filter(|entry| matches!(entry, Entry::Angle(_) | Entry::Dac(_) | Entry::Tolerance(_)))
            .cloned()
            .collect();
        let mut readings: Vec<Entry> =
            day.iter().filter(|entry| matches!(entry, Entry::Reading(_))).cloned().collect();
        shuffle(&mut points, &mut from);
        shuffle(&mut readings, &mut from);
        let shuffled = examined(setup.iter().chain(&points).chain(&readings));
        let after = told(&shuffled.facts());
        alike(&said(&before), &said(&after)).unwrap_or_else(|why| panic!("{why}"));
    }
}

#[test]
fn readings_alone_in_another_order_change_no_bit() {
    let day = day();
    let before = said(&told(&examined(&day).facts()));
    let (mut readings, setup): (Vec<Entry>, Vec<Entry>) = day
        .into_iter()
        .filter(|entry| !matches!(entry, Entry::Observe(_)))
        .partition(|entry| matches!(entry, Entry::Reading(_)));
    let mut from = Drawn::seeded(72);
    for _ in 0..60 {
        shuffle(&mut readings, &mut from);
        let after = said(&told(&examined(setup.iter().chain(&readings)).facts()));
        assert_eq!(difference(&before, &after), None);
    }
}

#[test]
fn screen_and_tolerance_may_come_before_or_after_everything() {
    let day = day();
    for line in ["screen reference=50 noise=4 max=110", "tolerance angle=0.5 path=0.2 range=1 sensitivity=1"]
    {
        let entry = fact(line, LengthUnit::Mm).unwrap();
        let check = "check p60 path=60 shown=59.2 height=72 gain=41.5";
        let check = fact(check, LengthUnit::Mm).unwrap();
        let mut told_at: Vec<String> = Vec::new();
        // Behind the tolerance of the day, which the one added here overrides.
        for place in [22, 30, day.len() + 1] {
            let mut entries = day.clone();
            entries.push(check.clone());
            entries.insert(place, entry.clone());
            told_at.push(said(&told(&examined(&entries).facts())));
        }
        for other in &told_at[1..] {
            assert_eq!(difference(&told_at[0], other), None, "{line}");
        }
    }
}
