//! The tables in `reference/*.csv`: inputs that single precision holds exactly, answers with 20 digits.
//!
//! `reference/make_reference.py` makes them with 50 digits; it says what each column is.

use std::path::Path;
use std::str::FromStr;

/// A reference table.
#[derive(Clone, Debug)]
pub struct Table {
    name: String,
    header: Vec<String>,
    rows: Vec<Vec<String>>,
}

/// One row of a table.
#[derive(Clone, Copy, Debug)]
pub struct Row<'t> {
    table: &'t Table,
    cells: &'t [String],
}

impl Table {
    /// Reads `reference/<name>.csv`.
    ///
    /// # Panics
    /// When the file is missing or ragged.
    #[must_use]
    pub fn read(name: &str) -> Self {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("reference/{name}.csv"));
        let text =
            std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let mut lines = text.lines().map(|line| line.split(',').map(str::to_owned).collect::<Vec<_>>());
        let header = lines.next().unwrap_or_default();
        let rows: Vec<_> = lines.collect();
        assert!(!rows.is_empty(), "{name}: no rows");
        for (number, row) in rows.iter().enumerate() {
            assert_eq!(row.len(), header.len(), "{name}: row {}", number + 2);
        }
        Self { name: name.to_owned(), header, rows }
    }

    /// Its rows.
    pub fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|cells| Row { table: self, cells })
    }
}

impl<'t> Row<'t> {
    /// A cell as text.
    ///
    /// # Panics
    /// When the table has no such column.
    #[must_use]
    pub fn text(&self, column: &str) -> &'t str {
        let found = self.table.header.iter().zip(self.cells).find(|(name, _)| *name == column);
        found.unwrap_or_else(|| panic!("{}: no column '{column}'", self.table.name)).1
    }

    /// A cell as a number of any kind.
    ///
    /// # Panics
    /// When it is none.
    #[must_use]
    pub fn get<N: FromStr>(&self, column: &str) -> N {
        let text = self.text(column);
        text.parse().unwrap_or_else(|_| panic!("{}: {column} is '{text}'", self.table.name))
    }

    /// An input, exactly as single precision holds it.
    ///
    /// # Panics
    /// When single precision does not hold it: the table then asks another question than the library is asked.
    #[must_use]
    pub fn input(&self, column: &str) -> f32 {
        let exact: f64 = self.get(column);
        let single = exact as f32;
        assert_eq!(f64::from(single), exact, "{}: {column} is not exact", self.table.name);
        single
    }

    /// How far an answer is off, in parts of the term in column `term`.
    #[must_use]
    pub fn error(&self, column: &str, answer: f32, term: &str) -> f64 {
        (f64::from(answer) - self.get::<f64>(column)).abs() / self.get::<f64>(term)
    }
}
