//! How often the truth lies within the uncertainty that is told: draws by a model of its own, answered by the program.

mod lean;
mod model;
mod table;

pub use lean::{Read, share as share_of_heights};
pub use model::{Reflector, SetUp, VELOCITY_OFF};
pub use table::tables;

use crate::drawn::Drawn;
use crate::job::job;
use halfskip::findings::{Findings, Scratch};

/// How many draws there were, and in how many the truth lay within U.
#[derive(Clone, Copy, Default, Debug)]
pub struct Share {
    /// Draws.
    pub draws: u32,
    /// In y; of heights, in the height.
    pub across: u32,
    /// In z.
    pub down: u32,
    /// In how many the views disagree.
    pub disagree: u32,
}

impl Share {
    /// Adds one draw.
    pub fn add(&mut self, across: bool, down: bool) {
        self.draws += 1;
        self.across += u32::from(across);
        self.down += u32::from(down);
    }

    /// Adds those of another.
    pub fn join(&mut self, other: &Self) {
        self.draws += other.draws;
        self.across += other.across;
        self.down += other.down;
        self.disagree += other.disagree;
    }

    fn percent(&self, count: u32) -> f64 {
        100.0 * f64::from(count) / f64::from(self.draws.max(1))
    }

    /// Of y and z, in percent.
    #[must_use]
    pub fn percents(&self) -> [f64; 2] {
        [self.percent(self.across), self.percent(self.down)]
    }

    /// The lower of them.
    #[must_use]
    pub fn least(&self) -> f64 {
        let [across, down] = self.percents();
        if across < down { across } else { down }
    }
}

/// Every set-up: 45, 60 and 70 degrees alone and together, one side and both, legs 1 to 3.
#[must_use]
pub fn set_ups(legs: &[&[u32]]) -> Vec<SetUp> {
    let angles: [&[f64]; 7] =
        [&[45.0], &[60.0], &[70.0], &[45.0, 60.0], &[45.0, 70.0], &[60.0, 70.0], &[45.0, 60.0, 70.0]];
    let sides: [&[f64]; 2] = [&[1.0], &[1.0, -1.0]];
    let mut found = Vec::new();
    for angles in angles {
        for sides in sides {
            for legs in legs {
                let (angles, sides, legs) = (angles.to_vec(), sides.to_vec(), legs.to_vec());
                found.push(SetUp { angles, sides, legs });
            }
        }
    }
    found
}

/// Legs alone and together.
pub const LEGS: &[&[u32]] = &[&[1], &[2], &[3], &[1, 2], &[2, 3], &[1, 2, 3]];
/// Legs that meet the far face.
pub const ODD: &[&[u32]] = &[&[1], &[3], &[1, 3]];

/// The share for one reflector from one set-up.
#[must_use]
pub fn share(set_up: &SetUp, reflector: Reflector, tolerance: &str, velocity: f64, draws: u32) -> Share {
    let mut from = Drawn::seeded(set_up.views() as u64 + 17);
    let mut share = Share::default();
    for _ in 0..draws {
        let drawing = model::draw(set_up, reflector, tolerance, velocity, &mut from);
        let shell = job(&drawing.job);
        let facts = shell.examination().facts();
        let mut scratch = Scratch::<64>::new();
        let Some(found) = Findings::new(facts, None, &mut scratch).indication(0).place() else { continue };
        let reach = [
            (f64::from(found.y) - f64::from(found.u_y), f64::from(found.y) + f64::from(found.u_y)),
            (f64::from(found.z) - f64::from(found.u_z), f64::from(found.z) + f64::from(found.u_z)),
        ];
        let [across, down] = met(drawing.truth, reach);
        share.add(across, down);
        share.disagree += u32::from(found.consistent == Some(false));
    }
    share
}

/// Whether y and z hold the truth; of a plane, whether both together meet it between its ends.
fn met([one, other]: [(f64, f64); 2], [across, down]: [(f64, f64); 2]) -> [bool; 2] {
    if one == other {
        return [within(one.0, across), within(one.1, down)];
    }
    let meets = (0..=200).map(|step| f64::from(step) / 200.0).any(|part| {
        let at = |from: f64, to: f64| from + part * (to - from);
        within(at(one.0, other.0), across) && within(at(one.1, other.1), down)
    });
    [meets, meets]
}

fn within(value: f64, (low, high): (f64, f64)) -> bool {
    (low..=high).contains(&value)
}
