//! What spoils a case.

use super::case::{Case, Seen};
use crate::drawn::Drawn;

/// One needed thing that is missing, out of tolerance, saturated, open, contradictory or out of range.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
#[expect(missing_docs, reason = "the name says it")]
pub enum Fault {
    NoSheet,
    NoJoint,
    NoReference,
    NoReading,
    VoidJoint,
    VoidProbe,
    VoidReference,
    AnotherProbeOfTheName,
    PathsBeyondTheCurve,
    OneReadingBeyondTheCurve,
    OneReadingWithoutReference,
    OverTheScreen,
    AboveTheScreen,
    UnseenAtLittleGain,
    NeverSeen,
    CheckOfRangeFailed,
    CheckOfLevelFailed,
    TimeBaseOff,
    AngleOff,
    LinearityOff,
    NoSweep,
    OpenStart,
    OpenEnds,
    RisesAgain,
    SidesContradict,
    NeighbourWithoutLength,
    WithoutLengthBesideANeighbour,
    OpenTowardsANeighbour,
    LongerSweep,
    EchoBeyondTheLength,
    ThicknessOutsideTheSheet,
}

use Fault::*;

impl Fault {
    /// All of them.
    pub const ALL: [Self; 31] = [
        NoSheet,
        NoJoint,
        NoReference,
        NoReading,
        VoidJoint,
        VoidProbe,
        VoidReference,
        AnotherProbeOfTheName,
        PathsBeyondTheCurve,
        OneReadingBeyondTheCurve,
        OneReadingWithoutReference,
        OverTheScreen,
        AboveTheScreen,
        UnseenAtLittleGain,
        NeverSeen,
        CheckOfRangeFailed,
        CheckOfLevelFailed,
        TimeBaseOff,
        AngleOff,
        LinearityOff,
        NoSweep,
        OpenStart,
        OpenEnds,
        RisesAgain,
        SidesContradict,
        NeighbourWithoutLength,
        WithoutLengthBesideANeighbour,
        OpenTowardsANeighbour,
        LongerSweep,
        EchoBeyondTheLength,
        ThicknessOutsideTheSheet,
    ];

    /// Whether it takes away what the case's sheet needs.
    #[must_use]
    pub fn matters(self, case: &Case) -> bool {
        let asks_length = matches!(case.sheet, "length.toml" | "length-at-level.toml");
        let groups = asks_length || case.sheet == "demonstration.toml";
        match self {
            NoSweep | OpenStart | OpenEnds | LongerSweep | EchoBeyondTheLength => asks_length,
            // The weak are let pass at any length there.
            RisesAgain => case.sheet != "level-length.toml",
            NeighbourWithoutLength | WithoutLengthBesideANeighbour | OpenTowardsANeighbour => groups,
            ThicknessOutsideTheSheet => case.sheet == "demonstration.toml",
            PathsBeyondTheCurve | OneReadingBeyondTheCurve => case.points.len() > 1,
            _ => true,
        }
    }

    /// Whether a record is borne for all these faults: of an echo that left the screen, the others seen or not, it is
    /// known that it is over the level from which that sheet records, and how long it is, without which the sheet
    /// rejects nothing.
    #[must_use]
    pub fn bear_a_record(faults: &[Self], case: &Case) -> bool {
        let off = |fault: &Self| matches!(fault, OverTheScreen | AboveTheScreen);
        case.sheet == "level-length.toml"
            && faults.iter().any(off)
            && faults.iter().all(|fault| off(fault) || *fault == NeverSeen)
    }

    /// When it has its turn among several: what takes readings away comes after what picks among them, and voids name
    /// entries by numbers that must not move any more.
    #[must_use]
    pub const fn turn(self) -> u8 {
        match self {
            NoReading | NoSweep | OpenStart | OpenEnds | WithoutLengthBesideANeighbour => 1,
            VoidJoint | VoidProbe | VoidReference | AnotherProbeOfTheName => 2,
            _ => 0,
        }
    }

    /// Spoils the case.
    pub fn spoil(self, case: &mut Case, drawn: &mut Drawn) {
        let place = |case: &Case, drawn: &mut Drawn| (drawn.bits() % case.readings.len() as u64) as usize;
        match self {
            NoSheet => case.before.retain(|line| !line.starts_with("criteria")),
            NoJoint => case.before.retain(|line| !line.starts_with("joint")),
            NoReference => case.points.clear(),
            NoReading => case.readings.clear(),
            VoidJoint => void(case, "joint"),
            VoidProbe => void(case, "probe"),
            VoidReference => {
                let first = case.number_of("dac p").unwrap_or(0);
                for number in (first..).take(case.points.len()) {
                    case.after.push(format!("void {number} reason=\"invented\""));
                }
            }
            AnotherProbeOfTheName => {
                void(case, "probe");
                let other = if case.angle == 60.0 { 45 } else { 60 };
                case.after.push(format!("probe p angle={other} frequency=2 element=20 front=10"));
            }
            PathsBeyondTheCurve => case.points = vec![(1_500.0, 60.0), (1_600.0, 62.0)],
            OneReadingBeyondTheCurve => {
                let at = place(case, drawn);
                case.readings[at].path = 1_200.0;
            }
            OneReadingWithoutReference => {
                case.before.push("probe q angle=60 frequency=4 element=8x9 front=10".to_string());
                let seen = case.readings[0].clone();
                case.readings.push(Seen { probe: "q", sweep: false, ..seen });
            }
            OverTheScreen => {
                let at = place(case, drawn);
                case.readings[at].height = "over".to_string();
            }
            AboveTheScreen => {
                case.before.push("screen max=100".to_string());
                let at = place(case, drawn);
                case.readings[at].height = drawn.one_of(&["101", "130"]).to_string();
            }
            UnseenAtLittleGain => {
                let seen = case.readings[0].clone();
                let gain = seen.gain - drawn.between(60.0, 90.0);
                case.before.push("screen noise=5".to_string());
                case.readings.push(Seen {
                    height: "under".to_string(),
                    gain,
                    sweep: false,
                    side: 'b',
                    ..seen
                });
            }
            NeverSeen => {
                case.before.push("screen noise=5".to_string());
                for seen in &mut case.readings {
                    seen.height = "under".to_string();
                }
            }
            CheckOfRangeFailed => case.after.push("check p path=100 shown=107".to_string()),
            CheckOfLevelFailed => {
                let (path, gain) = case.points.first().copied().unwrap_or((50.0, 40.0));
                let gain = gain + drawn.one_of(&[-5.0, 5.0]);
                case.after.push(format!("check p path={path} shown={path} height=80 gain={gain:.1}"));
            }
            TimeBaseOff => case.before.push("timebase p path=25,50,100 time=17,33,67".to_string()),
            AngleOff => {
                let off = f64::from(case.angle + drawn.one_of(&[-5.0, 5.0]));
                let distance = 20.0 * off.to_radians().tan();
                case.before.push(format!("angle p depth=20 distance={distance:.2}"));
            }
            LinearityOff => case.before.push("linearity screen large=80,60 small=55,45".to_string()),
            NoSweep => case.readings.retain(|seen| !seen.sweep),
            OpenStart => {
                let start = drawn.one_of(&[2, 3]);
                drop(case.readings.drain(..start.min(case.readings.len())));
            }
            OpenEnds => {
                let Some(seen) = case.readings.first().cloned() else { return };
                case.readings.retain(|seen| !seen.sweep);
                for x in [-1.0, 0.0, 1.0] {
                    case.readings.push(Seen { x: seen.x + x, ..seen.clone() });
                }
            }
            RisesAgain => {
                let (peak, end) = (case.readings[3].clone(), case.readings[6].x);
                for (x, below) in [(0.1, 20.0), (0.2, 3.0), (0.3, 20.0)] {
                    case.readings.push(Seen {
                        x: end + x * case.thickness,
                        gain: peak.gain + below,
                        ..peak.clone()
                    });
                }
            }
            SidesContradict => {
                let off =
                    drawn.one_of(&[-1.0, 1.0]) * (drawn.between(12.0, 18.0) + 0.15 * case.readings[0].path);
                for seen in case.readings.iter_mut().filter(|seen| seen.side == 'b') {
                    seen.standoff =
                        if seen.standoff + off > 0.0 { seen.standoff + off } else { seen.standoff - off };
                }
            }
            NeighbourWithoutLength => {
                let seen = case.readings[0].clone();
                case.readings.push(Seen { id: 2, sweep: false, x: seen.x + 20.0, ..seen });
            }
            WithoutLengthBesideANeighbour => {
                let far = case.readings.iter().filter(|seen| seen.id == 1 && seen.sweep);
                let far: Vec<Seen> =
                    far.map(|seen| Seen { id: 3, x: seen.x + 200.0, ..seen.clone() }).collect();
                case.readings.retain(|seen| seen.id != 1 || !seen.sweep);
                case.readings.extend(far);
            }
            OpenTowardsANeighbour => {
                let (peak, step) = (strongest(case), 0.06 * case.thickness);
                let far = peak.x + 40.0 + 3.0 * case.thickness;
                // Strong enough for a reject of both together.
                let gain = peak.gain - 25.0;
                for (place, below) in [(0.0, 2.0), (1.0, 0.0), (2.0, 9.0), (3.0, 30.0)] {
                    let (x, gain) = (far + place * step, gain + below);
                    case.readings.push(Seen { id: 4, x, gain, ..peak.clone() });
                }
            }
            LongerSweep => {
                let peak = strongest(case);
                let other = case.readings.iter().find(|seen| seen.side == 'b').unwrap_or(&peak).clone();
                for (place, below) in [(-0.8, 20.0), (-0.6, 3.0), (0.0, 1.0), (0.6, 3.0), (0.8, 20.0)] {
                    let (x, gain) = (peak.x + place * case.thickness, other.gain - 1.0 + below);
                    case.readings.push(Seen { x, gain, sweep: true, ..other.clone() });
                }
            }
            EchoBeyondTheLength => {
                let peak = strongest(case);
                let (x, gain) = (peak.x + 1.5 * case.thickness, peak.gain + 2.0);
                case.readings.push(Seen { x, gain, sweep: false, ..peak });
            }
            ThicknessOutsideTheSheet => {
                for line in &mut case.before {
                    if line.starts_with("joint") {
                        *line = "joint butt thickness=120 prep=square gap=2".to_string();
                    }
                }
            }
        }
    }
}

/// The strongest of the sweep.
fn strongest(case: &Case) -> Seen {
    let weaker = |held: &Seen, other: &Seen| held.gain > other.gain;
    let sweep = case.readings.iter().filter(|seen| seen.id == 1 && seen.side == 'a' && seen.sweep);
    let found = sweep.reduce(|held, other| if weaker(held, other) { other } else { held });
    found.unwrap_or(&case.readings[0]).clone()
}

fn void(case: &mut Case, beginning: &str) {
    if let Some(number) = case.number_of(beginning) {
        case.after.push(format!("void {number} reason=\"invented\""));
    }
}
