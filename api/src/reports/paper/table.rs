//! Tables: columns as wide as they need, rows that stay whole, heads again on each page.

use std::rc::Rc;

use roxmltree::Node;

use super::error::PaperError;
use super::look::{BLACK, HAIR, Look};
use super::marks::{Mark, Piece};
use super::press::{Place, Press, classes, has_class};
use super::tags::{Part, Role};
use super::text;

/// Height of a line to write on, as a share of the size of running text.
const TO_WRITE_ON: f32 = 1.9;

struct Table {
    widths: Vec<f32>,
    /// Lines on all sides, to write in.
    boxed: bool,
    pad: f32,
    part: Part,
}

/// The rows of a part of the table.
fn rows<'a, 'i>(node: Node<'a, 'i>, part: &str) -> Vec<Node<'a, 'i>> {
    let parts = node.children().filter(|child| child.tag_name().name() == part);
    parts.flat_map(|part| part.children().filter(|row| row.tag_name().name() == "tr")).collect()
}

fn cells<'a, 'i>(row: Node<'a, 'i>) -> Vec<Node<'a, 'i>> {
    row.children().filter(Node::is_element).collect()
}

pub(super) fn table(
    press: &mut Press<'_>,
    node: Node<'_, '_>,
    place: Place,
) -> Result<Vec<Piece>, PaperError> {
    let (heads, bodies) = (rows(node, "thead"), rows(node, "tbody"));
    let part = press.parts.add(Role::Table, place.inside);
    let boxed = has_class(node, "write");
    let pad = press.style.size * 0.42;
    let all: Vec<Node<'_, '_>> = heads.iter().chain(&bodies).copied().collect();
    let widths = widths(press, &all, place, pad);
    let table = Table { widths, boxed, pad, part };
    let mut head = Vec::new();
    for row in heads {
        head.push(table.row(press, row, place, true)?);
    }
    let again = (!head.is_empty()).then(|| Rc::new(repeated(head.clone())));
    let mut pieces = head;
    for piece in &mut pieces {
        piece.with_next = true;
    }
    for row in bodies {
        let piece = table.row(press, row, place, false)?;
        pieces.push(Piece { again: again.clone(), ..piece });
    }
    if let Some(first) = pieces.first_mut() {
        first.above = first.above.max(press.style.size * 0.45);
    }
    Ok(pieces)
}

/// The head as it stands on later pages: it was read already.
fn repeated(head: Vec<Piece>) -> Piece {
    let mut whole = Piece::stacked(head);
    for mark in &mut whole.marks {
        mark.part = None;
    }
    whole
}

/// What columns take: their words' width when there is room, else in proportion.
fn widths(press: &Press<'_>, rows: &[Node<'_, '_>], place: Place, pad: f32) -> Vec<f32> {
    let mut least: Vec<f32> = Vec::new();
    let mut wanted: Vec<f32> = Vec::new();
    for row in rows {
        for (at, cell) in cells(*row).into_iter().enumerate() {
            let (longest, whole) = text::extent(press, cell, look(press, cell, place.look));
            if least.len() <= at {
                least.push(0.0);
                wanted.push(0.0);
            }
            let narrow = if stays_on_a_line(cell) { whole } else { longest };
            if let (Some(least), Some(wanted)) = (least.get_mut(at), wanted.get_mut(at)) {
                *least = least.max(narrow + 2.0 * pad);
                *wanted = wanted.max(whole + 2.0 * pad);
            }
        }
    }
    shared(&least, &wanted, place.width)
}

fn stays_on_a_line(cell: Node<'_, '_>) -> bool {
    has_class(cell, "number") || has_class(cell, "nowrap")
}

fn shared(least: &[f32], wanted: &[f32], width: f32) -> Vec<f32> {
    let (least_sum, wanted_sum): (f32, f32) = (least.iter().sum(), wanted.iter().sum());
    if wanted_sum <= width {
        let more = width / wanted_sum.max(1.0);
        return wanted.iter().map(|it| it * more).collect();
    }
    if least_sum >= width {
        return least.iter().map(|it| it * width / least_sum.max(1.0)).collect();
    }
    let share = (width - least_sum) / (wanted_sum - least_sum);
    least.iter().zip(wanted).map(|(least, wanted)| least + (wanted - least) * share).collect()
}

fn look(press: &Press<'_>, cell: Node<'_, '_>, look: Look) -> Look {
    let row = cell.parent().map(classes).unwrap_or_default();
    look.of("tr", &row, press.style).of(cell.tag_name().name(), &classes(cell), press.style)
}

impl Table {
    fn row(
        &self,
        press: &mut Press<'_>,
        row: Node<'_, '_>,
        place: Place,
        head: bool,
    ) -> Result<Piece, PaperError> {
        let part = press.parts.add(Role::Row, Some(self.part));
        let down = if self.boxed { self.pad * 0.4 } else { self.pad * 0.62 };
        let mut whole = Piece::default();
        let (mut x, mut edges) = (0.0, vec![0.0]);
        for (cell, width) in cells(row).into_iter().zip(&self.widths) {
            let role = match (cell.tag_name().name(), head) {
                ("th", true) => Role::ColumnHead,
                ("th", false) => Role::RowHead,
                _ => Role::Cell,
            };
            let part = press.parts.add(role, Some(part));
            let look = Look { above: 0.0, ..look(press, cell, place.look) };
            let inner = Place { width: width - 2.0 * self.pad, look, inside: Some(part) };
            let piece = Piece::stacked(press.inside(cell, inner)?).moved(x + self.pad, down);
            whole.height = whole.height.max(piece.height + 2.0 * down);
            whole.marks.extend(piece.marks);
            x += width;
            edges.push(x);
        }
        if self.boxed {
            whole.height = whole.height.max(press.style.size * TO_WRITE_ON);
        }
        self.lines(&mut whole, &edges, head);
        Ok(whole)
    }

    fn lines(&self, row: &mut Piece, edges: &[f32], head: bool) {
        let (bottom, right) = (row.height, edges.last().copied().unwrap_or_default());
        let (width, ink) = if head { (0.9, BLACK) } else { (0.4, HAIR) };
        if self.boxed {
            row.marks.push(Mark::line((0.0, 0.0), (right, 0.0), 0.6, BLACK));
            for edge in edges {
                row.marks.push(Mark::line((*edge, 0.0), (*edge, bottom), 0.6, BLACK));
            }
            row.marks.push(Mark::line((0.0, bottom), (right, bottom), 0.6, BLACK));
        } else {
            row.marks.push(Mark::line((0.0, bottom), (right, bottom), width, ink));
        }
    }
}
