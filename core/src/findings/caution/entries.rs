//! Entries that share a caution: as ranges, the first ones of them.

use core::fmt;

/// Ranges that are kept; what follows them is counted.
const RANGES: usize = 6;

/// Numbers of entries, as ranges: "22, 25 to 31 and 4 more".
///
/// A range holds every reading from its first to its last. Of entries other than readings it holds every number.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Entries {
    ranges: [(u32, u32); RANGES],
    more: u32,
}

impl Entries {
    /// One entry.
    pub(super) const fn of(number: u32) -> Self {
        let none = (0, 0);
        Self { ranges: [(number, number), none, none, none, none, none], more: 0 }
    }

    /// Adds an entry behind those held. Where the last of them is the entry before it, they are one range.
    pub(super) fn add(&mut self, number: u32, before: Option<u32>) {
        if self.more == 0 {
            let last = self.ranges.iter_mut().rev().find(|(first, _)| *first > 0);
            if let Some((_, last)) = last.filter(|(_, last)| Some(*last) == before) {
                *last = number;
                return;
            }
            if let Some(free) = self.ranges.iter_mut().find(|(first, _)| *first == 0) {
                *free = (number, number);
                return;
            }
        }
        self.more = self.more.saturating_add(1);
    }

    /// The ranges that are kept: the first and the last of each.
    pub fn ranges(&self) -> impl Iterator<Item = (u32, u32)> + Clone + '_ {
        self.ranges.iter().copied().filter(|(first, _)| *first > 0)
    }

    /// How many entries lie behind the ranges.
    #[must_use]
    pub const fn more(&self) -> u32 {
        self.more
    }

    /// The first of all.
    #[must_use]
    pub const fn first(&self) -> u32 {
        let [(first, _), ..] = self.ranges;
        first
    }

    /// Whether there is but one.
    #[must_use]
    pub fn is_one(&self) -> bool {
        let [(first, last), (second, _), ..] = self.ranges;
        first == last && second == 0
    }

    /// The word before them, in its number, and they themselves.
    pub(super) const fn of_a<'a>(&'a self, word: &'a str) -> impl fmt::Display + 'a {
        Counted(word, self)
    }
}

impl fmt::Display for Entries {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut between = "";
        for (first, last) in self.ranges() {
            match last.saturating_sub(first) {
                0 => write!(f, "{between}{first}")?,
                1 => write!(f, "{between}{first}, {last}")?,
                _ => write!(f, "{between}{first} to {last}")?,
            }
            between = ", ";
        }
        if self.more > 0 { write!(f, " and {} more", self.more) } else { Ok(()) }
    }
}

/// "reading 3", "readings 3, 5".
struct Counted<'a>(&'a str, &'a Entries);

impl fmt::Display for Counted<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(word, entries) = self;
        match (*word, entries.is_one()) {
            (word, true) => write!(f, "{word} {entries}"),
            ("entry", false) => write!(f, "entries {entries}"),
            (word, false) => write!(f, "{word}s {entries}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::string::ToString;

    fn entries(numbers: &[(u32, u32)]) -> Entries {
        let mut numbers = numbers.iter();
        let mut entries = Entries::of(numbers.next().unwrap().0);
        numbers.for_each(|(number, before)| entries.add(*number, Some(*before)));
        entries
    }

    #[test]
    fn readings_in_a_row_are_a_range_whatever_else_was_recorded_between() {
        let told = |numbers: &[(u32, u32)]| entries(numbers).of_a("reading").to_string();
        assert_eq!(told(&[(22, 0)]), "reading 22");
        assert_eq!(told(&[(22, 0), (25, 24), (27, 25), (31, 27)]), "readings 22, 25 to 31");
        assert_eq!(told(&[(22, 0), (23, 22)]), "readings 22, 23");
        assert!(entries(&[(22, 0)]).is_one() && !entries(&[(22, 0), (23, 22)]).is_one());
        assert_eq!(entries(&[(3, 0), (5, 4)]).of_a("entry").to_string(), "entries 3, 5");
    }

    #[test]
    fn what_finds_no_range_is_counted() {
        let apart: std::vec::Vec<(u32, u32)> = (1..=9).map(|number| (10 * number, 1)).collect();
        let found = entries(&apart);
        assert_eq!(found.to_string(), "10, 20, 30, 40, 50, 60 and 3 more");
        assert_eq!((found.first(), found.more()), (10, 3));
        let mut found = entries(&apart[..6]);
        found.add(61, Some(60));
        assert_eq!(found.to_string(), "10, 20, 30, 40, 50, 60, 61");
    }
}
