//! The name of a file as a message shows it.

use std::path::Path;
use std::string::String;

/// Characters that turn the direction of what follows, or cannot be seen.
const UNSEEN: [core::ops::RangeInclusive<char>; 4] =
    ['\u{200b}'..='\u{200f}', '\u{2028}'..='\u{202e}', '\u{2060}'..='\u{206f}', '\u{feff}'..='\u{feff}'];

/// Whether a character turns the direction of what follows, or cannot be seen.
#[must_use]
pub fn is_unseen(char: char) -> bool {
    UNSEEN.iter().any(|range| range.contains(&char))
}

/// A name without what would command a terminal: such a character is written out as `\u{1b}`.
#[must_use]
pub fn shown(path: &Path) -> String {
    shown_text(&path.to_string_lossy())
}

/// The same of any text in one line.
#[must_use]
pub fn shown_text(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for char in text.chars() {
        if char.is_control() || is_unseen(char) {
            shown.extend(char.escape_default());
        } else {
            shown.push(char);
        }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_name_commands_a_terminal_or_turns_a_line_around() {
        assert_eq!(shown(Path::new("a\u{1b}[2Jb\nc")), "a\\u{1b}[2Jb\\nc");
        assert_eq!(shown(Path::new("1\u{202e}boj")), "1\\u{202e}boj");
        assert_eq!(shown(Path::new("Żółw \"x\" 溶接.job")), "Żółw \"x\" 溶接.job");
    }
}
