//! What stands in the way of a verdict is told as it is, and so is what takes it away. Sheets and readings are invented.

use halfskip_console::host::sheet;
use halfskip_console::sheets::OneSheet;
use halfskip_console::shell::Shell;

/// Answers to `questions` after `lines`, spaces and line ends each as one space.
fn asked(rows: &str, lines: &[&str], questions: [&str; 2]) -> [String; 2] {
    let head = "title = 'invented'\nsource = 'none'\nmeasure = 'level'\nlength-by = 'drop-6'\n";
    let sheet = sheet::read::<24>(&format!("{head}{rows}")).unwrap();
    let mut shell: Box<Shell<OneSheet<24>>> = Box::new(Shell::new(OneSheet { name: "it", sheet }));
    for line in lines {
        let mut answer = String::new();
        shell.line(line.as_bytes(), &mut answer);
        assert!(!answer.contains("not recorded:"), "{line}: {answer}");
    }
    questions.map(|question| {
        let mut answer = String::new();
        shell.ask(question.as_bytes(), &mut answer);
        answer.split_whitespace().collect::<Vec<_>>().join(" ")
    })
}

const SETTINGS: [&str; 5] = [
    "material m shear=3.24 long=5.92",
    "joint butt thickness=20 prep=square gap=2",
    "probe p angle=60 frequency=4 element=8x9",
    "dac p path=50 height=80 gain=40",
    "criteria it",
];

#[test]
fn a_voided_probe_is_told_as_such_and_not_as_a_reading_out_of_force() {
    let reading = "reading 1 probe=p side=a x=100 standoff=17.32 path=20 height=80 gain=60";
    let lines: Vec<&str> = SETTINGS.into_iter().chain([reading, "void 3 reason=\"another probe\""]).collect();
    let [rate, margin] = asked("[[row]]\nverdict = 'accept'\n", &lines, ["rate 1", "margin 1"]);
    let because = "because reading 6 has no place: the probe's entry was voided";
    assert!(rate.starts_with(&format!("Indication 1: undetermined {because}")), "{rate}");
    assert!(margin.contains(because) && margin.contains("to settle it probe p entered again"), "{margin}");
    let lines: Vec<&str> = SETTINGS.into_iter().chain([reading, "void 6 reason=\"not meant\""]).collect();
    let [rate, margin] = asked("[[row]]\nverdict = 'accept'\n", &lines, ["rate 1", "margin 1"]);
    assert!(rate.contains("because no reading of it is in force"), "{rate}");
    assert!(margin.contains("to settle it a reading of it"), "{margin}");
}
