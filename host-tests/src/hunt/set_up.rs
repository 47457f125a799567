//! What a careful examiner records before the weld: the weld itself, the probes and what was measured of them.

use halfskip::acceptance::technique::Ground;
use halfskip::math::{larger, smaller};

use super::case::Case;
use super::part::{Made, Part, Point, Timebase, Transfer, Weld};
use super::sound::View;
use crate::drawn::Drawn;

/// The probes there are.
pub const NAMES: [&str; 3] = ["p45", "p60", "p70"];

/// Velocity of shear waves in the steel of the presets, mm/us.
const SHEAR: f32 = 3.255;

/// A probe as it is, before it is known what it has to see.
#[derive(Clone, Debug)]
pub struct Draft {
    pub name: &'static str,
    pub nominal: f32,
    /// True angle, degrees.
    pub angle: f32,
    /// The index point ahead of its mark, mm.
    pub index: f32,
    pub front: f32,
    /// Whether angle and index point are stated.
    pub stated: bool,
    /// Whether the time base is.
    pub timebase_stated: bool,
    /// Transfer correction at the surface, and its slope.
    pub transfer: (f32, f32),
}

impl Draft {
    /// Draws a probe.
    pub fn draw(drawn: &mut Drawn, name: &'static str, case: &Case) -> Self {
        let asked = case.asked();
        let nominal: f32 = name[1..].parse().unwrap_or(60.0);
        let off = 0.8 * asked.angle_within.map_or(case.within.0, |within| within.get());
        let index = 0.6 * asked.index_within.map_or(case.within.1, |within| within.get());
        let (slope, ahead) = (drawn.between(0.0, 0.02), index * drawn.between(-1.0, 1.0));
        Self {
            name,
            nominal,
            angle: nominal + drawn.between(-off, off),
            index: drawn.one_of(&[0.0, ahead]),
            front: drawn.between(6.0, 14.0).round(),
            stated: case.takes_word(Ground::Angle) && drawn.bits().is_multiple_of(2),
            timebase_stated: drawn.bits().is_multiple_of(4),
            transfer: (drawn.between(-3.5, 5.5), drawn.one_of(&[0.0, slope])),
        }
    }

    /// The correction at a path.
    #[must_use]
    pub fn transfer_at(&self, path: f32) -> f32 {
        self.transfer.0 + self.transfer.1 * path
    }
}

/// Draws a weld.
pub fn weld(drawn: &mut Drawn) -> Weld {
    let thickness = drawn.between(10.0, 50.0).round();
    let gap = drawn.between(1.0, 4.0).round();
    let (prep, open, land) = match drawn.one_of(&[0, 1, 2]) {
        0 => ("square", 0.0, None),
        1 => ("single-v bevel=30", 1.155 * (thickness - 2.0), Some(2.0)),
        _ => ("double-v bevel=30", 0.577 * (thickness - 2.0), Some(2.0)),
    };
    Weld {
        thickness,
        prep: prep.to_string(),
        gap,
        land,
        cap: (gap + open + drawn.between(4.0, 8.0)).round(),
        crown: drawn.one_of(&[0.0, 1.0, 1.5, 2.0]),
        haz: drawn.one_of(&[None, Some(5.0), Some(10.0), Some(12.0)]),
        reach: None,
    }
}

/// Records what comes before the weld.
pub fn set_up(
    drawn: &mut Drawn,
    case: &mut Case,
    weld: Weld,
    drafts: &mut [Draft],
    views: &[View],
    covered: bool,
) {
    let line = |text: &str| Part::Line(text.to_string());
    if case.typed.inches {
        case.parts.push(line("units in"));
    }
    case.parts.push(line("title \"Invented for the hunt\""));
    case.parts.push(line("material steel"));
    let thickness = weld.thickness;
    case.parts.push(Part::Joint(weld));
    if case.asks(Ground::Linearity) || drawn.bits().is_multiple_of(2) {
        case.parts.push(line("linearity screen large=80,70,60,50,40 small=40,35,30,25,20"));
        case.parts.push(line("linearity gain set=80,80,40 change=-6,-12,6 shown=40,20,79"));
    }
    if case.asks(Ground::ParentMetal) {
        case.parts.push(line("detail lamination is=\"none found (invented)\""));
    }
    let narrow = case.within.0 == 1.0;
    if narrow && case.typed.inches {
        case.parts
            .push(line("tolerance angle=1 path=0.3mm index=0.5mm standoff=0.5mm thickness=0.2mm height=5"));
    } else if narrow {
        case.parts.push(line("tolerance angle=1 path=0.3 index=0.5 standoff=0.5 thickness=0.2 height=5"));
    }
    if let Some(name) = case.technique {
        case.parts.push(line(&format!("technique {name}")));
    }
    case.parts.push(line(&format!("criteria {}", case.sheet)));
    let named = !case.takes_word(Ground::Reference) || drawn.bits().is_multiple_of(2);
    for (place, draft) in drafts.iter_mut().enumerate() {
        let paths = views.iter().filter(|view| view.probe == place).map(|view| view.at.0);
        let (low, high) =
            paths.fold((f32::MAX, 0f32), |(low, high), path| (smaller(low, path), larger(high, path)));
        let deepest = 2.0 * thickness / f64::from(draft.angle).to_radians().cos() as f32;
        // Movements are within the range of the curve.
        let high = if covered { larger(high, deepest) } else { high };
        probe(drawn, case, draft);
        let hole = named.then(|| drawn.one_of(&[1.5, 3.0]));
        curve(drawn, case, draft, (low, high), hole);
        transfer(drawn, case, draft, high);
    }
}

fn probe(drawn: &mut Drawn, case: &mut Case, draft: &Draft) {
    let Draft { name, angle, index, .. } = *draft;
    case.parts.push(Part::Probe(Made {
        name,
        nominal: draft.nominal,
        frequency: drawn.one_of(&[2.0, 4.0, 5.0]),
        element: drawn.one_of(&[(8.0, Some(9.0)), (10.0, None), (6.0, Some(8.0))]),
        front: drawn
            .one_of(&[Some(draft.front), Some(draft.front), None])
            .or(case.asked().coverage.map(|_| draft.front)),
        wedge_path: drawn.one_of(&[Some(6.0), Some(8.0), None]),
        more: String::new(),
    }));
    let delay = drawn.between(2.0, 8.0);
    let how = if draft.timebase_stated {
        Timebase::Stated { velocity: SHEAR, delay }
    } else {
        let echo = |path: f32| (path, 2.0 * path / SHEAR + delay);
        let paths: &[f32] =
            if drawn.bits().is_multiple_of(2) { &[25.0, 100.0] } else { &[25.0, 50.0, 100.0] };
        Timebase::Echoes(paths.iter().map(|path| echo(*path)).collect())
    };
    case.parts.push(Part::Timebase { probe: name, how });
    if draft.stated {
        return case.parts.push(Part::Stated { probe: name, angle, index });
    }
    let tan = f64::from(angle).to_radians().tan() as f32;
    let hole = |depth: f32| Part::Hole { probe: name, depth, distance: depth * tan + index };
    // One hole says nothing of the index point.
    let depths: &[f32] = if index == 0.0 && drawn.bits().is_multiple_of(2) { &[20.0] } else { &[15.0, 40.0] };
    case.parts.extend(depths.iter().map(|depth| hole(*depth)));
}

/// A curve as holes give it: 9 dB a doubling, some attenuation, each point off by a little.
fn curve(drawn: &mut Drawn, case: &mut Case, draft: &Draft, (low, high): (f32, f32), hole: Option<f32>) {
    let (start, attenuation, near) =
        (drawn.between(15.0, 25.0), drawn.between(0.01, 0.05), drawn.between(4.0, 12.0));
    let mut paths = Vec::new();
    let alone = drawn.bits().is_multiple_of(4) && low > 80.0;
    if case.sheet == "weighted.toml" {
        paths.push(drawn.between(30.0, 60.0).round());
    } else if alone {
        // A point beyond all of them, beyond the near field.
        paths.push((high * drawn.between(1.05, 1.3)).round());
    } else {
        paths.push((low * drawn.between(0.5, 0.95)).round());
        while paths.last().is_none_or(|last| *last < high + 0.5) {
            let last = paths.last().copied().unwrap_or(low);
            paths.push((last * drawn.between(1.3, 2.8)).round());
        }
    }
    let flat = drawn.bits().is_multiple_of(2);
    for path in paths {
        let far = 30.0 * f64::from(larger(path / near, 1.0)).log10() as f32;
        let fall = 1.2 * larger(1.0 - path / near, 0.0);
        let gain = start + far + fall + attenuation * path + drawn.between(-0.4, 0.4);
        let height = if flat { 80.0 } else { drawn.between(50.0, 95.0).round() };
        case.parts.push(Part::Point(Point { probe: draft.name, path, height, gain, hole }));
    }
}

fn transfer(drawn: &mut Drawn, case: &mut Case, draft: &mut Draft, longest: f32) {
    let stated = case.takes_word(Ground::Transfer) && drawn.bits().is_multiple_of(2);
    let pairs = drawn.bits().is_multiple_of(2);
    if stated || !pairs || !case.asks(Ground::Transfer) {
        draft.transfer.1 = 0.0;
    }
    if !case.asks(Ground::Transfer) {
        draft.transfer.0 = 0.0;
        return;
    }
    let surface = draft.transfer.0;
    let how = if stated {
        draft.transfer.0 = (surface * 10.0).round() / 10.0;
        Transfer::Stated(draft.transfer.0)
    } else {
        let path = larger(0.5 * longest, 20.0).round();
        let gain = drawn.between(30.0, 45.0);
        let shots: &[f32] = if pairs { &[1.0, 2.0] } else { &[1.0] };
        let block = shots.iter().map(|times| (times * path, gain + 7.0 * (times - 1.0)));
        let part = block.clone().map(|(path, gain)| (path, gain + draft.transfer_at(path)));
        let (block, part) = (block.collect(), part.collect());
        Transfer::Shots { block, part }
    };
    case.parts.push(Part::Transfer { probe: draft.name, how });
}
