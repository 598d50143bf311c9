//! What is to be bought or done for which rows.

use super::item::{Action, ItemCode};
use crate::planter::Planter;

/// What is to be bought or done for one item on one planter.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The item.
    pub item: ItemCode,
    /// What to ask for, or what to do.
    pub words: &'static str,
    /// Rows; empty for what the planter has once.
    pub rows: Vec<u16>,
    /// How many parts; 0 where something is done and nothing bought.
    pub count: u32,
    /// What kind of thing it is.
    pub action: Action,
}

/// Parts for the rows of an item. A disc, an arm or a wheel that comes in a pair is renewed in pairs.
pub fn parts(item: ItemCode, rows: &[u16], planter: &Planter) -> Option<Part> {
    let action = item.item()?.action;
    let places = u32::try_from(rows.len().max(1)).ok()?;
    let count = action.each(planter).map_or(0, |each| u32::from(each) * places);
    Some(Part { item, words: action.words(), rows: rows.to_vec(), count, action })
}
