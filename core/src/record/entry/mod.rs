//! The fact: one thing the examiner or the instrument observed.
//!
//! An ordered list of entries is all that is ever stored. An entry has two encodings of this one enum: a line of text,
//! which the console crate reads and writes, and a postcard frame ([`frame`]). Nothing is edited: a
//! [`Void`](Entry::Void) with a reason takes an earlier entry out.

mod calibration;
mod detail;
#[cfg(test)]
pub(crate) mod fixture;
pub mod frame;
mod reading;
mod setup;
pub(crate) mod wire;

pub use calibration::{
    AngleEntry, AngleKnown, Beyond, Calibrated, CheckEntry, DacEntry, GainLinearityEntry, LinearityWindow,
    MAX_ECHOES, MAX_SHOTS, MAX_STEPS, ScreenEntry, ScreenLinearityEntry, Shots, TimebaseEntry, TimebaseKnown,
    ToleranceEntry, TransferEntry,
};
pub use detail::ReportField;
pub use reading::{
    EnteredHeight, Face, ObserveEntry, PointPeaked, ReadingEntry, Side, Steadiness, Sweep, Travel,
};
pub use setup::{
    Backing, Clock, Counterbore, Curvature, Date, Element, JointEntry, LengthUnit, MaterialEntry,
    Preparation, ProbeEntry, Reach, ScannedFrom, WedgeHeat,
};

use serde::{Deserialize, Serialize};

/// A probe's, an indication's or a material's name: up to 16 bytes.
pub type Name = heapless::String<16>;
/// A text of the report: up to 120 bytes.
pub type Text = heapless::String<120>;
/// A block's name: up to 40 bytes.
pub type BlockName = heapless::String<40>;

/// Whether a text can stand in a line and on a screen: no control character but a tab, and none that turns the direction
/// of what follows, so that a text reads as it was typed.
///
/// ```
/// assert!(halfskip::record::entry::is_plain("Schweißnaht 7"));
/// assert!(!halfskip::record::entry::is_plain("two\nlines"));
/// assert!(!halfskip::record::entry::is_plain("read \u{202e}backwards"));
/// ```
#[must_use]
pub fn is_plain(text: &str) -> bool {
    let turns =
        |char| matches!(char, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    !text.chars().any(|char| char.is_control() && char != '\t' || turns(char))
}

/// One fact.
///
/// The order of the variants is the wire format: new ones are appended, none is moved or changed.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Entry {
    /// `title "..."`
    Title(Text),
    /// `examiner "..." certificate="..."`
    Examiner {
        /// Who examined.
        name: Text,
        /// Their certificate.
        certificate: Option<Text>,
    },
    /// `procedure "..."`
    Procedure(Text),
    /// `equipment "..." serial="..."`
    Equipment {
        /// What was used.
        name: Text,
        /// Its serial number.
        serial: Option<Text>,
    },
    /// `note "..."`
    Note(Text),
    /// `date 2026-03-14 time=08:00`
    Date {
        /// The day.
        date: Date,
        /// When on that day.
        time: Option<Clock>,
    },
    /// `units mm`
    Units(LengthUnit),
    /// `material steel`
    Material(MaterialEntry),
    /// `joint butt thickness=20 ...`
    Joint(JointEntry),
    /// `probe p60 angle=60 frequency=4 element=8x9 ...`
    Probe(ProbeEntry),
    /// `timebase p60 path=25,100 time=17.31,63.75`
    Timebase(TimebaseEntry),
    /// `angle p60 depth=15 distance=26.3`
    Angle(AngleEntry),
    /// `dac p60 path=30 height=80 gain=38`
    Dac(DacEntry),
    /// `dac p60 beyond=hold`
    DacBeyond {
        /// The probe.
        probe: Name,
        /// What holds outside the recorded points.
        beyond: Beyond,
    },
    /// `screen max=100 noise=5 reference=80`
    Screen(ScreenEntry),
    /// `transfer p60 gain=2.5`
    Transfer(TransferEntry),
    /// `scanning p60 margin=6`
    Scanning {
        /// The probe.
        probe: Name,
        /// Gain added for scanning; recorded, never part of a level.
        margin: crate::units::decimal::Entered<crate::units::Decibels>,
    },
    /// `check p60 path=100 shown=99.2 height=78 gain=38`
    Check(CheckEntry),
    /// `linearity screen large=80,60 small=40,30`
    ScreenLinearity(ScreenLinearityEntry),
    /// `linearity gain set=80,40 change=-6,6 shown=40,80`
    GainLinearity(GainLinearityEntry),
    /// `tolerance angle=2 path=0.5 ...`
    Tolerance(ToleranceEntry),
    /// `reading 1 probe=p60 side=a ...`
    Reading(ReadingEntry),
    /// `observe 1 swivel=ragged ...`
    Observe(ObserveEntry),
    /// `criteria sheet.toml`
    Criteria(Text),
    /// `void 7 reason="..."`
    Void {
        /// The number of the entry taken out.
        number: u32,
        /// Why.
        reason: Text,
    },
    /// `detail couplant is="..."`
    Detail {
        /// The field of the report.
        field: ReportField,
        /// What it says.
        text: Text,
    },
    /// `technique sheet.toml`
    Technique(Text),
}

impl Entry {
    /// The verb of the entry's line.
    #[must_use]
    pub const fn verb(&self) -> &'static str {
        match self {
            Self::Title(_) => "title",
            Self::Examiner { .. } => "examiner",
            Self::Procedure(_) => "procedure",
            Self::Equipment { .. } => "equipment",
            Self::Note(_) => "note",
            Self::Date { .. } => "date",
            Self::Units(_) => "units",
            Self::Material(_) => "material",
            Self::Joint(_) => "joint",
            Self::Probe(_) => "probe",
            Self::Timebase(_) => "timebase",
            Self::Angle(_) => "angle",
            Self::Dac(_) | Self::DacBeyond { .. } => "dac",
            Self::Screen(_) => "screen",
            Self::Transfer(_) => "transfer",
            Self::Scanning { .. } => "scanning",
            Self::Check(_) => "check",
            Self::ScreenLinearity(_) | Self::GainLinearity(_) => "linearity",
            Self::Tolerance(_) => "tolerance",
            Self::Reading(_) => "reading",
            Self::Observe(_) => "observe",
            Self::Criteria(_) => "criteria",
            Self::Void { .. } => "void",
            Self::Detail { .. } => "detail",
            Self::Technique(_) => "technique",
        }
    }

    /// Whether all texts of the entry are [plain](is_plain). No line holds others; a program can make them.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        let given = |text: &Option<Text>| text.as_ref().is_none_or(|text| is_plain(text));
        self.probe().is_none_or(|probe| is_plain(probe))
            && match self {
                Self::Title(text)
                | Self::Procedure(text)
                | Self::Note(text)
                | Self::Criteria(text)
                | Self::Technique(text) => is_plain(text),
                Self::Examiner { name, certificate: more } | Self::Equipment { name, serial: more } => {
                    is_plain(name) && given(more)
                }
                Self::Material(entry) => is_plain(&entry.name),
                Self::Reading(entry) => is_plain(&entry.indication),
                Self::Observe(entry) => is_plain(&entry.indication),
                Self::Check(entry) => entry.block.as_ref().is_none_or(|block| is_plain(block)),
                Self::Void { reason, .. } => is_plain(reason),
                Self::Detail { text, .. } => is_plain(text),
                _ => true,
            }
    }

    /// The probe that the entry is about, when it is about one.
    #[must_use]
    pub fn probe(&self) -> Option<&Name> {
        match self {
            Self::Probe(entry) => Some(&entry.name),
            Self::Timebase(entry) => Some(&entry.probe),
            Self::Angle(entry) => Some(&entry.probe),
            Self::Dac(entry) => Some(&entry.probe),
            Self::Transfer(entry) => Some(&entry.probe),
            Self::Check(entry) => Some(&entry.probe),
            Self::Reading(entry) => Some(&entry.probe),
            Self::DacBeyond { probe, .. } | Self::Scanning { probe, .. } => Some(probe),
            _ => None,
        }
    }
}
