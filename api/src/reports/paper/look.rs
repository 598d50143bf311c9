//! What each element of a page looks like on paper: the style sheet of print.

/// Sizes and spaces of a text, the spaces as shares of its size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Look {
    /// Size, in points.
    pub(super) size: f32,
    pub(super) bold: bool,
    /// From line to line, as a share of the size.
    pub(super) leading: f32,
    /// To the right edge instead of the left.
    pub(super) right: bool,
    /// Space above, in points.
    pub(super) above: f32,
    pub(super) ink: Ink,
}

/// A colour, in 256 steps of red, green and blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Ink(pub(super) u8, pub(super) u8, pub(super) u8);

/// As good as black.
pub(super) const BLACK: Ink = Ink(0, 0, 0);
/// For what matters less, still of high contrast.
pub(super) const GREY: Ink = Ink(72, 72, 72);
/// Lines between rows.
pub(super) const HAIR: Ink = Ink(150, 150, 150);

/// Size and density of a document.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Style {
    /// Running text, in points.
    pub size: f32,
    /// Little space and small headings, for what must fit on one page.
    pub close: bool,
}

/// The figures above cards and headings.
pub(super) const ACCENT: Ink = Ink(23, 80, 107);

impl Look {
    /// Running text of this size.
    pub(super) fn text(size: f32) -> Self {
        Self { size, bold: false, leading: 1.24, right: false, above: 0.0, ink: BLACK }
    }

    /// What an element and its classes make of it.
    pub(super) fn of(self, element: &str, classes: &[&str], style: Style) -> Self {
        let mut look = self;
        let base = style.size;
        match element {
            "h1" => look.heading(base * 1.9, 0.0),
            "h2" if style.close => look.heading(base * 1.08, base * 0.75),
            "h2" => look.heading(base * 1.34, base * 2.0),
            "h3" => look.heading(base * 1.08, base * 1.1),
            "b" | "strong" | "th" => look.bold = true,
            "p" | "li" => look.above = look.above.max(base * 0.28),
            "small" => look.small(base * 0.88),
            "figcaption" => look.small(base * 0.92),
            "footer" => look.small(base * 0.9),
            _ => {}
        }
        for class in classes {
            look.class(class, base);
        }
        look
    }

    fn heading(&mut self, size: f32, above: f32) {
        *self = Self { size, bold: true, leading: 1.16, above, ..*self };
    }

    fn small(&mut self, size: f32) {
        self.size = self.size.min(size);
        self.bold = false;
    }

    fn class(&mut self, class: &str, base: f32) {
        match class {
            "small" => self.size = self.size.min(base * 0.92),
            "note" => (self.size, self.ink) = (base * 0.92, GREY),
            "few" => self.ink = GREY,
            "right" | "number" => self.right = true,
            "set" => (self.size, self.bold) = (base * 1.25, true),
            "word" => (self.size, self.bold, self.leading) = (base * 3.0, true, 1.0),
            "lead" => (self.size, self.leading) = (base * 1.16, 1.32),
            "figure" => (self.size, self.bold, self.leading) = (base * 1.62, true, 1.15),
            _ => {}
        }
    }
}
