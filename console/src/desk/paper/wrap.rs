//! Words broken into lines that fit.

use std::string::String;
use std::vec::Vec;

use crate::desk::drawing::face::{Face, width};

/// Lines of at most so many points; a word that is longer is broken where it must be.
#[must_use]
pub fn lines(text: &str, face: Face, size: f64, room: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split(' ') {
        let mut longer = line.clone();
        if !line.is_empty() {
            longer.push(' ');
        }
        longer.push_str(word);
        if width(&longer, face, size) <= room {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(core::mem::take(&mut line));
        }
        for char in word.chars() {
            line.push(char);
            if width(&line, face, size) > room && line.chars().count() > 1 {
                line.pop();
                lines.push(core::mem::take(&mut line));
                line.push(char);
            }
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_lost_and_nothing_is_wider_than_the_room() {
        let text = "one two three WWWWWWWWWWWWWWWWWWWW four";
        let found = lines(text, Face::Plain, 10.0, 60.0);
        assert!(found.iter().all(|line| width(line, Face::Plain, 10.0) <= 60.0), "{found:?}");
        let joined: String = found.concat().chars().filter(|char| *char != ' ').collect();
        assert_eq!(joined, text.replace(' ', ""));
        assert_eq!(lines("", Face::Plain, 10.0, 60.0), [""]);
    }

    #[test]
    fn a_room_narrower_than_a_letter_still_ends() {
        assert_eq!(lines("abc", Face::Plain, 10.0, 1.0), ["a", "b", "c"]);
    }
}
