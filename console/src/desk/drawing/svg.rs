//! A drawing as SVG within a page.

use std::format;
use std::string::{String, ToString};

use super::face::Face;
use super::{Align, Drawing, Ink, Mark, Pen, Words};

/// A number with at most two decimals.
pub(crate) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_string() } else { text.to_string() }
}

/// Text as it stands in HTML and SVG, in an attribute too. A character that XML 1.0 (2.2) does not have is shown as missing.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for char in text.chars() {
        match char {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' | '\u{20}'..='\u{fffd}' | '\u{10000}'.. => out.push(char),
            _ => out.push(char::REPLACEMENT_CHARACTER),
        }
    }
    out
}

fn colour(ink: Ink) -> String {
    let [r, g, b] = ink.rgb();
    format!("#{r:02x}{g:02x}{b:02x}")
}

fn stroke(pen: Option<Pen>) -> String {
    let Some(pen) = pen else { return String::new() };
    let dash = match pen.dash.pattern() {
        Some((piece, gap)) => format!(" stroke-dasharray=\"{} {}\"", number(piece), number(gap)),
        None => String::new(),
    };
    format!(" stroke=\"{}\" stroke-width=\"{}\"{dash}", colour(pen.ink), number(pen.width))
}

fn fill(ink: Option<Ink>) -> String {
    ink.map_or_else(|| " fill=\"none\"".to_string(), |ink| format!(" fill=\"{}\"", colour(ink)))
}

fn corners(points: &[(f64, f64)]) -> String {
    let mut text = String::new();
    for (x, y) in points {
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(&format!("{},{}", number(*x), number(*y)));
    }
    text
}

fn words(words: &Words) -> String {
    let Words { at: (x, y), text, size, align, ink, face } = words;
    let anchor = match align {
        Align::Start => "",
        Align::Middle => " text-anchor=\"middle\"",
        Align::End => " text-anchor=\"end\"",
    };
    let weight = match face {
        Face::Plain => "",
        Face::Heavy => " font-weight=\"bold\"",
        Face::Slanted => " font-style=\"italic\"",
        Face::Fixed => " font-family=\"monospace\"",
    };
    let (x, y, size, colour, text) = (number(*x), number(*y), number(*size), colour(*ink), escaped(text));
    format!(
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" fill=\"{colour}\"{anchor}{weight}>{text}</text>\n"
    )
}

fn mark(mark: &Mark) -> String {
    match mark {
        Mark::Line { points, pen } => {
            let (points, stroke) = (corners(points), stroke(Some(*pen)));
            format!("<polyline points=\"{points}\" fill=\"none\"{stroke}/>\n")
        }
        Mark::Area { points, fill: ink, pen } => {
            let (points, fill, stroke) = (corners(points), fill(*ink), stroke(*pen));
            format!("<polygon points=\"{points}\"{fill}{stroke}/>\n")
        }
        Mark::Oval { centre, half, fill: ink, pen } => {
            let ((x, y), (a, b)) = (centre, half);
            let (x, y, a, b) = (number(*x), number(*y), number(*a), number(*b));
            let (fill, stroke) = (fill(*ink), stroke(*pen));
            format!("<ellipse cx=\"{x}\" cy=\"{y}\" rx=\"{a}\" ry=\"{b}\"{fill}{stroke}/>\n")
        }
        Mark::Words(found) => words(found),
    }
}

/// The drawing as one `svg` element whose title and description carry `id`.
#[must_use]
pub fn element(drawing: &Drawing, id: &str) -> String {
    let (width, height) = (number(drawing.width), number(drawing.height));
    let (id, title, about) = (escaped(id), escaped(&drawing.title), escaped(&drawing.about));
    let mut out = format!(
        "<svg viewBox=\"0 0 {width} {height}\" role=\"img\" aria-labelledby=\"{id}-title {id}-about\">\n\
         <title id=\"{id}-title\">{title}</title>\n<desc id=\"{id}-about\">{about}</desc>\n"
    );
    drawing.marks.iter().for_each(|found| out.push_str(&mark(found)));
    out.push_str("</svg>\n");
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_have_no_negative_zero() {
        assert_eq!([1.0, 1.5, 0.126, -0.001, 120.0].map(number), ["1", "1.5", "0.13", "0", "120"]);
    }

    #[test]
    fn what_a_text_says_cannot_leave_it() {
        let mut drawing = Drawing::new(10.0, 10.0, "a<b".to_string());
        drawing.words((1.0, 2.0), Align::End, Ink::Text, "</text><script>\"'&");
        let out = element(&drawing, "x");
        assert!(out.contains("<title id=\"x-title\">a&lt;b</title>"));
        assert!(out.contains(">&lt;/text&gt;&lt;script&gt;&quot;&#39;&amp;</text>"));
    }
}
