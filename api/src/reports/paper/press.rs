//! From elements to pieces of paper.

use roxmltree::Node;

use super::error::PaperError;
use super::fonts::Faces;
use super::look::{BLACK, Look, Style};
use super::marks::{Mark, Piece};
use super::tags::{Part, Parts, Role};
use super::text::Run;
use super::{boxes, drawing, list, table, text};

/// What laying out needs: the letters, size and density, and the parts found so far.
pub(super) struct Press<'f> {
    pub(super) faces: &'f Faces,
    pub(super) style: Style,
    pub(super) parts: Parts,
}

/// Where something is laid out: how wide, how it looks, and inside which part.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub(super) width: f32,
    pub(super) look: Look,
    pub(super) inside: Option<Part>,
}

impl Place {
    pub(super) fn wide(self, width: f32) -> Self {
        Self { width, ..self }
    }

    pub(super) fn within(self, part: Part) -> Self {
        Self { inside: Some(part), ..self }
    }
}

/// The element's classes.
pub(super) fn classes<'a>(node: Node<'a, '_>) -> Vec<&'a str> {
    node.attribute("class").unwrap_or_default().split_whitespace().collect()
}

pub(super) fn has_class(node: Node<'_, '_>, class: &str) -> bool {
    classes(node).contains(&class)
}

/// Elements that stand in a line of text.
fn is_inline(node: Node<'_, '_>) -> bool {
    node.is_text() || matches!(node.tag_name().name(), "b" | "strong" | "span" | "em" | "i" | "br")
}

impl Press<'_> {
    /// Everything inside an element, one under another.
    pub(super) fn inside(
        &mut self,
        node: Node<'_, '_>,
        place: Place,
    ) -> Result<Vec<Piece>, PaperError> {
        let mut pieces = Vec::new();
        let mut runs: Vec<Run> = Vec::new();
        for child in node.children() {
            if is_inline(child) {
                text::gather(self, child, place.look, &mut runs);
                continue;
            }
            self.flush(&mut runs, place, &mut pieces);
            pieces.extend(self.element(child, place)?);
        }
        self.flush(&mut runs, place, &mut pieces);
        Ok(pieces)
    }

    /// Text that stands between elements.
    fn flush(&mut self, runs: &mut Vec<Run>, place: Place, pieces: &mut Vec<Piece>) {
        let runs = std::mem::take(runs);
        if runs.iter().any(|run| !run.text.trim().is_empty()) {
            let part = place.inside.unwrap_or_else(|| self.parts.add(Role::Paragraph, None));
            pieces.extend(text::lines(self, &runs, place, part));
        }
    }

    fn element(&mut self, node: Node<'_, '_>, place: Place) -> Result<Vec<Piece>, PaperError> {
        let name = node.tag_name().name();
        let classes = classes(node);
        if !node.is_element() || classes.contains(&"screen") {
            return Ok(Vec::new());
        }
        let plain = Look { above: 0.0, ..place.look };
        let place = Place { look: plain.of(name, &classes, self.style), ..place };
        let mut pieces = match name {
            "h1" => self.heading(node, place, 1)?,
            "h2" => self.heading(node, place, 2)?,
            "h3" => self.heading(node, place, 3)?,
            "p" => self.paragraph(node, place)?,
            "ul" | "ol" => list::list(self, node, place)?,
            "table" => table::table(self, node, place)?,
            "svg" => vec![drawing::drawing(self, node, place)?],
            "figure" => vec![Piece::stacked(self.inside(node, place)?)],
            "figcaption" => self.marked(node, place, Role::Caption)?,
            _ => self.holder(node, place, &classes)?,
        };
        if name == "p" && leads_on(node) {
            for piece in &mut pieces {
                piece.with_next = true;
            }
        }
        if let Some(first) = pieces.first_mut() {
            first.above = first.above.max(place.look.above);
            first.new_page |= classes.contains(&"page");
        }
        Ok(pieces)
    }

    /// What only holds others: in columns, in a frame, or simply one under another.
    fn holder(
        &mut self,
        node: Node<'_, '_>,
        place: Place,
        classes: &[&str],
    ) -> Result<Vec<Piece>, PaperError> {
        let is = |class: &str| classes.contains(&class);
        if is("verdict") || is("box") || is("answer") {
            boxes::framed(self, node, place)
        } else if is("pair") || is("cards") {
            Ok(vec![boxes::columns(self, node, place)?])
        } else if node.tag_name().name() == "header" {
            Ok(vec![boxes::head(self, node, place)?])
        } else if is("together") {
            Ok(vec![Piece::stacked(self.inside(node, place)?)])
        } else {
            self.inside(node, place)
        }
    }

    fn heading(
        &mut self,
        node: Node<'_, '_>,
        place: Place,
        level: u16,
    ) -> Result<Vec<Piece>, PaperError> {
        let words: String = node.descendants().filter_map(|it| it.text()).collect();
        let mut pieces = self.marked(node, place, Role::Heading(level, words.clone()))?;
        for piece in &mut pieces {
            piece.with_next = true;
        }
        let ruled = level == 2
            && !self.style.close
            && !node.parent().is_some_and(|it| has_class(it, "box"));
        if let Some(first) = pieces.first_mut() {
            first.heading = (level < 3).then_some(words);
            if ruled {
                under_a_rule(first, place.width, self.style.size * 0.55);
            }
        }
        Ok(pieces)
    }

    /// A paragraph; inside a cell or an item it is that part's own text.
    fn paragraph(&mut self, node: Node<'_, '_>, place: Place) -> Result<Vec<Piece>, PaperError> {
        match place.inside {
            Some(_) => self.inside(node, place),
            None => self.marked(node, place, Role::Paragraph),
        }
    }

    fn marked(
        &mut self,
        node: Node<'_, '_>,
        place: Place,
        role: Role,
    ) -> Result<Vec<Piece>, PaperError> {
        let part = self.parts.add(role, place.inside);
        self.inside(node, place.within(part))
    }
}

/// Whether a table or a figure comes next.
fn leads_on(node: Node<'_, '_>) -> bool {
    node.next_sibling_element().is_some_and(|next| {
        matches!(next.tag_name().name(), "table" | "figure") || has_class(next, "wide")
    })
}

/// A line above, from edge to edge.
fn under_a_rule(piece: &mut Piece, width: f32, down: f32) {
    let words = std::mem::take(piece).moved(0.0, down);
    let height = words.height + down;
    *piece = Piece { height, ..words };
    piece.marks.push(Mark::line((0.0, 0.0), (width, 0.0), 1.4, BLACK));
}
