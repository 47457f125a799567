//! Sweeps across reflectors, as the lines of a job.

use std::fmt::Write;

use halfskip::record::entry::LengthUnit;
use halfskip::record::examination::Examination;
use halfskip_console::commands::parse::{Line, line};

use super::field::{Probe, reflected};
use super::reflector::{Piece, Reflector};
use super::{at_least, at_most};
use crate::drawn::Drawn;

/// What was set up.
#[derive(Clone, Debug)]
pub struct Sweeps {
    /// Plate, mm.
    pub thickness: f64,
    /// True beam angles, deg; the probes are named by the nominal one, rounded to 5 deg.
    pub angles: Vec<f64>,
    /// From side B as well as from side A.
    pub both_sides: bool,
    /// Probe travel between readings, mm.
    pub step: f64,
    /// Errors of the readings.
    pub errors: Errors,
}

/// Half widths of the readings' errors, and errors that all readings share.
#[derive(Clone, Copy, Debug, Default)]
pub struct Errors {
    /// Path, mm.
    pub path: f64,
    /// Stand-off, mm.
    pub standoff: f64,
    /// Level, dB.
    pub level: f64,
    /// True index point ahead of the mark, mm.
    pub index: f64,
    /// True angle over the stated one, deg.
    pub angle: f64,
    /// Thickness over the stated one, mm.
    pub thickness: f64,
}

/// Echoes so far under the reference drown in the noise, dB.
const NOISE: f64 = -30.0;
/// Length of the pulse along the path, mm.
const PULSE: f64 = 0.5;
/// Paths are looked at in steps of this, mm.
const BIN: f64 = 0.15;

/// The strongest echo at one probe position: path and amplitude.
fn strongest(probe: &Probe, standoff: f64, thickness: f64, pieces: &[Piece], longest: f64) -> (f64, f64) {
    let bins = (longest / BIN) as usize;
    let mut seen = vec![(0.0f64, 0.0f64); bins];
    for piece in pieces {
        let distance = standoff + piece.y;
        // Straight down, by way of the far face, by way of both.
        let depths = [piece.z, 2.0 * thickness - piece.z, 2.0 * thickness + piece.z];
        let ways = if piece.of_face { &depths[..1] } else { &depths[..] };
        let arrivals: Vec<_> = ways
            .iter()
            .enumerate()
            .map(|(way, depth)| {
                let arrival = probe.at(distance, *depth);
                let (sin, cos) = arrival.angle.to_radians().sin_cos();
                // Travelling down on the odd legs, up on the even ones.
                let down = if way % 2 == 0 { cos } else { -cos };
                // Cosine between the way back and the normal.
                let facing = -(sin * piece.normal.0 + down * piece.normal.1);
                (arrival, facing)
            })
            .collect();
        for (there, facing_there) in &arrivals {
            for (back, facing_back) in &arrivals {
                let lit = if piece.body {
                    *facing_there > 0.0 && *facing_back > 0.0
                } else {
                    facing_there * facing_back > 0.0
                };
                if !lit {
                    continue;
                }
                let facing = (facing_there.abs() + facing_back.abs()) / 2.0;
                let strength = piece.length * facing * reflected(at_most(facing, 1.0).acos().to_degrees());
                let (a, b) = (there.amplitude, back.amplitude);
                let re = strength * (a.0 * b.0 - a.1 * b.1);
                let im = strength * (a.0 * b.1 + a.1 * b.0);
                let path = (there.path + back.path) / 2.0;
                let middle = (path / BIN) as isize;
                for bin in middle - 8..=middle + 8 {
                    let Some(cell) = usize::try_from(bin).ok().and_then(|bin| seen.get_mut(bin)) else {
                        continue;
                    };
                    let off = ((bin as f64 + 0.5) * BIN - path) / PULSE;
                    let pulse = (-off * off).exp();
                    cell.0 += pulse * re;
                    cell.1 += pulse * im;
                }
            }
        }
    }
    let heights: Vec<f64> = seen.iter().map(|(re, im)| re.hypot(*im)).collect();
    let best = (1..bins.saturating_sub(1)).max_by(|a, b| heights[*a].total_cmp(&heights[*b])).unwrap_or(0);
    // A parabola through the highest three.
    let [before, at, after] =
        [best.saturating_sub(1), best, (best + 1).min(bins - 1)].map(|bin| heights[bin]);
    let bend = before - 2.0 * at + after;
    let shift = if bend < 0.0 { (before - after) / (2.0 * bend) } else { 0.0 };
    ((best as f64 + 0.5 + shift) * BIN, at)
}

/// The gain of a probe's 3 mm side-drilled holes: path and the amplitude that a hole gives there.
fn reference(probe: &Probe, longest: f64) -> Vec<(f64, f64)> {
    let mut depth = 5.0;
    let mut points = Vec::new();
    while points.len() < 10 {
        let hole = Reflector::Void { y: 0.0, z: depth, diameter: 3.0 }.pieces();
        let at = depth * probe.angle.to_radians().tan();
        let reach = depth / probe.angle.to_radians().cos() + 10.0;
        let best = [-2.0, -1.0, 0.0, 1.0, 2.0]
            .map(|off| strongest(probe, at + off, 4.0 * depth + 40.0, &hole, reach))
            .into_iter()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .unwrap_or((0.0, 1.0));
        points.push(best);
        if best.0 > longest {
            break;
        }
        depth *= 1.5;
    }
    points
}

fn nominal(angle: f64) -> f64 {
    (angle / 5.0).round() * 5.0
}

/// The lines of a job.
#[must_use]
pub fn job(sweeps: &Sweeps, reflectors: &[Reflector], seed: u64) -> String {
    let mut drawn = Drawn::seeded(seed);
    let mut spread = |half: f64| half * f64::from(drawn.between(-1.0, 1.0));
    let mut text = String::new();
    let stated = sweeps.thickness - sweeps.errors.thickness;
    let _ = writeln!(text, "title \"Invented plate\"\nmaterial MODEL shear=3.24 long=5.92");
    let _ = writeln!(text, "joint butt thickness={stated:.2} prep=square gap=0 cap=8 haz=10");
    for angle in &sweeps.angles {
        let name = nominal(*angle);
        let probe = Probe { angle: *angle, frequency: 4.0, element: 9.0 };
        let _ = writeln!(text, "probe p{name} angle={name} frequency=4 element=9x9 front=8 wedge=2.73");
        let shown = angle - sweeps.errors.angle;
        let _ = writeln!(text, "angle p{name} depth=20 distance={:.2}", 20.0 * shown.to_radians().tan());
        let (sin, cos) = angle.to_radians().sin_cos();
        let farthest = 2.1 * sweeps.thickness * sin / cos;
        let longest = farthest / sin + 12.0;
        let curve = reference(&probe, longest);
        for (path, amplitude) in &curve {
            let _ = writeln!(
                text,
                "dac p{name} path={path:.2} height=80 gain={:.1} hole=3",
                40.0 - 20.0 * amplitude.log10()
            );
        }
        for side in if sweeps.both_sides { &['a', 'b'][..] } else { &['a'][..] } {
            let mirrored: Vec<Piece> = reflectors
                .iter()
                .flat_map(Reflector::pieces)
                .map(|piece| match side {
                    'b' => Piece { y: -piece.y, normal: (-piece.normal.0, piece.normal.1), ..piece },
                    _ => piece,
                })
                .collect();
            let mut standoff = 0.2 * sweeps.thickness * sin / cos;
            while standoff < farthest {
                // The mark is read; the sound leaves ahead of it.
                let read = at_least(standoff + spread(sweeps.errors.standoff), 0.0);
                let reach = at_most(standoff / sin + 12.0, longest);
                let (path, amplitude) =
                    strongest(&probe, standoff - sweeps.errors.index, sweeps.thickness, &mirrored, reach);
                let level = 20.0 * at_least(amplitude, 1e-9).log10() + spread(sweeps.errors.level);
                let gain_at = |path: f64| {
                    let after =
                        curve.iter().position(|point| point.0 >= path).unwrap_or(curve.len() - 1).max(1);
                    let (low, high) = (curve[after - 1], curve[after]);
                    20.0 * at_least(low.1 + (high.1 - low.1) * (path - low.0) / (high.0 - low.0), 1e-9)
                        .log10()
                };
                if level - gain_at(path) > NOISE {
                    // As much gain as brings the echo to between 70 and 80 %, whole decibels.
                    let gain = (40.0 - level).floor();
                    let height = 80.0 * 10f64.powf((level + gain - 40.0) / 20.0);
                    let path = path + spread(sweeps.errors.path);
                    let _ = writeln!(
                        text,
                        "reading 1 probe=p{name} side={side} x=100 standoff={read:.1} path={path:.2} height={height:.0} gain={gain:.0} sweep=across"
                    );
                }
                standoff += sweeps.step;
            }
        }
    }
    text
}

/// An examination large enough for any of these jobs.
pub type Large = Examination<8, 16, 4096, 65536>;

/// The examination that a job's lines make.
///
/// # Panics
/// When a line is refused.
#[must_use]
pub fn examined(job: &str) -> Box<Large> {
    let mut examination: Box<Large> = Box::default();
    for text in job.lines() {
        match line(text.as_bytes(), LengthUnit::Mm).unwrap_or_else(|refusal| panic!("{text}: {refusal}")) {
            Some(Line::Fact(entry)) => {
                examination.record(entry).unwrap_or_else(|refusal| panic!("{text}: {refusal}"));
            }
            Some(Line::Question(_)) | None => {}
        }
    }
    examination
}
