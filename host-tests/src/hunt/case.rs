//! An examination of a reflector that its sheet lets pass.

use crate::drawn::Drawn;

/// Sheets by name; all INVENTED.
pub const SHEETS: [(&str, &str); 5] = [
    ("demonstration.toml", include_str!("../../../examples/criteria/demonstration.toml")),
    ("level-length.toml", include_str!("../../transcripts/level-length.toml")),
    ("length.toml", LENGTH),
    ("length-at-level.toml", LENGTH_AT_LEVEL),
    ("weighted.toml", include_str!("../../transcripts/weighted.toml")),
];

/// Whatever is longer than the plate is thick is rejected, and so is what is stronger than −6 dB.
const LENGTH: &str = r#"
title = "Length and depth (INVENTED)"
source = "invented for this hunt, no document"
measure = "level"
length-by = "drop-6"
group = "1L"
[[row]]
at-most = -6
length-up-to = "1t"
verdict = "accept"
[[row]]
verdict = "reject"
"#;

/// The same by the length that stays at a level.
const LENGTH_AT_LEVEL: &str = r#"
title = "Length at a level (INVENTED)"
source = "invented for this hunt, no document"
measure = "level"
length-by = "level"
length-level = -20
group = "1L"
[[row]]
at-most = -6
length-up-to = "1t"
verdict = "accept"
[[row]]
verdict = "reject"
"#;

/// One examination, part by part, so that a part can be spoiled.
#[derive(Clone, Debug)]
pub struct Case {
    /// The name of its sheet.
    pub sheet: &'static str,
    /// Thickness, mm.
    pub thickness: f32,
    /// Refracted angle, degrees.
    pub angle: f32,
    /// Lines before the readings.
    pub before: Vec<String>,
    /// Reference points, path and gain.
    pub points: Vec<(f32, f32)>,
    /// Readings.
    pub readings: Vec<Seen>,
    /// Lines after the readings; `{line}` of a part is not known, so voids name it by [`Case::number_of`].
    pub after: Vec<String>,
}

/// A reading of the case.
#[derive(Clone, Debug)]
pub struct Seen {
    /// The indication.
    pub id: u8,
    /// Side, `a` or `b`.
    pub side: char,
    /// Along the weld.
    pub x: f32,
    /// Stand-off.
    pub standoff: f32,
    /// Path.
    pub path: f32,
    /// Height as it is entered.
    pub height: String,
    /// Gain.
    pub gain: f32,
    /// Whether it is one of a sweep along the weld.
    pub sweep: bool,
    /// The probe.
    pub probe: &'static str,
}

impl Case {
    /// A case with all that its sheet asks for.
    #[must_use]
    pub fn sound(seed: u64) -> Self {
        let mut drawn = Drawn::seeded(seed);
        let (sheet, _) = drawn.one_of(&SHEETS);
        let thickness = drawn.between(10.0, 60.0).round();
        let angle = drawn.one_of(&[45.0, 60.0, 70.0]);
        let gap = drawn.between(0.0, 4.0).round();
        let before = vec![
            "material m shear=3.24 long=5.92".to_string(),
            format!("joint butt thickness={thickness} prep=square gap={gap}"),
            format!("probe p angle={angle} frequency=4 element=8x9 front=10 wedge=2.73"),
            format!("criteria {sheet}"),
        ];
        let slope = drawn.between(0.02, 0.2);
        let first = drawn.between(30.0, 45.0);
        let gain = |path: f32| first + slope * (path - 10.0);
        // One point suits a weighted rating, three a curve; the legs of the readings lie within.
        let paths: &[f32] = if sheet == "weighted.toml" { &[50.0] } else { &[5.0, 100.0, 400.0] };
        let points: Vec<(f32, f32)> = paths.iter().map(|path| (*path, gain(*path))).collect();
        let reference = |path: f32| if points.len() == 1 { points[0].1 } else { gain(path) };
        let (sin, cos) =
            (f64::from(angle).to_radians().sin() as f32, f64::from(angle).to_radians().cos() as f32);
        let (y, z) = (drawn.between(-2.0, 2.0), drawn.between(0.2, 0.8) * thickness);
        // d = a - b - c: the weaker the echo the higher d, and far paths lower it.
        let level = match sheet {
            "weighted.toml" => drawn.between(-60.0, -45.0),
            // Within 8 dB of the level that its length is found at.
            "length-at-level.toml" => drawn.between(-17.0, -12.5),
            _ => drawn.between(-30.0, -12.0),
        };
        let x = drawn.between(50.0, 500.0).round();
        let step = 0.06 * thickness;
        let mut readings = Vec::new();
        for (side, sign) in [('a', -1.0), ('b', 1.0)] {
            let leg: f32 = drawn.one_of(&[1.0, 2.0]);
            let deep = if leg == 1.0 { z } else { 2.0 * thickness - z };
            let path = deep / cos;
            let standoff = path * sin + sign * y;
            let seen = |x: f32, below: f32, sweep: bool| Seen {
                id: 1,
                side,
                x,
                standoff,
                path,
                height: "60".to_string(),
                // L = 20 log10(h / 80) + G_ref - G
                gain: 20.0 * (60.0f64 / 80.0).log10() as f32 + reference(path) - (level - below),
                sweep,
                probe: "p",
            };
            if side == 'a' {
                for (place, below) in
                    [(-3.0, 16.0), (-2.0, 8.0), (-1.0, 2.0), (0.0, 0.0), (1.0, 2.0), (2.0, 8.0), (3.0, 16.0)]
                {
                    readings.push(seen(x + place * step, below, true));
                }
            } else {
                readings.push(seen(x, 1.0, false));
            }
        }
        Self { sheet, thickness, angle, before, points, readings, after: Vec::new() }
    }

    /// Its lines in the order of an examination.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        let points =
            self.points.iter().map(|(path, gain)| format!("dac p path={path:.2} height=80 gain={gain:.2}"));
        let mut lines = self.before.clone();
        lines.extend(points);
        lines.extend(self.readings.iter().map(Seen::line));
        lines.extend(self.after.iter().cloned());
        lines
    }

    /// The number that the first line of this beginning is entered under, as long as none before it is refused.
    #[must_use]
    pub fn number_of(&self, beginning: &str) -> Option<usize> {
        self.lines().iter().position(|line| line.starts_with(beginning)).map(|place| place + 1)
    }
}

impl Seen {
    fn line(&self) -> String {
        let Self { id, side, x, standoff, path, height, gain, probe, .. } = self;
        let sweep = if self.sweep { " sweep=along" } else { "" };
        format!(
            "reading {id} probe={probe} side={side} x={x:.2} standoff={standoff:.2} path={path:.2} height={height} \
             gain={gain:.2}{sweep}"
        )
    }
}
