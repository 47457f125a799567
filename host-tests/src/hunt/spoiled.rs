//! Which cases are drawn, and which faults into them.

use halfskip::acceptance::technique::Ground;

use super::case::Case;
use super::fault::Fault;
use super::sheets::TECHNIQUES;
use crate::drawn::Drawn;

/// What faults a case is to have.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Plan {
    /// One by itself.
    Alone(Fault),
    /// One of each of two grounds.
    Pair(Ground, Ground),
    /// One to three of any.
    Any,
}

/// A spoiled case.
#[derive(Clone, Debug)]
pub struct Spoiled {
    /// The case.
    pub case: Case,
    /// Its faults.
    pub faults: Vec<Fault>,
}

impl Plan {
    /// Every pair of grounds.
    #[must_use]
    pub fn pairs() -> Vec<Self> {
        let with = |(place, one): (usize, Ground)| {
            Ground::ALL.into_iter().skip(place + 1).map(move |other| Self::Pair(one, other))
        };
        Ground::ALL.into_iter().enumerate().flat_map(with).collect()
    }

    /// Draws a case with such faults; one that they do not matter to is drawn anew.
    ///
    /// # Panics
    /// When no case has been found to which they matter.
    #[must_use]
    pub fn draw(self, seed: u64) -> Spoiled {
        let mut drawn = Drawn::seeded(!seed);
        for _ in 0..10_000 {
            let asks = self.grounds().into_iter().flatten();
            let all = asks
                .clone()
                .any(|ground| matches!(ground, Ground::Linearity | Ground::ParentMetal | Ground::Coverage));
            let sheets = TECHNIQUES.map(|(name, _)| Some(name));
            // Without a sheet nobody asks for the last three grounds.
            let technique = if all || drawn.bits().is_multiple_of(2) { drawn.one_of(&sheets) } else { None };
            let mut case = Case::sound_by(drawn.bits(), technique);
            let asked = asks.into_iter().all(|ground| case.asks(ground));
            if !asked {
                continue;
            }
            let mut faults = self.faults(&mut drawn);
            faults.sort_by_key(|fault| fault.turn());
            if faults.iter().all(|fault| fault.spoil(&mut case, &mut drawn)) {
                return Spoiled { case, faults };
            }
        }
        panic!("{self:?} matters to no case");
    }

    fn grounds(self) -> [Option<Ground>; 2] {
        match self {
            Self::Alone(fault) => [fault.ground(), None],
            Self::Pair(one, other) => [Some(one), Some(other)],
            Self::Any => [None, None],
        }
    }

    fn faults(self, drawn: &mut Drawn) -> Vec<Fault> {
        let of = |drawn: &mut Drawn, ground: Ground| loop {
            let fault = drawn.one_of(Fault::ALL);
            if fault.ground() == Some(ground) {
                return fault;
            }
        };
        match self {
            Self::Alone(fault) => vec![fault],
            Self::Pair(one, other) => vec![of(drawn, one), of(drawn, other)],
            Self::Any => {
                let wanted = drawn.one_of(&[1, 1, 1, 2, 3]);
                let mut faults = Vec::new();
                while faults.len() < wanted {
                    let fault = drawn.one_of(Fault::ALL);
                    if !faults.contains(&fault) {
                        faults.push(fault);
                    }
                }
                faults
            }
        }
    }
}
