//! The season on paper and in files: page, PDF, workbook, data package, export without names.

mod export;
mod package;
mod pages;
mod workbook;

use std::collections::BTreeMap;
use std::io::Read;

use tests::{Farmstead, TestApp};

/// The files of an archive by name.
fn unzipped(bytes: &[u8]) -> BTreeMap<String, String> {
    let mut archive = zip::ZipArchive::new(std::io::Cursor::new(bytes)).expect("an archive");
    let mut files = BTreeMap::new();
    for at in 0..archive.len() {
        let mut file = archive.by_index(at).expect("a file");
        let mut text = String::new();
        file.read_to_string(&mut text).expect("text");
        files.insert(file.name().expect("a name").into_owned(), text);
    }
    files
}

/// A table as rows of members by the name of their column.
fn table(csv: &str) -> Vec<BTreeMap<String, String>> {
    assert!(csv.contains("\r\n"), "lines end with CR LF");
    let mut lines = csv.split("\r\n").filter(|line| !line.is_empty()).map(cells);
    let names = lines.next().expect("a head");
    lines
        .map(|line| {
            assert_eq!(line.len(), names.len(), "{line:?}");
            names.iter().cloned().zip(line).collect()
        })
        .collect()
}

/// The cells of a line, by RFC 4180.
fn cells(line: &str) -> Vec<String> {
    let (mut cells, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    let mut letters = line.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' if quoted && letters.peek() == Some(&'"') => {
                letters.next();
                cell.push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(std::mem::take(&mut cell)),
            other => cell.push(other),
        }
    }
    cells.push(cell);
    cells
}

/// So many growers, each with a dig behind an issued sheet.
async fn season(app: &TestApp, growers: usize) -> Vec<Farmstead> {
    let mut all = Vec::new();
    for at in 0..growers {
        let stead = Farmstead::make(&app.lead, &format!("Grower Marchbanks {at}")).await;
        stead.issue(&app.lead).await;
        all.push(stead.with_dig(&app.lead).await);
    }
    all
}
