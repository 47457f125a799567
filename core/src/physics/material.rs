//! What the sound travels in: its velocities, its attenuation, and presets that name the document they come from.
//!
//! A preset is a starting point. Velocity differs between heats, alloys and rolling directions (two published tables
//! give 2.99 and 3.30 mm/us for the shear wave in one grade of stainless steel), so a measured value always wins.

use core::fmt;

use crate::units::decimal::fixed;
use crate::units::{DecibelsPerMillimetre, MillimetresPerMicrosecond};

/// Shear velocity of carbon steel, where only the width of a beam or the near field rests on it and no material is
/// recorded \[R4\].
#[cfg(feature = "record")]
pub(crate) const STEEL_SHEAR: MillimetresPerMicrosecond = MillimetresPerMicrosecond::constant(3.24);

/// The sound velocities of one material, and its attenuation where it is known.
///
/// ```
/// use halfskip::physics::material::{Material, MaterialError};
/// use halfskip::units::MillimetresPerMicrosecond;
/// let shear = MillimetresPerMicrosecond::new(3.24).unwrap();
/// let longitudinal = MillimetresPerMicrosecond::new(5.92).unwrap();
/// let steel = Material::new(shear, Some(longitudinal), None).unwrap();
/// assert_eq!(steel.shear().get(), 3.24);
/// // The two velocities typed the wrong way round.
/// assert_eq!(
///     Material::new(longitudinal, Some(shear), None),
///     Err(MaterialError::LongitudinalTooSlow { longitudinal: shear, shear: longitudinal })
/// );
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Material {
    shear: MillimetresPerMicrosecond,
    longitudinal: Option<MillimetresPerMicrosecond>,
    attenuation: Option<DecibelsPerMillimetre>,
}

/// Why velocities do not make a material.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum MaterialError {
    /// No solid carries a longitudinal wave this slow beside its shear wave: the two may have been exchanged.
    LongitudinalTooSlow {
        /// The longitudinal velocity that was offered.
        longitudinal: MillimetresPerMicrosecond,
        /// The shear velocity beside it.
        shear: MillimetresPerMicrosecond,
    },
}

impl fmt::Display for MaterialError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self::LongitudinalTooSlow { longitudinal, shear } = *self;
        write!(
            f,
            "longitudinal velocity {} mm/us is too slow for a solid with shear velocity {} mm/us; are they exchanged?",
            fixed(longitudinal.get()),
            fixed(shear.get())
        )
    }
}

impl core::error::Error for MaterialError {}

impl Material {
    /// A material from its velocities in mm/us and, where known, its attenuation in dB per mm of path.
    ///
    /// # Errors
    /// [`MaterialError::LongitudinalTooSlow`] when the pair would need a negative bulk modulus.
    pub const fn new(
        shear: MillimetresPerMicrosecond,
        longitudinal: Option<MillimetresPerMicrosecond>,
        attenuation: Option<DecibelsPerMillimetre>,
    ) -> Result<Self, MaterialError> {
        if let Some(longitudinal) = longitudinal {
            let (long, slow) = (longitudinal.get() as f64, shear.get() as f64);
            // bulk modulus = density (cL² − 4/3 cS²), positive in every solid (elasticity of isotropic bodies)
            if 3.0 * long * long <= 4.0 * slow * slow {
                return Err(MaterialError::LongitudinalTooSlow { longitudinal, shear });
            }
        }
        Ok(Self { shear, longitudinal, attenuation })
    }

    /// Shear velocity.
    #[must_use]
    pub const fn shear(&self) -> MillimetresPerMicrosecond {
        self.shear
    }

    /// Longitudinal velocity, where it is known.
    #[must_use]
    pub const fn longitudinal(&self) -> Option<MillimetresPerMicrosecond> {
        self.longitudinal
    }

    /// Attenuation of the shear wave along the path, where it is known. Every preset leaves it open: it belongs to
    /// the part and the frequency.
    #[must_use]
    pub const fn attenuation(&self) -> Option<DecibelsPerMillimetre> {
        self.attenuation
    }

    /// The same material with a measured attenuation.
    #[must_use]
    pub const fn with_attenuation(self, attenuation: DecibelsPerMillimetre) -> Self {
        Self { attenuation: Some(attenuation), ..self }
    }
}

/// A named material and the document its velocities were read in.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Preset {
    /// The word that names it.
    pub name: &'static str,
    /// Its velocities.
    pub material: Material,
    source: Source,
}

/// Where the velocities of a preset were read.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
enum Source {
    Iso22232,
    AstmE494,
    AstmE494Steel347,
    Crc,
}

impl Preset {
    /// The published document that the velocities were read in.
    #[must_use]
    pub const fn source(&self) -> &'static str {
        match self.source {
            Source::Iso22232 => {
                "ISO 22232-2:2020, steel for probe data (5920 ± 50, 3255 ± 30 m/s); as ISO 17640"
            }
            Source::AstmE494 => "ASTM E494, table X3.1 (edition not seen)",
            Source::AstmE494Steel347 => "ASTM E494, table X3.1, steel 347 (edition not seen)",
            Source::Crc => "CRC Handbook of Chemistry and Physics, section 14",
        }
    }
}

/// Every preset, the usual one first.
pub static PRESETS: [Preset; 11] = [
    preset_of("steel", 3.255, 5.92, Source::Iso22232),
    preset_of("stainless", 3.1, 5.79, Source::AstmE494Steel347),
    preset_of("aluminium", 3.13, 6.3, Source::AstmE494),
    preset_of("copper", 2.26, 4.7, Source::AstmE494),
    preset_of("titanium", 3.215, 6.24, Source::AstmE494),
    preset_of("brass", 2.1, 4.37, Source::AstmE494),
    preset_of("nickel-chromium", 3.02, 5.72, Source::AstmE494),
    preset_of("iron", 3.24, 5.96, Source::Crc),
    preset_of("duralumin", 3.13, 6.32, Source::Crc),
    preset_of("magnesium", 3.05, 5.77, Source::Crc),
    preset_of("acrylic", 1.12, 2.67, Source::AstmE494),
];

const fn preset_of(name: &'static str, shear: f32, longitudinal: f32, source: Source) -> Preset {
    let shear = MillimetresPerMicrosecond::constant(shear);
    let longitudinal = MillimetresPerMicrosecond::constant(longitudinal);
    match Material::new(shear, Some(longitudinal), None) {
        Ok(material) => Preset { name, material, source },
        // Runs only while the program is compiled.
        Err(_) => panic!("preset is no solid"),
    }
}

/// The preset of that name; `None` for any other word.
///
/// ```
/// use halfskip::physics::material::preset;
/// let steel = preset("steel").unwrap();
/// assert_eq!(steel.material.shear().get(), 3.255);
/// assert!(steel.source().starts_with("ISO 22232-2"));
/// assert!(preset("unobtainium").is_none());
/// ```
#[must_use]
pub fn preset(name: &str) -> Option<&'static Preset> {
    PRESETS.iter().find(|preset| preset.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_preset_has_one_name_a_source_and_no_guessed_attenuation() {
        for (n, one) in PRESETS.iter().enumerate() {
            assert!(!one.source().is_empty());
            assert_eq!(one.material.attenuation(), None);
            assert!(PRESETS.iter().skip(n + 1).all(|other| other.name != one.name));
            assert_eq!(preset(one.name), Some(one));
        }
    }

    #[test]
    fn exchanged_velocities_are_refused_and_a_missing_one_is_not() {
        let (slow, fast) =
            (MillimetresPerMicrosecond::constant(3.0), MillimetresPerMicrosecond::constant(3.46));
        assert!(Material::new(slow, Some(fast), None).is_err());
        assert!(Material::new(slow, Some(MillimetresPerMicrosecond::constant(3.47)), None).is_ok());
        let unknown = Material::new(slow, None, None).unwrap();
        assert_eq!(unknown.longitudinal(), None);
    }
}
