//! Labels beside points, moved until none lies on another.

use std::vec::Vec;

use super::chart::TYPE;
use super::face::{Face, width};
use super::{Align, Drawing, Ink, larger, smaller};

/// The places that labels take in one drawing.
#[derive(Clone, Debug, Default)]
pub struct Labels {
    taken: Vec<[f64; 4]>,
}

impl Labels {
    /// Keeps labels off a rectangle.
    pub fn keep_off(&mut self, from: (f64, f64), to: (f64, f64)) {
        let (left, right) = (smaller(from.0, to.0), larger(from.0, to.0));
        let (top, bottom) = (smaller(from.1, to.1), larger(from.1, to.1));
        self.taken.push([left, top, right, bottom]);
    }

    /// Writes a heavy label near a mark that takes so much room to each side of `at`: at the first place around it that
    /// is free and within the drawing.
    pub fn write(&mut self, drawing: &mut Drawing, at: (f64, f64), room: (f64, f64), ink: Ink, text: &str) {
        const AROUND: [(f64, f64); 8] = [
            (1.0, 0.0),
            (-1.0, 0.0),
            (1.0, -1.0),
            (1.0, 1.0),
            (-1.0, -1.0),
            (-1.0, 1.0),
            (1.0, -2.0),
            (1.0, 2.0),
        ];
        let width = width(text, Face::Heavy, TYPE);
        let place = |(right, down): (f64, f64)| {
            let start = if right > 0.0 { at.0 + room.0 + 3.5 } else { at.0 - room.0 - 3.5 - width };
            (start, at.1 + 3.6 + down * (room.1 + 6.0))
        };
        let taken = |(start, base): (f64, f64)| [start, base - 8.0, start + width, base + 1.0];
        let free = |area: [f64; 4]| {
            let [left, top, right, bottom] = area;
            let within = left >= 0.0 && top >= 0.0 && right <= drawing.width && bottom <= drawing.height;
            within
                && self.taken.iter().all(|[other_left, other_top, other_right, other_bottom]| {
                    right < *other_left || left > *other_right || bottom < *other_top || top > *other_bottom
                })
        };
        let found = AROUND.map(place).into_iter().find(|place| free(taken(*place)));
        let found = found.unwrap_or_else(|| place((1.0, 0.0)));
        self.taken.push(taken(found));
        drawing.heavy(found, Align::Start, ink, text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::drawing::Mark;
    use std::string::String;

    #[test]
    fn a_second_label_at_one_point_goes_to_another_place_within_the_drawing() {
        let (mut drawing, mut labels) = (Drawing::new(120.0, 60.0, String::new()), Labels::default());
        for text in ["one", "two", "six"] {
            labels.write(&mut drawing, (60.0, 30.0), (2.0, 2.0), Ink::Text, text);
        }
        let places: Vec<(f64, f64)> = drawing
            .marks
            .iter()
            .filter_map(|mark| match mark {
                Mark::Words(words) => Some(words.at),
                _ => None,
            })
            .collect();
        assert!(places[0] != places[1] && places[1] != places[2] && places[0] != places[2]);
        assert!(places.iter().all(|(x, y)| (0.0..120.0).contains(x) && (8.0..60.0).contains(y)));
    }
}
