//! Drawings: the few shapes of SVG that our own charts are made of.

use roxmltree::Node;

use super::error::PaperError;
use super::look::{BLACK, Ink};
use super::marks::{Mark, Piece, Shape, Step, Stroke, What};
use super::press::{Place, Press};
use super::tags::Role;

/// Control points of a quarter of a circle, as a share of its radius.
const ROUND: f32 = 0.552_285;

pub(super) fn drawing(
    press: &mut Press<'_>,
    node: Node<'_, '_>,
    place: Place,
) -> Result<Piece, PaperError> {
    let part = press.parts.add(Role::Figure(words(node)), place.inside);
    let view: Vec<f32> = numbers(node.attribute("viewBox").unwrap_or_default());
    let (wide, tall) = match view.as_slice() {
        [_, _, wide, tall] if *wide > 0.0 && *tall > 0.0 => (*wide, *tall),
        _ => return Err(PaperError::Document("a drawing without a size".to_owned())),
    };
    let scale = place.width / wide;
    let marks = node.descendants().filter(Node::is_element).filter_map(|it| what(press, it, scale));
    let marks = marks.map(|what| Mark { what, part: Some(part) }).collect();
    Ok(Piece { above: press.style.size * 0.3, height: tall * scale, marks, ..Piece::default() })
}

/// What the drawing shows.
fn words(node: Node<'_, '_>) -> String {
    let said = node.children().filter(|it| matches!(it.tag_name().name(), "title" | "desc"));
    said.filter_map(|it| it.text()).collect::<Vec<&str>>().join(". ")
}

fn what(press: &Press<'_>, node: Node<'_, '_>, scale: f32) -> Option<What> {
    let at = |name: &str| number(node, name);
    let path = match node.tag_name().name() {
        "text" => return letters(press, node, scale),
        "rect" => rectangle(at("x"), at("y"), at("width"), at("height")),
        "line" => vec![Step::Move(at("x1"), at("y1")), Step::Line(at("x2"), at("y2"))],
        "circle" => circle(at("cx"), at("cy"), at("r")),
        "polyline" => corners(node, false),
        "polygon" => corners(node, true),
        _ => return None,
    };
    let path = path.into_iter().map(|step| step.put(scale, 0.0, 0.0)).collect();
    let open = matches!(node.tag_name().name(), "line" | "polyline");
    let fill = if open { None } else { ink(node.attribute("fill").unwrap_or("#000000")) };
    let stroke = node.attribute("stroke").and_then(ink).map(|ink| Stroke {
        ink,
        width: number_or(node, "stroke-width", 1.0) * scale,
        dashes: numbers(node.attribute("stroke-dasharray").unwrap_or_default())
            .into_iter()
            .map(|dash| dash * scale)
            .collect(),
    });
    Some(What::Shape(Shape { path, fill, stroke }))
}

fn letters(press: &Press<'_>, node: Node<'_, '_>, scale: f32) -> Option<What> {
    let bold = node.attribute("font-weight") == Some("bold");
    let letters = press.faces.of(bold);
    let text = letters.legible(node.text()?.trim());
    let size = number_or(node, "font-size", 12.0) * scale;
    let wide = letters.width(&text, size);
    let shift = match node.attribute("text-anchor") {
        Some("middle") => wide / 2.0,
        Some("end") => wide,
        _ => 0.0,
    };
    let ink = node.attribute("fill").and_then(ink).unwrap_or(BLACK);
    let (x, base) = (number(node, "x") * scale - shift, number(node, "y") * scale);
    Some(Mark::letters(x, base, (size, bold, ink), text))
}

fn rectangle(x: f32, y: f32, width: f32, height: f32) -> Vec<Step> {
    vec![
        Step::Move(x, y),
        Step::Line(x + width, y),
        Step::Line(x + width, y + height),
        Step::Line(x, y + height),
        Step::Close,
    ]
}

fn circle(x: f32, y: f32, r: f32) -> Vec<Step> {
    let c = r * ROUND;
    vec![
        Step::Move(x + r, y),
        Step::Curve(x + r, y + c, x + c, y + r, x, y + r),
        Step::Curve(x - c, y + r, x - r, y + c, x - r, y),
        Step::Curve(x - r, y - c, x - c, y - r, x, y - r),
        Step::Curve(x + c, y - r, x + r, y - c, x + r, y),
        Step::Close,
    ]
}

fn corners(node: Node<'_, '_>, closed: bool) -> Vec<Step> {
    let numbers = numbers(node.attribute("points").unwrap_or_default());
    let mut path: Vec<Step> = numbers
        .chunks_exact(2)
        .enumerate()
        .filter_map(|(at, pair)| match pair {
            [x, y] if at == 0 => Some(Step::Move(*x, *y)),
            [x, y] => Some(Step::Line(*x, *y)),
            _ => None,
        })
        .collect();
    if closed {
        path.push(Step::Close);
    }
    path
}

fn number(node: Node<'_, '_>, name: &str) -> f32 {
    number_or(node, name, 0.0)
}

fn number_or(node: Node<'_, '_>, name: &str, or: f32) -> f32 {
    node.attribute(name).and_then(|text| text.parse().ok()).unwrap_or(or)
}

fn numbers(text: &str) -> Vec<f32> {
    text.split([' ', ',']).filter_map(|part| part.parse().ok()).collect()
}

/// `#rrggbb`; nothing for `none`.
fn ink(text: &str) -> Option<Ink> {
    let part = |from: usize| u8::from_str_radix(text.get(from..from + 2)?, 16).ok();
    text.starts_with('#').then_some(())?;
    Some(Ink(part(1)?, part(3)?, part(5)?))
}
