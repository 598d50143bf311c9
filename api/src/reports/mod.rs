//! The season on paper and in files: page, PDF, workbook, data package.

pub mod charts;
pub mod file;
pub mod package;
pub mod page;
pub mod paper;
#[cfg(test)]
mod sample;
pub mod tables;
pub mod words;
pub mod workbook;
