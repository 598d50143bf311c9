//! Columns and frames.

use roxmltree::Node;

use super::error::PaperError;
use super::look::{ACCENT, BLACK, Ink};
use super::marks::{Mark, Piece};
use super::press::{Place, Press, has_class};
use super::text;

/// Between columns, in points.
const GAP: f32 = 16.0;

/// Under the line above a card, in points.
const CARD: f32 = 5.0;

/// What a page's head gives to its right side at most, as a share.
const RIGHT: f32 = 0.34;

/// The ground of the answer.
const GROUND: Ink = Ink(238, 242, 236);

fn elements<'a, 'i>(node: Node<'a, 'i>) -> Vec<Node<'a, 'i>> {
    node.children().filter(Node::is_element).collect()
}

/// The children side by side, all as wide.
pub(super) fn columns(
    press: &mut Press<'_>,
    node: Node<'_, '_>,
    place: Place,
) -> Result<Piece, PaperError> {
    let children = elements(node);
    let many = u16::try_from(children.len()).unwrap_or(u16::MAX).max(1);
    let width = (place.width - GAP * f32::from(many - 1)) / f32::from(many);
    let ruled = has_class(node, "cards");
    let mut parts = Vec::new();
    for child in children {
        let mut pieces = press.inside(child, place.wide(width))?;
        if let Some(first) = pieces.first_mut().filter(|_| ruled) {
            let words = std::mem::take(first).moved(0.0, CARD);
            *first = Piece { height: words.height + CARD, above: 0.0, ..words };
            first.marks.push(Mark::line((0.0, 0.0), (width, 0.0), 1.6, ACCENT));
        }
        parts.push((width, pieces));
    }
    let whole = beside(parts);
    let above = if ruled { press.style.size * 1.3 } else { whole.above };
    Ok(Piece { above, ..whole })
}

/// The head of a page: names on the left, what it is on the right.
pub(super) fn head(
    press: &mut Press<'_>,
    node: Node<'_, '_>,
    place: Place,
) -> Result<Piece, PaperError> {
    let children = elements(node);
    let right = if children.len() > 1 { place.width * RIGHT } else { -GAP };
    let mut parts = Vec::new();
    for (at, child) in children.into_iter().enumerate() {
        let width = if at == 0 { place.width - right - GAP } else { right };
        let mut inner = place.wide(width);
        inner.look.right = at > 0;
        parts.push((width, press.inside(child, inner)?));
    }
    Ok(beside(parts))
}

fn beside(parts: Vec<(f32, Vec<Piece>)>) -> Piece {
    let mut whole = Piece::default();
    let mut x = 0.0;
    for (width, pieces) in parts {
        let piece = Piece::stacked(pieces).moved(x, 0.0);
        whole.height = whole.height.max(piece.height);
        whole.above = whole.above.max(piece.above);
        whole.marks.extend(piece.marks);
        x += width + GAP;
    }
    whole
}

/// A frame round everything inside.
pub(super) fn framed(
    press: &mut Press<'_>,
    node: Node<'_, '_>,
    place: Place,
) -> Result<Vec<Piece>, PaperError> {
    let verdict = has_class(node, "verdict");
    let answer = has_class(node, "answer");
    let line = if verdict { 2.8 } else { 1.2 };
    let (side, ends) = (press.style.size * 0.8 + line, press.style.size * 0.4 + line);
    let inner = place.wide(place.width - 2.0 * side);
    let piece = if verdict {
        word_and_rest(press, node, inner)?
    } else {
        Piece::stacked(press.inside(node, inner)?)
    };
    let height = piece.height + 2.0 * ends;
    let edge = if answer {
        Mark::ground(place.width, height, GROUND)
    } else {
        Mark::frame(place.width, height, line, BLACK)
    };
    let mut marks = vec![edge];
    marks.extend(piece.moved(side, ends).marks);
    Ok(vec![Piece { above: press.style.size * 0.5, height, marks, ..Piece::default() }])
}

/// One word in large letters, and beside it the rest.
fn word_and_rest(
    press: &mut Press<'_>,
    node: Node<'_, '_>,
    place: Place,
) -> Result<Piece, PaperError> {
    let children = elements(node);
    let mut parts = Vec::new();
    let mut left = place.width;
    for (at, child) in children.into_iter().enumerate() {
        let look =
            place.look.of(child.tag_name().name(), &super::press::classes(child), press.style);
        let width =
            if at == 0 { text::extent(press, child, look).1.min(left * 0.4) + 1.0 } else { left };
        left -= width + GAP;
        let pieces = press.inside(child, Place { look, ..place.wide(width) })?;
        parts.push((width, pieces));
    }
    Ok(middled(parts))
}

/// Side by side, the lower ones in the middle of the height.
fn middled(parts: Vec<(f32, Vec<Piece>)>) -> Piece {
    let stacked: Vec<(f32, Piece)> =
        parts.into_iter().map(|(width, pieces)| (width, Piece::stacked(pieces))).collect();
    let height = stacked.iter().map(|(_, piece)| piece.height).fold(0.0, f32::max);
    let mut whole = Piece { height, ..Piece::default() };
    let mut x = 0.0;
    for (width, piece) in stacked {
        let down = (height - piece.height) / 2.0;
        whole.marks.extend(piece.moved(x, down).marks);
        x += width + GAP;
    }
    whole
}
