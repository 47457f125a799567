//! How many published values are checked, by what their source is worth.

use crate::bound::UNBOUND;
use crate::vectors::{Status, Vectors};

/// The grades, the best first, and what they are.
pub const GRADES: [(&str, &str); 4] = [
    ("A", "standards, government manuals, handbooks, formula pages of a university"),
    ("B", "textbooks and training texts of institutes"),
    ("C", "examination papers and slides of courses"),
    ("D", "unsigned course notes"),
];

/// Values that were seen in a source of one grade and are checked.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Graded {
    /// Its letter.
    pub grade: &'static str,
    /// What it is.
    pub source: &'static str,
    /// Values that stand by themselves.
    pub single: usize,
    /// Cells of printed tables.
    pub cells: usize,
}

/// The seen values of these files by grade; what waits for a function is not counted.
#[must_use]
pub fn graded(files: &[Vectors]) -> [Graded; 4] {
    GRADES.map(|(grade, source)| {
        let (mut single, mut cells) = (0, 0);
        for file in files {
            // The cells of tables stand behind the other cases.
            let listed = file.cases.len() - file.cells;
            for (place, case) in file.cases.iter().enumerate() {
                let waits = UNBOUND.iter().any(|(quantity, _)| *quantity == case.quantity);
                if case.grade == grade && case.status == Status::Seen && !waits {
                    *if place < listed { &mut single } else { &mut cells } += 1;
                }
            }
        }
        Graded { grade, source, single, cells }
    })
}
