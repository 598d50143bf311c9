//! Lists, with dots or numbers.

use roxmltree::Node;

use super::error::PaperError;
use super::look::BLACK;
use super::marks::{Mark, Piece};
use super::press::{Place, Press, has_class};
use super::tags::Role;

/// How far the items stand in, as a share of the size of running text.
const INDENT: f32 = 1.35;

/// Between two columns of a list, in points.
const GAP: f32 = 16.0;

pub(super) fn list(
    press: &mut Press<'_>,
    node: Node<'_, '_>,
    place: Place,
) -> Result<Vec<Piece>, PaperError> {
    let numbered = node.tag_name().name() == "ol";
    let two = has_class(node, "cautions");
    let part = press.parts.add(Role::List { numbered }, place.inside);
    let width = if two { (place.width - GAP) / 2.0 } else { place.width };
    let mut items = Vec::new();
    let lines = node.children().filter(|child| child.tag_name().name() == "li");
    for (at, item) in lines.enumerate() {
        let marker = if numbered { format!("{}.", at + 1) } else { "•".to_owned() };
        items.push(self::item(press, item, place.wide(width).within(part), marker)?);
    }
    if two {
        Ok(vec![side_by_side(items, width + GAP)])
    } else {
        Ok(items.into_iter().flatten().collect())
    }
}

fn item(
    press: &mut Press<'_>,
    node: Node<'_, '_>,
    place: Place,
    marker: String,
) -> Result<Vec<Piece>, PaperError> {
    let part = press.parts.add(Role::Item, place.inside);
    let label = press.parts.add(Role::Label, Some(part));
    let body = press.parts.add(Role::ItemBody, Some(part));
    let indent = press.style.size * INDENT;
    let look = place.look.of("li", &[], press.style);
    let inner = Place { look, ..place }.within(body).wide(place.width - indent);
    let pieces = press.inside(node, inner)?;
    let mut pieces: Vec<Piece> = pieces.into_iter().map(|it| it.moved(indent, 0.0)).collect();
    if let Some(first) = pieces.first_mut() {
        let base = first.marks.iter().find_map(Mark::base).unwrap_or(look.size);
        let what = Mark::letters(indent * 0.3, base, (look.size, false, BLACK), marker);
        first.marks.insert(0, Mark { what, part: Some(label) });
        first.above = first.above.max(look.above);
    }
    Ok(pieces)
}

/// The items in two columns of about the same height.
fn side_by_side(items: Vec<Vec<Piece>>, step: f32) -> Piece {
    let items: Vec<Piece> = items.into_iter().map(Piece::stacked).collect();
    let whole: f32 = items.iter().map(|it| it.above + it.height).sum();
    let (mut left, mut right, mut used) = (Vec::new(), Vec::new(), 0.0);
    for item in items {
        if used < whole / 2.0 && right.is_empty() {
            used += item.above + item.height;
            left.push(item);
        } else {
            right.push(item);
        }
    }
    let (left, right) = (Piece::stacked(left), Piece::stacked(right).moved(step, 0.0));
    let height = left.height.max(right.height);
    let marks = left.marks.into_iter().chain(right.marks).collect();
    Piece { above: left.above, height, marks, ..Piece::default() }
}
