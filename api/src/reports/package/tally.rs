//! How many growers stand behind what a row tells: counted before anything is written.

use std::collections::{BTreeSet, HashMap};

use uuid::Uuid;

use super::anonymous::FEWEST;
use crate::reports::tables::{Anonymous, Cell, Row, Source, Table};

/// Whose planters and fields they are.
#[derive(Debug, Default)]
pub(super) struct Owners(HashMap<Uuid, Uuid>);

impl Owners {
    /// Learns from a row of planters or fields.
    pub(super) fn learn(&mut self, source: Source, row: &Row) {
        if let (Source::Planters | Source::Fields, [Cell::Id(id), Cell::Id(grower), ..]) =
            (source, row.as_slice())
        {
            self.0.insert(*id, *grower);
        }
    }

    /// Learns in whose field a trial is.
    pub(super) fn learn_trial(&mut self, trial: Uuid, field: Uuid) {
        if let Some(grower) = self.0.get(&field).copied() {
            self.0.insert(trial, grower);
        }
    }

    /// The grower of a row: one that it names, or whose planter, field or trial it names.
    pub(super) fn of(&self, table: &Table, row: &Row) -> Option<Uuid> {
        let named = |name: &str| {
            let at = table.columns.iter().position(|column| column.name == name)?;
            match row.get(at) {
                Some(Cell::Id(id)) => Some(*id),
                _ => None,
            }
        };
        let owned = |name: &str| named(name).and_then(|id| self.0.get(&id).copied());
        named("grower_id")
            .or_else(|| owned("planter_id"))
            .or_else(|| owned("field_id"))
            .or_else(|| owned("trial_id"))
    }
}

/// Growers behind each table and behind each set of shared values, counted up to [`FEWEST`].
#[derive(Debug, Default)]
pub(super) struct Tally {
    tables: HashMap<&'static str, BTreeSet<Uuid>>,
    values: HashMap<(&'static str, String), BTreeSet<Uuid>>,
}

impl Tally {
    pub(super) fn note(&mut self, table: &Table, row: &Row, grower: Option<Uuid>) {
        let Some(grower) = grower else { return };
        note(self.tables.entry(table.name).or_default(), grower);
        if let Some(values) = shared(table, row) {
            note(self.values.entry((table.name, values)).or_default(), grower);
        }
    }

    /// Whether enough growers stand behind the table.
    pub(super) fn table_stays(&self, table: &Table) -> bool {
        self.tables.get(table.name).is_some_and(|growers| growers.len() >= FEWEST)
    }

    /// Whether enough growers share the values of the row.
    pub(super) fn values_stay(&self, table: &Table, row: &Row) -> bool {
        let Some(values) = shared(table, row) else { return true };
        self.values.get(&(table.name, values)).is_some_and(|growers| growers.len() >= FEWEST)
    }
}

/// No more than are needed to know that they are enough.
fn note(growers: &mut BTreeSet<Uuid>, grower: Uuid) {
    if growers.len() < FEWEST {
        growers.insert(grower);
    }
}

/// The values by which a grower might be told from others, as one text.
fn shared(table: &Table, row: &Row) -> Option<String> {
    let cells = table.columns.iter().zip(row);
    let values: Vec<String> = cells
        .filter_map(|(column, cell)| match column.anonymous {
            Anonymous::Shared => Some(cell.csv()),
            Anonymous::Rounded(step) => Some(rounded(cell, step).csv()),
            _ => None,
        })
        .collect();
    (!values.is_empty()).then(|| values.join("\u{1f}"))
}

/// To the nearest step, at least one.
pub(super) fn rounded(cell: &Cell, step: f64) -> Cell {
    let near = |value: f64| (value / step).round().max(1.0) * step;
    match cell {
        Cell::Number(value, _) => Cell::Number(near(*value), 0),
        Cell::Whole(value) => {
            let value = i32::try_from(*value).map_or(f64::MAX, f64::from);
            Cell::Number(near(value), 0)
        }
        other => other.clone(),
    }
}

#[cfg(test)]
mod tests {
    use uuid::Uuid;

    use super::{Owners, Tally, rounded};
    use crate::reports::tables::{Cell, Row, Source};

    fn planter(id: u128, grower: u128, rows: i64) -> Row {
        vec![
            Cell::Id(Uuid::from_u128(id)),
            Cell::Id(Uuid::from_u128(grower)),
            Cell::Text(format!("planter {id}")),
            Cell::Whole(rows),
            Cell::Number(76.2, 1),
            Cell::Word("air_bag".to_owned()),
        ]
    }

    #[test]
    fn what_four_growers_share_is_hidden_and_what_five_share_stays() {
        let table = Source::Planters.table();
        let mut tally = Tally::default();
        let rows: Vec<Row> = (0..4)
            .map(|at| planter(at, at, 8))
            .chain((10..15).map(|at| planter(at, at, 16)))
            .collect();
        let owners = Owners::default();
        for row in &rows {
            tally.note(&table, row, owners.of(&table, row));
        }
        assert!(tally.table_stays(&table));
        assert!(!tally.values_stay(&table, rows.first().expect("a row")));
        assert!(tally.values_stay(&table, rows.last().expect("a row")));
        // One grower with many planters is still one.
        let mut one = Tally::default();
        for at in 0..9 {
            one.note(&table, &planter(at, 1, 8), Some(Uuid::from_u128(1)));
        }
        assert!(!one.table_stays(&table));
    }

    #[test]
    fn a_dig_belongs_to_the_grower_of_its_planter() {
        let mut owners = Owners::default();
        owners.learn(Source::Planters, &planter(3, 9, 8));
        let table = Source::Wear.table();
        let wear = vec![Cell::Whole(1), Cell::Id(Uuid::from_u128(3))];
        assert_eq!(owners.of(&table, &wear), Some(Uuid::from_u128(9)));
    }

    #[test]
    fn sizes_become_steps() {
        assert_eq!(rounded(&Cell::Whole(12), 8.0), Cell::Number(16.0, 0));
        assert_eq!(rounded(&Cell::Whole(2), 8.0), Cell::Number(8.0, 0));
        assert_eq!(rounded(&Cell::Number(310_000.0, 0), 200_000.0), Cell::Number(400_000.0, 0));
        assert_eq!(rounded(&Cell::Empty, 8.0), Cell::Empty);
    }
}
