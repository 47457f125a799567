//! The library's refusals, by the kinds that the vector files use.

use halfskip::calibration::angle_check::AngleCheckError;
use halfskip::calibration::curve::CurveError;
use halfskip::calibration::level::LevelError;
use halfskip::calibration::linearity::LinearityError;
use halfskip::calibration::timebase::TimeBaseError;
use halfskip::calibration::transfer::TransferError;
use halfskip::part::curved::CurvedError;
use halfskip::part::locate::LocateError;
use halfskip::physics::attenuation::AttenuationError;
use halfskip::physics::decibels::DecibelsError;
use halfskip::physics::far_field::LawError;
use halfskip::physics::material::MaterialError;
use halfskip::physics::probe::ProbeError;
use halfskip::physics::refraction::RefractionError;
use halfskip::units::error::RangeError;

/// The kind of a refusal.
pub(super) trait Kind {
    fn kind(&self) -> &'static str;
}

const OUT_OF_RANGE: &str = "out-of-range";
const OTHER: &str = "another refusal";

impl Kind for &'static str {
    fn kind(&self) -> &'static str {
        self
    }
}

impl Kind for RangeError {
    fn kind(&self) -> &'static str {
        match self.quantity {
            "corner path" => "corner-too-short",
            "tip path" => "tip-too-short",
            _ => OUT_OF_RANGE,
        }
    }
}

impl Kind for RefractionError {
    fn kind(&self) -> &'static str {
        match self {
            Self::PastFirstCritical { .. } => "past-first-critical",
            Self::PastSecondCritical { .. } => "past-second-critical",
            Self::NoCriticalAngle { .. } => "no-critical-angle",
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}

impl Kind for ProbeError {
    fn kind(&self) -> &'static str {
        match self {
            Self::Range(_) => OUT_OF_RANGE,
            Self::Refraction(error) => error.kind(),
            _ => OTHER,
        }
    }
}

impl Kind for MaterialError {
    fn kind(&self) -> &'static str {
        match self {
            Self::LongitudinalTooSlow { .. } => "speeds-impossible",
            _ => OTHER,
        }
    }
}

impl Kind for CurvedError {
    fn kind(&self) -> &'static str {
        match self {
            Self::Range(_) => OUT_OF_RANGE,
            Self::NoBore { .. } => "no-bore",
            Self::TooDeep { .. } => "too-deep",
            _ => OTHER,
        }
    }
}

impl Kind for LocateError {
    fn kind(&self) -> &'static str {
        match self {
            Self::Range(_) => OUT_OF_RANGE,
            Self::CornerTooShort { .. } => "corner-too-short",
            Self::TipTooShort { .. } => "tip-too-short",
            Self::Curved(error) => error.kind(),
            _ => OTHER,
        }
    }
}

impl Kind for DecibelsError {
    fn kind(&self) -> &'static str {
        match self {
            Self::Ratio { .. } | Self::NoHeight => "no-logarithm",
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}

impl Kind for CurveError {
    fn kind(&self) -> &'static str {
        match self {
            Self::Outside { .. } => "outside-curve",
            Self::Duplicate { .. } => "duplicate-path",
            Self::NoHeight => "no-logarithm",
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}

impl Kind for LevelError {
    fn kind(&self) -> &'static str {
        match self {
            Self::NoNoiseHeight => "no-logarithm",
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}

impl Kind for TransferError {
    fn kind(&self) -> &'static str {
        match self {
            Self::NoShot { .. } | Self::EqualPaths { .. } => "no-line",
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}

impl Kind for TimeBaseError {
    fn kind(&self) -> &'static str {
        match self {
            Self::TooFew { .. } => "too-few",
            Self::EqualPaths { .. } => "equal-paths",
            Self::NotRising { .. } => "not-rising",
            Self::BeforeEntry { .. } => "before-entry",
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}

impl Kind for AngleCheckError {
    fn kind(&self) -> &'static str {
        match self {
            Self::NoHole => "too-few",
            Self::EqualDepths { .. } => "equal-depths",
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}

impl Kind for LinearityError {
    fn kind(&self) -> &'static str {
        match self {
            Self::NothingJudged => "nothing-judged",
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}

impl Kind for AttenuationError {
    fn kind(&self) -> &'static str {
        match self {
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}

impl Kind for LawError {
    fn kind(&self) -> &'static str {
        match self {
            Self::TooNear { .. } => "too-near",
            Self::Range(_) => OUT_OF_RANGE,
            _ => OTHER,
        }
    }
}
