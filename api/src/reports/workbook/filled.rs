//! One sheet: a head that stays in view, and typed cells under it.

use chrono::{DateTime, Datelike, NaiveDate, Timelike, Utc};
use rust_xlsxwriter::{
    ExcelDateTime, Format, FormatAlign, FormatBorder, Workbook, Worksheet, XlsxError,
};

use crate::reports::tables::Cell;

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value {
    Empty,
    /// Always text, whatever it begins with.
    Text(String),
    Number(f64),
    Flag(bool),
    Day(NaiveDate),
    Time(DateTime<Utc>),
    /// A share from 0 to 1, shown in percent.
    Share(f64),
}

impl Value {
    pub(super) fn text(text: &str) -> Self {
        Self::Text(text.to_owned())
    }

    pub(super) fn maybe<T>(value: Option<T>, of: impl Fn(T) -> Self) -> Self {
        value.map_or(Self::Empty, of)
    }

    pub(super) fn count(many: impl Into<u64>) -> Self {
        Self::Number(u32::try_from(many.into()).map_or(f64::from(u32::MAX), f64::from))
    }
}

impl From<&Cell> for Value {
    fn from(cell: &Cell) -> Self {
        match cell {
            Cell::Empty => Self::Empty,
            Cell::Id(id) => Self::Text(id.to_string()),
            Cell::Text(text) | Cell::Word(text) | Cell::Made(text) => Self::Text(text.clone()),
            Cell::Whole(number) => Self::Number(i32::try_from(*number).map_or(f64::NAN, f64::from)),
            Cell::Number(number, digits) => {
                Self::Number(format!("{number:.digits$}").parse().unwrap_or(*number))
            }
            Cell::Flag(flag) => Self::Flag(*flag),
            Cell::Day(day) => Self::Day(*day),
            Cell::Time(at) => Self::Time(*at),
        }
    }
}

/// A sheet.
pub(super) struct Page<'n> {
    name: &'n str,
}

/// How cells look.
struct Looks {
    head: Format,
    day: Format,
    time: Format,
    share: Format,
    wrapped: Format,
}

impl Looks {
    fn new() -> Self {
        Self {
            head: Format::new()
                .set_bold()
                .set_text_wrap()
                .set_border_bottom(FormatBorder::Thin)
                .set_align(FormatAlign::Top),
            day: Format::new().set_num_format("yyyy-mm-dd"),
            time: Format::new().set_num_format("yyyy-mm-dd hh:mm"),
            share: Format::new().set_num_format("0 %"),
            wrapped: Format::new().set_text_wrap().set_align(FormatAlign::Top),
        }
    }
}

const NARROW: f64 = 11.0;
const WIDE: f64 = 44.0;

impl<'n> Page<'n> {
    pub(super) fn new(name: &'n str) -> Self {
        Self { name }
    }

    /// Writes the sheet; without heads it is a page to read.
    pub(super) fn fill(
        self,
        book: &mut Workbook,
        heads: &[&str],
        rows: &[Vec<Value>],
    ) -> Result<(), XlsxError> {
        let looks = Looks::new();
        let sheet = book.add_worksheet();
        sheet.set_name(self.name)?;
        sheet.set_landscape();
        let mut row_at = 0_u32;
        if heads.is_empty() {
            sheet.set_column_width(0, 100.0)?;
        } else {
            for (head, at) in heads.iter().zip(0_u16..) {
                sheet.write_string_with_format(0, at, *head, &looks.head)?;
            }
            sheet.set_freeze_panes(1, 0)?;
            sheet.set_repeat_rows(0, 0)?;
            row_at = 1;
        }
        let mut widest = vec![NARROW; heads.len()];
        for row in rows {
            for (value, at) in row.iter().zip(0_u16..) {
                write(sheet, (row_at, at), value, &looks, heads.is_empty())?;
                if let Some(width) = widest.get_mut(usize::from(at)) {
                    *width = width.max(wanted(value));
                }
            }
            row_at += 1;
        }
        for (width, at) in widest.iter().zip(0_u16..) {
            sheet.set_column_width(at, *width)?;
        }
        if let (Some(last), false) =
            (u16::try_from(heads.len()).ok().and_then(|it| it.checked_sub(1)), rows.is_empty())
        {
            sheet.autofilter(0, 0, row_at - 1, last)?;
        }
        Ok(())
    }
}

fn wanted(value: &Value) -> f64 {
    match value {
        Value::Text(text) => {
            let letters = u16::try_from(text.chars().count()).map_or(WIDE, f64::from);
            (letters * 1.05 + 1.0).min(WIDE)
        }
        Value::Time(_) => 17.0,
        _ => NARROW,
    }
}

fn write(
    sheet: &mut Worksheet,
    (row, at): (u32, u16),
    value: &Value,
    looks: &Looks,
    reads: bool,
) -> Result<(), XlsxError> {
    match value {
        Value::Text(text) if reads => {
            sheet.write_string_with_format(row, at, text, &looks.wrapped)?
        }
        // Never a formula: a string is written as a string.
        Value::Text(text) => sheet.write_string(row, at, text)?,
        Value::Number(number) if number.is_finite() => sheet.write_number(row, at, *number)?,
        Value::Empty | Value::Number(_) => return Ok(()),
        Value::Share(share) => sheet.write_number_with_format(row, at, *share, &looks.share)?,
        Value::Flag(flag) => sheet.write_boolean(row, at, *flag)?,
        Value::Day(day) => {
            let day = excel_day(*day)?;
            sheet.write_datetime_with_format(row, at, &day, &looks.day)?
        }
        Value::Time(time) => {
            let whole = excel_day(time.date_naive())?;
            let seconds = f64::from(time.second());
            let time = whole.and_hms(
                u16::try_from(time.hour()).unwrap_or(0),
                u8::try_from(time.minute()).unwrap_or(0),
                seconds,
            )?;
            sheet.write_datetime_with_format(row, at, &time, &looks.time)?
        }
    };
    Ok(())
}

fn excel_day(day: NaiveDate) -> Result<ExcelDateTime, XlsxError> {
    let part = |number: u32| u8::try_from(number).unwrap_or(1);
    ExcelDateTime::from_ymd(
        u16::try_from(day.year()).unwrap_or(1900),
        part(day.month()),
        part(day.day()),
    )
}
