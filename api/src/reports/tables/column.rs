//! A column of a table: what it holds, in which unit, and what becomes of it without names.

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// An id.
    Id,
    /// Text.
    Text,
    /// A word of this list.
    Word(&'static [&'static str]),
    /// A whole number.
    Whole,
    /// A number.
    Number,
    /// Yes or no.
    Flag,
    /// A day.
    Day,
    /// A moment.
    Time,
}

/// What becomes of a column in an export without names.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Anonymous {
    /// It stays.
    Stays,
    /// An id becomes a code that is made for this export.
    Coded,
    /// It is left out.
    LeftOut,
    /// A day or a moment becomes the Monday of its week.
    ToTheWeek,
    /// It stays where five growers or more share the values of all such columns of the table.
    Shared,
    /// Like that, and rounded to steps of this size first.
    Rounded(f64),
}

/// A column.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Its name: `depth_mm`. A unit is part of it.
    pub name: &'static str,
    /// What it is.
    pub what: &'static str,
    /// What it holds.
    pub holds: Holds,
    /// UCUM code of its unit.
    pub unit: Option<&'static str>,
    /// The name that the ICASA data dictionary gives it.
    pub icasa: Option<&'static str>,
    /// Whether it is always there.
    pub required: bool,
    /// What becomes of it without names.
    pub anonymous: Anonymous,
}

/// A table.
#[derive(Debug, Clone, Copy)]
pub struct Table {
    /// Its name: `digs`.
    pub name: &'static str,
    /// What its rows are.
    pub what: &'static str,
    /// Its columns; the first is its key.
    pub columns: &'static [Column],
    /// Columns that refer to the key of another table.
    pub refers: &'static [(&'static str, &'static str)],
}

impl Column {
    const fn new(name: &'static str, what: &'static str, holds: Holds) -> Self {
        let anonymous = match holds {
            Holds::Id => Anonymous::Coded,
            Holds::Text => Anonymous::LeftOut,
            Holds::Day | Holds::Time => Anonymous::ToTheWeek,
            Holds::Word(_) | Holds::Whole | Holds::Number | Holds::Flag => Anonymous::Stays,
        };
        Self { name, what, holds, unit: None, icasa: None, required: false, anonymous }
    }

    pub(super) const fn id(name: &'static str, what: &'static str) -> Self {
        Self { required: true, ..Self::new(name, what, Holds::Id) }
    }

    pub(super) const fn text(name: &'static str, what: &'static str) -> Self {
        Self::new(name, what, Holds::Text)
    }

    pub(super) const fn word(
        name: &'static str,
        what: &'static str,
        words: &'static [&'static str],
    ) -> Self {
        Self::new(name, what, Holds::Word(words))
    }

    pub(super) const fn whole(name: &'static str, what: &'static str) -> Self {
        Self::new(name, what, Holds::Whole)
    }

    pub(super) const fn number(name: &'static str, what: &'static str, unit: &'static str) -> Self {
        Self { unit: Some(unit), ..Self::new(name, what, Holds::Number) }
    }

    pub(super) const fn flag(name: &'static str, what: &'static str) -> Self {
        Self::new(name, what, Holds::Flag)
    }

    pub(super) const fn day(name: &'static str, what: &'static str) -> Self {
        Self::new(name, what, Holds::Day)
    }

    pub(super) const fn time(name: &'static str, what: &'static str) -> Self {
        Self::new(name, what, Holds::Time)
    }

    pub(super) const fn maybe(self) -> Self {
        Self { required: false, ..self }
    }

    pub(super) const fn always(self) -> Self {
        Self { required: true, ..self }
    }

    pub(super) const fn icasa(self, name: &'static str) -> Self {
        Self { icasa: Some(name), ..self }
    }

    pub(super) const fn without_names(self, anonymous: Anonymous) -> Self {
        Self { anonymous, ..self }
    }
}
