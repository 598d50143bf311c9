//! What stands on a page: letters and shapes at their places, and how they stack up.

use std::rc::Rc;

use super::look::Ink;
use super::tags::Part;

/// Letters or a shape. Places are in points, from the top left of what holds it.
#[derive(Debug, Clone)]
pub(super) struct Mark {
    pub(super) what: What,
    /// The part of the document it belongs to; none of lines and grounds, which say nothing.
    pub(super) part: Option<Part>,
}

/// What is drawn.
#[derive(Debug, Clone)]
pub(super) enum What {
    Letters { x: f32, base: f32, size: f32, bold: bool, ink: Ink, text: String },
    Shape(Shape),
}

/// A shape: its outline, and what fills and strokes it.
#[derive(Debug, Clone)]
pub(super) struct Shape {
    pub(super) path: Vec<Step>,
    pub(super) fill: Option<Ink>,
    pub(super) stroke: Option<Stroke>,
}

impl Shape {
    /// The part of it above or below a height.
    fn cut(&self, height: f32, keep: fn(f32, f32) -> f32) -> Self {
        let path = self.path.iter().map(|step| step.cut(height, keep)).collect();
        Self { path, ..self.clone() }
    }
}

/// A line's colour, width and dashes.
#[derive(Debug, Clone)]
pub(super) struct Stroke {
    pub(super) ink: Ink,
    pub(super) width: f32,
    pub(super) dashes: Vec<f32>,
}

/// A step of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Step {
    Move(f32, f32),
    Line(f32, f32),
    Curve(f32, f32, f32, f32, f32, f32),
    Close,
}

impl Step {
    /// The same elsewhere and in another size.
    pub(super) fn put(self, scale: f32, dx: f32, dy: f32) -> Self {
        let (x_at, y_at) = (|x: f32| x * scale + dx, |y: f32| y * scale + dy);
        match self {
            Self::Move(x, y) => Self::Move(x_at(x), y_at(y)),
            Self::Line(x, y) => Self::Line(x_at(x), y_at(y)),
            Self::Curve(ax, ay, bx, by, x, y) => {
                Self::Curve(x_at(ax), y_at(ay), x_at(bx), y_at(by), x_at(x), y_at(y))
            }
            Self::Close => Self::Close,
        }
    }

    /// With its end above or below a height.
    fn cut(self, height: f32, keep: fn(f32, f32) -> f32) -> Self {
        let at = |y: f32| keep(y, height);
        match self {
            Self::Move(x, y) => Self::Move(x, at(y)),
            Self::Line(x, y) => Self::Line(x, at(y)),
            Self::Curve(ax, ay, bx, by, x, y) => Self::Curve(ax, at(ay), bx, at(by), x, at(y)),
            Self::Close => Self::Close,
        }
    }

    fn lowest(self) -> f32 {
        match self {
            Self::Move(_, y) | Self::Line(_, y) | Self::Curve(_, _, _, _, _, y) => y,
            Self::Close => 0.0,
        }
    }
}

impl Mark {
    pub(super) fn letters(x: f32, base: f32, look: (f32, bool, Ink), text: String) -> What {
        let (size, bold, ink) = look;
        What::Letters { x, base, size, bold, ink, text }
    }

    /// A straight line that says nothing.
    pub(super) fn line(from: (f32, f32), to: (f32, f32), width: f32, ink: Ink) -> Self {
        let path = vec![Step::Move(from.0, from.1), Step::Line(to.0, to.1)];
        let stroke = Some(Stroke { ink, width, dashes: Vec::new() });
        Self { what: What::Shape(Shape { path, fill: None, stroke }), part: None }
    }

    /// A frame that says nothing.
    pub(super) fn frame(width: f32, height: f32, line: f32, ink: Ink) -> Self {
        let half = line / 2.0;
        let (right, bottom) = (width - half, height - half);
        let path = vec![
            Step::Move(half, half),
            Step::Line(right, half),
            Step::Line(right, bottom),
            Step::Line(half, bottom),
            Step::Close,
        ];
        let stroke = Some(Stroke { ink, width: line, dashes: Vec::new() });
        Self { what: What::Shape(Shape { path, fill: None, stroke }), part: None }
    }

    /// A ground that says nothing.
    pub(super) fn ground(width: f32, height: f32, ink: Ink) -> Self {
        let path = vec![
            Step::Move(0.0, 0.0),
            Step::Line(width, 0.0),
            Step::Line(width, height),
            Step::Line(0.0, height),
            Step::Close,
        ];
        Self { what: What::Shape(Shape { path, fill: Some(ink), stroke: None }), part: None }
    }

    /// The same elsewhere.
    pub(super) fn moved(mut self, dx: f32, dy: f32) -> Self {
        match &mut self.what {
            What::Letters { x, base, .. } => {
                *x += dx;
                *base += dy;
            }
            What::Shape(shape) => {
                for step in &mut shape.path {
                    *step = step.put(1.0, dx, dy);
                }
            }
        }
        self
    }

    /// The line its letters stand on.
    pub(super) fn base(&self) -> Option<f32> {
        match self.what {
            What::Letters { base, .. } => Some(base),
            What::Shape(_) => None,
        }
    }

    /// How far down it reaches.
    fn lowest(&self) -> f32 {
        match &self.what {
            What::Letters { base, size, .. } => base + size * 0.25,
            What::Shape(shape) => shape.path.iter().map(|it| it.lowest()).fold(0.0, f32::max),
        }
    }

    fn highest(&self) -> f32 {
        match &self.what {
            What::Letters { base, size, .. } => base - size,
            What::Shape(shape) => {
                let tops = shape.path.iter().filter(|it| **it != Step::Close);
                tops.map(|it| it.lowest()).fold(f32::MAX, f32::min)
            }
        }
    }
}

/// What is not broken over two pages if it fits on one.
#[derive(Debug, Clone, Default)]
pub(super) struct Piece {
    /// Space above, left out at the top of a page.
    pub(super) above: f32,
    pub(super) height: f32,
    pub(super) marks: Vec<Mark>,
    /// Stays with the next piece.
    pub(super) with_next: bool,
    /// What is written again when this piece comes first on a page: the head of its table.
    pub(super) again: Option<Rc<Piece>>,
    /// A heading: its words, for the outline.
    pub(super) heading: Option<String>,
    /// Begins a new page.
    pub(super) new_page: bool,
}

impl Piece {
    /// Several, one under another, as one.
    pub(super) fn stacked(pieces: Vec<Self>) -> Self {
        let mut whole = Self::default();
        for (place, piece) in pieces.into_iter().enumerate() {
            if place == 0 {
                whole.above = piece.above;
            } else {
                whole.height += piece.above;
            }
            let down = whole.height;
            whole.marks.extend(piece.marks.into_iter().map(|mark| mark.moved(0.0, down)));
            whole.height += piece.height;
        }
        whole
    }

    /// Moves what is on it.
    pub(super) fn moved(mut self, dx: f32, dy: f32) -> Self {
        self.marks = self.marks.into_iter().map(|mark| mark.moved(dx, dy)).collect();
        self
    }

    /// What fits into this height, and the rest. Only for what is taller than a page: letters stay
    /// whole, frames and lines are cut.
    pub(super) fn split(self, height: f32) -> (Self, Self) {
        let (mut fits, mut rest) = (Vec::new(), Vec::new());
        for mark in self.marks {
            match &mark.what {
                _ if mark.lowest() <= height => fits.push(mark),
                What::Shape(shape) if mark.highest() < height => {
                    let part = mark.part;
                    let cut = |keep: fn(f32, f32) -> f32| Mark {
                        what: What::Shape(shape.cut(height, keep)),
                        part,
                    };
                    fits.push(cut(f32::min));
                    rest.push(cut(f32::max));
                }
                _ => rest.push(mark),
            }
        }
        let top = rest.iter().map(Mark::highest).fold(height, f32::min).max(0.0);
        let rest = rest.into_iter().map(|mark| mark.moved(0.0, -top)).collect();
        let first = Self {
            above: self.above,
            height,
            marks: fits,
            heading: self.heading,
            ..Self::default()
        };
        let second = Self { height: self.height - top, marks: rest, ..Self::default() };
        (first, second)
    }
}
