//! `datapackage.json`: what each file and each column is.

use serde_json::{Map, Value, json};

use crate::reports::tables::{Anonymous, Column, Holds, Source, Table};

/// What the package says of itself.
#[derive(Debug, Clone)]
pub(super) struct About {
    pub(super) name: String,
    pub(super) title: String,
    pub(super) description: String,
    pub(super) created: String,
}

/// How tables are written: as they are, or without names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    Whole,
    WithoutNames,
}

impl Form {
    /// The columns that are written.
    pub(super) fn columns(self, table: &Table) -> impl Iterator<Item = (usize, &'static Column)> {
        let stays =
            move |column: &Column| self == Self::Whole || column.anonymous != Anonymous::LeftOut;
        table.columns.iter().enumerate().filter(move |(_, column)| stays(column))
    }

    /// The name that a column has in it.
    pub(super) fn name(self, column: &Column) -> String {
        if self == Self::WithoutNames && column.anonymous == Anonymous::ToTheWeek {
            let stem = column.name.trim_end_matches("_at").trim_end_matches("_on");
            return format!("{stem}_week");
        }
        column.name.to_owned()
    }
}

/// The whole descriptor.
pub(super) fn descriptor(about: &About, sources: &[Source], form: Form) -> Value {
    let resources: Vec<Value> = sources.iter().map(|it| resource(&it.table(), form)).collect();
    json!({
        "$schema": "https://datapackage.org/profiles/2.0/datapackage.json",
        "name": about.name,
        "title": about.title,
        "description": about.description,
        "created": about.created,
        "version": "1.0.0",
        "resources": resources,
    })
}

/// The file of a table.
pub(super) fn file(table: &Table) -> String {
    format!("{}.csv", table.name.replace('-', "_"))
}

fn resource(table: &Table, form: Form) -> Value {
    let fields: Vec<Value> = form.columns(table).map(|(_, column)| field(column, form)).collect();
    let key = table.columns.first().map(|column| form.name(column)).unwrap_or_default();
    let refers: Vec<Value> = table
        .refers
        .iter()
        .map(|(column, other)| {
            json!({
                "fields": [column],
                "reference": {"resource": other, "fields": [key_of(other)]},
            })
        })
        .collect();
    let mut schema = Map::new();
    schema.insert("$schema".into(), "https://datapackage.org/profiles/2.0/tableschema.json".into());
    schema.insert("fields".into(), fields.into());
    schema.insert("missingValues".into(), json!([""]));
    schema.insert("primaryKey".into(), json!([key]));
    if !refers.is_empty() {
        schema.insert("foreignKeys".into(), refers.into());
    }
    json!({
        "name": table.name,
        "title": table.what,
        "path": file(table),
        "type": "table",
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "schema": schema,
    })
}

fn key_of(name: &str) -> &'static str {
    let found =
        crate::reports::tables::SOURCES.iter().map(|it| it.table()).find(|it| it.name == name);
    found.and_then(|table| table.columns.first()).map_or("", |column| column.name)
}

fn field(column: &Column, form: Form) -> Value {
    let hidden = form == Form::WithoutNames;
    let (kind, format) = match column.holds {
        Holds::Id if hidden => ("string", None),
        Holds::Id => ("string", Some("uuid")),
        Holds::Text | Holds::Word(_) => ("string", None),
        Holds::Whole => ("integer", None),
        Holds::Number => ("number", None),
        Holds::Flag => ("boolean", None),
        Holds::Time if !hidden => ("datetime", None),
        Holds::Day | Holds::Time => ("date", None),
    };
    let mut constraints = Map::new();
    if column.required {
        constraints.insert("required".into(), true.into());
    }
    if let Holds::Word(words) = column.holds {
        constraints.insert("enum".into(), json!(words));
    }
    let mut made = Map::new();
    made.insert("name".into(), form.name(column).into());
    made.insert("type".into(), kind.into());
    made.insert("description".into(), described(column, form).into());
    let more = [("format", format), ("unit", column.unit), ("icasa", column.icasa)];
    for (name, value) in more {
        if let Some(value) = value {
            made.insert(name.into(), value.into());
        }
    }
    if !constraints.is_empty() {
        made.insert("constraints".into(), constraints.into());
    }
    made.into()
}

fn described(column: &Column, form: Form) -> String {
    if form == Form::Whole {
        return column.what.to_owned();
    }
    let more = match column.anonymous {
        Anonymous::Stays | Anonymous::LeftOut => "",
        Anonymous::Coded => " A code made for this export.",
        Anonymous::ToTheWeek => " The Monday of its week.",
        Anonymous::Shared => " Empty where fewer than five growers share the values.",
        Anonymous::Rounded(_) => " Rounded; empty where fewer than five growers share the values.",
    };
    format!("{}{more}", column.what)
}
