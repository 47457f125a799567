//! Whoever types what a chapter shows: a folder with a copy of the project in it, a shell, the program, a device.

use std::collections::VecDeque;
use std::fs;
use std::io::Write;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use halfskip_console::desk::Outcome;
use halfskip_console::desk::args::{CAUTION, VERSION};
use halfskip_console::desk::console::Desk;
use halfskip_console::desk::session::Session;

use super::device::{Device, Line};
use super::scan;

/// Where a device is plugged in, in a chapter.
const PORT: &str = "/dev/ttyACM0";

pub struct Player {
    folder: PathBuf,
    session: Option<Session<Desk>>,
    device: Option<Device>,
}

impl Player {
    /// A folder with the project in `halfskip` and what commands elsewhere have left: the frames of the example `scan`.
    pub fn new(chapter: &str) -> Self {
        let name = format!("halfskip-chapter-{}-{}", chapter.replace('/', "-"), std::process::id());
        let folder = std::env::temp_dir().join(name);
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(folder.join("programs")).unwrap();
        symlink(Path::new(env!("CARGO_MANIFEST_DIR")).join(".."), folder.join("halfskip")).unwrap();
        symlink(env!("CARGO_BIN_EXE_desk"), folder.join("programs/halfskip")).unwrap();
        fs::write(folder.join("scan.frames"), scan::frames()).unwrap();
        Self { folder, session: None, device: None }
    }

    /// The answer to each line.
    pub fn typed(&mut self, lines: &[&str]) -> Vec<String> {
        let mut answers = Vec::new();
        let mut lines: VecDeque<&str> = lines.iter().copied().collect();
        while let Some(line) = lines.pop_front() {
            match line.split_at(2) {
                ("$ ", command) => {
                    self.session = None;
                    if command.starts_with("halfskip --job ") {
                        answers.push(self.open(command));
                    } else if command.starts_with("halfskip serial ") {
                        let until =
                            lines.iter().position(|line| line.starts_with("$ ")).unwrap_or(lines.len());
                        let talked: Vec<&str> = lines.drain(..until).collect();
                        answers.extend(self.talk(command, &talked));
                    } else {
                        answers.push(self.command(command, ""));
                    }
                }
                (_, fact) => answers.push(self.line(fact)),
            }
        }
        answers
    }

    /// Begins a session as at a terminal.
    fn open(&mut self, command: &str) -> String {
        let words: Vec<&str> = command.split(' ').collect();
        let (job, sealed) = match words[..] {
            ["halfskip", "--job", job] => (job, false),
            ["halfskip", "--job", job, "--sealed"] => (job, true),
            _ => panic!("{command}"),
        };
        let path = self.folder.join(job);
        let mut told = Vec::new();
        let mut session = Session::open(Desk::new(Some(&path)), &path, &mut told).ok().unwrap();
        if sealed {
            session.seal();
        }
        self.session = Some(session);
        format!("{VERSION}{CAUTION}{}", self.plain(told))
    }

    /// One line of a session, answered as at a terminal.
    fn line(&mut self, line: &str) -> String {
        let session = self.session.as_mut().unwrap_or_else(|| panic!("no session takes {line}"));
        let mut answer = String::new();
        match session.take(line.as_bytes(), &mut answer).ok().unwrap() {
            Outcome::Refused { column: Some(column) } => format!("column {column}: {answer}"),
            _ => answer,
        }
    }

    /// A conversation with the device: its first answer, and that to each line.
    fn talk(&mut self, command: &str, lines: &[&str]) -> Vec<String> {
        let typed: String = lines.iter().map(|line| format!("{}\n", &line[2..])).collect();
        let shown = self.command(command, &typed);
        let mut answers = vec![String::new()];
        // A line that is echoed at the prompt, however it scrolls there, begins the next answer; prompts alone begin none.
        let is_more = |line: &&str| !line.replace("\x1b[K", "").trim_start_matches("> ").is_empty();
        for line in shown.lines().filter(is_more) {
            match line.starts_with("> ") {
                true => answers.push(String::new()),
                false => *answers.last_mut().unwrap() += &format!("{line}\n"),
            }
        }
        assert_eq!(answers.len(), lines.len() + 1, "{shown}");
        answers
    }

    /// What a command writes, to either end.
    fn command(&mut self, command: &str, typed: &str) -> String {
        let mut command = command.to_owned();
        if command.contains(PORT) {
            let device = self.device.get_or_insert_with(|| Device::plugged("", Line::default()));
            command = command.replace(PORT, device.path.to_str().unwrap());
        }
        let path = format!("{}:/usr/bin:/bin", self.folder.join("programs").display());
        let mut shell = Command::new("/bin/sh")
            .args(["-c", &format!("exec 2>&1; {command}")])
            .current_dir(&self.folder)
            .env_clear()
            .envs([("PATH", path.as_str()), ("LC_ALL", "C")])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        // A command that asks for nothing may have ended before it is written to.
        let _ = shell.stdin.take().unwrap().write_all(typed.as_bytes());
        let output = shell.wait_with_output().unwrap();
        self.plain(output.stdout)
    }

    /// What was written, with the names that a reader has for the folder and the port.
    fn plain(&self, bytes: Vec<u8>) -> String {
        let text = String::from_utf8(bytes).unwrap().replace('\r', "");
        let text = text.replace(&format!("{}/", self.folder.display()), "");
        match &self.device {
            Some(device) => text.replace(device.path.to_str().unwrap(), PORT),
            None => text,
        }
    }
}

impl Drop for Player {
    fn drop(&mut self) {
        self.session = None;
        if let Some(device) = self.device.take() {
            device.unplug();
        }
        let _ = fs::remove_dir_all(&self.folder);
    }
}
