//! The few colours of a report, and how well they stand out on paper.

/// What a stroke or an area is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ink {
    /// Words and outlines.
    Text,
    /// Words of less weight: scales and captions.
    Soft,
    /// Lines that only help the eye: grids and frames.
    Grid,
    /// Parent metal.
    Plate,
    /// Weld metal.
    Weld,
    /// The zone beside the weld that its heat has changed.
    Heat,
    /// What was seen from side A, and curves of calibration.
    SideA,
    /// What was seen from side B.
    SideB,
    /// Indications.
    Found,
    /// Paper, to lift words off what lies under them.
    Paper,
}

impl Ink {
    /// Every ink.
    pub const ALL: [Self; 10] = [
        Self::Text,
        Self::Soft,
        Self::Grid,
        Self::Plate,
        Self::Weld,
        Self::Heat,
        Self::SideA,
        Self::SideB,
        Self::Found,
        Self::Paper,
    ];

    /// Red, green and blue.
    #[must_use]
    pub const fn rgb(self) -> [u8; 3] {
        match self {
            Self::Text => [0x1c, 0x1f, 0x24],
            Self::Soft => [0x4c, 0x53, 0x5c],
            Self::Grid => [0xc9, 0xce, 0xd4],
            Self::Plate => [0xec, 0xee, 0xf0],
            Self::Weld => [0xdc, 0xd2, 0xbf],
            Self::Heat => [0xf6, 0xf0, 0xe3],
            Self::SideA => [0x1d, 0x4f, 0x7c],
            Self::SideB => [0x8a, 0x45, 0x12],
            Self::Found => [0x96, 0x1c, 0x2b],
            Self::Paper => [0xff, 0xff, 0xff],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{larger, smaller};
    use super::*;

    /// Relative luminance, WCAG 2.2, "relative luminance".
    fn luminance(ink: Ink) -> f64 {
        let [r, g, b] = ink.rgb().map(|part| {
            let part = f64::from(part) / 255.0;
            if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
        });
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    fn contrast(one: Ink, other: Ink) -> f64 {
        let (one, other) = (luminance(one), luminance(other));
        (larger(one, other) + 0.05) / (smaller(one, other) + 0.05)
    }

    /// WCAG 2.2, 1.4.3 (words, 4.5:1) and 1.4.11 (marks, 3:1).
    #[test]
    fn words_and_marks_stand_out_on_paper_and_on_metal() {
        assert!((contrast(Ink::Paper, Ink::Paper) - 1.0).abs() < 1e-12);
        for ground in [Ink::Paper, Ink::Plate, Ink::Weld, Ink::Heat] {
            for ink in [Ink::Text, Ink::Soft, Ink::SideA, Ink::SideB, Ink::Found] {
                let found = contrast(ink, ground);
                assert!(found >= 4.5, "{ink:?} on {ground:?}: {found}");
            }
        }
    }

    #[test]
    fn no_two_inks_are_the_same() {
        for (place, ink) in Ink::ALL.into_iter().enumerate() {
            assert_eq!(Ink::ALL.iter().position(|other| other.rgb() == ink.rgb()), Some(place));
        }
    }
}
