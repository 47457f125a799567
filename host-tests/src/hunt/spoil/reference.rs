//! A reference that is missing, that no one reflector can have given, or that lies too far from the paths it is to serve.

use halfskip::acceptance::technique::Ground;
use halfskip::math::larger;

use super::super::case::Case;
use super::super::fault::Fault;
use super::super::part::{Part, Point};
use super::{one, peaks, probe};
use crate::drawn::Drawn;

/// No near field of the probes that are drawn goes further, mm.
const FAR: f32 = 45.0;

pub fn spoil(fault: Fault, case: &mut Case, drawn: &mut Drawn) -> Option<()> {
    let name = probe(case, drawn)?;
    let mut points = case.points(name);
    let levels = case.sheet != "weighted.toml";
    let paths: Vec<f32> = peaks(case)
        .into_iter()
        .filter_map(|place| super::super::case::seen(&case.parts[place]))
        .filter(|seen| seen.probe == name)
        .map(|seen| seen.path)
        .collect();
    let path = one(drawn, &paths);
    match fault {
        Fault::NoReference => {
            for probe in case.probes() {
                case.replace_points(probe, Vec::new());
            }
            return Some(());
        }
        Fault::Dip => {
            // Any point beyond the near field that follows another one.
            let such = (1..points.len()).filter(|at| points[at - 1].path > FAR).collect::<Vec<_>>();
            let at = one(drawn, &such)?;
            points[at].gain = points[at - 1].gain - drawn.between(2.3, 20.0);
        }
        Fault::Bump => {
            let inner = (1..points.len().saturating_sub(1)).filter(|at| points[*at].path > FAR);
            let at = one(drawn, &inner.collect::<Vec<_>>())?;
            points[at].gain = larger(points[at - 1].gain, points[at + 1].gain) + drawn.between(6.5, 20.0);
        }
        Fault::HolesMixed => {
            if points.len() < 2 {
                return None;
            }
            let at = one(drawn, &(0..points.len()).collect::<Vec<_>>())?;
            points[at].hole = if points[at].hole.is_some() { None } else { Some(3.0) };
        }
        Fault::HolesUnnamed => {
            if case.takes_word(Ground::Reference) {
                return None;
            }
            points.iter_mut().for_each(|point| point.hole = None);
        }
        Fault::PointsApart => {
            let (low, path) = (points.first()?.path, path.filter(|_| levels)?);
            let first = Point { path: path * drawn.between(0.3, 0.7), ..points[0].clone() };
            let ratio = drawn.between(4.1, 9.0);
            let last = Point {
                path: larger(first.path * ratio, path * 1.1),
                gain: first.gain + 30.0 * f64::from(ratio).log10() as f32,
                ..first.clone()
            };
            // Other paths may need what lies before them.
            points.retain(|point| point.path < first.path && low < first.path);
            points.extend([first, last]);
        }
        Fault::OnePointTooNear => {
            let path = path.filter(|_| levels)? * drawn.between(0.3, 0.95);
            let gain = case.reference(name, path).unwrap_or(points.first()?.gain);
            points = vec![Point { path, gain, ..points[0].clone() }];
        }
        Fault::OnePointInTheNearField => {
            let longest = paths.iter().copied().fold(0.0, larger);
            // Of 20 mm at 5 MHz the near field goes to 154 mm.
            if !levels || path? > 120.0 || case.asked().frequency_to.is_some_and(|to| to.get() < 5.0) {
                return None;
            }
            let made = case.probes_mut().find(|made| made.name == name)?;
            (made.element, made.frequency, made.wedge_path) = ((20.0, None), 5.0, None);
            let far = larger(longest, 160.0) + 5.0;
            points = vec![Point { path: far, ..points.last()?.clone() }];
        }
        Fault::CarriedOnByWord => {
            if case.takes_word(Ground::Reference) || !levels {
                return None;
            }
            let path = path?;
            let gain = points.first()?.gain;
            let at = |part: f32, gain: f32| Point { path: path * part, gain, ..points[0].clone() };
            points = vec![at(0.4, gain), at(0.8, gain + 9.0)];
            let how = drawn.one_of(&["slope", "hold"]);
            let of_probe =
                |part: &Part| super::super::case::point(part).is_some_and(|point| point.probe == name);
            case.insert_before(of_probe, Part::Line(format!("dac {name} beyond={how}")));
        }
        _ => return None,
    }
    case.replace_points(name, points);
    Some(())
}
