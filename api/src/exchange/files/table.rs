//! Text to lines of cells (RFC 4180), with the number of each line.
//!
//! Commas, semicolons or tabs divide cells, whichever the header has most of; quoted cells may hold them,
//! line breaks and doubled quotes. Blank lines are passed over. A quote that is not closed, or is
//! followed by more than the end of its cell, is refused: it would swallow what comes after it.

use crate::http::BadMember;

/// What may divide cells; the first one counts where the header has none.
const SEPARATORS: [u8; 3] = [b',', b';', b'\t'];

/// A file as lines of cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What divides its cells.
    pub separator: char,
    /// The cells of its first line.
    pub header: Vec<String>,
    /// The lines after it.
    pub lines: Vec<Line>,
}

/// A line that says something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Its number in the file, where it begins; the header is 1.
    pub number: usize,
    /// Its cells, without spaces around them.
    pub cells: Vec<String>,
}

/// Reads a file.
///
/// # Errors
/// When it is empty, a quote is misplaced, or it has more than `most` lines.
pub fn read(text: &str, most: usize) -> Result<Table, BadMember> {
    let separator = separator_of(text);
    check_quotes(text, separator)?;
    let mut records = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(text.as_bytes())
        .into_records();
    let mut place = Numbers { text: text.as_bytes(), at: 0, line: 1 };
    let mut found: Vec<Line> = Vec::new();
    for record in records.by_ref() {
        let record = record.map_err(|_unreadable| broken(place.line, "can't be read"))?;
        let number = place.of(&record);
        let cells: Vec<String> = record.iter().map(|cell| cell.trim().to_owned()).collect();
        if cells.iter().all(String::is_empty) {
            continue;
        }
        if found.len() > most {
            return Err(broken(number, "is one too many: send the file in parts")
                .allowed(format!("at most {most} lines after the header")));
        }
        found.push(Line { number, cells });
    }
    let mut lines = found.into_iter();
    let header = lines.next().ok_or_else(|| BadMember::new("#line=1", "The file is empty."))?;
    let lines = lines.collect();
    Ok(Table { separator: char::from(separator), header: header.cells, lines })
}

/// What the first line has most of, outside of quotes.
fn separator_of(text: &str) -> u8 {
    let first = text.trim_start_matches(['\r', '\n']);
    let mut counts = [0_usize; SEPARATORS.len()];
    let mut quoted = false;
    for byte in first.bytes() {
        match byte {
            b'"' => quoted = !quoted,
            b'\r' | b'\n' if !quoted => break,
            _ if !quoted => {
                for (count, separator) in counts.iter_mut().zip(SEPARATORS) {
                    *count += usize::from(byte == separator);
                }
            }
            _ => {}
        }
    }
    let most = counts.iter().max().copied().unwrap_or_default();
    let found = counts.iter().zip(SEPARATORS).find(|(count, _)| **count == most);
    found.map_or(b',', |(_, separator)| separator)
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum At {
    CellStart,
    Plain,
    Quoted,
    /// After a quote inside of quotes: its end, or the first of two.
    Closing,
}

/// Every quoted cell must end with its quote.
fn check_quotes(text: &str, separator: u8) -> Result<(), BadMember> {
    let (mut at, mut line, mut opened) = (At::CellStart, 1_usize, 1_usize);
    for byte in text.bytes() {
        let ends = byte == separator || byte == b'\r' || byte == b'\n';
        at = match (at, byte) {
            (At::CellStart, b'"') => {
                opened = line;
                At::Quoted
            }
            (At::Quoted, b'"') => At::Closing,
            (At::Closing, b'"') | (At::Quoted, _) => At::Quoted,
            (_, _) if ends => At::CellStart,
            (At::Closing, _) => {
                return Err(broken(line, "has text behind a closing quote")
                    .why("a quote inside of quotes is written twice"));
            }
            (At::CellStart | At::Plain, _) => At::Plain,
        };
        line += usize::from(byte == b'\n');
    }
    if at == At::Quoted {
        return Err(broken(opened, "opens a quote that is never closed"));
    }
    Ok(())
}

/// Counts the lines up to a record: blank ones count too, whatever ends a line.
struct Numbers<'a> {
    text: &'a [u8],
    at: usize,
    line: usize,
}

impl Numbers<'_> {
    /// The number of the line on which a record begins. Records come in order.
    fn of(&mut self, record: &csv::StringRecord) -> usize {
        let start = record.position().map_or(0, csv::Position::byte);
        let start = usize::try_from(start).unwrap_or(usize::MAX);
        let rest = self.text.get(start..).unwrap_or_default();
        let ends = rest.iter().take_while(|byte| matches!(byte, b'\r' | b'\n')).count();
        let passed = self.text.get(self.at..start + ends).unwrap_or_default();
        self.line += line_ends(passed);
        self.at = start + ends;
        self.line
    }
}

/// `\r\n`, `\n` and `\r` each end one line.
fn line_ends(text: &[u8]) -> usize {
    let ends = |end: u8| text.split(|byte| *byte == end).count() - 1;
    let pairs = text.windows(2).filter(|pair| *pair == b"\r\n").count();
    ends(b'\n') + ends(b'\r') - pairs
}

fn broken(line: usize, what: &str) -> BadMember {
    BadMember::new(format!("#line={line}"), format!("Line {line} {what}."))
}

#[cfg(test)]
mod tests {
    use super::{Table, read};
    use proptest::prelude::*;

    fn table(text: &str) -> Table {
        read(text, 1000).expect(text)
    }

    fn line(text: &str) -> String {
        read(text, 1000).expect_err(text).pointer
    }

    #[test]
    fn any_usual_separator_and_line_end_is_taken() {
        for text in [
            "id,name\nF-1,North\n",
            "id;name\r\nF-1;North",
            "id\tname\rF-1\tNorth\r",
            "\n\nid,name\n\n\"F-1\" ,North\n,\n",
        ] {
            // A space behind a closing quote is text, which is refused.
            let text = text.replace("\" ,", "\",");
            let found = table(&text);
            assert_eq!(found.header, ["id", "name"], "{text}");
            assert_eq!(found.lines.len(), 1, "{text}");
            assert_eq!(found.lines[0].cells, ["F-1", "North"], "{text}");
        }
        assert_eq!(table("a;\"b,c,d\"\n1;2").separator, ';');
        assert_eq!(table("only\nx").separator, ',');
    }

    #[test]
    fn quotes_hold_separators_breaks_and_quotes() {
        let found = table("id,name\n1,\"North\n\"\"forty\"\", east\"\n2,12\" rows\n");
        assert_eq!(found.lines[0].cells, ["1", "North\n\"forty\", east"]);
        assert_eq!((found.lines[0].number, found.lines[1].number), (2, 4));
        assert_eq!(found.lines[1].cells, ["2", "12\" rows"], "a quote inside of a plain cell");
    }

    #[test]
    fn a_quote_that_swallows_what_follows_is_refused() {
        assert_eq!(line("id,name\n1,\"North\n2,South\n"), "#line=2");
        assert_eq!(line("id,name\n1,a\n2,\"South\" forty\n"), "#line=3");
        assert_eq!(line(""), "#line=1");
        assert_eq!(line("\n , \n"), "#line=1");
    }

    #[test]
    fn a_file_may_have_so_many_lines_and_no_more() {
        let text = format!("id\n{}", "x\n".repeat(3));
        assert_eq!(read(&text, 3).expect("just so many").lines.len(), 3);
        assert_eq!(read(&text, 2).expect_err("too many").pointer, "#line=4");
    }

    proptest! {
        /// What a writer of RFC 4180 writes is read back, cell by cell, whatever stands in it.
        #[test]
        fn what_is_written_is_read_back(
            separator in prop::sample::select(vec![b',', b';', b'\t']),
            crlf in any::<bool>(),
            cells in prop::collection::vec(
                prop::collection::vec("[a-z0-9 ,;\t\"\r\n=+@ä-]{0,12}", 3), 1..12),
        ) {
            let terminator =
                if crlf { csv::Terminator::CRLF } else { csv::Terminator::Any(b'\n') };
            let mut writer = csv::WriterBuilder::new()
                .delimiter(separator)
                .terminator(terminator)
                .from_writer(Vec::new());
            writer.write_record(["one", "two", "three"]).expect("written");
            for row in &cells {
                writer.write_record(row).expect("written");
            }
            let bytes = writer.into_inner().expect("written");
            let text = String::from_utf8(bytes).expect("text");
            let found = read(&text, 1000).expect("what was written");
            prop_assert_eq!(found.separator, char::from(separator));
            let trimmed = |row: &Vec<String>| -> Vec<String> {
                row.iter().map(|cell| cell.trim().to_owned()).collect()
            };
            let wanted: Vec<_> = cells
                .iter()
                .map(trimmed)
                .filter(|row| row.iter().any(|cell| !cell.is_empty()))
                .collect();
            let read_back: Vec<_> = found.lines.iter().map(|line| line.cells.clone()).collect();
            prop_assert_eq!(read_back, wanted);
            for line in &found.lines {
                prop_assert!(line.number > 1);
            }
            let numbers: Vec<_> = found.lines.iter().map(|line| line.number).collect();
            prop_assert!(numbers.is_sorted());
        }

        /// No text brings the reader down.
        #[test]
        fn any_text_is_read_or_refused(text in "[ -~\r\n\t;,\"]{0,200}") {
            drop(read(&text, 1000));
        }
    }
}
