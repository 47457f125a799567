//! The technique sheets that ship, and how a text that is not one is refused.

use std::fs;
use std::path::PathBuf;

use halfskip::acceptance::technique::{Ground, Grounds, Technique, Terms};
use halfskip::units::{Decibels, Degrees, Megahertz, Millimetres, Percent, ScreenPercent};
use halfskip_console::desk::console::SheetFiles;
use halfskip_console::sheets::Sheets;
use halfskip_console::sheets::technique::read;

fn example(name: &str) -> String {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../examples/criteria");
    fs::read_to_string(folder.join(name)).unwrap()
}

#[test]
fn a_desk_reads_a_technique_beside_the_job_and_says_why_one_cannot_be_had() {
    let job = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../examples/criteria/any.job");
    let mut desk = SheetFiles::beside(Some(&job));
    let sheet = desk.technique("technique-demonstration.toml").unwrap().unwrap();
    assert_eq!(sheet.title(), "Demonstration technique (INVENTED)");
    for (name, why) in [
        ("technique-template.toml", "technique-template.toml:1:1: the technique sheet asks for nothing"),
        ("demonstration.toml", "demonstration.toml:9:1: unknown key \"measure\"; a technique sheet takes"),
        ("nowhere.toml", "nowhere.toml: cannot be read: "),
    ] {
        let error = desk.technique(name).unwrap_err();
        assert!(error.contains(why), "{error}");
    }
}

/// A sheet that asks for everything, and one line more.
fn all(line: &str) -> String {
    let asks: Vec<String> = Ground::ALL.iter().map(|ground| format!("'{ground}'")).collect();
    format!("title = 'invented'\nsource = 'none'\nasks = [{}]\n{line}\n", asks.join(", "))
}

fn terms(line: &str) -> Terms {
    read(&all(line)).unwrap_or_else(|error| panic!("{line}: {error}")).terms().clone()
}

#[test]
fn the_demonstration_is_unchecked_and_asks_for_all_of_the_minimum() {
    let sheet = read(&example("technique-demonstration.toml")).unwrap();
    assert!(sheet.title().contains("INVENTED") && !sheet.is_checked() && !sheet.is_minimum());
    assert_eq!(sheet.left_out(), Grounds::EMPTY);
    assert_eq!(sheet.stated_ok, Grounds::EMPTY.with(Ground::Transfer));
    assert!(sheet.asks.contains(Ground::Linearity) && !sheet.asks.contains(Ground::Coverage));
    assert_eq!(sheet.angles, [45.0, 60.0, 70.0].map(Degrees::constant));
    assert_eq!(sheet.check_every, Some(240));
    let limits = [sheet.transfer_from, sheet.transfer_to, sheet.sensitivity_within];
    assert_eq!(limits, [-6.0, 12.0, 2.0].map(|db| Some(Decibels::constant(db))));
}

/// The form as it is, and the form with every line put to use: no key is missing and none is unknown.
#[test]
fn the_blank_form_is_refused_and_has_a_line_for_every_key() {
    let form = example("technique-template.toml");
    let refused = "1:1: the technique sheet asks for nothing; a template is filled in";
    assert!(read(&form).unwrap_err().to_string().starts_with(refused));
    let mut lines: Vec<String> = Vec::new();
    for line in form.lines() {
        // A key with its value, behind the mark or not; other remarks stay.
        let typed = line.strip_prefix("# ").unwrap_or(line);
        let Some((key, _)) = typed.split_once(" = ").filter(|(key, _)| !key.contains([' ', '"'])) else {
            continue;
        };
        let value = match key {
            "title" | "source" | "checked-by" => "'x'".to_string(),
            "asks" => format!("[{}]", Ground::ALL.map(|ground| format!("'{ground}'")).join(", ")),
            "stated-ok" => "['angle']".to_string(),
            "angles" => "[60]".to_string(),
            _ => "2".to_string(),
        };
        lines.push(format!("{key} = {value}"));
    }
    let filled = read(&lines.join("\n")).unwrap();
    assert!(filled.is_checked());
    let unknown = read("x = 1").unwrap_err().to_string();
    let (_, takes) = unknown.split_once("takes ").unwrap();
    let keys: Vec<&str> = lines.iter().map(|line| line.split(' ').next().unwrap()).collect();
    assert_eq!(keys, takes.split(", ").collect::<Vec<_>>());
}

#[test]
fn every_key_is_read_into_its_own_place_with_or_without_its_unit() {
    let height = |value| Some(ScreenPercent::constant(value));
    let percent = |value| Some(Percent::constant(value));
    let db = |value| Some(Decibels::constant(value));
    let mhz = |value| Some(Megahertz::constant(value));
    assert_eq!(terms("frequency-from = 2.25").frequency_from, mhz(2.25));
    assert_eq!(terms("frequency-to = '5MHz'").frequency_to, mhz(5.0));
    assert_eq!(terms("angle-within = '2deg'").angle_within, Some(Degrees::constant(2.0)));
    assert_eq!(terms("index-within = '0.5in'").index_within, Some(Millimetres::constant(12.7)));
    assert_eq!(terms("range-within = '1%'").range_within, percent(1.0));
    assert_eq!(terms("sensitivity-within = 3").sensitivity_within, db(3.0));
    assert_eq!(terms("transfer-from = '-6dB'").transfer_from, db(-6.0));
    assert_eq!(terms("transfer-to = 8").transfer_to, db(8.0));
    assert_eq!(terms("amplitude-from = 25").amplitude_from, height(25.0));
    assert_eq!(terms("amplitude-to = 90").amplitude_to, height(90.0));
    assert_eq!(terms("overlap = 10").overlap, percent(10.0));
    assert_eq!(terms("coverage = 95").coverage, percent(95.0));
    assert_eq!(terms("angles = [45, '60deg']").angles, [45.0, 60.0].map(Degrees::constant));
    assert_eq!(terms("stated-ok = ['transfer', 'angle']").stated_ok.to_string(), "angle, transfer");
    for (typed, minutes) in
        [("4", 240), ("0.5", 30), ("0.1", 6), ("'4h'", 240), ("'90min'", 90), ("24", 1440)]
    {
        assert_eq!(terms(&format!("check-every = {typed}")).check_every, Some(minutes), "{typed}");
    }
}

#[test]
fn what_is_no_technique_sheet_is_refused_at_its_line() {
    let few = "title = 'invented'\nsource = 'none'\nasks = ['angle']\n";
    for (text, message) in [
        (String::new(), "1:1: the technique sheet asks for nothing"),
        ("asks = []".to_string(), "1:8: the technique sheet asks for nothing"),
        ("asks = 'angle'".to_string(), "1:8: asks expects a list"),
        (
            "asks = ['angle', 'angel']".to_string(),
            "1:18: asks: \"angel\" is no ground; expected range-check, ",
        ),
        ("asks = [3]".to_string(), "1:9: asks: expected range-check, "),
        ("asks = [true]".to_string(), "1:9: asks: expected a number or a quoted text"),
        ("asks = ['angle']".to_string(), "1:1: a technique sheet needs the key title"),
        ("asks = ['angle']\ntitle = 'x'".to_string(), "1:1: a technique sheet needs the key source"),
        (few.replace("'none'", "' '"), "2:10: the technique sheet has no source"),
        (few.replace("'none'", "3"), "2:10: source expects a quoted text"),
        (few.replace("'none'", "\"a\\u001bb\""), "2:10: the technique sheet's source holds control"),
        (
            all("transfer = 3"),
            "4:1: unknown key \"transfer\"; a technique sheet takes title, source, checked-by,",
        ),
        (all("angles = [45, 60, 95]"), "4:10: angles 95 deg is outside 1 to 89 deg"),
        (all("angles = [45, '60']"), "4:15: angles: \"60\" has no unit; expected a number of deg"),
        (all("angles = [1, 2, 3, 4, 5, 6, 7, 8, 9]"), "4:35: angles: more than 8"),
        (all("angles = 60"), "4:10: angles expects a list"),
        (all("range-within = 101"), "4:16: range-within 101 % is outside 0 to 100 %"),
        (all("frequency-from = nan"), "4:18: frequency-from: nan is not a number"),
        (all("check-every = 0"), "4:15: check-every: time 0 min is outside 1 to 1440 min"),
        (all("check-every = -1"), "4:15: check-every: time -60 min is outside 1 to 1440 min"),
        (all("check-every = 24.1"), "4:15: check-every: time 1446 min is outside"),
        (all("check-every = '4'"), "4:15: check-every: \"4\" has no unit; expected a number of h or min"),
        (all("check-every = '1.5min'"), "4:15: check-every: expected whole minutes"),
        (
            all("frequency-from = 5\nfrequency-to = 2"),
            "4:18: frequency-from 5 MHz is above frequency-to 2 MHz",
        ),
        (all("stated-ok = ['reach']"), "4:13: reach follows from the readings and cannot be stated"),
        (format!("{few}stated-ok = ['transfer']"), "4:13: stated-ok has transfer, which asks does not have"),
        (format!("{few}transfer-to = 6"), "4:15: transfer-to goes only with transfer in asks"),
        (format!("{few}check-every = 4"), "4:15: check-every goes only with range-check in asks"),
        (format!("{few}coverage = 95"), "4:12: coverage goes only with coverage in asks"),
        (all("title = 'again'"), "4:1: duplicate key"),
    ] {
        let error = read(&text).expect_err(&text).to_string();
        assert!(error.starts_with(message), "{text}\n{error}\n{message}");
    }
}

#[test]
fn a_frame_is_the_technique_or_is_refused() {
    let sheet = read(&example("technique-demonstration.toml")).unwrap();
    let mut buffer = [0; 512];
    let frame = postcard::to_slice(&sheet, &mut buffer).unwrap().to_vec();
    assert_eq!(postcard::from_bytes::<Technique>(&frame).unwrap(), sheet);
    // Whatever a damaged frame still reads as has passed the same checks.
    let mut refused = 0;
    for place in 0..frame.len() {
        for bit in 0..8 {
            let mut damaged = frame.clone();
            damaged[place] ^= 1 << bit;
            match postcard::from_bytes::<Technique>(&damaged) {
                Ok(read) => assert_eq!(read.check(), Ok(())),
                Err(_) => refused += 1,
            }
        }
    }
    assert!(refused > 0);
    assert!((0..frame.len()).all(|length| postcard::from_bytes::<Technique>(&frame[..length]).is_err()));
}
