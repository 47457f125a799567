//! Checks of linearity as they were entered.

use heapless::Vec;

use super::refusal::as_many;
use crate::calibration::linearity::{self, GainStep, Linearity, LinearityError, Window};
use crate::record::entry::{Entry, LinearityWindow, MAX_STEPS};
use crate::units::error::RangeError;

/// Holds the lists of one check to the same length.
pub(super) fn paired(entry: &Entry) -> Result<(), RangeError> {
    match entry {
        Entry::ScreenLinearity(entry) => {
            as_many(entry.large.len(), "count of smaller heights", entry.small.len())
        }
        Entry::GainLinearity(entry) => {
            as_many(entry.set.len(), "count of changes", entry.change.len())?;
            as_many(entry.set.len(), "count of heights shown", entry.shown.len())
        }
        _ => Ok(()),
    }
}

/// What a check of linearity finds, and how many of its steps it judges; none of any other entry.
#[must_use]
pub fn linearity_of(entry: &Entry) -> Option<Result<Linearity, LinearityError>> {
    match entry {
        Entry::ScreenLinearity(entry) => {
            let mut pairs: Vec<_, MAX_STEPS> = Vec::new();
            for (large, small) in entry.large.iter().zip(&entry.small) {
                // The list has the capacity of the entry's own.
                let _ = pairs.push((large.quantity(), small.quantity()));
            }
            Some(linearity::screen(&pairs, window(entry.window, Window::T9074Vertical)))
        }
        Entry::GainLinearity(entry) => {
            let mut steps: Vec<_, MAX_STEPS> = Vec::new();
            for ((set, change), shown) in entry.set.iter().zip(&entry.change).zip(&entry.shown) {
                let (set, change, shown) = (set.quantity(), change.quantity(), shown.quantity());
                // As above.
                let _ = steps.push(GainStep { set, change, shown });
            }
            Some(linearity::gain(&steps, window(entry.window, Window::T9074Gain)))
        }
        _ => None,
    }
}

fn window(entry: LinearityWindow, named: Window) -> Window {
    match entry {
        LinearityWindow::T9074 => named,
        LinearityWindow::Within(half_width) => Window::Within(half_width.quantity()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::entry::{GainLinearityEntry, ScreenLinearityEntry};
    use crate::units::decimal::Entered;
    use crate::units::{Decibels, ScreenPercent};

    fn heights(count: usize) -> Vec<Entered<ScreenPercent>, MAX_STEPS> {
        (0..count).map(|_| Entered::nearest(ScreenPercent::constant(40.0), 0).unwrap()).collect()
    }

    fn changes(count: usize) -> Vec<Entered<Decibels>, MAX_STEPS> {
        (0..count).map(|_| Entered::nearest(Decibels::constant(-6.0), 0).unwrap()).collect()
    }

    #[test]
    fn a_check_whose_lists_differ_in_length_is_refused_by_the_list_that_does() {
        let window = LinearityWindow::T9074;
        let screen = |large, small| {
            let entry = ScreenLinearityEntry { large: heights(large), small: heights(small), window };
            paired(&Entry::ScreenLinearity(entry)).map_err(|error| (error.quantity, error.value, error.max))
        };
        assert_eq!(screen(3, 3), Ok(()));
        assert_eq!(screen(3, 2), Err(("count of smaller heights", 2.0, 3.0)));
        let gain = |set, change, shown| {
            let (set, change, shown) = (heights(set), changes(change), heights(shown));
            let entry = GainLinearityEntry { set, change, shown, window };
            paired(&Entry::GainLinearity(entry)).map_err(|error| (error.quantity, error.value, error.max))
        };
        assert_eq!(gain(2, 2, 2), Ok(()));
        assert_eq!(gain(2, 3, 2), Err(("count of changes", 3.0, 2.0)));
        assert_eq!(gain(2, 2, 1), Err(("count of heights shown", 1.0, 2.0)));
    }
}
