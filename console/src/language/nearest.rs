//! The known word nearest to one that is not known.

/// The longest word that is compared, in bytes.
const MAX: usize = 20;
/// The known word nearest to `word`, when one is near: at most two letters inserted, left out, changed or swapped with
/// their neighbour, and fewer than half of them; or the one known word that it is the beginning of.
pub fn nearest<'k>(word: &str, known: impl Iterator<Item = &'k str> + Clone) -> Option<&'k str> {
    if word.len() >= 3 {
        let mut begun = known.clone().filter(|candidate| candidate.starts_with(word));
        if let (Some(only), None) = (begun.next(), begun.next()) {
            return Some(only);
        }
    }
    let mut best: Option<(u8, &str)> = None;
    for candidate in known {
        let Some(distance) = distance(word.as_bytes(), candidate.as_bytes()) else {
            continue;
        };
        let near = distance <= 2 && usize::from(distance).saturating_mul(2) < candidate.len();
        if near && best.is_none_or(|(least, _)| distance < least) {
            best = Some((distance, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// Optimal string alignment, ASCII case aside; none when a word is too long to be compared.
///
/// Row i of the table holds d(i, j) = min(d(i-1, j) + 1, d(i, j-1) + 1, d(i-1, j-1) + \[a_i ≠ b_j\],
/// d(i-2, j-2) + 1 when the last two letters of both are swapped).
fn distance(a: &[u8], b: &[u8]) -> Option<u8> {
    if a.len() > MAX || b.len() > MAX {
        return None;
    }
    let mut before = [0u8; MAX + 1];
    let mut above = [0u8; MAX + 1];
    for (cell, column) in above.iter_mut().zip(0u8..) {
        *cell = column;
    }
    let mut letter_before = 0u8;
    for (letter, row) in a.iter().map(u8::to_ascii_lowercase).zip(1u8..) {
        let mut current = [row; MAX + 1];
        let (mut left, mut other_before) = (row, 0u8);
        let rest = current.iter_mut().skip(1);
        // Above and diagonal neighbours, and the cell two up and two to the left, walk along with the column.
        let two_up = core::iter::once(&u8::MAX).chain(before.iter());
        for ((((cell, up), diagonal), two), other) in rest
            .zip(above.iter().skip(1))
            .zip(above.iter())
            .zip(two_up)
            .zip(b.iter().map(u8::to_ascii_lowercase))
        {
            let mut least = left.saturating_add(1).min(up.saturating_add(1));
            least = least.min(diagonal.saturating_add(u8::from(letter != other)));
            if letter == other_before && letter_before == other {
                least = least.min(two.saturating_add(1));
            }
            *cell = least;
            (left, other_before) = (least, other);
        }
        (before, above, letter_before) = (above, current, letter);
    }
    above.get(b.len()).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_count_letters_and_swaps() {
        for (a, b, expected) in [
            ("path", "path", 0),
            ("pth", "path", 1),
            ("raeding", "reading", 1),
            ("gian", "gain", 1),
            ("", "x", 1),
            ("kitten", "sitting", 3),
            ("HEIGHT", "height", 0),
        ] {
            assert_eq!(distance(a.as_bytes(), b.as_bytes()), Some(expected), "{a} {b}");
        }
    }

    #[test]
    fn only_a_near_word_is_suggested() {
        let known = ["path", "time", "x", "thickness", "together"];
        let near = |word| nearest(word, known.iter().copied());
        assert_eq!(near("toegtehr"), Some("together"));
        assert_eq!(near("thick"), Some("thickness"));
        assert_eq!(near("y"), None);
        assert_eq!(near("date"), None);
        assert_eq!(near("banana"), None);
        assert_eq!(near("thicknesses-of-the-plate"), None);
    }
}
