//! The technique sheet in force.

use super::Examination;
use crate::acceptance::technique::Technique;

impl<
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const LINKS: usize,
> Examination<PROBES, INDICATIONS, READINGS, LOG, LINKS>
{
    /// Takes a technique sheet into force, or the built-in minimum again, and judges every check by it.
    ///
    /// An entry has the name of a sheet alone, so whoever records a [`Technique`](crate::record::entry::Entry::Technique) entry finds the sheet
    /// and hands it over. It holds until another is adopted.
    ///
    /// ```
    /// use halfskip::record::examination::Examination;
    /// use halfskip::acceptance::technique::{Ground, Grounds, Technique, Terms, Texts};
    /// use halfskip::units::ScreenPercent;
    /// let mut terms = Terms::asking(Grounds::EMPTY.with(Ground::RangeCheck));
    /// terms.range_within = Some(ScreenPercent::constant(1.0));
    /// let technique = Technique::new(Texts::new("invented", "no document"), terms).unwrap();
    /// let mut examination: Examination = Examination::new();
    /// examination.adopt(Some(technique));
    /// assert_eq!(examination.facts().technique().title(), "invented");
    /// assert_eq!(examination.facts().common().check_limits.range.get(), 1.0);
    /// examination.adopt(None);
    /// assert!(examination.facts().technique().is_minimum());
    /// assert_eq!(examination.facts().common().check_limits.range.get(), 2.0);
    /// ```
    pub fn adopt(&mut self, technique: Option<Technique>) {
        self.settings.adopt(technique.unwrap_or(Technique::MINIMUM));
        self.fold_again();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::acceptance::technique::{Ground, Grounds, Terms, Texts};
    use crate::record::entry::fixture::entered;
    use crate::record::entry::{Entry, Text, ToleranceEntry};
    use crate::units::ScreenPercent;

    type Small = Examination<1, 1, 8, 512>;

    fn range_within(percent: f32) -> Option<Technique> {
        let mut terms = Terms::asking(Grounds::EMPTY.with(Ground::RangeCheck));
        terms.range_within = Some(ScreenPercent::constant(percent));
        Technique::new(Texts::new("invented", "no document"), terms).ok()
    }

    fn tolerance(range: f32, sensitivity: f32) -> Entry {
        let none = ToleranceEntry::default();
        Entry::Tolerance(ToleranceEntry {
            range: Some(entered(range)),
            sensitivity: Some(entered(sensitivity)),
            ..none
        })
    }

    fn limits(examination: &Small) -> (f32, f32) {
        let limits = examination.facts().common().check_limits;
        (limits.range.get(), limits.sensitivity.get())
    }

    #[test]
    fn the_sheets_limit_of_a_check_holds_over_that_of_the_tolerance_whichever_came_first() {
        let mut examination = Small::new();
        assert_eq!(examination.record(tolerance(3.0, 4.0)), Ok(1));
        examination.adopt(range_within(1.0));
        assert_eq!(limits(&examination), (1.0, 4.0));
        assert_eq!(examination.record(tolerance(5.0, 6.0)), Ok(2));
        assert_eq!(limits(&examination), (1.0, 6.0));
        examination.adopt(None);
        assert_eq!(limits(&examination), (5.0, 6.0));
    }

    #[test]
    fn a_technique_outlives_a_void_that_folds_everything_again() {
        let mut examination = Small::new();
        examination.adopt(range_within(1.0));
        examination.record(tolerance(3.0, 4.0)).unwrap();
        let reason = Text::try_from("typing error").unwrap();
        examination.record(Entry::Void { number: 1, reason }).unwrap();
        assert_eq!(limits(&examination), (1.0, 2.0));
        assert_eq!(examination.facts().technique().title(), "invented");
    }
}
