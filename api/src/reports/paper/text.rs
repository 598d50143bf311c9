//! Text: from words to lines.

use roxmltree::Node;

use super::look::{Ink, Look};
use super::marks::{Mark, Piece};
use super::press::{Place, Press, classes};
use super::tags::Part;

/// Text in one look.
#[derive(Debug, Clone)]
pub(super) struct Run {
    pub(super) text: String,
    look: Look,
}

/// A piece of a word in one look.
#[derive(Debug, Clone)]
struct Bit {
    text: String,
    look: Look,
    width: f32,
}

/// What is not broken at a space.
#[derive(Debug, Clone, Default)]
struct Word {
    bits: Vec<Bit>,
    width: f32,
    /// A space comes before it, this wide.
    space: Option<f32>,
    /// It begins a new line.
    new_line: bool,
}

/// How much of the size stands above the line, and how much letters take in all.
const ASCENT: f32 = 0.905;
const TALL: f32 = 1.117;

/// Adds the runs of a text or of an element inside a line.
pub(super) fn gather(press: &Press<'_>, node: Node<'_, '_>, look: Look, runs: &mut Vec<Run>) {
    if let Some(text) = node.text().filter(|_| node.is_text()) {
        let text = press.faces.of(look.bold).legible(&text.replace(['\n', '\r', '\t'], " "));
        runs.push(Run { text, look });
        return;
    }
    let name = node.tag_name().name();
    if name == "br" {
        runs.push(Run { text: "\n".to_owned(), look });
    }
    let look = look.of(name, &classes(node), press.style);
    for child in node.children() {
        gather(press, child, look, runs);
    }
}

/// The lines of a text, one piece each.
pub(super) fn lines(press: &Press<'_>, runs: &[Run], place: Place, part: Part) -> Vec<Piece> {
    let rows = broken(press, words(press, runs), place.width);
    let last = rows.len().saturating_sub(1);
    let look = place.look;
    rows.into_iter()
        .enumerate()
        .map(|(at, row)| {
            let mut piece = line(row, place, part);
            // No line of a paragraph stands alone on a page.
            piece.with_next = at < last && (at == 0 || at + 1 == last);
            piece.above = if at == 0 { look.above } else { 0.0 };
            piece
        })
        .collect()
}

/// The width of the longest word and of the whole on one line.
pub(super) fn extent(press: &Press<'_>, node: Node<'_, '_>, look: Look) -> (f32, f32) {
    let mut runs = Vec::new();
    gather_all(press, node, look, &mut runs);
    let (mut longest, mut whole, mut widest) = (0.0_f32, 0.0_f32, 0.0_f32);
    for word in words(press, &runs) {
        if word.new_line {
            whole = 0.0;
        }
        whole += word.space.unwrap_or_default() + word.width;
        longest = longest.max(word.width);
        widest = widest.max(whole);
    }
    (longest, widest)
}

/// Like [`gather`], with blocks as lines of their own.
fn gather_all(press: &Press<'_>, node: Node<'_, '_>, look: Look, runs: &mut Vec<Run>) {
    for child in node.children() {
        let name = child.tag_name().name();
        if matches!(name, "p" | "small" | "li" | "ul" | "div") {
            let look = look.of(name, &classes(child), press.style);
            runs.push(Run { text: "\n".to_owned(), look });
            gather_all(press, child, look, runs);
            runs.push(Run { text: "\n".to_owned(), look });
        } else {
            gather(press, child, look, runs);
        }
    }
}

fn words(press: &Press<'_>, runs: &[Run]) -> Vec<Word> {
    let mut words: Vec<Word> = Vec::new();
    let (mut space, mut new_line, mut open) = (None, false, false);
    for run in runs {
        if run.text == "\n" {
            (space, new_line, open) = (None, !words.is_empty(), false);
            continue;
        }
        let letters = press.faces.of(run.look.bold);
        for (place, part) in run.text.split(' ').enumerate() {
            if place > 0 {
                (space, open) = (Some(letters.width(" ", run.look.size)), false);
            }
            if part.is_empty() {
                continue;
            }
            let width = letters.width(part, run.look.size);
            let bit = Bit { text: part.to_owned(), look: run.look, width };
            match words.last_mut().filter(|_| open) {
                Some(word) => {
                    word.width += width;
                    word.bits.push(bit);
                }
                None => words.push(Word {
                    bits: vec![bit],
                    width,
                    space: space.filter(|_| !new_line),
                    new_line,
                }),
            }
            (space, new_line, open) = (None, false, true);
        }
    }
    if let Some(first) = words.first_mut() {
        first.space = None;
    }
    words
}

/// Words on lines no wider than this.
fn broken(press: &Press<'_>, words: Vec<Word>, width: f32) -> Vec<Vec<Word>> {
    let mut rows: Vec<Vec<Word>> = Vec::new();
    let (mut row, mut used) = (Vec::new(), 0.0_f32);
    for word in words.into_iter().flat_map(|word| cut(press, word, width)) {
        let wanted = word.space.unwrap_or_default() + word.width;
        if !row.is_empty() && (word.new_line || used + wanted > width + 0.01) {
            rows.push(std::mem::take(&mut row));
            used = 0.0;
        }
        used += if row.is_empty() { word.width } else { wanted };
        row.push(word);
    }
    if !row.is_empty() {
        rows.push(row);
    }
    rows
}

/// A word that is wider than the line is broken between letters.
fn cut(press: &Press<'_>, word: Word, width: f32) -> Vec<Word> {
    if word.width <= width {
        return vec![word];
    }
    let mut parts = vec![Word { space: word.space, new_line: word.new_line, ..Word::default() }];
    for bit in word.bits {
        let letters = press.faces.of(bit.look.bold);
        for letter in bit.text.chars() {
            let text = letter.to_string();
            let wide = letters.width(&text, bit.look.size);
            if parts.last().is_some_and(|part| part.width > 0.0 && part.width + wide > width) {
                parts.push(Word::default());
            }
            let Some(part) = parts.last_mut() else { continue };
            part.width += wide;
            match part.bits.last_mut().filter(|last| last.look == bit.look) {
                Some(last) => {
                    last.text.push(letter);
                    last.width += wide;
                }
                None => part.bits.push(Bit { text, look: bit.look, width: wide }),
            }
        }
    }
    parts
}

/// One line of words.
fn line(row: Vec<Word>, place: Place, part: Part) -> Piece {
    let size = row.iter().flat_map(|word| &word.bits).map(|bit| bit.look.size).fold(0.0, f32::max);
    let height = size * place.look.leading;
    let base = (height - size * TALL) / 2.0 + size * ASCENT;
    let mut stretches: Vec<(f32, Bit)> = Vec::new();
    let mut x = 0.0;
    for (at, word) in row.into_iter().enumerate() {
        let space = word.space.filter(|_| at > 0);
        for (nth, bit) in word.bits.into_iter().enumerate() {
            let before = space.filter(|_| nth == 0);
            join(&mut stretches, &mut x, before, bit);
        }
    }
    let shift = if place.look.right { (place.width - x).max(0.0) } else { 0.0 };
    let marks = stretches.into_iter().map(|(x, bit)| {
        let look: (f32, bool, Ink) = (bit.look.size, bit.look.bold, bit.look.ink);
        Mark { what: Mark::letters(x + shift, base, look, bit.text), part: Some(part) }
    });
    Piece { height, marks: marks.collect(), ..Piece::default() }
}

/// Adds to the stretch before where the look is the same.
fn join(stretches: &mut Vec<(f32, Bit)>, x: &mut f32, space: Option<f32>, bit: Bit) {
    let wide = bit.width;
    let gap = space.unwrap_or_default();
    if let Some((_, last)) = stretches.last_mut().filter(|_| space.is_some()) {
        last.text.push(' ');
    }
    if let Some((_, last)) = stretches.last_mut().filter(|(_, last)| last.look == bit.look) {
        last.text.push_str(&bit.text);
    } else {
        stretches.push((*x + gap, bit));
    }
    *x += gap + wide;
}
