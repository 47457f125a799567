//! The report: a page that a strict parser reads, whose figures are those of the JSON.

#[cfg(feature = "browser")]
mod browser;
#[cfg(feature = "browser")]
mod devtools;
mod figures;
mod page;
mod pages;
mod paper;
