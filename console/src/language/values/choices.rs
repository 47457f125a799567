//! Values that are one of a few words.

use halfskip::record::entry::{
    Beyond, Face, LengthUnit, PointPeaked, Preparation, Reach, ReportField, ScannedFrom, Side, Steadiness,
    Sweep,
};

use super::reader::{Reader, Reads};
use crate::language::keys::Key;
use crate::language::words::Value;
use crate::language::writer::{Writer, Writes};

/// A type whose values are words of the language.
pub(crate) trait Choice: Copy + PartialEq + 'static {
    /// The words.
    const WORDS: &'static [&'static str];
    /// What each stands for, in the same order.
    const VALUES: &'static [Self];

    /// The word of a value; none for a value that is the absence of the key.
    fn word(self) -> Option<&'static str> {
        Self::WORDS.iter().zip(Self::VALUES).find(|(_, value)| **value == self).map(|(word, _)| *word)
    }
}

/// Yes or no.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct YesNo(pub bool);

/// Seen, or looked for and not seen.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Seen(pub bool);

/// How the beam runs on a curved part.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Curve {
    Around,
    Along,
}

/// The place of a word among those taken.
fn chosen<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>, words: &[&str]) -> Option<usize> {
    let word = reader.plain(key, value)?;
    let place = words.iter().position(|known| *known == word);
    if place.is_some() { place } else { reader.unexpected(key, value) }
}

macro_rules! choices {
    ($($type:ty: $($word:literal => $value:expr),+;)+) => {$(
        impl Choice for $type {
            const WORDS: &'static [&'static str] = &[$($word),+];
            const VALUES: &'static [Self] = &[$($value),+];
        }

        impl Reads for $type {
            fn read<'a>(reader: &mut Reader<'a>, key: &'static Key, value: Value<'a>) -> Option<Self> {
                let index = chosen(reader, key, value, Self::WORDS)?;
                Self::VALUES.get(index).copied()
            }
        }

        impl Writes for $type {
            fn write(&self, key: &str, out: &mut Writer<'_>) {
                self.word().write(key, out);
            }
        }
    )+};
}

choices! {
    LengthUnit: "mm" => Self::Mm, "in" => Self::In;
    Preparation:
        "square" => Self::Square, "single-v" => Self::SingleV, "double-v" => Self::DoubleV,
        "single-bevel" => Self::SingleBevel, "double-bevel" => Self::DoubleBevel,
        "single-u" => Self::SingleU, "double-u" => Self::DoubleU,
        "single-j" => Self::SingleJ, "double-j" => Self::DoubleJ;
    Reach: "a" => Self::A, "b" => Self::B, "ab" => Self::Both;
    Curve: "around" => Self::Around, "along" => Self::Along;
    ScannedFrom: "outside" => Self::Outside, "inside" => Self::Inside;
    Beyond: "refuse" => Self::Refuse, "hold" => Self::Hold, "slope" => Self::Slope;
    Side: "a" => Self::A, "b" => Self::B;
    Face: "near" => Self::Near, "far" => Self::Far;
    Sweep: "along" => Self::Along, "across" => Self::Across, "swivel" => Self::Swivel, "orbit" => Self::Orbit;
    PointPeaked: "corner" => Self::Corner, "upper-tip" => Self::UpperTip, "lower-tip" => Self::LowerTip;
    Steadiness: "ragged" => Self::Ragged, "smooth" => Self::Smooth, "steady" => Self::Steady;
    ReportField:
        "client" => Self::Client, "project" => Self::Project, "report-number" => Self::ReportNumber,
        "place" => Self::Place, "standard" => Self::Standard, "item" => Self::Item, "drawing" => Self::Drawing,
        "weld" => Self::Weld, "product-form" => Self::ProductForm, "process" => Self::Process,
        "heat-treatment" => Self::HeatTreatment, "surface" => Self::Surface, "temperature" => Self::Temperature,
        "instrument-calibrated" => Self::InstrumentCalibrated, "cable" => Self::Cable,
        "couplant" => Self::Couplant, "blocks" => Self::Blocks, "range" => Self::Range,
        "damping" => Self::Damping, "testing-level" => Self::TestingLevel, "directions" => Self::Directions,
        "length-examined" => Self::LengthExamined, "not-covered" => Self::NotCovered,
        "lamination" => Self::Lamination, "supplementary" => Self::Supplementary, "repair" => Self::Repair,
        "reviewer" => Self::Reviewer, "witness" => Self::Witness;
    YesNo: "yes" => Self(true), "no" => Self(false);
    Seen: "seen" => Self(true), "not-seen" => Self(false);
}

/// The faces that a plan counts on.
#[cfg(feature = "planning")]
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Faces {
    /// The near one.
    Near,
    /// The far one.
    Far,
    /// Both.
    Both,
}

#[cfg(feature = "planning")]
impl Faces {
    /// Each of them.
    #[must_use]
    pub const fn list(self) -> &'static [Face] {
        match self {
            Self::Near => halfskip::findings::NEAR,
            Self::Far => &[Face::Far],
            Self::Both => const { &Face::both() },
        }
    }
}

#[cfg(feature = "planning")]
choices! {
    Faces: "near" => Self::Near, "far" => Self::Far, "both" => Self::Both;
}
