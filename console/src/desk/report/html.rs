//! The report as one page of HTML: no script, nothing fetched, the same bytes for the same job.
//!
//! The page is well-formed XML too, so that a strict parser can hold it to account.

use std::format;
use std::string::String;

use super::document::{Block, Cell, Document, Section, Table};
use crate::desk::drawing::larger;
use crate::desk::drawing::svg::{element, escaped, number};

const STYLE: &str = include_str!("page.css");

/// What a page begins with, by which a file is known to be one.
pub const HEAD: &str = "<!DOCTYPE html>\n";

/// The page.
#[must_use]
pub fn page(document: &Document) -> String {
    let title = escaped(&document.title);
    let mut out = format!(
        "{HEAD}<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>{title}</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n<header>\n<p class=\"kind\">Ultrasonic examination report</p>\n\
         <h1>{title}</h1>\n</header>\n"
    );
    contents(&mut out, document);
    out.push_str("<main>\n");
    document.sections.iter().for_each(|section| self::section(&mut out, section));
    out.push_str("</main>\n</body>\n</html>\n");
    out
}

fn contents(out: &mut String, document: &Document) {
    out.push_str("<nav aria-label=\"Sections\">\n<ol>\n");
    for section in &document.sections {
        let (id, heading) = (escaped(&section.id), escaped(&section.heading));
        out.push_str(&format!("<li><a href=\"#{id}\">{heading}</a></li>\n"));
    }
    out.push_str("</ol>\n</nav>\n");
}

fn section(out: &mut String, section: &Section) {
    let (id, heading) = (escaped(&section.id), escaped(&section.heading));
    out.push_str(&format!(
        "<section id=\"{id}\" aria-labelledby=\"{id}-heading\">\n<h2 id=\"{id}-heading\">{heading}</h2>\n"
    ));
    let mut figures = 0u32;
    for block in &section.blocks {
        match block {
            Block::Heading(text) => out.push_str(&format!("<h3>{}</h3>\n", escaped(text))),
            Block::Paragraph(text) => out.push_str(&format!("<p>{}</p>\n", escaped(text))),
            Block::Notice(text) => out.push_str(&format!("<p class=\"notice\">{}</p>\n", escaped(text))),
            Block::Items(items) => {
                out.push_str("<ul>\n");
                items.iter().for_each(|item| out.push_str(&format!("<li>{}</li>\n", escaped(item))));
                out.push_str("</ul>\n");
            }
            Block::Table(found) => table(out, found),
            Block::Figure(drawing) => {
                figures += 1;
                let svg = element(drawing, &format!("{}-{figures}", section.id));
                let caption = escaped(&drawing.title);
                out.push_str(&format!(
                    "<figure>\n<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"{caption}\">\n{svg}</div>\n\
                     <figcaption>{caption}</figcaption>\n</figure>\n"
                ));
            }
            Block::Worked(text) => {
                let label = format!("{heading}, worked");
                out.push_str(&format!(
                    "<pre class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"{label}\">{}</pre>\n",
                    escaped(text)
                ));
            }
            Block::Signatures(fields) => signatures(out, fields),
        }
    }
    out.push_str("</section>\n");
}

fn table(out: &mut String, table: &Table) {
    let caption = escaped(&table.caption);
    let whole: f64 = table.columns.iter().map(|column| column.share).sum();
    // A table of many columns is scrolled on a narrow screen; one of two is not.
    let least = if table.columns.len() > 2 { number(larger(3.4 * whole, 34.0)) } else { number(0.0) };
    out.push_str(&format!(
        "<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"{caption}\">\n\
         <table style=\"--least:{least}rem\">\n<caption>{caption}</caption>\n<colgroup>"
    ));
    for column in &table.columns {
        out.push_str(&match column.share / whole {
            // Numbers of entries stay whole however narrow the page is; the widest column takes what is left.
            share if share < 0.08 => "<col style=\"width:3.75rem\"/>".into(),
            share if share > 0.5 => "<col/>".into(),
            share => format!("<col style=\"width:{}%\"/>", number(100.0 * share)),
        });
    }
    out.push_str("</colgroup>\n<thead><tr>");
    for column in &table.columns {
        let class = if column.figures { " class=\"figure\"" } else { "" };
        out.push_str(&format!("<th scope=\"col\"{class}>{}</th>", escaped(&column.heading)));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for row in &table.rows {
        out.push_str("<tr>");
        for (place, (cell, column)) in row.cells.iter().zip(&table.columns).enumerate() {
            let (tag, scope) = if place == 0 { ("th", " scope=\"row\"") } else { ("td", "") };
            let class = match (column.figures, cell) {
                (true, Cell::Missing(_)) => " class=\"figure missing\"",
                (true, _) => " class=\"figure\"",
                (false, Cell::Missing(_)) => " class=\"missing\"",
                (false, _) => "",
            };
            let mut shown = self::cell(cell);
            if row.struck {
                shown = format!("<s>{shown}</s>");
            }
            out.push_str(&format!("<{tag}{scope}{class}>{shown}</{tag}>"));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table>\n</div>\n");
}

fn cell(cell: &Cell) -> String {
    match cell {
        Cell::Text(text) | Cell::Missing(text) => escaped(text),
        // The value is written as the findings write it, so that page and JSON can be compared.
        Cell::Figure(figure) => format!(
            "<data data-key=\"{}\" value=\"{}\">{}</data>",
            escaped(&figure.key),
            figure.value,
            escaped(&figure.shown)
        ),
    }
}

fn signatures(out: &mut String, fields: &[String]) {
    out.push_str("<dl class=\"sign\">\n");
    for field in fields {
        out.push_str(&format!("<div><dt>{}</dt><dd></dd></div>\n", escaped(field)));
    }
    out.push_str("</dl>\n");
}
