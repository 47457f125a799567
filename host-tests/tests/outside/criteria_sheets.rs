//! The sheets that ship, and how a text that is not a sheet is refused.

use std::fs;
use std::path::PathBuf;

use halfskip::acceptance::criteria::{
    Asked, Because, Decision, Depth, Group, LengthAlong, LengthBy, Measure, Measured, Missing, Multiple,
    Sheet, Verdict, decide,
};
use halfskip::acceptance::rating::{Attenuation, PathUnit, Rounding};
use halfskip::units::{Decibels, Degrees, Millimetres};
use halfskip_console::sheets::criteria::{HOST_ROWS, read};

fn examples() -> Vec<(String, String)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../examples/criteria");
    let mut files: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .map(|path| {
            let name = path.file_name().unwrap().to_str().unwrap().to_string();
            (name, fs::read_to_string(path).unwrap())
        })
        .filter(|(name, _)| !name.starts_with("technique-"))
        .collect();
    files.sort();
    files
}

fn example(name: &str) -> Sheet<HOST_ROWS> {
    let (_, text) = examples().into_iter().find(|(file, _)| file == name).unwrap();
    read(&text).unwrap()
}

fn facts(thickness: f32, level: f32, length: f32, planar: bool) -> Asked {
    let mm = |value| Millimetres::new(value).unwrap();
    Asked {
        thickness: mm(thickness),
        angle: Degrees::new(60.0).unwrap(),
        measure: Measured::Exact(Decibels::new(level).unwrap()),
        length: LengthAlong::Known { length: mm(length), open: false },
        depth: Depth::Unknown(Missing::NotAsked),
        planar: Some(planar),
    }
}

fn verdict(sheet: &Sheet<HOST_ROWS>, facts: &Asked) -> Option<Verdict> {
    decide(sheet, facts).verdict
}

#[test]
fn every_shipped_file_is_an_unchecked_sheet_or_a_blank_form() {
    let files = examples();
    assert_eq!(files.len(), 5);
    for (name, text) in files {
        let sheet = read::<HOST_ROWS>(&text);
        if name.starts_with("template-") {
            let error = sheet.unwrap_err().to_string();
            assert!(error.contains("has no rows; a template is filled in"), "{name}: {error}");
        } else {
            let sheet = sheet.unwrap_or_else(|error| panic!("{name}:{error}"));
            assert!(!sheet.is_checked(), "{name}");
            assert_eq!(sheet.unreachable_rows().count(), 0, "{name}");
            let device: Sheet = read(&text).unwrap_or_else(|error| panic!("{name}:{error}"));
            assert_eq!(device.rows(), sheet.rows(), "{name} fits a device");
        }
    }
    assert!(example("demonstration.toml").head().title.contains("INVENTED"));
}

/// UFGS-15216N, 3.5.5: limits as printed in both columns, the last length that is not longer.
#[test]
fn the_government_length_rule_rejects_what_is_longer_and_not_what_is_equal() {
    let mm = [(10.0, 6.0), (19.0, 6.0), (30.0, 10.0), (57.0, 19.0), (60.0, 19.0)];
    let inches = [(0.5, 0.25), (0.75, 0.25), (1.5, 0.5), (2.25, 0.75), (3.0, 0.75)];
    let inches = inches.map(|(t, limit)| (t * 25.4, limit * 25.4));
    for (file, limits) in [("ufgs-15216n-length.toml", mm), ("ufgs-15216n-length-inch.toml", inches)] {
        let sheet = example(file);
        for (t, limit) in limits {
            let at = |level, length| verdict(&sheet, &facts(t, level, length, false));
            assert_eq!(at(0.1, limit), Some(Verdict::Accept), "{file}: {t} mm");
            assert_eq!(at(0.1, limit + 0.01), Some(Verdict::Reject), "{file}: {t} mm");
            assert_eq!(at(0.0, limit + 50.0), Some(Verdict::Accept), "{file}: at the reference");
            let crack = facts(t, -20.0, 2.0, true);
            assert_eq!(verdict(&sheet, &crack), Some(Verdict::Reject), "{file}: any length");
        }
    }
}

#[test]
fn the_government_length_rule_waits_for_the_shape() {
    let sheet = example("ufgs-15216n-length.toml");
    let mut unknown = facts(30.0, -3.0, 2.0, false);
    unknown.planar = None;
    assert_eq!(verdict(&sheet, &unknown), None);
    // Too long and too strong: rejected whatever its shape.
    let mut long = facts(30.0, 3.0, 10.1, false);
    long.planar = None;
    assert_eq!(verdict(&sheet, &long), Some(Verdict::Reject));
}

#[test]
fn the_demonstration_sheet_decides_all_its_range_and_nothing_beyond() {
    let sheet = example("demonstration.toml");
    let row = |t, level, length, planar| decide(&sheet, &facts(t, level, length, planar)).row;
    assert_eq!(row(20.0, -7.0, 2.0, true), Some(1));
    assert_eq!(row(20.0, 7.1, 2.0, false), Some(2));
    assert_eq!(row(20.0, 7.0, 9.1, false), Some(3));
    assert_eq!(row(40.0, 7.0, 18.1, false), Some(4));
    assert_eq!(row(20.0, 1.0, 35.1, false), Some(5));
    assert_eq!(row(20.0, 7.0, 9.0, false), Some(6));
    assert_eq!(row(100.0, -7.0, 90.0, false), Some(7));
    assert_eq!(row(100.1, -7.0, 90.0, false), None);
    let thin: Decision = decide(&sheet, &facts(7.9, -7.0, 2.0, false));
    assert!(matches!(thin.because, Because::NoRowForThickness(_)));
    assert_eq!(sheet.head().group, Group::Times(Multiple::new(2, 1).unwrap()));
}

const LEVEL: &str = "title = 'invented'\nsource = 'none'\nmeasure = 'level'\nlength-by = 'drop-6'\n";

#[test]
fn what_is_no_sheet_is_refused_at_its_line() {
    let row = |lines: &str| format!("{LEVEL}[[row]]\n{lines}\n");
    for (text, message) in [
        (row("verdict = 'rejected'"), "6:11: verdict: \"rejected\" is unknown; expected \"reject\" or"),
        (
            row("thickness-frm = 8\nverdict = 'reject'"),
            "6:1: unknown key \"thickness-frm\"; a row takes thickness-from,",
        ),
        (row("angle = 60"), "5:1: a row needs the key verdict"),
        (row("at-least = nan\nverdict = 'reject'"), "6:12: at-least: nan is not a number"),
        (row("at-least = 1.23456789\nverdict = 'reject'"), "6:12: at-least: 1.23456789 has more than seven"),
        (row("at-least = -1e9\nverdict = 'reject'"), "6:12: at-least: level -1000000000 dB is outside"),
        (
            row("length-over = '20'\nverdict = 'reject'"),
            "6:15: length-over: \"20\" has no unit; expected a number of mm or in",
        ),
        (
            row("length-over = '0t'\nverdict = 'reject'"),
            "6:15: length-over: multiple 0 is outside 1 to 1000000",
        ),
        (row("length-over = 't/0'\nverdict = 'reject'"), "6:15: length-over: multiple 0 is outside"),
        (row("length-over = '1.0tt'\nverdict = 'reject'"), "6:15: length-over: \"1.0tt\" is no multiple"),
        (
            row("length-over = true\nverdict = 'reject'"),
            "6:15: length-over: expected a number or a quoted text",
        ),
        (row("at-least = 0\nabove = 1\nverdict = 'reject'"), "7:9: at-least and above in one row"),
        (row("at-least = 2\nbelow = 2\nverdict = 'reject'"), "5:1: row 1: no measure lies within its limits"),
        (
            row("length-over = 9\nlength-up-to = 9\nverdict = 'reject'"),
            "5:1: row 1: no length lies within its limits",
        ),
        (row("thickness-from = -1\nverdict = 'reject'"), "5:1: row 1: thickness limit -1 mm is outside"),
        (row("angle = 90\nverdict = 'reject'"), "5:1: row 1: angle 90 deg is outside"),
        (row("class = '12345678901234567'\nverdict = 'reject'"), "6:9: class is longer than 16 bytes"),
        (row("above = 0\nverdict = 'reject'"), "5:1: no row decides measure 0 dB"),
        (
            row("zone = 'middle'\nverdict = 'reject'"),
            "6:8: zone: \"middle\" is unknown; expected \"any\" or \"middle-half\"",
        ),
        (format!("{LEVEL}row = 3\n"), "5:7: row expects tables [[row]]"),
        (LEVEL.to_string(), "1:1: the sheet has no rows"),
        (String::new(), "1:1: the sheet has no rows"),
        (row("verdict = 'accept'").replace("'invented'", "' '"), "1:9: the sheet has no title"),
        (
            row("verdict = 'accept'").replace("'invented'", "\"a\\u001bb\""),
            "1:9: the sheet's title holds control",
        ),
        (row("verdict = 'accept'").replace("source = 'none'", ""), "1:1: a sheet needs the key source"),
        (
            row("verdict = 'accept'").replace("'level'", "'loudness'"),
            "3:11: measure: \"loudness\" is unknown; expected \"level\"",
        ),
        (row("verdict = 'accept'").replace("'level'", "'weighted'"), "1:1: a sheet needs the key weighted"),
        (row("verdict = 'accept'\n[weighted]"), "7:1: weighted goes only with measure = \"weighted\""),
        (row("verdict = 'accept'").replace("'drop-6'", "'drop-x'"), "4:13: length-by: \"x\" is not a number"),
        (row("verdict = 'accept'").replace("'drop-6'", "'level'"), "1:1: a sheet needs the key length-level"),
        (
            row("verdict = 'accept'").replace("'drop-6'", "'drop-6'\nlength-level = -10"),
            "5:16: length-level goes only with",
        ),
        (row("verdict = 'accept'").replace("'drop-6'", "'drop-0'"), "1:1: drop 0 dB is outside"),
        (
            row("verdict = 'accept'").replace("'drop-6'", "'drop-6'\ngroup = '2l'"),
            "5:9: group: \"2l\" has no unit",
        ),
        (row("verdict = "), "6:11: "),
    ] {
        let error = read::<HOST_ROWS>(&text).expect_err(&text).to_string();
        assert!(error.starts_with(message), "{text}\n{error}\n{message}");
    }
}

#[test]
fn one_row_more_than_fits_is_refused_at_that_row() {
    let text = format!("{LEVEL}{}", "[[row]]\nverdict = 'accept'\n".repeat(25));
    let error = read::<24>(&text).unwrap_err();
    assert_eq!(error.to_string(), "53:1: more than 24 rows");
    assert_eq!(read::<25>(&text).unwrap().unreachable_rows().count(), 24);
}

#[test]
fn lengths_are_read_in_every_unit_of_the_grammar() {
    let at = |limit: &str, t: f32| {
        let text = format!(
            "{LEVEL}[[row]]\nlength-over = {limit}\nverdict = 'reject'\n[[row]]\nverdict = 'accept'\n"
        );
        let sheet = read::<HOST_ROWS>(&text).unwrap();
        sheet.rows()[0].length_over.unwrap().on(Millimetres::new(t).unwrap())
    };
    assert_eq!(at("20", 30.0), 20.0);
    assert_eq!(at("'20.5mm'", 30.0), 20.5);
    assert_eq!(at("'0.75in'", 30.0), 19.05);
    assert_eq!(at("'1.0t'", 30.0), 30.0);
    assert_eq!(at("'t'", 30.0), 30.0);
    assert_eq!(at("'.25t'", 30.0), 7.5);
    assert_eq!(at("'t/3'", 30.0), 10.0);
    assert_eq!(at("'2t/3'", 31.5), 21.0);
}

/// An invented class table in whole decibels.
fn weighted(per: &str, beyond: &str, round_d: &str) -> String {
    format!(
        "title = 'invented'\nsource = 'none'\nmeasure = 'weighted'\nlength-by = 'level'\nlength-level = -8\n\
         group = 12\n[weighted]\nper = '{per}'\nbeyond = {beyond}\nround = 'half-up'\nround-d = '{round_d}'\n\
         shorter-path = 'zero'\n[[row]]\nat-most = 3\nclass = 'X'\nverdict = 'reject'\n[[row]]\nat-least = 4\n\
         class = 'Y'\nverdict = 'accept'\n"
    )
}

#[test]
fn a_table_in_whole_decibels_needs_a_rule_for_the_decibels_between() {
    let error = read::<HOST_ROWS>(&weighted("2dB/in", "'1in'", "none")).unwrap_err();
    assert_eq!(error.to_string(), "13:1: no row decides measure 3.5 dB");
    let sheet = read::<HOST_ROWS>(&weighted("2dB/in", "'1in'", "floor")).unwrap();
    let Measure::Weighted(rule) = sheet.head().measure else {
        panic!("a level sheet");
    };
    assert_eq!(rule.round_d, Rounding::Floor);
    assert_eq!(rule.attenuation, Attenuation::new(PathUnit::Inch, 2.0, 1.0).unwrap());
    assert_eq!(sheet.head().length_by, LengthBy::Level(Decibels::new(-8.0).unwrap()));
    assert_eq!(sheet.head().group, Group::Gap(Millimetres::new(12.0).unwrap()));
}

#[test]
fn the_inch_and_the_metric_form_are_never_mixed() {
    for (per, beyond) in [("2dB/in", "'25mm'"), ("2dB/in", "25"), ("0.08dB/mm", "'1in'")] {
        let error = read::<HOST_ROWS>(&weighted(per, beyond, "floor")).unwrap_err().to_string();
        assert!(error.starts_with("9:10: beyond: expected a path in "), "{error}");
    }
    assert!(read::<HOST_ROWS>(&weighted("0.08dB/mm", "25", "floor")).is_ok());
    let error = read::<HOST_ROWS>(&weighted("0.08", "25", "floor")).unwrap_err().to_string();
    assert!(error.starts_with("8:7: per: expected a text such as \"2dB/in\""), "{error}");
}

#[test]
fn a_frame_is_the_sheet_or_is_refused() {
    for (name, text) in examples() {
        let Ok(sheet) = read::<24>(&text) else { continue };
        let mut buffer = [0; 2048];
        let frame = postcard::to_slice(&sheet, &mut buffer).unwrap().to_vec();
        assert_eq!(postcard::from_bytes::<Sheet>(&frame).unwrap(), sheet, "{name}");
        // Whatever a damaged frame still reads as has passed the same checks.
        let mut refused = 0;
        for place in 0..frame.len() {
            for bit in 0..8 {
                let mut damaged = frame.clone();
                damaged[place] ^= 1 << bit;
                match postcard::from_bytes::<Sheet>(&damaged) {
                    Ok(read) => assert_eq!(read.check(), Ok(()), "{name}"),
                    Err(_) => refused += 1,
                }
            }
        }
        assert!(refused > 0, "{name}");
        assert!((0..frame.len()).all(|length| postcard::from_bytes::<Sheet>(&frame[..length]).is_err()));
    }
}
