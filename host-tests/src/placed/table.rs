//! The shares of every kind of reflector, as the chapter shows them, and what is asked of them.

use std::fmt::Write;

use super::{LEGS, ODD, Read, Reflector, SetUp, Share, VELOCITY_OFF, set_ups, share, share_of_heights};

/// One row: what it is called, the reflector, its `tolerance`, the velocity's half width, and the least share in percent
/// that is asked of one view, of two or three, and of more; 0 where nothing is.
struct Row(&'static str, Reflector, &'static str, f64, [f64; 3]);

const POINT: Reflector = Reflector::Void { across: 0.0 };
const ASKED: f64 = 93.0;

const ROWS: [Row; 11] = [
    Row("point, `reflector=0`", POINT, "reflector=0", 0.0, [ASKED; 3]),
    Row("the same, velocity off by up to 0.03 mm/us", POINT, "reflector=0", VELOCITY_OFF, [0.0; 3]),
    Row("point", POINT, "", 0.0, [ASKED; 3]),
    Row("void of 1 mm", Reflector::Void { across: 1.0 }, "", 0.0, [ASKED; 3]),
    Row("void of 2 mm", Reflector::Void { across: 2.0 }, "", 0.0, [ASKED; 3]),
    Row("void of 3 mm", Reflector::Void { across: 3.0 }, "", 0.0, [0.0, 0.0, ASKED]),
    Row("void of 5 mm", Reflector::Void { across: 5.0 }, "", 0.0, [0.0, 0.0, ASKED]),
    Row("corner", Reflector::Corner, "", 0.0, [ASKED; 3]),
    Row("tip of a leaning plane", Reflector::Tip, "", 0.0, [ASKED; 3]),
    Row("facets of a leaning plane, 2 mm high", Reflector::Plane { height: 2.0 }, "", 0.0, [ASKED; 3]),
    Row("the same, 4 mm high", Reflector::Plane { height: 4.0 }, "", 0.0, [ASKED; 3]),
];

/// The tables, and each share that is lower than what is asked, in words.
#[must_use]
pub fn tables(draws: u32) -> (String, Vec<String>) {
    let mut out = String::from(
        "| reflector | 1 view | 2 or 3 views | 4 and more | lowest of a set-up |\n| --- | --- | --- | --- | --- |\n",
    );
    let mut low = Vec::new();
    for Row(name, reflector, tolerance, velocity, asked) in ROWS {
        let legs = if reflector == Reflector::Corner { ODD } else { LEGS };
        let mut classes = [Share::default(); 3];
        let mut lowest: Option<(f64, SetUp)> = None;
        for set_up in set_ups(legs) {
            let found = share(&set_up, reflector, tolerance, velocity, draws);
            let class = match set_up.views() {
                1 => 0,
                2..=3 => 1,
                _ => 2,
            };
            classes[class].join(&found);
            if asked[class] > 0.0 && lowest.as_ref().is_none_or(|(held, _)| found.least() < *held) {
                lowest = Some((found.least(), set_up));
            }
        }
        let cells = classes.map(|class| {
            let [across, down] = class.percents();
            format!("{across:.1} {down:.1}")
        });
        let lowest =
            lowest.map_or_else(String::new, |(share, set_up)| format!("{share:.1}, {}", set_up.named()));
        let _ = writeln!(out, "| {name} | {} | {lowest} |", cells.join(" | "));
        for (class, asked) in classes.iter().zip(asked) {
            if class.least() < asked {
                low.push(format!("{name}: {:.1} where {asked} is asked", class.least()));
            }
        }
    }
    out += "\n| height of a crack from the far face | 1 probe | 3 probes |\n| --- | --- | --- |\n";
    for (read, name) in Read::ALL {
        let shares =
            [&[60.0][..], &[45.0, 60.0, 70.0]].map(|angles| share_of_heights(angles, read, 4 * draws, 5));
        let cells = shares.map(|share| format!("{:.1}", share.percents()[0]));
        let _ = writeln!(out, "| {name} | {} |", cells.join(" | "));
    }
    (out, low)
}
