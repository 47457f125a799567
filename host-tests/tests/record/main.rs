//! What is kept and read again: frames, stores, job files, exported lines, digests of every answer.

mod archive;
mod export;
mod frames;
mod fuzzed;
mod grounds_told;
mod killed;
mod pinned;
mod recorder;
mod store;
mod store_faults;
