//! Reading a file of comma-separated values: which column is which, in which unit, and line by line
//! what it says. What can't be read is named by line and column.

use chrono::NaiveDate;

use super::days::{self, Entered, NewDay, Places};
use super::dto::{DayOutcome, SentDay};
use crate::entities::air_temperatures::DayKind;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember};

/// Most lines of a file, its header not counted.
pub(super) const MOST_LINES: usize = 4000;
/// Most columns of a file.
const MOST_COLUMNS: usize = 200;

const DATE: &[&str] = &["date", "day"];
const HIGH: &[&str] = &["high", "max", "tmax", "t_max", "maximum", "temp_max", "max_temp"];
const LOW: &[&str] = &["low", "min", "tmin", "t_min", "minimum", "temp_min", "min_temp"];
const UNITS: &[(&str, &str)] = &[
    ("[degf]", "[degF]"),
    ("degf", "[degF]"),
    ("fahrenheit", "[degF]"),
    ("°f", "[degF]"),
    ("f", "[degF]"),
    ("celsius", "Cel"),
    ("degc", "Cel"),
    ("°c", "Cel"),
    ("cel", "Cel"),
    ("c", "Cel"),
];

/// How lines are read that do not say it themselves.
#[derive(Debug, Clone)]
pub(super) struct Reading {
    /// Where they were measured.
    pub station: String,
    /// Measured or expected.
    pub kind: DayKind,
    /// Unit of the temperatures, where the header names none.
    pub unit: Option<&'static str>,
    /// The last day that can have been measured.
    pub today: NaiveDate,
}

/// What a file says.
#[derive(Debug, Default)]
pub(super) struct Read {
    /// Days that can be stored.
    pub days: Vec<NewDay>,
    /// Lines that can't.
    pub refused: Vec<SentDay>,
    /// Columns that say nothing here.
    pub ignored: Vec<String>,
}

/// A column of temperatures: where it is, what it is called, in which unit it stands.
#[derive(Debug, Clone)]
struct Column {
    at: usize,
    name: String,
    unit: &'static str,
}

#[derive(Debug)]
struct Header {
    names: Vec<String>,
    date: usize,
    high: Column,
    low: Column,
    kind: Option<usize>,
    station: Option<usize>,
}

/// A unit by its UCUM code or the way people write it.
pub(super) fn unit(given: &str) -> Option<&'static str> {
    let plain = given.trim().to_lowercase();
    UNITS.iter().find(|(written, _)| *written == plain).map(|(_, code)| *code)
}

/// Reads a file.
///
/// # Errors
/// 422 when the header can't be understood, or the file is too long; a line that can't be read is
/// among `refused`.
pub(super) fn read(text: &str, how: &Reading) -> Result<Read, ApiError> {
    let mut lines = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut records = lines.records();
    let first = match records.next() {
        Some(record) => record.map_err(|error| broken(&error))?,
        None => return Err(BadMember::new("#row=1", "The file is empty.").into()),
    };
    let header = Header::of(&first, how)?;
    let mut found = Read { ignored: header.ignored(), ..Read::default() };
    let mut place = Lines { text: text.as_bytes(), at: 0, line: 1 };
    for (count, record) in records.enumerate() {
        if count >= MOST_LINES {
            let detail = "The file has too many lines: send it in parts.";
            let member = BadMember::new(format!("#row={}", count + 2), detail);
            return Err(member.allowed(format!("at most {MOST_LINES} lines")).into());
        }
        let record = record.map_err(|error| broken(&error))?;
        let line = place.line_of(&record);
        match header.day(&record, line, how) {
            Ok(day) => found.days.push(day),
            Err(sent) => found.refused.push(sent),
        }
    }
    Ok(found)
}

/// Counts the lines up to a record: empty ones count too, whatever ends a line.
struct Lines<'a> {
    text: &'a [u8],
    at: usize,
    line: u32,
}

impl Lines<'_> {
    /// The line on which a record begins. Records come in order.
    fn line_of(&mut self, record: &csv::StringRecord) -> u32 {
        let start = record.position().map_or(0, csv::Position::byte);
        let start = usize::try_from(start).unwrap_or(usize::MAX);
        let rest = self.text.get(start..).unwrap_or_default();
        let ends = rest.iter().take_while(|byte| matches!(byte, b'\r' | b'\n')).count();
        let passed = self.text.get(self.at..start + ends).unwrap_or_default();
        let lines = passed.split(|byte| *byte == b'\n').count() - 1;
        self.line += u32::try_from(lines).unwrap_or(0);
        self.at = start + ends;
        self.line
    }
}

impl Header {
    fn of(record: &csv::StringRecord, how: &Reading) -> Result<Self, ApiError> {
        let whole: Vec<String> = record.iter().map(str::to_owned).collect();
        if whole.len() > MOST_COLUMNS {
            let detail = format!("The header has {} columns.", whole.len());
            let member = BadMember::new("#row=1", detail);
            return Err(member.allowed(format!("at most {MOST_COLUMNS}")).into());
        }
        if let [one] = whole.as_slice()
            && (one.contains(';') || one.contains('\t'))
        {
            let detail = "Line 1 separates its columns by semicolons or tabs: separate them by commas, with decimal points.";
            return Err(BadMember::new("#row=1", detail).given(one).into());
        }
        let find = |names: &[&str]| -> Vec<usize> {
            let fits = |cell: &String| names.contains(&split(cell).0.as_str());
            whole.iter().enumerate().filter(|(_, cell)| fits(cell)).map(|(at, _)| at).collect()
        };
        let date = only(&whole, "date", &find(DATE))?;
        let high = Column::of(&whole, only(&whole, "highest temperature", &find(HIGH))?, how)?;
        let low = Column::of(&whole, only(&whole, "lowest temperature", &find(LOW))?, how)?;
        let (kind, station) = (find(&["kind"]), find(&["station"]));
        Ok(Self {
            date,
            high,
            low,
            kind: kind.first().copied(),
            station: station.first().copied(),
            names: whole,
        })
    }

    fn ignored(&self) -> Vec<String> {
        let used = |at: usize| {
            [Some(self.date), Some(self.high.at), Some(self.low.at), self.kind, self.station]
                .contains(&Some(at))
        };
        let rest = self.names.iter().enumerate().filter(|(at, _)| !used(*at));
        rest.map(|(_, name)| name.chars().take(100).collect()).collect()
    }

    fn day(&self, record: &csv::StringRecord, line: u32, how: &Reading) -> Result<NewDay, SentDay> {
        let refuse = |date, at: Option<usize>, detail: String| SentDay {
            line,
            date,
            outcome: DayOutcome::Refused,
            column: at.and_then(|at| self.names.get(at).cloned()),
            detail: Some(detail),
        };
        if record.len() != self.names.len() {
            let detail =
                format!("the line has {} cells, the header {}", record.len(), self.names.len());
            return Err(refuse(None, None, detail));
        }
        let cell = |at: usize| record.get(at).unwrap_or_default();
        let date = NaiveDate::parse_from_str(cell(self.date), "%Y-%m-%d").map_err(|_no_date| {
            let said = short(cell(self.date));
            refuse(None, Some(self.date), format!("{said:?} is no day: write 2027-04-30"))
        })?;
        let kind = self.kind.map_or(Ok(how.kind), |at| match cell(at) {
            "" => Ok(how.kind),
            "measured" => Ok(DayKind::Measured),
            "expected" => Ok(DayKind::Expected),
            other => {
                let detail = format!("{:?} is neither measured nor expected", short(other));
                Err(refuse(Some(date), Some(at), detail))
            }
        })?;
        let named = self.station.map(cell).filter(|name| !name.is_empty());
        let station = match named {
            Some(name) => days::station("", Some(name))
                .map_err(|bad| refuse(Some(date), self.station, bad.detail))?,
            None => how.station.clone(),
        };
        let number = |column: &Column| {
            number(cell(column.at)).map_err(|why| refuse(Some(date), Some(column.at), why))
        };
        let (high, low) = (number(&self.high)?, number(&self.low)?);
        let entered = Entered {
            high: Quantity::new(high, self.high.unit),
            low: Quantity::new(low, self.low.unit),
        };
        let at = Places {
            date: self.names.get(self.date).cloned().unwrap_or_default(),
            high: self.high.name.clone(),
            low: self.low.name.clone(),
        };
        days::check((line, date), (kind, &station), entered, &at, how.today).map_err(|bad| {
            let why: Vec<&str> = bad.iter().map(|member| member.detail.as_str()).collect();
            SentDay {
                line,
                date: Some(date),
                outcome: DayOutcome::Refused,
                column: bad.first().map(|member| member.pointer.clone()),
                detail: Some(why.join(" ")),
            }
        })
    }
}

impl Column {
    fn of(names: &[String], at: usize, how: &Reading) -> Result<Self, ApiError> {
        let name = names.get(at).cloned().unwrap_or_default();
        let (_, in_header) = split(&name);
        let unit = match in_header {
            None => how.unit,
            Some(written) => Some(unit(&written).ok_or_else(|| {
                let detail = format!("The unit of the column `{name}` is not known.");
                BadMember::new(cell_at(at), detail).allowed("[degF] or Cel")
            })?),
        };
        let unit = unit.ok_or_else(|| {
            let detail = format!("Nobody says in which unit the column `{name}` stands.");
            BadMember::new(cell_at(at), detail)
                .allowed("a header like `tmax_f` or `high [degF]`, or the parameter `unit`")
        })?;
        Ok(Self { at, name, unit })
    }
}

/// The name of a column without its unit, and the unit: `tmax_f`, `high (°F)`, `Max Temp [degF]`.
fn split(header: &str) -> (String, Option<String>) {
    let plain = header.trim().to_lowercase();
    let (name, unit) = match plain.find(['(', '[']) {
        Some(at) => {
            let (name, unit) = plain.split_at(at);
            (name, Some(unit.trim_matches(['(', ')', '[', ']', ' ']).to_owned()))
        }
        None => match plain.rsplit_once(['_', ' ']) {
            Some((name, last)) if UNITS.iter().any(|(written, _)| *written == last) => {
                (name, Some(last.to_owned()))
            }
            _ => (plain.as_str(), None),
        },
    };
    (name.trim().replace([' ', '-'], "_"), unit)
}

/// The one column of these names.
fn only(names: &[String], what: &str, found: &[usize]) -> Result<usize, ApiError> {
    match found {
        [one] => Ok(*one),
        [] => {
            let detail = format!("The header names no column for the {what}.");
            let member = BadMember::new("#row=1", detail).given(names.join(","));
            Err(member.allowed("a header like `date,high [degF],low [degF]`").into())
        }
        [_, second, ..] => {
            let detail = format!("The header names more than one column for the {what}.");
            Err(BadMember::new(cell_at(*second), detail).given(names.join(",")).into())
        }
    }
}

fn number(text: &str) -> Result<f64, String> {
    if text.is_empty() {
        return Err("there is no temperature".to_owned());
    }
    text.parse::<f64>().map_err(|_no_number| {
        let said = short(text);
        if text.contains(',') {
            format!("{said:?} is no number: write a decimal point")
        } else {
            format!("{said:?} is no number")
        }
    })
}

fn short(text: &str) -> String {
    text.chars().take(60).collect()
}

/// The place of a cell of the header (RFC 7111).
fn cell_at(column: usize) -> String {
    format!("#cell=1,{}", column + 1)
}

fn broken(error: &csv::Error) -> ApiError {
    let line = error.position().map_or(1, csv::Position::line);
    BadMember::new(format!("#row={line}"), format!("Line {line} can't be read.")).into()
}

#[cfg(test)]
mod tests {
    use super::{Reading, read, split};
    use crate::entities::air_temperatures::DayKind;
    use chrono::NaiveDate;

    fn how(unit: Option<&'static str>) -> Reading {
        let today = NaiveDate::from_ymd_opt(2027, 6, 1).expect("a day");
        Reading { station: "farm".to_owned(), kind: DayKind::Measured, unit, today }
    }

    #[test]
    fn a_header_names_what_and_in_which_unit() {
        for (header, name, unit) in [
            ("tmax_f", "tmax", Some("f")),
            ("High (°F)", "high", Some("°f")),
            ("Max Temp [degF]", "max_temp", Some("degf")),
            ("low", "low", None),
            ("t_min", "t_min", None),
            ("temp_min_c", "temp_min", Some("c")),
        ] {
            assert_eq!(split(header), (name.to_owned(), unit.map(str::to_owned)), "{header}");
        }
    }

    #[test]
    fn lines_are_read_by_name_wherever_the_columns_stand() {
        let text = "rain,low_c,date,high_c\r\n3,\"5.5\",2027-05-01,20\r\n\r\n0,6,2027-05-02,21\r\n";
        let found = read(text, &how(None)).expect("a file");
        assert_eq!(found.ignored, ["rain"]);
        assert_eq!(found.days.len(), 2);
        let first = &found.days[0];
        assert_eq!((first.line, first.date.to_string().as_str()), (2, "2027-05-01"));
        assert_eq!((first.entered.high.value, first.entered.high.unit.as_str()), (20.0, "Cel"));
        assert_eq!(found.days[1].line, 4, "empty lines count as lines");
    }

    #[test]
    fn a_line_that_can_not_be_read_is_named_with_its_column() {
        let text = "date,high,low\n2027-05-01,50,60\n1/5/2027,60,50\n2027-05-03,\"6,5\",5\n2027-05-04,60\n2027-07-01,60,50\n2027-05-06,999,50\n2027-05-07,,50\n";
        let found = read(text, &how(Some("[degF]"))).expect("a file");
        assert!(found.days.is_empty());
        let said: Vec<_> = found.refused.iter().map(|it| (it.line, it.column.as_deref())).collect();
        let expected = [
            (2, Some("low")),
            (3, Some("date")),
            (4, Some("high")),
            (5, None),
            (6, Some("date")),
            (7, Some("high")),
            (8, Some("high")),
        ];
        assert_eq!(said, expected);
    }

    #[test]
    fn a_header_that_says_too_little_is_refused() {
        for (text, unit, pointer) in [
            ("", None, "#row=1"),
            ("date;high;low\n", Some("Cel"), "#row=1"),
            ("date,high\n", Some("Cel"), "#row=1"),
            ("date,high,low\n", None, "#cell=1,2"),
            ("date,high_k,low_k\n", Some("Cel"), "#row=1"),
            ("date,high (K),low (K)\n", Some("Cel"), "#cell=1,2"),
            ("date,high,low,max\n", Some("Cel"), "#cell=1,4"),
        ] {
            let error = read(text, &how(unit)).expect_err(text);
            assert_eq!(error.members()[0].pointer, pointer, "{text}");
        }
    }
}
