//! A report before it is a page: sections of texts, tables and drawings. The page and the paper are written from it alike.

use std::string::String;
use std::vec::Vec;

use crate::desk::drawing::Drawing;

/// A report.
#[derive(Clone, PartialEq, Debug)]
pub struct Document {
    /// What was examined.
    pub title: String,
    /// In their order.
    pub sections: Vec<Section>,
}

/// A section under a heading.
#[derive(Clone, PartialEq, Debug)]
pub struct Section {
    /// Its name in links, unique in a document.
    pub id: String,
    /// Its heading.
    pub heading: String,
    /// What stands in it.
    pub blocks: Vec<Block>,
}

/// A piece of a section.
#[derive(Clone, PartialEq, Debug)]
pub enum Block {
    /// A heading within the section.
    Heading(String),
    /// A paragraph.
    Paragraph(String),
    /// A paragraph that must not be overlooked.
    Notice(String),
    /// One sentence an item.
    Items(Vec<String>),
    /// A table.
    Table(Table),
    /// A drawing.
    Figure(Drawing),
    /// Lines whose blanks count, such as a derivation.
    Worked(String),
    /// Fields to sign in, each with a line under it.
    Signatures(Vec<String>),
}

/// A table.
#[derive(Clone, PartialEq, Debug)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, each with a cell a column.
    pub rows: Vec<Row>,
}

/// A column.
#[derive(Clone, PartialEq, Debug)]
pub struct Column {
    /// Its heading.
    pub heading: String,
    /// Whether its cells are figures, which stand at its right.
    pub figures: bool,
    /// Its share of the width on paper.
    pub share: f64,
}

/// A row.
#[derive(Clone, PartialEq, Debug)]
pub struct Row {
    /// The first of them names the row.
    pub cells: Vec<Cell>,
    /// It no longer counts and stays to be read.
    pub struck: bool,
}

/// A cell.
#[derive(Clone, PartialEq, Debug)]
pub enum Cell {
    /// Words.
    Text(String),
    /// Something that is not known, in words.
    Missing(String),
    /// A figure that the findings hold under a name.
    Figure(Figure),
}

/// A figure of the findings.
#[derive(Clone, PartialEq, Debug)]
pub struct Figure {
    /// Its place in the findings, such as `indications.1.length_mm`.
    pub key: String,
    /// Its value there.
    pub value: f32,
    /// As it is shown.
    pub shown: String,
}

impl Section {
    /// A section without content.
    #[must_use]
    pub fn new(id: &str, heading: &str) -> Self {
        Self { id: id.into(), heading: heading.into(), blocks: Vec::new() }
    }

    /// Adds a heading within the section.
    pub fn heading(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Heading(text.into()));
    }

    /// Adds a paragraph.
    pub fn paragraph(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Paragraph(text.into()));
    }

    /// Adds a paragraph that must not be overlooked.
    pub fn notice(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Notice(text.into()));
    }

    /// Adds a table, unless it has no row.
    pub fn table(&mut self, table: Table) {
        if !table.rows.is_empty() {
            self.blocks.push(Block::Table(table));
        }
    }
}

impl Table {
    /// A table without rows. A column is its heading and its share of the width; figures have a `#` before the heading.
    #[must_use]
    pub fn new(caption: &str, columns: &[(&str, f64)]) -> Self {
        let columns = columns.iter().map(|(heading, share)| {
            let (figures, heading) = match heading.strip_prefix('#') {
                Some(heading) => (true, heading),
                None => (false, *heading),
            };
            Column { heading: heading.into(), figures, share: *share }
        });
        Self { caption: caption.into(), columns: columns.collect(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row(&mut self, cells: impl IntoIterator<Item = Cell>) {
        self.rows.push(Row { cells: cells.into_iter().collect(), struck: false });
    }
}

impl Cell {
    /// Words; empty ones are missing.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// Words, or that there are none.
    #[must_use]
    pub fn given(text: Option<String>, missing: &str) -> Self {
        text.map_or_else(|| Self::Missing(missing.into()), Self::Text)
    }

    /// What it says.
    #[must_use]
    pub fn shown(&self) -> &str {
        match self {
            Self::Text(text) | Self::Missing(text) => text,
            Self::Figure(figure) => &figure.shown,
        }
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.into())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}
