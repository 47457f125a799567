//! The chapters are played: every command and every session in them is answered as it is shown.
//!
//! A fence says what stands in it:
//!
//! | word | what is done with it |
//! | --- | --- |
//! | `console` | `$ command` and `> line` are typed, in one folder a chapter; what follows has to be the answer |
//! | `rust` | compiled and run, as an example of this package's documentation |
//! | `sh` | run by `bash .ci/chapters`, since it needs what a plain `cargo test` has not |
//! | `text answer` | what the `sh` block before it has to say, held there too |
//! | `toml`, `text` | read |
//!
//! A line `...` in an answer stands for lines left out. With `HALFSKIP_BLESS=1` an answer that is not as shown is written
//! into the chapter, whole.

use std::fs;
use std::path::Path;

use super::played::Player;

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../");

/// Whether an answer is the one shown, lines left out apart.
fn is_shown(shown: &[&str], answer: &[&str]) -> bool {
    let Some(gap) = shown.iter().position(|line| *line == "...") else { return shown == answer };
    let (before, after) = (&shown[..gap], &shown[gap + 1..]);
    let Some(rest) = answer.strip_prefix(before) else { return false };
    // The gap ends at the first line from which on all that follows is as shown; it is not empty.
    (1..=rest.len()).any(|skipped| is_shown(after, &rest[skipped..]))
}

/// A block as it is played now: each line typed with its answer, that shown where it holds.
fn replayed(shown: &[&str], player: &mut Player) -> String {
    let is_typed = |line: &&str| line.starts_with("$ ") || line.starts_with("> ");
    let typed: Vec<&str> = shown.iter().copied().filter(is_typed).collect();
    assert_eq!(shown.first(), typed.first(), "a block begins with what is typed");
    let mut block = String::new();
    let mut shown = shown.iter().copied().peekable();
    for (line, answer) in typed.iter().zip(player.typed(&typed)) {
        assert_eq!(shown.next(), Some(*line));
        let mut was = Vec::new();
        while let Some(next) = shown.next_if(|next| !is_typed(next)) {
            was.push(next);
        }
        let now: Vec<&str> = answer.lines().collect();
        block += &format!("{line}\n");
        for line in if is_shown(&was, &now) { was } else { now } {
            block += &format!("{}\n", line.trim_end());
        }
    }
    block
}

/// The chapter as it is played now.
fn played(chapter: &str, text: &str) -> String {
    let mut player = Player::new(chapter);
    let (mut now, mut lines) = (String::new(), text.lines());
    while let Some(line) = lines.next() {
        now += &format!("{line}\n");
        let Some(kind) = line.strip_prefix("```") else { continue };
        let block: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
        // Behind the word may stand the file that `bash .ci/chapters` makes of the block.
        match kind.split(' ').next().unwrap() {
            "console" => now += &replayed(&block, &mut player),
            "rust" | "sh" | "toml" | "text" => block.iter().for_each(|line| now += &format!("{line}\n")),
            other => panic!("{chapter}: nothing holds a block of '{other}'"),
        }
        now += "```\n";
    }
    now
}

fn held(chapter: &'static str) {
    let play = move || {
        let file = format!("{ROOT}{chapter}");
        let text = fs::read_to_string(&file).unwrap();
        let now = played(chapter, &text);
        if std::env::var_os("HALFSKIP_BLESS").is_some() {
            return fs::write(file, now).unwrap();
        }
        let differing = text.lines().zip(now.lines()).zip(1..).find(|((was, is), _)| was != is);
        if let Some(((was, is), line)) = differing {
            panic!("{chapter}:{line}, HALFSKIP_BLESS=1 writes it\n  shown    {was}\n  answered {is}");
        }
        assert!(text == now, "{chapter} ends otherwise");
    };
    // A desk has room for far more than the stack of a test.
    std::thread::Builder::new().stack_size(64 << 20).spawn(play).unwrap().join().unwrap();
}

#[test]
fn the_chapter_of_the_technician_is_answered_as_shown() {
    held("console/README.md");
}

#[test]
fn the_chapter_of_the_instrument_maker_is_answered_as_shown() {
    held("core/README.md");
}

#[test]
fn the_chapter_of_the_logger_builder_is_answered_as_shown() {
    held("examples/logger/README.md");
}

/// All that core and console can say, as their sources spell it.
fn said(folder: &Path, all: &mut String) {
    for entry in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        if entry.is_dir() {
            said(&entry, all);
        } else if entry.extension().is_some_and(|extension| extension == "rs") {
            all.push_str(&fs::read_to_string(entry).unwrap());
        }
    }
}

#[test]
fn every_reason_that_the_technician_is_told_to_act_on_is_one_that_is_given() {
    let mut all = String::new();
    ["core/src", "console/src"].iter().for_each(|folder| said(&Path::new(ROOT).join(folder), &mut all));
    let chapter = fs::read_to_string(format!("{ROOT}console/README.md")).unwrap();
    let (_, table) = chapter.split_once("| it says | what to do |\n| --- | --- |\n").unwrap();
    let rows = table.lines().map_while(|line| line.strip_prefix("| ")?.split(" | ").next());
    let mut count = 0;
    for reason in rows.flat_map(|row| row.split("; ")) {
        count += 1;
        // Figures stand in for others.
        for part in reason.split(|c: char| c.is_ascii_digit() || c == '.').map(str::trim) {
            assert!(all.contains(part), "nothing says '{part}'");
        }
    }
    assert!(count > 12, "{count}");
}

#[test]
fn an_answer_with_lines_left_out_is_known_again_and_no_other() {
    let answer = ["a", "b", "c", "d"];
    assert!(is_shown(&answer, &answer));
    assert!(is_shown(&["a", "...", "d"], &answer));
    assert!(is_shown(&["...", "c", "..."], &answer));
    assert!(!is_shown(&["a", "b", "c"], &answer));
    assert!(!is_shown(&["a", "...", "c"], &answer));
    assert!(!is_shown(&["a", "b", "c", "d", "..."], &answer));
    assert!(!is_shown(&["...", "b", "a", "..."], &answer));
}
