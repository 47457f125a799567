//! Kinds of entries, told by the first byte of an encoding: a fold decodes what it looks at and passes over the rest.

/// Some of the kinds, each a bit by its place among the kinds of entries.
#[derive(Clone, Copy)]
pub(super) struct Kinds(u32);

impl Kinds {
    /// How bare lengths are read.
    pub const UNITS: Self = Self(1 << 6);
    pub const PROBE: Self = Self(1 << 9);
    pub const DAC: Self = Self(1 << 12);
    /// What holds outside the gain line, and the scanning margin: the last of each probe counts.
    pub const LAST_OF_PROBE: Self = Self(1 << 13 | 1 << 16);
    pub const SCREEN: Self = Self(1 << 14);
    pub const TOLERANCE: Self = Self(1 << 20);
    /// What sets something: all from the units to the scanning margin, linearity checks, tolerances.
    pub const SETTING: Self = Self(0x1_ffc0 | 1 << 18 | 1 << 19 | 1 << 20);
    /// What the history is made of: days, time bases, angles, reference points, transfers, checks.
    pub const HISTORY: Self = Self(1 << 5 | 1 << 10 | 1 << 11 | 1 << 12 | 1 << 15 | 1 << 17);
    /// The same and what checks are judged by.
    pub const JUDGED: Self = Self(Self::HISTORY.0 | Self::TOLERANCE.0);

    /// Whether an encoded entry is of one of these kinds.
    pub fn have(self, encoded: &[u8]) -> bool {
        encoded.first().is_some_and(|kind| self.has(*kind))
    }

    /// Whether a kind is one of these.
    pub fn has(self, kind: u8) -> bool {
        self.0.checked_shr(u32::from(kind)).is_some_and(|bits| bits & 1 == 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::entry::fixture::entered;
    use crate::record::entry::frame::MAX_FRAME;
    use crate::record::entry::{
        CheckEntry, Date, Entry, LengthUnit, Name, ScreenEntry, Text, ToleranceEntry, wire,
    };
    use crate::units::Decibels;

    #[test]
    fn a_kind_is_told_by_the_first_byte() {
        let text = || Text::try_from("twice").unwrap();
        let probe = || Name::try_from("p60").unwrap();
        let (path, shown) = (entered(50.0), entered(50.0));
        let check =
            CheckEntry { probe: probe(), path, shown, height: None, gain: None, block: None, time: None };
        let beyond = Entry::DacBeyond { probe: probe(), beyond: crate::calibration::curve::Beyond::Hold };
        let margin = entered::<Decibels>(6.0);
        let date = Date::new(2026, 3, 2).unwrap();
        for (entry, kinds) in [
            (Entry::Note(text()), [false; 7]),
            (Entry::Criteria(text()), [false; 7]),
            (Entry::Technique(text()), [false; 7]),
            (Entry::Void { number: 3, reason: text() }, [false; 7]),
            (Entry::Units(LengthUnit::Mm), [true, false, true, false, false, false, false]),
            (Entry::Tolerance(ToleranceEntry::default()), [true, false, false, true, false, false, false]),
            (Entry::Screen(ScreenEntry::default()), [true, false, false, false, true, false, false]),
            (beyond, [true, false, false, false, false, true, false]),
            (Entry::Scanning { probe: probe(), margin }, [true, false, false, false, false, true, false]),
            (Entry::Check(check), [false, true, false, false, false, false, false]),
            (Entry::Date { date, time: None }, [false, true, false, false, false, false, false]),
        ] {
            let mut buffer = [0; MAX_FRAME];
            let length = wire::write(&entry, &mut buffer).unwrap();
            let told = [
                Kinds::SETTING,
                Kinds::HISTORY,
                Kinds::UNITS,
                Kinds::TOLERANCE,
                Kinds::SCREEN,
                Kinds::LAST_OF_PROBE,
                Kinds::PROBE,
            ]
            .map(|some| some.have(&buffer[..length]));
            assert_eq!(told, kinds, "{entry:?}");
        }
        assert!(!Kinds::SETTING.have(&[]) && !Kinds::SETTING.have(&[255]));
    }
}
