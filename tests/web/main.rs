//! Whole requests through the doors: one file a page, on real data files, today fixed.

mod athletes;
mod guards;
mod settings;
mod weeks;
