//! The nodes of the tree: each keeps what its children say, and what it says itself.

use std::collections::BTreeMap;

use super::grid::{Blur, LogDensity};

/// Something that says something about its parent.
pub(super) trait Says {
    /// What it says about its parent.
    fn up(&self) -> &LogDensity;
    /// Digs under it.
    fn digs(&self) -> u32;
}

/// A dig is the lowest node: all that is kept is what it says about its season.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dig(pub LogDensity);

impl Says for Dig {
    fn up(&self) -> &LogDensity {
        &self.0
    }

    fn digs(&self) -> u32 {
        1
    }
}

/// A node with children: a season of digs, a field of seasons, and so on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Branch<K: Ord, C> {
    pub children: BTreeMap<K, C>,
    /// What the children say together about this node.
    pub heard: LogDensity,
    up: LogDensity,
    digs: u32,
}

impl<K: Ord, C> Default for Branch<K, C> {
    fn default() -> Self {
        Self {
            children: BTreeMap::new(),
            heard: LogDensity::flat(),
            up: LogDensity::flat(),
            digs: 0,
        }
    }
}

impl<K: Ord, C: Says> Branch<K, C> {
    /// Hears all children, in the order of their keys, so that the order of the digs cannot
    /// matter.
    pub(super) fn hear(&mut self) {
        let mut heard = LogDensity::flat();
        let mut digs = 0_u32;
        for child in self.children.values() {
            heard.and(child.up());
            digs = digs.saturating_add(child.digs());
        }
        self.heard = heard;
        self.digs = digs;
    }

    /// Makes up its mind about what to say.
    pub(super) fn speak(&mut self, blur: &Blur) {
        self.up = blur.up(&self.heard);
    }

    /// What all children but one say.
    pub(super) fn without(&self, key: &K) -> LogDensity {
        let mut heard = LogDensity::flat();
        for (own, child) in &self.children {
            if own != key {
                heard.and(child.up());
            }
        }
        heard
    }
}

impl<K: Ord, C: Says> Says for Branch<K, C> {
    fn up(&self) -> &LogDensity {
        &self.up
    }

    fn digs(&self) -> u32 {
        self.digs
    }
}

pub(super) type Season = Branch<u128, Dig>;
pub(super) type Field = Branch<u16, Season>;
pub(super) type Planter = Branch<u128, Field>;
pub(super) type Class = Branch<u128, Planter>;
pub(super) type Practice = Branch<super::place::SoilClass, Class>;
