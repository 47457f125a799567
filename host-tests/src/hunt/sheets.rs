//! The sheets of the hunt: what is accepted, and what an accept needs. All of them INVENTED.

use std::sync::LazyLock;

use halfskip::acceptance::technique::Technique;

/// Criteria sheets by name.
pub const SHEETS: [(&str, &str); 5] = [
    ("demonstration.toml", include_str!("../../../examples/criteria/demonstration.toml")),
    ("level-length.toml", include_str!("../../transcripts/level-length.toml")),
    ("length.toml", LENGTH),
    ("length-at-level.toml", LENGTH_AT_LEVEL),
    ("weighted.toml", include_str!("../../transcripts/weighted.toml")),
];

/// Whatever is longer than the plate is thick is rejected, and so is what is stronger than −6 dB.
const LENGTH: &str = r#"
title = "Length and depth (INVENTED)"
source = "invented for this hunt, no document"
measure = "level"
length-by = "drop-6"
group = "1L"
[[row]]
at-most = -6
length-up-to = "1t"
verdict = "accept"
[[row]]
verdict = "reject"
"#;

/// The same by the length that stays at a level.
const LENGTH_AT_LEVEL: &str = r#"
title = "Length at a level (INVENTED)"
source = "invented for this hunt, no document"
measure = "level"
length-by = "level"
length-level = -20
group = "1L"
[[row]]
at-most = -6
length-up-to = "1t"
verdict = "accept"
[[row]]
verdict = "reject"
"#;

/// Technique sheets by name.
pub const TECHNIQUES: [(&str, &str); 5] = [
    ("measured.toml", MEASURED),
    ("stated.toml", STATED),
    ("parent-metal.toml", PARENT_METAL),
    ("covered.toml", COVERED),
    ("lean.toml", LEAN),
];

/// Nothing may be stated, every limit is set.
const MEASURED: &str = r#"
title = "All measured (INVENTED)"
source = "invented for this hunt, no document"
asks = ["range-check", "sensitivity-check", "angle", "reference", "transfer", "reach", "on-weld", "thickness", "together",
    "amplitude", "place", "linearity"]
angles = [45, 60, 70]
frequency-from = 2
frequency-to = 5
angle-within = 1.5
index-within = 0.8
range-within = 1.5
sensitivity-within = 1.5
transfer-from = -4
transfer-to = 8
check-every = 4
amplitude-from = 30
amplitude-to = 90
"#;

/// Much may be stated, few limits are set.
const STATED: &str = r#"
title = "Much stated (INVENTED)"
source = "invented for this hunt, no document"
asks = ["range-check", "sensitivity-check", "angle", "reference", "transfer", "reach", "on-weld", "thickness", "together",
    "amplitude", "place"]
stated-ok = ["angle", "reference", "transfer"]
transfer-from = -6
transfer-to = 6
check-every = "150min"
amplitude-from = 20
amplitude-to = 100
"#;

/// The parent metal and the linearity too.
const PARENT_METAL: &str = r#"
title = "With the parent metal (INVENTED)"
source = "invented for this hunt, no document"
asks = ["range-check", "sensitivity-check", "angle", "reference", "transfer", "reach", "on-weld", "thickness", "together",
    "amplitude", "place", "linearity", "parent-metal"]
stated-ok = ["transfer", "parent-metal"]
angles = [45, 60, 70]
transfer-from = -6
transfer-to = 12
amplitude-from = 20
amplitude-to = 100
"#;

/// Every ground there is.
const COVERED: &str = r#"
title = "With the coverage (INVENTED)"
source = "invented for this hunt, no document"
asks = ["range-check", "sensitivity-check", "angle", "reference", "transfer", "reach", "on-weld", "thickness", "together",
    "amplitude", "place", "linearity", "parent-metal", "coverage"]
stated-ok = ["angle", "parent-metal"]
angles = [45, 60, 70]
frequency-from = 2
transfer-from = -6
transfer-to = 12
check-every = 3
amplitude-from = 20
amplitude-to = 100
coverage = 40
"#;

/// Less than the minimum.
const LEAN: &str = r#"
title = "Lean (INVENTED)"
source = "invented for this hunt, no document"
asks = ["range-check", "angle", "reference", "reach", "on-weld", "together", "amplitude", "place"]
stated-ok = ["reference"]
amplitude-from = 20
"#;

static READ: LazyLock<Vec<(&str, Technique)>> = LazyLock::new(|| {
    TECHNIQUES
        .iter()
        .map(|(name, text)| (*name, halfskip_console::sheets::technique::read(text).unwrap()))
        .collect()
});

/// The technique sheet of a name; without one the built-in minimum.
///
/// # Panics
/// When one of the sheets cannot be read.
#[must_use]
pub fn technique(name: Option<&str>) -> Option<&'static Technique> {
    static MINIMUM: Technique = Technique::MINIMUM;
    match name {
        Some(name) => READ.iter().find(|(known, _)| *known == name).map(|(_, technique)| technique),
        None => Some(&MINIMUM),
    }
}
