//! Examinations as an examiner would enter them, drawn over every joint, part, probe and calibration that there is a
//! word for. All of them are invented.

use std::fmt::Write;

use halfskip::math::{sin_cos, tan};
use halfskip_host_tests::drawn::Drawn;

/// One examination, line by line.
pub fn examination(seed: u64) -> String {
    let mut drawn = Drawn::seeded(0x0D0E + seed);
    let mut lines = String::new();
    let thickness = drawn.between(6.0, 50.0).round();
    let curvature = joint(&mut drawn, &mut lines, thickness);
    let probes = ["p", "q"];
    for name in &probes[..1 + usize::from(seed.is_multiple_of(2))] {
        probe(&mut drawn, &mut lines, name);
    }
    settings(&mut drawn, &mut lines);
    for indication in 1..=drawn.one_of(&[1, 2, 3]) {
        reflector(&mut drawn, &mut lines, indication, thickness, curvature);
    }
    checks(&mut drawn, &mut lines);
    lines
}

fn often(drawn: &mut Drawn) -> bool {
    drawn.one_of(&[true, true, false])
}

fn put(lines: &mut String, line: std::fmt::Arguments<'_>) {
    writeln!(lines, "{line}").unwrap();
}

/// Material and joint; whether the part is curved across the beam.
fn joint(drawn: &mut Drawn, lines: &mut String, thickness: f32) -> bool {
    let attenuation = drawn.one_of(&["", "", " attenuation=0.02dB/mm"]);
    put(lines, format_args!("material m shear=3.24 long=5.92{attenuation}"));
    let prep = drawn.one_of(&[
        "square",
        "single-v",
        "double-v",
        "single-bevel",
        "double-bevel",
        "single-u",
        "double-u",
        "single-j",
        "double-j",
    ]);
    let mut joint = format!("joint butt thickness={thickness} prep={prep}");
    if prep != "square" {
        write!(
            joint,
            " bevel={:.0} land={:.1}",
            drawn.between(5.0, 40.0),
            drawn.between(0.0, 0.2) * thickness
        )
        .unwrap();
    }
    if prep.ends_with('u') || prep.ends_with('j') {
        write!(joint, " radius={:.1}", drawn.between(2.0, 6.0)).unwrap();
    }
    write!(joint, " gap={:.1}", drawn.between(0.0, 4.0)).unwrap();
    if often(drawn) {
        write!(joint, " cap={:.0} crown={:.1}", drawn.between(1.0, 2.0) * thickness, drawn.between(0.0, 3.0))
            .unwrap();
    }
    if often(drawn) {
        write!(joint, " bead={:.1} excess={:.1}", drawn.between(4.0, 10.0), drawn.between(0.5, 3.0)).unwrap();
    } else {
        joint += drawn.one_of(&["", " backing=25x6", " counterbore=25x2"]);
    }
    if often(drawn) {
        write!(joint, " haz={:.0}", drawn.between(3.0, 15.0)).unwrap();
    }
    joint += drawn.one_of(&["", "", " reach=a", " reach=b"]);
    let curvature = drawn.one_of(&["", "", " curvature=along", " curvature=around"]);
    if !curvature.is_empty() {
        write!(joint, "{curvature} od={:.0}", thickness * drawn.between(8.0, 30.0)).unwrap();
        joint += drawn.one_of(&["", "", " from=inside"]);
    }
    put(lines, format_args!("{joint}"));
    curvature == " curvature=around"
}

fn probe(drawn: &mut Drawn, lines: &mut String, name: &str) {
    let angle = drawn.one_of(&[45.0f32, 60.0, 70.0]);
    let element = drawn.one_of(&["8x9", "20x22", "10"]);
    let wedge = drawn.one_of(&["", " wedge=2.73", " wedge=2.73 front=9 wedge-path=8"]);
    let warm =
        if wedge.is_empty() { "" } else { drawn.one_of(&["", " wedge-slope=-0.002 marked-at=20 at=60"]) };
    put(
        lines,
        format_args!(
            "probe {name} angle={angle} frequency={} element={element}{wedge}{warm}",
            drawn.one_of(&[2, 4, 5])
        ),
    );
    if often(drawn) {
        let delay = drawn.between(1.0, 12.0);
        put(
            lines,
            format_args!("timebase {name} path=25,100 time={:.2},{:.2}", delay + 15.43, delay + 61.73),
        );
    }
    let (mut holes, off) = (drawn.one_of(&[0, 1, 2, 3]), drawn.between(-1.5, 1.5));
    for depth in [10.0f32, 20.0, 35.0] {
        if holes > 0 {
            holes -= 1;
            let distance = depth * tan(angle + off);
            put(
                lines,
                format_args!(
                    "angle {name} depth={depth} distance={:.1}",
                    distance + drawn.between(-0.4, 0.4)
                ),
            );
        }
    }
    let (gain, slope) = (drawn.between(30.0, 45.0), drawn.between(0.02, 0.25));
    let hole = drawn.one_of(&["", " hole=3"]);
    for path in &[15.0f32, 40.0, 80.0, 160.0][..drawn.one_of(&[1, 2, 4, 4])] {
        let height = drawn.between(60.0, 90.0).round();
        put(
            lines,
            format_args!("dac {name} path={path} height={height} gain={:.1}{hole}", gain + slope * path),
        );
    }
    if often(drawn) {
        put(lines, format_args!("dac {name} beyond={}", drawn.one_of(&["hold", "slope", "refuse"])));
    }
    match drawn.one_of(&[0, 1, 2]) {
        0 => put(lines, format_args!("transfer {name} gain={:.1}", drawn.between(-2.0, 6.0))),
        1 => put(
            lines,
            format_args!(
                "transfer {name} block=40:41,80:47.5 part=36:{:.1},72:49",
                drawn.between(41.0, 45.0)
            ),
        ),
        _ => {}
    }
}

fn settings(drawn: &mut Drawn, lines: &mut String) {
    if often(drawn) {
        put(lines, format_args!("screen max=100 noise={:.0} reference=80", drawn.between(2.0, 12.0)));
    }
    if often(drawn) {
        put(
            lines,
            format_args!(
                "tolerance angle={:.1} path=0.5 index=1 standoff=1 height=5 velocity=0.02",
                drawn.between(0.5, 2.5)
            ),
        );
    }
    put(lines, format_args!("scanning margin={:.0}", drawn.between(4.0, 14.0)));
    let sheet =
        drawn.one_of(&["demonstration.toml", "ufgs-15216n-length.toml", "template-level-length.toml"]);
    put(lines, format_args!("criteria {sheet}"));
}

/// Readings of one reflector: peaks from both sides, in several legs, and series along, across and about it.
fn reflector(drawn: &mut Drawn, lines: &mut String, indication: u8, thickness: f32, around: bool) {
    let (x, y, z) = (
        drawn.between(20.0, 400.0).round(),
        drawn.between(-0.6, 0.6) * thickness,
        drawn.between(0.1, 1.0) * thickness,
    );
    let gain = drawn.between(36.0, 60.0).round();
    let point = if z > 0.9 * thickness { drawn.one_of(&["", " point=corner"]) } else { "" };
    for probe in ["p", "q"] {
        for (side, sign) in [("a", -1.0f32), ("b", 1.0)] {
            for leg in 1..=3u8 {
                if !drawn.one_of(&[true, false]) {
                    continue;
                }
                let deep = match leg {
                    1 => z,
                    2 => 2.0 * thickness - z,
                    _ => 2.0 * thickness + z,
                };
                let angle = drawn.one_of(&[45.0f32, 60.0, 70.0]);
                let (sin, cos) = sin_cos(angle);
                let (path, reach) = (deep / cos, deep * tan(angle));
                let more = drawn.one_of(&["", "", "", " thickness=12", " skew=4", " face=far"]);
                let together = drawn.one_of(&["", "", " together=1"]);
                let mut reading = |dx: f32, standoff: f32, path: f32, height: &str, more: &str| {
                    let standoff = if standoff < 0.0 { 0.0 } else { standoff };
                    put(
                        lines,
                        format_args!(
                            "reading {indication} probe={probe} side={side} x={:.1} standoff={standoff:.1} path={path:.2} height={height} gain={gain}{more}",
                            x + dx
                        ),
                    );
                };
                let standoff = reach + sign * y;
                reading(
                    0.0,
                    standoff,
                    path,
                    &format!("{:.0}", drawn.between(20.0, 95.0)),
                    &format!("{point}{more}{together}"),
                );
                match drawn.one_of(&[0, 1, 2, 3, 4, 5]) {
                    0 => {
                        for (step, height) in [
                            (-3.0, "under"),
                            (-2.0, "25"),
                            (-1.0, "60"),
                            (0.0, "80"),
                            (1.0, "71"),
                            (2.0, "33"),
                            (3.0, "10"),
                        ] {
                            reading(step * 4.0, standoff, path, height, " sweep=along");
                        }
                    }
                    1 => {
                        for (step, height) in
                            [(-3.0, 10), (-2.0, 30), (-1.0, 64), (0.0, 80), (1.0, 55), (2.0, 28), (3.0, 9)]
                        {
                            let moved: f32 = step * 1.5;
                            reading(
                                0.0,
                                standoff + moved,
                                path + moved * sin,
                                &height.to_string(),
                                " sweep=across",
                            );
                        }
                    }
                    2 => {
                        for (skew, height) in
                            [(-15, 12), (-10, 30), (-5, 66), (0, 80), (5, 60), (10, 35), (15, 14)]
                        {
                            reading(
                                0.0,
                                standoff,
                                path,
                                &height.to_string(),
                                &format!(" sweep=swivel skew={skew}"),
                            );
                        }
                    }
                    3 => {
                        for (skew, height) in [(-20, 50), (-10, 70), (0, 80), (10, 66), (20, 48)] {
                            reading(
                                0.0,
                                standoff,
                                path,
                                &height.to_string(),
                                &format!(" sweep=orbit skew={skew}"),
                            );
                        }
                    }
                    4 => {
                        reading(0.0, standoff - 1.5, path - 2.0, "35", " point=upper-tip together=7");
                        reading(
                            0.0,
                            standoff + 1.0,
                            path + 2.0,
                            if around { "over" } else { "41" },
                            " point=lower-tip together=7",
                        );
                    }
                    _ => {}
                }
            }
        }
    }
    if often(drawn) {
        let swivel = drawn.one_of(&["ragged", "smooth", "steady"]);
        let tip = drawn.one_of(&["", " tip=seen", " tip=not-seen"]);
        let more = drawn.one_of(&["", " damped=yes", " damped=no like-clean-length=yes", " orbit=steady"]);
        put(lines, format_args!("observe {indication} swivel={swivel}{tip}{more}"));
    }
}

fn checks(drawn: &mut Drawn, lines: &mut String) {
    if often(drawn) {
        put(
            lines,
            format_args!(
                "linearity screen large=100,80,60,40 small=50,40,{:.0},20",
                drawn.between(27.0, 33.0)
            ),
        );
        put(
            lines,
            format_args!(
                "linearity gain set=80,80,40 change=-6,-12,6 shown={:.0},20,80",
                drawn.between(37.0, 43.0)
            ),
        );
    }
    put(
        lines,
        format_args!(
            "check p path=100 shown={:.1} height={:.0} gain=45",
            drawn.between(97.0, 103.0),
            drawn.between(60.0, 100.0)
        ),
    );
    if !often(drawn) {
        put(lines, format_args!("void {} reason=\"drawn\"", drawn.one_of(&[3, 5, 8, 13, 21])));
    }
}
