//! Rows without names: codes for ids, weeks for days, steps for sizes; what few growers share is
//! left out.

use chrono::{DateTime, Datelike, Days, NaiveDate, Utc};
use domain::season::report::{FEWEST_GROWERS, SeasonReport};
use sea_orm::{DatabaseConnection, QuerySelect};
use uuid::Uuid;

use super::code::Codes;
use super::tally::{Owners, Tally, rounded};
use crate::entities::trials;
use crate::http::{ApiError, ProblemCode};
use crate::reports::tables::{Anonymous, Cell, Column, Row, SOURCES, Source, Walk};
use crate::season::gather::Of;

/// Fewest growers behind anything that is told.
pub const FEWEST: usize = 5;

const _: () = assert!(FEWEST_GROWERS == 5, "the export and the report draw the same line");

/// What is needed to write rows without names.
pub struct Anonymized {
    codes: Codes,
    tally: Tally,
    of: Of,
}

impl Anonymized {
    /// Counts the growers behind everything that will be told.
    ///
    /// # Errors
    /// 409 when the season has too few growers to hide in.
    pub async fn new(
        db: &DatabaseConnection,
        of: Of,
        report: &SeasonReport,
    ) -> Result<Self, ApiError> {
        if report.about.growers < FEWEST_GROWERS {
            let detail = format!(
                "Only {} of the season had something to tell; with fewer than {FEWEST_GROWERS} growers each could be recognised.",
                crate::reports::words::count(report.about.growers, "grower", "growers")
            );
            return Err(ApiError::new(ProblemCode::WrongState, detail));
        }
        let (mut owners, mut tally) = (Owners::default(), Tally::default());
        for source in SOURCES {
            let table = source.table();
            if source == Source::Effects {
                learn_trials(db, of, &mut owners).await?;
            }
            let mut walk = Walk::of(source);
            while let Some(rows) = walk.next(db, of, report).await? {
                for row in rows {
                    owners.learn(source, &row);
                    tally.note(&table, &row, owners.of(&table, &row));
                }
            }
        }
        Ok(Self { codes: Codes::new(), tally, of })
    }

    /// The rows as they are given out, in an order that says nothing.
    pub(super) fn rows(&self, source: Source, rows: Vec<Row>, written: &mut i64) -> Vec<Row> {
        let table = source.table();
        if alone(source) && !self.tally.table_stays(&table) {
            return Vec::new();
        }
        let mut rows: Vec<Row> = rows.into_iter().map(|row| self.row(source, row)).collect();
        rows.sort_by_cached_key(|row| row.iter().find_map(code).unwrap_or_default());
        for row in &mut rows {
            *written += 1;
            if let Some(first @ Cell::Whole(_)) = row.first_mut() {
                *first = Cell::Whole(*written);
            }
        }
        rows
    }

    fn row(&self, source: Source, row: Row) -> Row {
        let table = source.table();
        let stay = self.tally.values_stay(&table, &row);
        table.columns.iter().zip(row).map(|(column, cell)| self.cell(column, cell, stay)).collect()
    }

    fn cell(&self, column: &Column, cell: Cell, stay: bool) -> Cell {
        match column.anonymous {
            Anonymous::Stays => cell,
            Anonymous::Shared if stay => cell,
            Anonymous::Rounded(step) if stay => rounded(&cell, step),
            Anonymous::LeftOut | Anonymous::Shared | Anonymous::Rounded(_) => Cell::Empty,
            Anonymous::Coded => match cell {
                Cell::Id(id) => Cell::Made(self.codes.of(id)),
                _ => Cell::Empty,
            },
            Anonymous::ToTheWeek => match cell {
                Cell::Day(day) => Cell::Day(monday(day)),
                Cell::Time(at) => Cell::Day(monday(self.day(at))),
                _ => Cell::Empty,
            },
        }
    }

    fn day(&self, at: DateTime<Utc>) -> NaiveDate {
        self.of.calendar.today(at)
    }
}

async fn learn_trials(
    db: &DatabaseConnection,
    of: Of,
    owners: &mut Owners,
) -> Result<(), ApiError> {
    use trials::Column;
    let rows: Vec<(Uuid, Uuid)> = of
        .scope
        .trials()
        .select_only()
        .columns([Column::Id, Column::FieldId])
        .into_tuple()
        .all(db)
        .await?;
    for (trial, field) in rows {
        owners.learn_trial(trial, field);
    }
    Ok(())
}

/// Tables that few growers may stand behind, and that no other refers to.
fn alone(source: Source) -> bool {
    matches!(source, Source::Plantings | Source::Stands | Source::Effects | Source::Wear)
}

fn code(cell: &Cell) -> Option<String> {
    match cell {
        Cell::Made(code) => Some(code.clone()),
        _ => None,
    }
}

fn monday(day: NaiveDate) -> NaiveDate {
    let since = u64::from(day.weekday().num_days_from_monday());
    day.checked_sub_days(Days::new(since)).unwrap_or(day)
}

#[cfg(test)]
mod tests {
    use super::monday;

    #[test]
    fn a_week_begins_on_monday() {
        let day = |text: &str| text.parse().expect("a day");
        assert_eq!(monday(day("2026-05-03")), day("2026-04-27"));
        assert_eq!(monday(day("2026-04-27")), day("2026-04-27"));
    }
}
