//! What each part of a page is, so that a screen reader can tell.

use std::num::NonZeroU16;

use krilla::tagging::{
    Identifier, ListNumbering, Node as TagNode, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};

/// What a part is.
#[derive(Debug, Clone)]
pub(super) enum Role {
    /// Its level and its words.
    Heading(u16, String),
    Paragraph,
    List {
        numbered: bool,
    },
    Item,
    Label,
    ItemBody,
    Table,
    Row,
    /// A cell that names its row.
    RowHead,
    /// A cell that names its column.
    ColumnHead,
    Cell,
    /// A drawing, and what it shows in words.
    Figure(String),
    Caption,
}

/// The place of a part among all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Part(usize);

enum Child {
    Part(Part),
    Drawn(Identifier),
}

struct Entry {
    role: Role,
    children: Vec<Child>,
}

/// All parts of a document, in the order in which they are read.
#[derive(Default)]
pub(super) struct Parts {
    entries: Vec<Entry>,
    top: Vec<Part>,
}

impl Parts {
    /// A new part, inside another or at the top.
    pub(super) fn add(&mut self, role: Role, inside: Option<Part>) -> Part {
        let part = Part(self.entries.len());
        self.entries.push(Entry { role, children: Vec::new() });
        match inside.and_then(|Part(place)| self.entries.get_mut(place)) {
            Some(parent) => parent.children.push(Child::Part(part)),
            None => self.top.push(part),
        }
        part
    }

    /// Whether it is a drawing.
    pub(super) fn is_figure(&self, part: Part) -> bool {
        self.entries.get(part.0).is_some_and(|it| matches!(it.role, Role::Figure(_)))
    }

    /// Something of this part was drawn.
    pub(super) fn drawn(&mut self, Part(place): Part, what: Identifier) {
        if let Some(entry) = self.entries.get_mut(place) {
            entry.children.push(Child::Drawn(what));
        }
    }

    /// As the document wants it.
    pub(super) fn into_tree(self) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
        for part in &self.top {
            if let Some(node) = self.node(*part) {
                tree.push(node);
            }
        }
        tree
    }

    fn node(&self, Part(place): Part) -> Option<TagGroup> {
        let entry = self.entries.get(place)?;
        let children: Vec<TagNode> = entry
            .children
            .iter()
            .filter_map(|child| match child {
                Child::Part(part) => self.node(*part).map(TagNode::from),
                Child::Drawn(what) => Some((*what).into()),
            })
            .collect();
        Some(TagGroup::with_children(entry.role.tag(), children))
    }
}

impl Role {
    fn tag(&self) -> TagKind {
        match self {
            Self::Heading(level, words) => {
                let level = NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN);
                Tag::Hn(level, Some(words.clone())).into()
            }
            Self::Paragraph => Tag::P.into(),
            Self::List { numbered: true } => Tag::L(ListNumbering::Decimal).into(),
            Self::List { numbered: false } => Tag::L(ListNumbering::Disc).into(),
            Self::Item => Tag::LI.into(),
            Self::Label => Tag::Lbl.into(),
            Self::ItemBody => Tag::LBody.into(),
            Self::Table => Tag::Table.into(),
            Self::Row => Tag::TR.into(),
            Self::RowHead => Tag::TH(TableHeaderScope::Row).into(),
            Self::ColumnHead => Tag::TH(TableHeaderScope::Column).into(),
            Self::Cell => Tag::TD.into(),
            Self::Figure(words) => Tag::Figure(Some(words.clone())).into(),
            Self::Caption => Tag::Caption.into(),
        }
    }
}
