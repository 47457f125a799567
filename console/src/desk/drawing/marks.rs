//! What a drawing consists of.

use std::string::String;
use std::vec::Vec;

use super::Ink;
use super::face::Face;

/// A drawing: its size, what it shows in words, and its marks from the bottom up.
#[derive(Clone, PartialEq, Debug)]
pub struct Drawing {
    /// Points.
    pub width: f64,
    /// Points.
    pub height: f64,
    /// What it is.
    pub title: String,
    /// What can be seen in it, for whoever does not see it.
    pub about: String,
    /// Drawn in this order.
    pub marks: Vec<Mark>,
}

/// One mark.
#[derive(Clone, PartialEq, Debug)]
pub enum Mark {
    /// Straight pieces from corner to corner.
    Line {
        /// Corners.
        points: Vec<(f64, f64)>,
        /// How it is drawn.
        pen: Pen,
    },
    /// What lies within corners.
    Area {
        /// Corners.
        points: Vec<(f64, f64)>,
        /// What fills it.
        fill: Option<Ink>,
        /// Its outline.
        pen: Option<Pen>,
    },
    /// An ellipse with upright axes.
    Oval {
        /// Centre.
        centre: (f64, f64),
        /// Half axes.
        half: (f64, f64),
        /// What fills it.
        fill: Option<Ink>,
        /// Its outline.
        pen: Option<Pen>,
    },
    /// Words.
    Words(Words),
}

/// How a line is drawn.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pen {
    /// Colour.
    pub ink: Ink,
    /// Points.
    pub width: f64,
    /// Pieces.
    pub dash: Dash,
}

impl Pen {
    /// A line without gaps.
    #[must_use]
    pub const fn solid(ink: Ink, width: f64) -> Self {
        Self { ink, width, dash: Dash::Solid }
    }

    /// A line in dashes.
    #[must_use]
    pub const fn dashed(ink: Ink, width: f64) -> Self {
        Self { ink, width, dash: Dash::Dashes }
    }

    /// A line in dots.
    #[must_use]
    pub const fn dotted(ink: Ink, width: f64) -> Self {
        Self { ink, width, dash: Dash::Dots }
    }
}

/// The pieces of a line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Dash {
    /// One piece.
    Solid,
    /// Long pieces.
    Dashes,
    /// Short ones.
    Dots,
}

impl Dash {
    /// Lengths of piece and gap, points.
    #[must_use]
    pub const fn pattern(self) -> Option<(f64, f64)> {
        match self {
            Self::Solid => None,
            Self::Dashes => Some((6.0, 3.0)),
            Self::Dots => Some((1.5, 2.5)),
        }
    }
}

/// Words at a place.
#[derive(Clone, PartialEq, Debug)]
pub struct Words {
    /// Where they stand: on the base line, at the end that `align` names.
    pub at: (f64, f64),
    /// What they say.
    pub text: String,
    /// Points.
    pub size: f64,
    /// Which end stands there.
    pub align: Align,
    /// Colour.
    pub ink: Ink,
    /// How they look.
    pub face: Face,
}

/// Which end of words stands at their place.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Align {
    /// The start.
    Start,
    /// The middle.
    Middle,
    /// The end.
    End,
}

/// The form of a point's mark; whose it is can be told without colour.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Shape {
    /// A filled disc.
    Disc,
    /// A square, open inside.
    Square,
    /// A triangle that points up: at least this.
    Up,
    /// A triangle that points down: at most this.
    Down,
    /// A cross.
    Cross,
}

impl Drawing {
    /// An empty one.
    #[must_use]
    pub const fn new(width: f64, height: f64, title: String) -> Self {
        Self { width, height, title, about: String::new(), marks: Vec::new() }
    }

    /// Adds a line.
    pub fn line(&mut self, points: impl IntoIterator<Item = (f64, f64)>, pen: Pen) {
        self.marks.push(Mark::Line { points: points.into_iter().collect(), pen });
    }

    /// Adds an area.
    pub fn area(
        &mut self,
        points: impl IntoIterator<Item = (f64, f64)>,
        fill: Option<Ink>,
        pen: Option<Pen>,
    ) {
        self.marks.push(Mark::Area { points: points.into_iter().collect(), fill, pen });
    }

    /// Adds an ellipse.
    pub fn oval(&mut self, centre: (f64, f64), half: (f64, f64), fill: Option<Ink>, pen: Option<Pen>) {
        self.marks.push(Mark::Oval { centre, half, fill, pen });
    }

    /// Adds a rectangle by two of its corners.
    pub fn rectangle(&mut self, from: (f64, f64), to: (f64, f64), fill: Option<Ink>, pen: Option<Pen>) {
        self.area([from, (to.0, from.1), to, (from.0, to.1)], fill, pen);
    }

    /// Adds words of the usual size.
    pub fn words(&mut self, at: (f64, f64), align: Align, ink: Ink, text: impl Into<String>) {
        let words = Words { at, text: text.into(), size: super::chart::TYPE, align, ink, face: Face::Plain };
        self.marks.push(Mark::Words(words));
    }

    /// Adds heavy words of the usual size.
    pub fn heavy(&mut self, at: (f64, f64), align: Align, ink: Ink, text: impl Into<String>) {
        let words = Words { at, text: text.into(), size: super::chart::TYPE, align, ink, face: Face::Heavy };
        self.marks.push(Mark::Words(words));
    }

    /// Adds the mark of a point.
    pub fn shape(&mut self, (x, y): (f64, f64), shape: Shape, ink: Ink) {
        let r = 3.2;
        let pen = Some(Pen::solid(ink, 1.4));
        match shape {
            Shape::Disc => self.oval((x, y), (r, r), Some(ink), None),
            Shape::Square => self.rectangle((x - r, y - r), (x + r, y + r), Some(Ink::Paper), pen),
            Shape::Up => self.area([(x - r, y + r), (x + r, y + r), (x, y - r)], Some(Ink::Paper), pen),
            Shape::Down => self.area([(x - r, y - r), (x + r, y - r), (x, y + r)], Some(Ink::Paper), pen),
            Shape::Cross => {
                self.line([(x - r, y - r), (x + r, y + r)], Pen::solid(ink, 1.6));
                self.line([(x - r, y + r), (x + r, y - r)], Pen::solid(ink, 1.6));
            }
        }
    }
}

impl Mark {
    /// The same mark on another drawing: scaled, and moved so that the origin comes to lie at `to`.
    #[must_use]
    pub fn moved(&self, to: (f64, f64), scale: f64) -> Self {
        let at = |(x, y): (f64, f64)| (to.0 + scale * x, to.1 + scale * y);
        let thin = |pen: Pen| Pen { width: scale * pen.width, ..pen };
        match self {
            Self::Line { points, pen } => {
                Self::Line { points: points.iter().copied().map(at).collect(), pen: thin(*pen) }
            }
            Self::Area { points, fill, pen } => Self::Area {
                points: points.iter().copied().map(at).collect(),
                fill: *fill,
                pen: pen.map(thin),
            },
            Self::Oval { centre, half, fill, pen } => Self::Oval {
                centre: at(*centre),
                half: (scale * half.0, scale * half.1),
                fill: *fill,
                pen: pen.map(thin),
            },
            Self::Words(words) => {
                Self::Words(Words { at: at(words.at), size: scale * words.size, ..words.clone() })
            }
        }
    }
}
