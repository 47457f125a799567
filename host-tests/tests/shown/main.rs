//! What a reader sees: sessions as typed and answered, README and chapters, the report.

mod readme;
mod report;
mod transcripts;
