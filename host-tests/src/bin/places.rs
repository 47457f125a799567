//! How often the truth lies within the uncertainty of place and height: `places [DRAWS]`, the draws of each set-up; 1 500
//! unless told otherwise.

use halfskip_host_tests::placed::{
    LEGS, ODD, Read, Reflector, Share, VELOCITY_OFF, set_ups, share, share_of_heights,
};

/// The reflectors, with what the `tolerance` line says of them.
const CASES: [(&str, Reflector, &str, f64); 11] = [
    ("point, `reflector=0`", Reflector::Void { across: 0.0 }, "reflector=0", 0.0),
    ("point, velocity off", Reflector::Void { across: 0.0 }, "reflector=0", VELOCITY_OFF),
    ("point", Reflector::Void { across: 0.0 }, "", 0.0),
    ("void, 1 mm", Reflector::Void { across: 1.0 }, "", 0.0),
    ("void, 2 mm", Reflector::Void { across: 2.0 }, "", 0.0),
    ("void, 3 mm", Reflector::Void { across: 3.0 }, "", 0.0),
    ("void, 5 mm", Reflector::Void { across: 5.0 }, "", 0.0),
    ("corner", Reflector::Corner, "", 0.0),
    ("tip of a leaning plane", Reflector::Tip, "", 0.0),
    ("plane of 2 mm", Reflector::Plane { height: 2.0 }, "", 0.0),
    ("plane of 4 mm", Reflector::Plane { height: 4.0 }, "", 0.0),
];

fn main() {
    let draws = std::env::args().nth(1).and_then(|word| word.parse().ok()).unwrap_or(1_500);
    println!("| reflector | 1 view | 2 or 3 views | 4 and more | lowest of a set-up |");
    println!("| --- | --- | --- | --- | --- |");
    for (name, reflector, tolerance, velocity) in CASES {
        let legs = if reflector == Reflector::Corner { ODD } else { LEGS };
        let mut classes = [Share::default(); 3];
        let mut lowest = (100.0, String::new());
        for set_up in set_ups(legs) {
            let found = share(&set_up, reflector, tolerance, velocity, draws);
            let class = match set_up.views() {
                1 => 0,
                2..=3 => 1,
                _ => 2,
            };
            classes[class].join(&found);
            if found.least() < lowest.0 {
                lowest = (found.least(), set_up.named());
            }
        }
        let cells = classes.map(|class| {
            let [across, down] = class.percents();
            format!("{across:.0} and {down:.0}")
        });
        println!("| {name} | {} | {:.0}, {} |", cells.join(" | "), lowest.0, lowest.1);
    }
    println!("\n| crack from the far face | 1 probe | 3 probes |\n| --- | --- | --- |");
    for (read, name) in Read::ALL {
        let cells: Vec<String> = [&[60.0][..], &[45.0, 60.0, 70.0]]
            .map(|angles| format!("{:.0}", share_of_heights(angles, read, 10 * draws, 5).percents()[0]))
            .to_vec();
        println!("| {name} | {} |", cells.join(" | "));
    }
}
