//! Checks of linearity as they were entered.

use heapless::Vec;

use super::refusal::as_many;
use crate::entry::{Entry, LinearityWindow, MAX_STEPS};
use crate::error::RangeError;
use crate::linearity::{self, GainStep, Linearity, LinearityError, Window};

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
