//! The cross-section that every drawing of it begins with: metal, scales, names of the sides, one scale both ways.

use std::format;
use std::string::ToString;
use std::vec::Vec;

use halfskip::part::joint::{Joint, Point};
use halfskip::part::side::Side;
use halfskip::units::Millimetres;

use super::WIDTH;
use crate::desk::drawing::chart::{Scale, TYPE, decimal};
use crate::desk::drawing::face::{Face, width};
use crate::desk::drawing::labels::Labels;
use crate::desk::drawing::{Align, Drawing, Ink, Pen, larger, smaller};
use crate::desk::report::basis::Basis;

const LEFT: f64 = 46.0;
const RIGHT: f64 = 20.0;
const TOP: f64 = 30.0;
const BOTTOM: f64 = 40.0;
/// The most that the picture itself may be high.
const TALLEST: f64 = 300.0;

/// A cross-section under way.
pub(super) struct Canvas<'a, 'g> {
    pub basis: &'a Basis<'g>,
    pub drawing: Drawing,
    pub across: Scale,
    pub down: Scale,
    pub thickness: f64,
    pub labels: Labels,
}

impl<'a, 'g> Canvas<'a, 'g> {
    pub fn new(
        basis: &'a Basis<'g>,
        joint: &Joint,
        title: &str,
        reach: impl IntoIterator<Item = f32>,
        deepest: f32,
    ) -> Self {
        let spec = joint.spec();
        let section = joint.section();
        let drawn = |mm: f32| basis.drawn(mm);
        let thickness = drawn(joint.thickness().get());
        let given = |mm: Option<Millimetres>| mm.map_or(0.0, |mm| drawn(mm.get()));
        let above = given(spec.crown) + 0.06 * thickness;
        let hung =
            [spec.excess, spec.backing.map(|bar| bar.height), spec.counterbore.map(|bore| bore.height)];
        let metal_below = hung.into_iter().map(given).fold(0.0, larger);
        let below = larger(metal_below, drawn(deepest) - thickness) + 0.06 * thickness;
        let metal = [Side::A, Side::B].map(|side| {
            let extent = section.weld_extent(side);
            drawn(section.heat_affected_extent(side).unwrap_or(extent))
        });
        let reach = reach.into_iter().map(drawn).chain(metal).fold(0.0, larger);
        let half = larger(1.08 * reach, 0.7 * thickness);
        // One scale both ways: the narrower of what width and height allow, and what is left over shows more plate.
        let scale = smaller((WIDTH - LEFT - RIGHT) / (2.0 * half), TALLEST / (above + thickness + below));
        let half = (WIDTH - LEFT - RIGHT) / (2.0 * scale);
        let tall = scale * (above + thickness + below);
        Self {
            basis,
            drawing: Drawing::new(WIDTH, TOP + tall + BOTTOM, title.to_string()),
            across: Scale::new(-half, half, LEFT, WIDTH - RIGHT),
            down: Scale::new(-above, thickness + below, TOP, TOP + tall),
            thickness,
            labels: Labels::default(),
        }
    }

    pub fn at(&self, y: f32, z: f32) -> (f64, f64) {
        (self.across.at(self.basis.drawn(y)), self.down.at(self.basis.drawn(z)))
    }

    fn outline<'p>(&self, points: impl IntoIterator<Item = &'p Point>) -> Vec<(f64, f64)> {
        points.into_iter().map(|point| self.at(point.y, point.z)).collect()
    }

    /// Plate, heat-affected zone, weld, cap, bead, bar, scales and the names of the sides.
    pub fn metal(&mut self, joint: &Joint) {
        let section = joint.section();
        let (left, right) = (LEFT, WIDTH - RIGHT);
        let (near, far) = (self.down.at(0.0), self.down.at(self.thickness));
        self.drawing.rectangle((left, near), (right, far), Some(Ink::Plate), None);
        for side in [Side::A, Side::B] {
            self.heat_affected(joint, side);
        }
        let pen = Some(Pen::solid(Ink::Soft, 0.9));
        if let Some(bar) = section.backing() {
            let outline = self.outline(&bar);
            self.drawing.area(outline, Some(Ink::Plate), pen);
        }
        let body = self.outline(&section.body());
        self.drawing.area(body, Some(Ink::Weld), pen);
        for part in [section.cap(), section.bead()].into_iter().flatten() {
            let outline = self.outline(&part);
            self.drawing.area(outline, Some(Ink::Weld), pen);
        }
        let face = Pen::solid(Ink::Text, 1.1);
        self.drawing.line([(left, near), (right, near)], face);
        self.far_face(joint, face);
        let middle = self.across.at(0.0);
        self.drawing.line(
            [(middle, TOP - 8.0), (middle, self.drawing.height - BOTTOM + 4.0)],
            Pen::dotted(Ink::Soft, 0.8),
        );
        self.scales();
        self.key(section.heat_affected_extent(Side::A).is_some());
        self.drawing.words((left, 12.0), Align::Start, Ink::Text, "side A");
        self.drawing.words((right, 12.0), Align::End, Ink::Text, "side B");
        self.drawing.words((middle, 12.0), Align::Middle, Ink::Soft, "centreline");
        self.labels.keep_off((left, 0.0), (right, 16.0));
    }

    /// The far face, with the steps of a counterbore that lie in the picture.
    fn far_face(&mut self, joint: &Joint, pen: Pen) {
        let far = self.down.at(self.thickness);
        let bore = joint.spec().counterbore;
        for (edge, toward) in [(LEFT, -1.0), (WIDTH - RIGHT, 1.0)] {
            let middle = self.across.at(0.0);
            let stepped = bore.and_then(|bore| {
                let (at, deep) =
                    self.at(toward * bore.distance.get(), joint.thickness().get() + bore.height.get());
                ((at - edge) * f64::from(toward) < 0.0).then_some((at, deep))
            });
            let Some((at, deep)) = stepped else {
                self.drawing.line([(middle, far), (edge, far)], pen);
                continue;
            };
            let (left, right) = (smaller(at, edge), larger(at, edge));
            self.drawing.rectangle((left, far), (right, deep), Some(Ink::Plate), None);
            for ends in [[(middle, far), (at, far)], [(at, far), (at, deep)], [(at, deep), (edge, deep)]] {
                self.drawing.line(ends, pen);
            }
        }
    }

    fn heat_affected(&mut self, joint: &Joint, side: Side) {
        let section = joint.section();
        let steps = 24u8;
        let depth = |step: u8| f32::from(step) / f32::from(steps) * joint.thickness().get();
        let toward = if side == Side::A { -1.0 } else { 1.0 };
        let edges: Option<Vec<(f32, f32, f32)>> = (0..=steps)
            .map(|step| section.heat_affected(side, depth(step)).map(|(from, to)| (depth(step), from, to)))
            .collect();
        let Some(edges) = edges else { return };
        let inner = edges.iter().map(|(z, from, _)| self.at(toward * from, *z));
        let outer = edges.iter().rev().map(|(z, _, to)| self.at(toward * to, *z));
        let outline: Vec<(f64, f64)> = inner.chain(outer).collect();
        self.drawing.area(outline, Some(Ink::Heat), Some(Pen::dotted(Ink::Soft, 0.6)));
    }

    fn scales(&mut self) {
        let base = self.drawing.height - BOTTOM;
        let (ticks, places) = self.across.ticks(48.0);
        for value in ticks {
            let x = self.across.at(value);
            self.drawing.line([(x, base), (x, base + 4.0)], Pen::solid(Ink::Soft, 0.8));
            self.drawing.words((x, base + 15.0), Align::Middle, Ink::Soft, decimal(value, places));
        }
        self.drawing.line([(LEFT, base), (WIDTH - RIGHT, base)], Pen::solid(Ink::Soft, 0.8));
        let (ticks, places) = self.down.ticks(24.0);
        for value in ticks.into_iter().filter(|value| (-1e-9..=self.thickness + 1e-9).contains(value)) {
            let y = self.down.at(value);
            self.drawing.line([(LEFT - 4.0, y), (LEFT, y)], Pen::solid(Ink::Soft, 0.8));
            self.drawing.words((LEFT - 7.0, y + 3.6), Align::End, Ink::Soft, decimal(value, places));
        }
        let unit = self.basis.unit();
        self.drawing.words((WIDTH - RIGHT, base + 31.0), Align::End, Ink::Soft, format!("y, {unit}"));
        self.drawing.words((4.0, TOP - 10.0), Align::Start, Ink::Soft, format!("z, {unit}"));
    }

    /// What the areas are.
    fn key(&mut self, heat_affected: bool) {
        let y = self.drawing.height - 9.0;
        let mut x = LEFT;
        for (ink, words) in [(Ink::Plate, "plate"), (Ink::Heat, "heat-affected zone"), (Ink::Weld, "weld")] {
            if ink == Ink::Heat && !heat_affected {
                continue;
            }
            self.drawing.rectangle((x, y - 8.0), (x + 12.0, y), Some(ink), Some(Pen::solid(Ink::Soft, 0.8)));
            self.drawing.words((x + 17.0, y), Align::Start, Ink::Soft, words);
            x += 32.0 + width(words, Face::Plain, TYPE);
        }
    }

    pub fn finished(self) -> Drawing {
        self.drawing
    }
}
