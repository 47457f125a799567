//! The lines of an examination, part by part, so that a part can be spoiled.

use std::fmt::Write;

/// One line.
#[derive(Clone, Debug)]
pub enum Part {
    /// One without lengths.
    Line(String),
    /// The day, and when its work began, in minutes.
    Date { day: u32, time: Option<u32> },
    /// The weld.
    Joint(Weld),
    /// A probe.
    Probe(Made),
    /// Its time base.
    Timebase { probe: &'static str, how: Timebase },
    /// A hole that it was peaked on: depth and distance.
    Hole { probe: &'static str, depth: f32, distance: f32 },
    /// Its angle and index point as stated.
    Stated { probe: &'static str, angle: f32, index: f32 },
    /// A reference point.
    Point(Point),
    /// Its transfer correction.
    Transfer { probe: &'static str, how: Transfer },
    /// A check.
    Check(Check),
    /// A reading.
    Reading(Seen),
    /// The voiding of the entry that this part made.
    Void(Box<Self>),
}

/// The weld. Lengths in mm, here as everywhere.
#[derive(Clone, Debug)]
pub struct Weld {
    pub thickness: f32,
    pub prep: String,
    pub gap: f32,
    pub land: Option<f32>,
    pub cap: f32,
    pub crown: f32,
    pub haz: Option<f32>,
    pub reach: Option<char>,
}

/// A probe.
#[derive(Clone, Debug)]
pub struct Made {
    pub name: &'static str,
    pub nominal: f32,
    pub frequency: f32,
    /// In the plane of incidence and across it; a round one has the first alone.
    pub element: (f32, Option<f32>),
    pub front: Option<f32>,
    pub wedge_path: Option<f32>,
    /// Whatever else it says.
    pub more: String,
}

/// A time base.
#[derive(Clone, Debug)]
pub enum Timebase {
    Echoes(Vec<(f32, f32)>),
    Stated { velocity: f32, delay: f32 },
}

/// A reference point: what brings it to 80 % is kept.
#[derive(Clone, Debug)]
pub struct Point {
    pub probe: &'static str,
    pub path: f32,
    pub height: f32,
    pub gain: f32,
    pub hole: Option<f32>,
}

/// A transfer correction.
#[derive(Clone, Debug)]
pub enum Transfer {
    Stated(f32),
    Shots { block: Vec<(f32, f32)>, part: Vec<(f32, f32)> },
}

/// A check.
#[derive(Clone, Debug)]
pub struct Check {
    /// The probe.
    pub probe: &'static str,
    /// True path.
    pub path: f32,
    /// How far the shown one is off, as a part of it.
    pub off: f32,
    /// Height, and how far the level is off the reference.
    pub level: Option<(f32, f32)>,
    /// Minutes since midnight.
    pub time: Option<u32>,
}

/// A reading.
#[derive(Clone, Debug)]
pub struct Seen {
    pub id: u8,
    pub probe: &'static str,
    pub side: char,
    pub x: f32,
    pub standoff: f32,
    pub path: f32,
    pub height: String,
    pub gain: f32,
    pub sweep: Option<&'static str>,
    pub thickness: Option<f32>,
    /// Whatever else it says.
    pub more: String,
}

/// The unit that a job's lengths are typed in.
#[derive(Clone, Copy, Debug)]
pub struct Typed {
    /// Whether it is the inch.
    pub inches: bool,
}

impl Typed {
    /// A length as it is typed.
    #[must_use]
    pub fn length(self, mm: f32) -> String {
        if self.inches { format!("{:.4}", mm / 25.4) } else { format!("{mm:.2}") }
    }

    fn pairs(self, pairs: &[(f32, f32)]) -> String {
        let pairs = pairs.iter().map(|(path, gain)| format!("{}:{gain:.2}", self.length(*path)));
        pairs.collect::<Vec<_>>().join(",")
    }
}

fn clock(minutes: u32) -> String {
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// What brings a reference echo to 80 % from its height.
#[must_use]
pub fn to_reference(height: f32) -> f32 {
    20.0 * (f64::from(height) / 80.0).log10() as f32
}

impl Part {
    /// Its line. `gain_at` is the gain of a probe's reference at a path; a void's line is another's business.
    ///
    /// # Panics
    /// Never: a text can always be written to.
    #[must_use]
    pub fn line(&self, typed: Typed, gain_at: &dyn Fn(&str, f32) -> Option<f32>) -> String {
        let mm = |value: f32| typed.length(value);
        let mut line = String::new();
        let given =
            |key: &str, value: Option<String>| value.map_or(String::new(), |value| format!(" {key}={value}"));
        match self {
            Self::Line(line) => line.clone(),
            Self::Date { day, time } => {
                format!("date 2026-03-{day:02}{}", given("time", time.map(clock)))
            }
            Self::Joint(weld) => {
                let Weld { thickness, prep, gap, land, cap, crown, haz, reach } = weld;
                write!(line, "joint butt thickness={} prep={prep} gap={}", mm(*thickness), mm(*gap)).unwrap();
                line += &given("land", land.map(mm));
                write!(line, " cap={} crown={}", mm(*cap), mm(*crown)).unwrap();
                line += &given("haz", haz.map(mm));
                line + &given("reach", reach.map(String::from))
            }
            Self::Probe(made) => {
                let Made { name, nominal, frequency, element, front, wedge_path, more } = made;
                write!(line, "probe {name} angle={nominal} frequency={frequency} element={}", mm(element.0))
                    .unwrap();
                line += &element.1.map_or(String::new(), |across| format!("x{}", mm(across)));
                line += &given("front", front.map(mm));
                line += &given("wedge-path", wedge_path.map(mm));
                line + " wedge=2.73" + more
            }
            Self::Timebase { probe, how: Timebase::Stated { velocity, delay } } => {
                format!("timebase {probe} velocity={velocity} delay={delay:.2}")
            }
            Self::Timebase { probe, how: Timebase::Echoes(echoes) } => {
                let list = |of: fn(&(f32, f32), Typed) -> String| {
                    echoes.iter().map(|echo| of(echo, typed)).collect::<Vec<_>>().join(",")
                };
                let (paths, times) =
                    (list(|(path, _), typed| typed.length(*path)), list(|(_, time), _| format!("{time:.3}")));
                format!("timebase {probe} path={paths} time={times}")
            }
            Self::Hole { probe, depth, distance } => {
                format!("angle {probe} depth={} distance={}", mm(*depth), mm(*distance))
            }
            Self::Stated { probe, angle, index } => {
                format!("angle {probe} stated={angle:.2} index={}", mm(*index))
            }
            Self::Point(Point { probe, path, height, gain, hole }) => {
                let gain = gain + to_reference(*height);
                let hole = given("hole", hole.map(mm));
                format!("dac {probe} path={} height={height:.0} gain={gain:.2}{hole}", mm(*path))
            }
            Self::Transfer { probe, how: Transfer::Stated(gain) } => {
                format!("transfer {probe} gain={gain:.1}")
            }
            Self::Transfer { probe, how: Transfer::Shots { block, part } } => {
                format!("transfer {probe} block={} part={}", typed.pairs(block), typed.pairs(part))
            }
            Self::Check(Check { probe, path, off, level, time }) => {
                write!(line, "check {probe} path={} shown={}", mm(*path), mm(path * (1.0 + off))).unwrap();
                if let (Some((height, off)), Some(gain)) = (level, gain_at(probe, *path)) {
                    let gain = gain + to_reference(*height) - off;
                    write!(line, " height={height:.0} gain={gain:.2}").unwrap();
                }
                line + &given("time", time.map(clock))
            }
            Self::Reading(seen) => {
                let Seen { id, probe, side, x, standoff, path, height, gain, sweep, thickness, more } = seen;
                let (x, standoff, path) = (mm(*x), mm(*standoff), mm(*path));
                write!(line, "reading {id} probe={probe} side={side} x={x} standoff={standoff} path={path}")
                    .unwrap();
                write!(line, " height={height} gain={gain:.2}").unwrap();
                line += &given("thickness", thickness.map(mm));
                line + &given("sweep", sweep.map(String::from)) + more
            }
            Self::Void(of) => of.line(typed, gain_at),
        }
    }
}
