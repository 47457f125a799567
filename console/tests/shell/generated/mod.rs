//! Entries of every kind out of a seeded sequence, each one that a line can hold.

use halfskip::record::entry::*;
use halfskip::units::decimal::{Decimal, Entered};
use halfskip::units::error::Range;
use halfskip::units::limits;
use halfskip::units::*;
use heapless::{String, Vec};

/// The kinds of entries that [`Source::entry`] makes.
pub const KINDS: u32 = 27;

/// A seeded sequence.
pub struct Source(pub u64);

impl Source {
    /// The next number below a limit (xorshift64*, its upper half).
    pub fn below(&mut self, limit: u32) -> u32 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let upper = (self.0.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 32) as u32;
        upper % limit
    }

    pub fn flip(&mut self) -> bool {
        self.below(2) == 1
    }

    fn maybe<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        if self.flip() { Some(make(self)) } else { None }
    }

    fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len() as u32) as usize]
    }

    fn decimal(&mut self) -> Decimal {
        loop {
            let digits = 10u32.pow(1 + self.below(7));
            let (negative, mantissa) = (self.below(4) == 0, self.below(digits));
            if let Ok(decimal) = Decimal::new(negative, mantissa, self.below(12) as i8 - 8) {
                return decimal;
            }
        }
    }

    fn plain(&mut self, range: Range) -> Decimal {
        loop {
            let decimal = self.decimal();
            if range.check(decimal.value()).is_ok() {
                return decimal;
            }
        }
    }

    fn entered<Q: Quantity>(&mut self, range: Range) -> Entered<Q> {
        loop {
            let decimal = self.decimal();
            if let Ok(entered) = Entered::held(decimal, self.flip(), range) {
                return entered;
            }
        }
    }

    fn list<Q: Quantity, const N: usize>(&mut self, length: u32, range: Range) -> Vec<Entered<Q>, N> {
        (0..length).map(|_| self.entered(range)).collect()
    }

    fn shots(&mut self) -> Vec<Calibrated, MAX_SHOTS> {
        let length = 1 + self.below(MAX_SHOTS as u32);
        (0..length).map(|_| (self.entered(limits::PATH), self.entered(limits::GAIN))).collect()
    }

    /// Characters that a line has to quote or escape among them, and some of more than one byte.
    fn string<const N: usize>(&mut self, least: u32) -> String<N> {
        const CHARS: &[char] = &[
            'a',
            'b',
            '7',
            '-',
            '.',
            ' ',
            '"',
            '\\',
            '#',
            '=',
            ',',
            ':',
            'x',
            '\u{fc}',
            '\u{6f22}',
            '\u{1f529}',
        ];
        let mut string = String::new();
        let length = least + self.below(N as u32 + 1);
        for _ in 0..length {
            if string.push(self.one(CHARS)).is_err() {
                break;
            }
        }
        string
    }

    fn clock(&mut self) -> Clock {
        let (hour, minute) = (self.below(24) as u8, self.below(60) as u8);
        Clock::new(hour, minute).unwrap()
    }

    fn name(&mut self) -> Name {
        self.string(1)
    }

    fn length(&mut self, range: Range) -> Entered<Millimetres> {
        self.entered(range)
    }

    /// An entry of one of the kinds.
    pub fn entry(&mut self, kind: u32) -> Entry {
        match kind {
            0 => Entry::Title(self.string(0)),
            1 => Entry::Examiner { name: self.string(0), certificate: self.maybe(|s| s.string(0)) },
            2 => Entry::Procedure(self.string(0)),
            3 => Entry::Equipment { name: self.string(0), serial: self.maybe(|s| s.string(0)) },
            4 => Entry::Note(self.string(0)),
            5 => loop {
                let (year, month, day) =
                    (self.below(10_000) as u16, self.below(14) as u8, self.below(33) as u8);
                if let Some(date) = Date::new(year, month, day) {
                    break Entry::Date { date, time: self.maybe(Self::clock) };
                }
            },
            6 => Entry::Units(self.one(&[LengthUnit::Mm, LengthUnit::In])),
            7 => self.material(),
            8 => self.joint(),
            9 => self.probe(),
            10 if self.flip() => Entry::Timebase(TimebaseEntry {
                probe: self.name(),
                how: TimebaseKnown::Stated {
                    velocity: self.entered(MillimetresPerMicrosecond::RANGE),
                    delay: self.entered(limits::DELAY),
                },
            }),
            10 => {
                let length = 2 + self.below(MAX_ECHOES as u32 - 1);
                let (path, time) = (self.list(length, limits::PATH), self.list(length, limits::TIME));
                Entry::Timebase(TimebaseEntry {
                    probe: self.name(),
                    how: TimebaseKnown::Echoes { path, time },
                })
            }
            11 => Entry::Angle(AngleEntry {
                probe: self.name(),
                how: if self.flip() {
                    AngleKnown::Hole {
                        depth: self.entered(limits::DEPTH),
                        distance: self.entered(limits::DISTANCE),
                    }
                } else {
                    AngleKnown::Stated {
                        angle: self.entered(limits::ANGLE),
                        index: self.maybe(|s| s.entered(limits::INDEX)),
                    }
                },
                at: self.maybe(|s| s.plain(limits::TEMPERATURE)),
            }),
            12 => Entry::Dac(DacEntry {
                probe: self.name(),
                path: self.entered(limits::PATH),
                height: self.entered(limits::REFERENCE_HEIGHT),
                gain: self.entered(limits::GAIN),
                hole: self.maybe(|s| s.entered(limits::HOLE)),
            }),
            13 => Entry::DacBeyond {
                probe: self.name(),
                beyond: self.one(&[Beyond::Refuse, Beyond::Hold, Beyond::Slope]),
            },
            14 => Entry::Screen(ScreenEntry {
                max: Some(self.entered(limits::SCREEN)),
                noise: self.maybe(|s| s.entered(limits::NOISE)),
                reference: self.maybe(|s| s.entered(limits::SCREEN)),
            }),
            15 => Entry::Transfer(TransferEntry {
                probe: self.name(),
                how: if self.flip() {
                    Shots::Fixed(self.entered(limits::TRANSFER))
                } else {
                    Shots::Lines { block: self.shots(), part: self.shots() }
                },
            }),
            16 => Entry::Scanning { probe: self.name(), margin: self.entered(limits::MARGIN) },
            17 => {
                let echo = self.maybe(|s| (s.entered(limits::REFERENCE_HEIGHT), s.entered(limits::GAIN)));
                Entry::Check(CheckEntry {
                    probe: self.name(),
                    path: self.entered(limits::PATH),
                    shown: self.entered(limits::PATH),
                    height: echo.map(|(height, _)| height),
                    gain: echo.map(|(_, gain)| gain),
                    time: self.maybe(Self::clock),
                    block: self.maybe(|s| s.string(1)),
                })
            }
            18 => {
                let length = 1 + self.below(MAX_STEPS as u32);
                Entry::ScreenLinearity(ScreenLinearityEntry {
                    large: self.list(length, limits::REFERENCE_HEIGHT),
                    small: self.list(length, limits::REFERENCE_HEIGHT),
                    window: self.window(),
                })
            }
            19 => {
                let length = 1 + self.below(MAX_STEPS as u32);
                Entry::GainLinearity(GainLinearityEntry {
                    set: self.list(length, limits::REFERENCE_HEIGHT),
                    change: self.list(length, limits::GAIN_CHANGE),
                    shown: self.list(length, limits::REFERENCE_HEIGHT),
                    window: self.window(),
                })
            }
            20 => Entry::Tolerance(ToleranceEntry {
                angle: Some(self.entered(limits::ANGLE_TOLERANCE)),
                path: self.maybe(|s| s.entered(limits::LENGTH_TOLERANCE)),
                index: self.maybe(|s| s.entered(limits::LENGTH_TOLERANCE)),
                standoff: self.maybe(|s| s.entered(limits::LENGTH_TOLERANCE)),
                thickness: self.maybe(|s| s.entered(limits::LENGTH_TOLERANCE)),
                velocity: self.maybe(|s| s.entered(limits::VELOCITY_TOLERANCE)),
                height: self.maybe(|s| s.entered(limits::HEIGHT_TOLERANCE)),
                range: self.maybe(|s| s.entered(limits::HEIGHT_TOLERANCE)),
                sensitivity: self.maybe(|s| s.entered(limits::LEVEL_TOLERANCE)),
                reflector: self.maybe(|s| s.entered(limits::LENGTH_TOLERANCE)),
                lean: self.maybe(|s| s.entered(limits::ANGLE_TOLERANCE)),
            }),
            21 => self.reading(),
            22 => Entry::Observe(ObserveEntry {
                indication: self.name(),
                swivel: self.maybe(Self::steadiness),
                orbit: self.maybe(Self::steadiness),
                tip: Some(self.flip()),
                damped: self.maybe(Self::flip),
                like_clean_length: self.maybe(Self::flip),
            }),
            23 => Entry::Criteria(self.string(1)),
            24 => Entry::Detail {
                field: self.one(&[ReportField::Client, ReportField::HeatTreatment, ReportField::Witness]),
                text: self.string(1),
            },
            25 => Entry::Technique(self.string(1)),
            _ => Entry::Void { number: self.below(u32::MAX) + 1, reason: self.string(1) },
        }
    }

    fn window(&mut self) -> LinearityWindow {
        if self.flip() {
            LinearityWindow::T9074
        } else {
            LinearityWindow::Within(self.entered(limits::HEIGHT_TOLERANCE))
        }
    }

    fn steadiness(&mut self) -> Steadiness {
        self.one(&[Steadiness::Ragged, Steadiness::Smooth, Steadiness::Steady])
    }

    fn material(&mut self) -> Entry {
        const VELOCITY: Range = MillimetresPerMicrosecond::RANGE;
        let own = self.maybe(|s| (s.entered(VELOCITY), s.entered(VELOCITY)));
        Entry::Material(MaterialEntry {
            name: self.name(),
            shear: own.map(|(shear, _)| shear),
            longitudinal: own.map(|(_, longitudinal)| longitudinal),
            attenuation: self.maybe(|s| s.entered(DecibelsPerMillimetre::RANGE)),
        })
    }

    fn joint(&mut self) -> Entry {
        let preps = [
            Preparation::Square,
            Preparation::SingleV,
            Preparation::DoubleV,
            Preparation::SingleBevel,
            Preparation::DoubleBevel,
            Preparation::SingleU,
            Preparation::DoubleU,
            Preparation::SingleJ,
            Preparation::DoubleJ,
        ];
        let curvature = self.maybe(|s| {
            let od = s.entered(limits::OD);
            let from = if s.flip() { ScannedFrom::Inside } else { ScannedFrom::Outside };
            if s.flip() { Curvature::AroundPipe { od, from } } else { Curvature::AlongPipe { od, from } }
        });
        Entry::Joint(JointEntry {
            thickness: self.entered(limits::THICKNESS),
            preparation: self.one(&preps),
            bevel: self.maybe(|s| s.entered(limits::BEVEL)),
            gap: self.maybe(|s| s.length(limits::GAP)),
            land: self.maybe(|s| s.length(limits::LAND)),
            radius: self.maybe(|s| s.length(limits::RADIUS)),
            cap: self.maybe(|s| s.length(limits::CAP)),
            crown: self.maybe(|s| s.length(limits::CROWN)),
            bead: self.maybe(|s| s.length(limits::BEAD)),
            excess: self.maybe(|s| s.length(limits::EXCESS)),
            haz: self.maybe(|s| s.length(limits::HAZ)),
            backing: self
                .maybe(|s| Backing { width: s.length(limits::BACKING), height: s.length(limits::BACKING) }),
            counterbore: self.maybe(|s| Counterbore {
                distance: s.length(limits::COUNTERBORE),
                height: s.length(limits::COUNTERBORE),
            }),
            curvature,
            reach: self.maybe(|s| s.one(&[Reach::A, Reach::B, Reach::Both])),
            bevelled: self.maybe(|s| s.one(&[Side::A, Side::B])),
            centre: self.maybe(|s| s.length(limits::CENTRE)),
        })
    }

    fn probe(&mut self) -> Entry {
        let element = if self.flip() {
            Element::Round { diameter: self.entered(limits::ELEMENT) }
        } else {
            Element::Rectangular {
                in_plane: self.entered(limits::ELEMENT),
                across: self.entered(limits::ELEMENT),
            }
        };
        Entry::Probe(ProbeEntry {
            name: self.name(),
            angle: self.entered(limits::ANGLE),
            frequency: self.entered(limits::FREQUENCY),
            element,
            front: self.maybe(|s| s.entered(limits::FRONT)),
            wedge: self.maybe(|s| s.entered(limits::WEDGE)),
            wedge_path: self.maybe(|s| s.entered(limits::WEDGE_PATH)),
            heat: self.maybe(|s| WedgeHeat {
                slope: s.plain(limits::WEDGE_SLOPE),
                marked_at: s.plain(limits::TEMPERATURE),
                at: s.plain(limits::TEMPERATURE),
            }),
        })
    }

    fn reading(&mut self) -> Entry {
        let points = [PointPeaked::Echo, PointPeaked::Corner, PointPeaked::UpperTip, PointPeaked::LowerTip];
        Entry::Reading(ReadingEntry {
            indication: self.name(),
            probe: self.name(),
            side: self.one(&[Side::A, Side::B]),
            x: self.entered(limits::X),
            standoff: self.entered(limits::STANDOFF),
            travel: if self.flip() {
                Travel::Path(self.entered(limits::PATH))
            } else {
                Travel::Time(self.entered(limits::TIME))
            },
            height: match self.below(4) {
                0 => EnteredHeight::Over,
                1 => EnteredHeight::Under,
                _ => EnteredHeight::Shown(self.entered(limits::REFERENCE_HEIGHT)),
            },
            gain: self.entered(limits::GAIN),
            skew: self.maybe(|s| s.entered(limits::SKEW)),
            face: self.one(&[Face::Near, Face::Far]),
            thickness: self.maybe(|s| s.entered(limits::THICKNESS)),
            sweep: self.maybe(|s| s.one(&[Sweep::Along, Sweep::Across, Sweep::Swivel, Sweep::Orbit])),
            point: self.one(&points),
            together: self.maybe(|s| 1 + s.below(255) as u8),
        })
    }
}
