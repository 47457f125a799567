//! An examination of a reflector that its sheet lets pass, in the order in which it was typed.

use halfskip::acceptance::technique::{Ground, Technique};

use super::part::{Check, Made, Part, Point, Seen, Transfer, Typed, Weld};
use super::sheets;

/// One examination.
#[derive(Clone, Debug)]
pub struct Case {
    /// The name of its criteria sheet.
    pub sheet: &'static str,
    /// The name of its technique sheet.
    pub technique: Option<&'static str>,
    /// The unit of its lengths.
    pub typed: Typed,
    /// Half widths of angle, index point and stand-off that hold in it.
    pub within: (f32, f32, f32),
    /// Its lines.
    pub parts: Vec<Part>,
}

impl Case {
    /// What an accept needs in it.
    ///
    /// # Panics
    /// When its technique sheet is none of the hunt.
    #[must_use]
    pub fn asked(&self) -> &'static Technique {
        sheets::technique(self.technique).expect("a technique sheet of the hunt")
    }

    /// Whether its technique asks for a ground.
    #[must_use]
    pub fn asks(&self, ground: Ground) -> bool {
        self.asked().asks.contains(ground)
    }

    /// Whether its technique takes somebody's word for a ground.
    #[must_use]
    pub fn takes_word(&self, ground: Ground) -> bool {
        self.asked().stated_ok.contains(ground)
    }

    /// Its lines as they are typed.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        let gain_at = |probe: &str, path: f32| gain_at(&self.points(probe), path);
        let mut lines = Vec::with_capacity(self.parts.len());
        for part in &self.parts {
            let line = part.line(self.typed, &gain_at);
            lines.push(match part {
                Part::Void(_) => {
                    let number = lines.iter().rposition(|held| *held == line).map_or(0, |place| place + 1);
                    format!("void {number} reason=\"invented\"")
                }
                _ => line,
            });
        }
        lines
    }

    /// The gain of a probe's reference at a path; none outside its points.
    #[must_use]
    pub fn reference(&self, probe: &str, path: f32) -> Option<f32> {
        gain_at(&self.points(probe), path)
    }

    /// The reference points of a probe, by path.
    #[must_use]
    pub fn points(&self, probe: &str) -> Vec<Point> {
        let mut points: Vec<Point> = self.parts.iter().filter_map(point).cloned().collect();
        points.retain(|point| point.probe == probe);
        points.sort_by(|one, other| one.path.total_cmp(&other.path));
        // One that was made anew is beside the one that it stands for.
        points.dedup_by(|one, other| one.path == other.path);
        points
    }

    /// Puts other points in the place of a probe's, and its checks onto them.
    pub fn replace_points(&mut self, probe: &str, points: Vec<Point>) {
        let first = self.place(|part| point(part).is_some_and(|point| point.probe == probe));
        let Some(first) = first else { return };
        self.parts.retain(|part| point(part).is_none_or(|point| point.probe != probe));
        let paths: Vec<f32> = points.iter().map(|point| point.path).collect();
        self.parts.splice(first..first, points.into_iter().map(Part::Point));
        for check in self.checks_mut().filter(|check| check.probe == probe) {
            let near =
                paths.iter().min_by(|a, b| (*a - check.path).abs().total_cmp(&(*b - check.path).abs()));
            match near {
                Some(path) => check.path = *path,
                // Without a reference nothing but the range can be checked.
                None => check.level = None,
            }
        }
    }

    /// Where the first such part is.
    #[must_use]
    pub fn place(&self, such: impl Fn(&Part) -> bool) -> Option<usize> {
        self.parts.iter().position(such)
    }

    /// Puts a part before the first such one, or at the end.
    pub fn insert_before(&mut self, such: impl Fn(&Part) -> bool, part: Part) {
        let place = self.place(such).unwrap_or(self.parts.len());
        self.parts.insert(place, part);
    }

    /// Its readings.
    pub fn readings(&self) -> impl Iterator<Item = &Seen> {
        self.parts.iter().filter_map(seen)
    }

    /// Its readings, to be changed.
    pub fn readings_mut(&mut self) -> impl Iterator<Item = &mut Seen> {
        self.parts.iter_mut().filter_map(|part| match part {
            Part::Reading(seen) => Some(seen),
            _ => None,
        })
    }

    /// Its checks, to be changed.
    pub fn checks_mut(&mut self) -> impl Iterator<Item = &mut Check> {
        self.parts.iter_mut().filter_map(|part| match part {
            Part::Check(check) => Some(check),
            _ => None,
        })
    }

    /// Its probes, to be changed.
    pub fn probes_mut(&mut self) -> impl Iterator<Item = &mut Made> {
        self.parts.iter_mut().filter_map(|part| match part {
            Part::Probe(made) => Some(made),
            _ => None,
        })
    }

    /// The probe of a name.
    #[must_use]
    pub fn made(&self, name: &str) -> Option<&Made> {
        self.parts.iter().find_map(|part| match part {
            Part::Probe(made) if made.name == name => Some(made),
            _ => None,
        })
    }

    /// The names of its probes.
    #[must_use]
    pub fn probes(&self) -> Vec<&'static str> {
        let name = |part: &Part| match part {
            Part::Probe(made) => Some(made.name),
            _ => None,
        };
        self.parts.iter().filter_map(name).collect()
    }

    /// Its weld.
    #[must_use]
    pub fn weld(&self) -> Option<&Weld> {
        self.parts.iter().find_map(|part| match part {
            Part::Joint(weld) => Some(weld),
            _ => None,
        })
    }

    /// Its weld, to be changed.
    pub fn weld_mut(&mut self) -> Option<&mut Weld> {
        self.parts.iter_mut().find_map(|part| match part {
            Part::Joint(weld) => Some(weld),
            _ => None,
        })
    }

    /// The transfer correction of a probe, to be changed.
    pub fn transfer_mut(&mut self, name: &str) -> Option<&mut Transfer> {
        self.parts.iter_mut().find_map(|part| match part {
            Part::Transfer { probe, how } if *probe == name => Some(how),
            _ => None,
        })
    }

    /// Thickness of the weld, mm.
    #[must_use]
    pub fn thickness(&self) -> f32 {
        self.weld().map_or(20.0, |weld| weld.thickness)
    }

    /// Records readings where the last one of their probe was recorded.
    pub fn record(&mut self, readings: Vec<Seen>) {
        for seen_now in readings {
            let same = |part: &Part| seen(part).is_some_and(|held| held.probe == seen_now.probe);
            let last = self.parts.iter().rposition(same).or_else(|| {
                let any = |part: &Part| seen(part).is_some();
                self.parts.iter().rposition(any)
            });
            let place = last.map_or(self.parts.len(), |last| last + 1);
            self.parts.insert(place, Part::Reading(seen_now));
        }
    }

    /// Keeps such readings alone.
    pub fn keep(&mut self, such: impl Fn(&Seen) -> bool) {
        self.parts.retain(|part| seen(part).is_none_or(&such));
    }

    /// Where such parts are that are not voided.
    pub fn in_force(&self, such: impl Fn(&Part) -> bool) -> impl Iterator<Item = usize> {
        let line = |part: &Part| part.line(self.typed, &|_, _| None);
        let voided: Vec<String> =
            self.parts.iter().filter(|part| matches!(part, Part::Void(_))).map(line).collect();
        let held = move |part: &Part| such(part) && !voided.contains(&line(part));
        self.parts.iter().enumerate().filter(move |(_, part)| held(part)).map(|(place, _)| place)
    }

    /// Voids entries at the end.
    pub fn void(&mut self, such: impl Fn(&Part) -> bool) {
        let voided: Vec<Part> = self.in_force(such).map(|place| self.parts[place].clone()).collect();
        self.parts.extend(voided.into_iter().map(|part| Part::Void(Box::new(part))));
    }
}

/// The reading that a part is.
#[must_use]
pub fn seen(part: &Part) -> Option<&Seen> {
    match part {
        Part::Reading(seen) => Some(seen),
        _ => None,
    }
}

/// The reference point that a part is.
#[must_use]
pub fn point(part: &Part) -> Option<&Point> {
    match part {
        Part::Point(point) => Some(point),
        _ => None,
    }
}

/// The check that a part is.
#[must_use]
pub fn check(part: &Part) -> Option<&Check> {
    match part {
        Part::Check(check) => Some(check),
        _ => None,
    }
}

/// Whether a part is a line of this beginning.
#[must_use]
pub fn begins(part: &Part, beginning: &str) -> bool {
    matches!(part, Part::Line(line) if line.starts_with(beginning))
}

/// Straight between points by path; one point holds everywhere.
fn gain_at(points: &[Point], path: f32) -> Option<f32> {
    if let [point] = points {
        return Some(point.gain);
    }
    let pair = points.windows(2).find(|pair| pair[0].path <= path && path <= pair[1].path)?;
    let part = (path - pair[0].path) / (pair[1].path - pair[0].path);
    Some(pair[0].gain + (pair[1].gain - pair[0].gain) * part)
}
