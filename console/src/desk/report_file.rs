//! `halfskip report`: the files of a report. A report takes the place of an older one, whole or not at all, and of nothing else.

use std::format;
use std::fs::{self, File, Permissions};
use std::io::{self, Read, Write};
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::string::String;
use std::vec::Vec;

use super::args::Report;
use super::check::Watched;
use super::console::Desk;
use super::exit::{Exit, Stop, reason};
use super::feed::read_job;
use super::job::sync_directory;
use super::names::shown;
use super::paper::{self, PRODUCER};
use super::patience::opened;
use super::report::{document, html};
use super::run::folder;
use super::seal::Seals;

/// What a page says behind its first line, by which it is known to be a report of this program.
const PAGE: &str = "<!-- halfskip report -->\n";
/// A report is far shorter; what is longer is none.
const LONGEST: u64 = 256 << 20;

/// Writes the report of a job. Any bad line is named with its place, and nothing is written then.
///
/// # Errors
/// [`Stop`]: the job cannot be had, a line of it is bad, or the report cannot be written.
pub fn run(asked: &Report) -> Result<Exit, Stop> {
    let mut desk = Desk::new(folder(&asked.job));
    let mut watched = Watched { lines: &mut desk, seals: Seals::default() };
    read_job(&asked.job, &mut watched, &mut io::stderr())?;
    let seals = watched.seals;
    let document = document(desk.shell(), Some(&seals));
    let document = document.ok_or_else(|| Stop::Failed("the job is being evaluated already".into()))?;
    if let Some(path) = &asked.html {
        put(path, marked(&html::page(&document)).as_bytes())?;
    }
    if let Some(path) = &asked.pdf {
        put(path, &paper::pdf(&document, asked.paper))?;
    }
    Ok(Exit::Done)
}

/// A page with its mark.
fn marked(page: &str) -> String {
    page.replacen(html::HEAD, &format!("{}{PAGE}", html::HEAD), 1)
}

/// Puts a report where a path says.
fn put(path: &Path, report: &[u8]) -> Result<(), Stop> {
    let name = shown(path);
    let failed = |error: io::Error| Stop::Failed(format!("{name}: cannot be written: {}", reason(&error)));
    let refused = |why: &str| Err(Stop::Failed(format!("{name}: {why}; name another file")));
    match (fs::metadata(path), fs::read_link(path)) {
        (Ok(found), _) if found.is_dir() => refused("is a directory"),
        (Ok(found), _) if found.is_file() => {
            if !is_report(path).map_err(failed)? {
                return refused("holds something else than a report of this program");
            }
            // A link stays one: what it points at is replaced.
            let path = fs::canonicalize(path).map_err(failed)?;
            replace(&path, report, found.permissions()).map_err(failed)
        }
        // A device or a pipe takes what comes.
        (Ok(_), _) => {
            let mut file = opened(path, File::options().write(true)).map_err(failed)?;
            file.write_all(report).map_err(failed)
        }
        (Err(_), Ok(to)) => refused(&format!("is a link to {}, which is not there", shown(&to))),
        (Err(error), _) if error.kind() != io::ErrorKind::NotFound => Err(failed(error)),
        // Whoever runs the program has a mask for what that leaves open.
        _ => replace(path, report, Permissions::from_mode(0o666)).map_err(failed),
    }
}

/// Writes a file beside, and puts it in the place when it is on disk: before that the old one is there, after it the new one.
fn replace(path: &Path, report: &[u8], permissions: Permissions) -> io::Result<()> {
    let folder = path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut beside =
        tempfile::Builder::new().prefix(".halfskip-report-").permissions(permissions).tempfile_in(folder)?;
    beside.write_all(report)?;
    beside.as_file().sync_all()?;
    beside.persist(path).map_err(|error| error.error)?;
    sync_directory(path)
}

/// Whether a file is empty or a report of this program. One to which something was added since, such as a signature, is none.
fn is_report(path: &Path) -> io::Result<bool> {
    let mut held = Vec::new();
    if File::open(path)?.take(LONGEST).read_to_end(&mut held)? == 0 {
        return Ok(true);
    }
    let found = |text: &str| held.windows(text.len()).filter(|part| *part == text.as_bytes()).count();
    let page = held.starts_with(format!("{}{PAGE}", html::HEAD).as_bytes());
    let sheets = held.starts_with(paper::HEAD) && found(&format!("/Producer ({PRODUCER})")) == 1;
    Ok(page || (sheets && found("%%EOF") == 1))
}
