//! Pieces onto pages.

use super::Sheet;
use super::marks::Piece;

/// A piece and how far down on its page it stands.
pub(super) struct Placed {
    pub(super) top: f32,
    pub(super) piece: Piece,
}

/// What stands on one page.
pub(super) type Page = Vec<Placed>;

/// With less room than this a piece that is broken anyway begins on the next page, in points.
const LEAST: f32 = 60.0;

struct Flow<'s> {
    sheet: &'s Sheet,
    pages: Vec<Page>,
    /// How far down the last page is full.
    down: f32,
}

/// All pieces on as many pages as they need.
pub(super) fn pages(pieces: Vec<Piece>, sheet: &Sheet) -> Vec<Page> {
    let mut flow = Flow { sheet, pages: vec![Vec::new()], down: 0.0 };
    let mut chain: Vec<Piece> = Vec::new();
    for piece in pieces {
        let goes_on = piece.with_next;
        chain.push(piece);
        if !goes_on {
            flow.put_together(std::mem::take(&mut chain));
        }
    }
    flow.put_together(chain);
    flow.pages
}

impl Flow<'_> {
    fn room(&self) -> f32 {
        self.sheet.height - 2.0 * self.sheet.margin - self.sheet.foot
    }

    fn at_top(&self) -> bool {
        self.pages.last().is_none_or(Vec::is_empty)
    }

    /// Pieces that stay together, where one page holds them.
    fn put_together(&mut self, chain: Vec<Piece>) {
        let Some(first) = chain.first() else { return };
        let whole: f32 = chain.iter().map(|it| it.above + it.height).sum();
        let head = first.again.as_ref().map_or(0.0, |again| again.height);
        let fits_here = self.down + whole <= self.room();
        let fits_a_page = whole - first.above + head <= self.room();
        if !self.at_top() && (first.new_page || (!fits_here && fits_a_page)) {
            self.new_page();
        }
        for piece in chain {
            self.put(piece);
        }
    }

    fn put(&mut self, mut piece: Piece) {
        let above = if self.at_top() { 0.0 } else { piece.above };
        if self.down + above + piece.height > self.room() + 0.01
            && !self.at_top()
            && piece.height <= self.room()
        {
            self.new_page();
        }
        self.write_again(&piece);
        let mut above = if self.at_top() { 0.0 } else { piece.above };
        // Taller than a page: what fits, then the rest.
        if piece.height > self.room() && self.room() - self.down - above < LEAST && !self.at_top() {
            self.new_page();
            above = 0.0;
        }
        while piece.height > self.room() - self.down - above + 0.01 {
            let (fits, rest) = piece.split(self.room() - self.down - above);
            let stuck = fits.marks.is_empty() && self.at_top();
            self.place(fits, above);
            piece = rest;
            if stuck {
                break;
            }
            self.new_page();
            above = 0.0;
        }
        self.place(piece, above);
    }

    /// The head of a table on a page that begins inside it.
    fn write_again(&mut self, piece: &Piece) {
        if let Some(again) = piece.again.as_ref().filter(|_| self.at_top()) {
            self.place(again.as_ref().clone(), 0.0);
        }
    }

    fn place(&mut self, piece: Piece, above: f32) {
        let top = self.down + above;
        self.down = top + piece.height;
        if let Some(page) = self.pages.last_mut() {
            page.push(Placed { top, piece });
        }
    }

    fn new_page(&mut self) {
        self.pages.push(Vec::new());
        self.down = 0.0;
    }
}
