//! `criteria.toml`: the shipped length rule, asked through decisions, so that a wrong sheet fails as a wrong library does.

use std::path::Path;

use halfskip::acceptance::criteria::{Asked, Depth, LengthAlong, Measured, Missing, Sheet, Verdict, decide};
use halfskip_console::sheets::criteria::{HOST_ROWS, read};

use super::{alternative, db, degrees, mm};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    let answer = match case.quantity.as_str() {
        "length_limit_mm" => limit(case, "ufgs-15216n-length.toml", 1.0),
        "length_limit_in" => limit(case, "ufgs-15216n-length-inch.toml", 25.4),
        "length_rule_verdict" => verdict(case),
        _ => return None,
    };
    Some(answer.unwrap_or_else(Answer::Refused))
}

/// A shipped sheet.
fn sheet(name: &str) -> Sheet<HOST_ROWS> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/criteria").join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    read(&text).unwrap_or_else(|error| panic!("{name}:{error}"))
}

fn facts(case: &Case, length: f64, level: f64, planar: bool) -> Result<Asked, &'static str> {
    let thickness = match case.find("thickness_in") {
        Some(inches) => alternative(inches)?,
        None => mm(case.number("thickness_mm"))?,
    };
    Ok(Asked {
        thickness,
        angle: degrees(60.0)?,
        measure: Measured::Exact(db(level)?),
        length: LengthAlong::Known { length: mm(length)?, open: false },
        depth: Depth::Unknown(Missing::NotAsked),
        planar: Some(planar),
    })
}

/// The longest indication above the reference that the sheet accepts, in units of `unit` millimetres.
fn limit(case: &Case, name: &str, unit: f64) -> Result<Answer, &'static str> {
    let sheet = sheet(name);
    let (mut accepted, mut rejected) = (0u32, 1_000_000);
    while rejected - accepted > 1 {
        let thousandths = accepted.midpoint(rejected);
        let facts = facts(case, f64::from(thousandths) / 1000.0, 1.0, false)?;
        match decide(&sheet, &facts).verdict {
            Some(Verdict::Accept) => accepted = thousandths,
            Some(Verdict::Reject) => rejected = thousandths,
            _ => return Err("undetermined"),
        }
    }
    Ok(Answer::Number(f64::from(accepted) / 1000.0 / unit))
}

fn verdict(case: &Case) -> Result<Answer, &'static str> {
    let planar = case.word("shape") == Some("planar");
    let facts = facts(case, case.number("length_mm"), case.number("level_db"), planar)?;
    let word = match decide(&sheet("ufgs-15216n-length.toml"), &facts).verdict {
        Some(Verdict::Accept) => "accept",
        Some(Verdict::Reject) => "reject",
        _ => return Err("undetermined"),
    };
    Ok(Answer::Word(word.to_owned()))
}
