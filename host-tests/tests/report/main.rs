//! The report: a page that a strict parser reads, whose figures are those of the JSON.

mod figures;
mod page;
mod pages;
mod paper;
