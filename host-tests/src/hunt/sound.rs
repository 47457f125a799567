//! Sound examinations, drawn: what a careful examiner would have recorded.

use halfskip::acceptance::technique::Ground;
use halfskip::math::larger;

use super::case::Case;
use super::part::{Part, Seen, Typed, Weld, to_reference};
use super::set_up::{Draft, NAMES, set_up, weld};
use super::sheets::{SHEETS, TECHNIQUES};
use super::work::work;
use crate::drawn::Drawn;

/// One way to see the reflector.
#[derive(Clone, Copy, Debug)]
pub struct View {
    /// The probe, by its place.
    pub probe: usize,
    /// Side.
    pub side: char,
    /// Path and stand-off, mm.
    pub at: (f32, f32),
}

impl Case {
    /// A case with all that its sheets ask for.
    #[must_use]
    pub fn sound(seed: u64) -> Self {
        let mut drawn = Drawn::seeded(seed);
        let technique = match drawn.one_of(&[0, 0, 1]) {
            0 => Some(drawn.one_of(&TECHNIQUES).0),
            _ => None,
        };
        Self::drawn(&mut drawn, technique)
    }

    /// The same under a technique sheet; without one where there is none.
    #[must_use]
    pub fn sound_by(seed: u64, technique: Option<&'static str>) -> Self {
        Self::drawn(&mut Drawn::seeded(seed ^ 0x5eed), technique)
    }

    fn drawn(drawn: &mut Drawn, technique: Option<&'static str>) -> Self {
        let sheet = drawn.one_of(&SHEETS).0;
        let typed = Typed { inches: drawn.one_of(&[true, false, false]) };
        loop {
            // Not every probe can see every depth past every cap.
            if let Some(case) = attempt(drawn, sheet, technique, typed) {
                return case;
            }
        }
    }
}

fn attempt(
    drawn: &mut Drawn,
    sheet: &'static str,
    technique: Option<&'static str>,
    typed: Typed,
) -> Option<Case> {
    let narrow = drawn.one_of(&[true, false]);
    let within = if narrow { (1.0, 0.5, 0.5) } else { (2.0, 1.0, 1.0) };
    let mut case = Case { sheet, technique, typed, within, parts: Vec::new() };
    let weld = weld(drawn);
    let (t, y, z) = (weld.thickness, drawn.between(-2.0, 2.0), drawn.between(0.15, 0.9) * weld.thickness);
    let mut drafts: Vec<Draft> = Vec::new();
    let wanted = drawn.one_of(&[1, 1, 2, 3]);
    for name in NAMES {
        if drawn.bits().is_multiple_of(2) && drafts.len() < wanted {
            drafts.push(Draft::draw(drawn, name, &case));
        }
    }
    let mut views = Vec::new();
    for (probe, draft) in drafts.iter().enumerate() {
        for (side, sign) in [('a', -1.0), ('b', 1.0)] {
            for deep in [z, 2.0 * t - z] {
                let angle = f64::from(draft.angle).to_radians();
                let (path, along) = (deep / angle.cos() as f32, deep * angle.tan() as f32);
                let standoff = along + draft.index + sign * y;
                if (15.0..260.0).contains(&path) && clears(&weld, draft, standoff) {
                    views.push(View { probe, side, at: (path, standoff) });
                }
            }
        }
    }
    shuffle(drawn, &mut views);
    views.truncate(drawn.one_of(&[1, 2, 3, 4]));
    let unused = (0..drafts.len()).any(|probe| !views.iter().any(|view| view.probe == probe));
    if views.is_empty() || unused {
        return None;
    }
    let crossed = case.asks(Ground::Coverage).then(|| crossing(&weld, &drafts));
    set_up(drawn, &mut case, weld, &mut drafts, &views, crossed.is_some());
    let readings = readings(drawn, &case, &drafts, &views);
    work(drawn, &mut case, &drafts, readings, crossed);
    Some(case)
}

/// How near a probe may stand, mm; none where the cap is dressed.
pub fn least(weld: &Weld, front: Option<f32>) -> Option<f32> {
    (weld.crown > 0.0).then(|| 0.5 * weld.cap + front.unwrap_or(0.0))
}

fn clears(weld: &Weld, draft: &Draft, standoff: f32) -> bool {
    // An examiner records the nose, or knows it.
    least(weld, Some(draft.front)).is_none_or(|least| standoff > least + 0.5)
}

fn shuffle(drawn: &mut Drawn, views: &mut [View]) {
    for last in (1..views.len()).rev() {
        views.swap(last, (drawn.bits() % (last as u64 + 1)) as usize);
    }
}

/// Peaks of each view, the strongest with a sweep along the weld; each view by itself.
fn readings(drawn: &mut Drawn, case: &Case, drafts: &[Draft], views: &[View]) -> Vec<Vec<Seen>> {
    let (low, high) = case.asked().amplitude_from.map_or((25.0, 85.0), |from| {
        (from.get() + 2.0, case.asked().amplitude_to.map_or(95.0, |to| to.get() - 2.0))
    });
    let longest = views.iter().map(|view| view.at.0).fold(0.0, larger);
    // d = a - b - c: the weaker the echo the higher d, and far paths lower it.
    let level = match case.sheet {
        "weighted.toml" => -(8.5 + 2.0 * larger(longest / 25.4 - 1.0, 0.0)) - drawn.between(0.0, 6.0),
        // Within 8 dB of the level that its length is found at.
        "length-at-level.toml" => drawn.between(-17.0, -12.5),
        _ => drawn.between(-28.0, -12.0),
    };
    let x = drawn.between(150.0, 800.0).round();
    let step = larger(drawn.between(0.04, 0.08) * case.thickness(), 1.0);
    let mut told = Vec::new();
    for (place, view) in views.iter().enumerate() {
        let draft = &drafts[view.probe];
        let (path, standoff) = (view.at.0 + drawn.between(-0.1, 0.1), view.at.1 + drawn.between(-0.2, 0.2));
        let weaker = if place == 0 { 0.0 } else { drawn.between(1.0, 4.0) };
        let height = drawn.between(if place == 0 { larger(low, 45.0) } else { low }, high).round();
        let reference = case.reference(draft.name, path).expect("a curve over all paths");
        // L = 20 log10(h / 80) + G_ref + T - G
        let gain = to_reference(height) + reference + draft.transfer_at(path) - (level - weaker);
        let off = if place == 0 { 0.0 } else { drawn.between(-1.5, 1.5) };
        let measured = drawn.bits().is_multiple_of(4);
        let thickness = measured.then(|| case.thickness() + drawn.between(-0.05, 0.05));
        let peak = Seen {
            id: 1,
            probe: draft.name,
            side: view.side,
            x: x + off,
            standoff,
            path,
            height: height.to_string(),
            gain,
            sweep: None,
            thickness,
            more: String::new(),
        };
        let mut readings = vec![peak.clone()];
        if place == 0 {
            for (place, below) in
                [(-3.0, 16.0), (-2.0, 8.0), (-1.0, 2.0), (0.0, 0.0), (1.0, 2.0), (2.0, 8.0), (3.0, 16.0)]
            {
                let height = f64::from(height) * 10f64.powf(-below / 20.0);
                let height = format!("{height:.1}");
                readings.push(Seen { x: x + place * step, height, sweep: Some("along"), ..peak.clone() });
            }
        }
        told.push(readings);
    }
    told
}

/// The stand-offs that cross weld and heat-affected zone, least and greatest, by probe.
fn crossing(weld: &Weld, drafts: &[Draft]) -> Vec<(f32, f32)> {
    let extent = |draft: &Draft| {
        let from = least(weld, Some(draft.front)).unwrap_or(-0.5 * weld.cap) + 0.6;
        let far = 2.0 * weld.thickness * f64::from(draft.angle).to_radians().tan() as f32;
        (from, far + 0.5 * weld.cap + 12.0)
    };
    drafts.iter().map(extent).collect()
}

/// The movements that cross it at one place along the weld.
pub fn movements(seen: &Seen, x: f32, (from, to): (f32, f32)) -> Vec<Part> {
    let steps = larger(((to - from) / 24.0).ceil(), 1.0);
    let at = |step: f32| Seen {
        x,
        standoff: from + (to - from) * step / steps,
        height: "under".to_string(),
        sweep: Some("across"),
        thickness: None,
        ..seen.clone()
    };
    (0..=steps as u16).map(|step| Part::Reading(at(f32::from(step)))).collect()
}
