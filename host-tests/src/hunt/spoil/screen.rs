//! Echoes that left the screen, were not seen, were read too low or too high, at a gain that cannot be.

use halfskip::math::larger;

use super::super::case::Case;
use super::super::fault::Fault;
use super::super::part::{Part, Seen, to_reference};
use super::{at, one, peaks, readings, strongest};
use crate::drawn::Drawn;

fn screen(case: &mut Case, line: &str) {
    case.insert_before(|part| matches!(part, Part::Joint(_)), Part::Line(line.to_string()));
}

pub fn spoil(fault: Fault, case: &mut Case, drawn: &mut Drawn) -> Option<()> {
    match fault {
        Fault::OverTheScreen => {
            let place = one(drawn, &readings(case))?;
            at(case, place)?.height = "over".to_string();
        }
        Fault::AboveTheScreen => {
            screen(case, "screen max=100");
            let place = one(drawn, &readings(case))?;
            at(case, place)?.height = drawn.one_of(&["101", "130"]).to_string();
        }
        Fault::UnseenAtLittleGain => {
            let peak = strongest(case)?;
            // At the noise it would be stronger than the strongest.
            let gain = peak.gain - drawn.between(60.0, 90.0);
            screen(case, "screen noise=5");
            case.record(vec![Seen { height: "under".to_string(), gain: larger(gain, -20.0), ..peak }]);
        }
        Fault::NeverSeen => {
            screen(case, "screen noise=5");
            case.readings_mut().for_each(|seen| seen.height = "under".to_string());
        }
        Fault::ReadTooLow => {
            let from = case.asked().amplitude_from?.get();
            let height = drawn.between(6.0, from - 0.6).round();
            return read_at(case, height);
        }
        Fault::ReadTooHigh => {
            let to = case.asked().amplitude_to?.get();
            let height = drawn.between(to + 0.6, to + 60.0).round();
            screen(case, "screen max=160");
            return read_at(case, height);
        }
        Fault::GainAbsurd => {
            let more = drawn.between(42.0, 60.0);
            case.readings_mut().for_each(|seen| seen.gain += more);
        }
        _ => return None,
    }
    Some(())
}

/// Reads the strongest peak at another height, its level as it was; the others are taken away, since one of them may be
/// the strongest by a hair.
fn read_at(case: &mut Case, height: f32) -> Option<()> {
    let peak = strongest(case)?;
    let place = peaks(case).into_iter().find(|place| {
        super::super::case::seen(&case.parts[*place])
            .is_some_and(|seen| (seen.probe, seen.path, seen.x) == (peak.probe, peak.path, peak.x))
    })?;
    let seen = at(case, place)?;
    let before: f32 = seen.height.parse().ok()?;
    seen.gain += to_reference(height) - to_reference(before);
    seen.height = height.to_string();
    Some(())
}
