//! The arguments of what talks to a device.

use std::path::PathBuf;
use std::string::{String, ToString};

use lexopt::prelude::{Long, Value};

use super::{Command, alone, source, wrong};

pub(super) fn serial(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let (mut port, mut record) = (None, None);
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Long("record") => record = Some(PathBuf::from(parser.value().map_err(wrong)?)),
            Value(path) if port.is_none() => port = Some(PathBuf::from(path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    let port = port.ok_or("serial needs the port of a device, such as /dev/ttyACM0")?;
    Ok(Command::Serial { port, record })
}

pub(super) fn ingest(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let mut from = None;
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Value(path) if from.is_none() => from = Some(source(&path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    from.map(Command::Ingest)
        .ok_or("ingest needs a file of frames, a port, or - for standard input".to_string())
}

pub(super) fn send(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let (mut job, mut port) = (None, None);
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Value(path) if job.is_none() => job = Some(source(&path)),
            Value(path) if port.is_none() => port = Some(PathBuf::from(path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    match (job, port) {
        (Some(job), Some(port)) => Ok(Command::Send { job, port }),
        _ => Err("send needs a job file and the port of a device".to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Command, Source, parse};

    #[test]
    fn a_port_and_what_goes_through_it() {
        let port = "/dev/ttyACM0".into();
        let record = Some("a.job".into());
        assert_eq!(
            parse(["serial", "--record", "a.job", "/dev/ttyACM0"]),
            Ok(Command::Serial { port, record })
        );
        assert_eq!(parse(["ingest", "-"]), Ok(Command::Ingest(Source::Standard)));
        let job = Source::File("a.job".into());
        assert_eq!(parse(["send", "a.job", "port"]), Ok(Command::Send { job, port: "port".into() }));
        for arguments in
            [&["serial"][..], &["ingest"], &["send", "a.job"], &["ingest", "a", "b"], &["serial", "--log"]]
        {
            let said = parse(arguments).unwrap_err();
            assert!(!said.is_empty() && !said.contains('\n'), "{said}");
        }
    }
}
