//! The technique sheet: its texts and what it asks for, checked.

use core::ops::Deref;

use super::error::TechniqueError;
use super::ground::Grounds;
use super::terms::{ASKED, Terms};
use crate::acceptance::criteria::SheetText;

/// The texts of a technique sheet.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Texts {
    /// What the report calls it.
    pub title: SheetText,
    /// Document, edition, place.
    pub source: SheetText,
    /// Who compared it with its source; empty when nobody has.
    pub checked_by: SheetText,
}

impl Texts {
    /// Of a sheet that nobody has checked. Texts beyond 120 bytes are left empty, which a sheet then refuses.
    #[must_use]
    pub fn new(title: &str, source: &str) -> Self {
        Self {
            title: title.try_into().unwrap_or_default(),
            source: source.try_into().unwrap_or_default(),
            checked_by: SheetText::new(),
        }
    }
}

/// A checked technique sheet, or the built-in minimum. Its [`Terms`] are read as fields.
///
/// A frame of one is checked again when it is read:
///
/// ```
/// # #[cfg(feature = "record")] {
/// use halfskip::acceptance::technique::{Ground, Grounds, Technique, TechniqueError, Terms, Texts};
/// let terms = Terms::asking(Grounds::EMPTY.with(Ground::Angle));
/// let technique = Technique::new(Texts::new("invented", "no document"), terms).unwrap();
/// let mut buffer = [0; 64];
/// let frame = postcard::to_slice(&technique, &mut buffer).unwrap();
/// assert_eq!(postcard::from_bytes::<Technique>(frame).unwrap(), technique);
/// let nothing = Technique::new(Texts::new("invented", "no document"), Terms::asking(Grounds::EMPTY));
/// assert_eq!(nothing, Err(TechniqueError::AsksNothing));
/// # }
/// ```
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "Unchecked"))]
pub struct Technique {
    /// Empty for the minimum alone: a sheet without them is refused.
    texts: Texts,
    terms: Terms,
}

/// A technique sheet as it comes out of a frame.
#[cfg(feature = "serde")]
#[derive(serde::Deserialize)]
struct Unchecked {
    texts: Texts,
    terms: Terms,
}

#[cfg(feature = "serde")]
impl TryFrom<Unchecked> for Technique {
    type Error = TechniqueError;

    fn try_from(unchecked: Unchecked) -> Result<Self, TechniqueError> {
        Self::new(unchecked.texts, unchecked.terms)
    }
}

impl Technique {
    /// What holds without a sheet: [`Terms::MINIMUM`].
    pub const MINIMUM: Self = Self {
        texts: Texts { title: SheetText::new(), source: SheetText::new(), checked_by: SheetText::new() },
        terms: Terms::MINIMUM,
    };

    /// A sheet, if it passes [`check`](Self::check).
    ///
    /// # Errors
    /// [`TechniqueError`]: see [`check`](Self::check).
    pub fn new(texts: Texts, terms: Terms) -> Result<Self, TechniqueError> {
        let technique = Self { texts, terms };
        technique.check()?;
        Ok(technique)
    }

    /// Looks for a missing or unprintable text, then for what [`Terms::check`] refuses.
    ///
    /// # Errors
    /// [`TechniqueError`] of the first fault.
    pub fn check(&self) -> Result<(), TechniqueError> {
        // Said before anything else that a blank form lacks.
        if self.terms.asks.is_empty() {
            return Err(TechniqueError::AsksNothing);
        }
        let Texts { title, source, checked_by } = &self.texts;
        for (name, text, may_be_empty) in
            [("title", title, false), ("source", source, false), ("checked-by", checked_by, true)]
        {
            if !may_be_empty && text.trim().is_empty() {
                return Err(TechniqueError::Missing(name));
            }
            if text.chars().any(char::is_control) {
                return Err(TechniqueError::Unprintable(name));
            }
        }
        self.terms.check()
    }

    /// What the report calls it.
    ///
    /// ```
    /// use halfskip::acceptance::technique::Technique;
    /// assert_eq!(Technique::MINIMUM.title(), "built-in minimum");
    /// assert_eq!(Technique::MINIMUM.source(), "common practice, no source");
    /// assert_eq!(Technique::MINIMUM.checked_by(), "");
    /// ```
    #[must_use]
    pub fn title(&self) -> &str {
        if self.is_minimum() { "built-in minimum" } else { &self.texts.title }
    }

    /// Document, edition, place.
    #[must_use]
    pub fn source(&self) -> &str {
        if self.is_minimum() { "common practice, no source" } else { &self.texts.source }
    }

    /// Who compared it with its source; empty when nobody has.
    #[must_use]
    pub fn checked_by(&self) -> &str {
        &self.texts.checked_by
    }

    /// Whether no sheet was given, so that the built-in minimum holds.
    #[must_use]
    pub fn is_minimum(&self) -> bool {
        self.texts.title.is_empty()
    }

    /// Whether somebody has compared it with its source. The minimum has none.
    #[must_use]
    pub fn is_checked(&self) -> bool {
        !self.texts.checked_by.trim().is_empty()
    }

    /// What the built-in minimum asks for and this one does not.
    #[must_use]
    pub const fn left_out(&self) -> Grounds {
        ASKED.but(self.terms.asks)
    }

    /// What it asks for.
    #[must_use]
    pub const fn terms(&self) -> &Terms {
        &self.terms
    }
}

impl Deref for Technique {
    type Target = Terms;

    fn deref(&self) -> &Terms {
        &self.terms
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::acceptance::technique::Ground;

    fn angle() -> Terms {
        Terms::asking(Grounds::EMPTY.with(Ground::Angle))
    }

    #[test]
    fn a_text_that_is_missing_or_unprintable_is_refused_by_its_key() {
        let refused = |texts| Technique::new(texts, angle()).unwrap_err();
        assert_eq!(refused(Texts::new(" ", "source")), TechniqueError::Missing("title"));
        assert_eq!(refused(Texts::new("title", "")), TechniqueError::Missing("source"));
        assert_eq!(refused(Texts::new("ti\ntle", "source")), TechniqueError::Unprintable("title"));
        let checked_by = SheetText::try_from("x\u{1b}").unwrap();
        let texts = Texts { checked_by, ..Texts::new("title", "source") };
        assert_eq!(refused(texts), TechniqueError::Unprintable("checked-by"));
    }

    #[test]
    fn a_sheet_is_checked_when_somebody_says_so_and_never_the_minimum() {
        let mut texts = Texts::new("invented", "no document");
        let unchecked = Technique::new(texts.clone(), angle()).unwrap();
        assert!(!unchecked.is_checked() && !unchecked.is_minimum());
        texts.checked_by = SheetText::try_from("J. Doe, invented").unwrap();
        let checked = Technique::new(texts, angle()).unwrap();
        assert_eq!((checked.is_checked(), checked.checked_by()), (true, "J. Doe, invented"));
        assert!(Technique::MINIMUM.is_minimum() && !Technique::MINIMUM.is_checked());
    }

    #[test]
    fn what_is_left_out_is_what_the_minimum_asks_for_alone() {
        let mut asks = Grounds::from_iter(Ground::ALL).without(Ground::OnWeld).without(Ground::Linearity);
        let left_out = |asks| Technique::new(Texts::new("a", "b"), Terms::asking(asks)).unwrap().left_out();
        assert_eq!(left_out(asks), Grounds::EMPTY.with(Ground::OnWeld));
        asks = asks.with(Ground::OnWeld);
        assert_eq!(left_out(asks), Grounds::EMPTY);
        assert_eq!(Technique::MINIMUM.left_out(), Grounds::EMPTY);
    }

    #[cfg(feature = "record")]
    #[test]
    fn a_frame_of_a_sheet_that_contradicts_itself_is_refused() {
        let mut sheet = Technique::new(Texts::new("a", "b"), angle()).unwrap();
        sheet.terms.stated_ok = Grounds::EMPTY.with(Ground::Transfer);
        let mut buffer = [0; 64];
        let frame = postcard::to_slice(&sheet, &mut buffer).unwrap();
        assert!(postcard::from_bytes::<Technique>(frame).is_err());
    }
}
