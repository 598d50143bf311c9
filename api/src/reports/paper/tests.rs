//! What must hold of paper, whatever is printed: nothing lost, nothing off the page.

use std::fmt::Write;

use super::fonts::Faces;
use super::look::{Look, Style};
use super::marks::What;
use super::press::{Place, Press};
use super::tags::Parts;
use super::{About, Sheet, pages, print};

const STYLE: Style = Style { size: 10.0, close: false };

/// The words of each page, each with how far right and down it reaches.
fn pages_of(body: &str, sheet: Sheet) -> Vec<Vec<(String, f32, f32)>> {
    let tree = roxmltree::Document::parse(body).expect("markup");
    let faces = Faces::load().expect("letters");
    let mut press = Press { faces: &faces, style: STYLE, parts: Parts::default() };
    let place = Place {
        width: sheet.width - 2.0 * sheet.margin,
        look: Look::text(STYLE.size),
        inside: None,
    };
    let pieces = press.inside(tree.root_element(), place).expect("laid out");
    let page = |placed: &pages::Placed| -> Vec<(String, f32, f32)> {
        let words = placed.piece.marks.iter().filter_map(|mark| match &mark.what {
            What::Letters { x, base, size, bold, text, .. } => {
                let right = x + faces.of(*bold).width(text, *size);
                Some((text.clone(), right, placed.top + base))
            }
            What::Shape(_) => None,
        });
        words.collect()
    };
    pages::pages(pieces, &sheet).iter().map(|it| it.iter().flat_map(page).collect()).collect()
}

fn about() -> About {
    About {
        title: "A page".to_owned(),
        author: "A practice".to_owned(),
        foot: "A page".to_owned(),
        made_on: Some((2027, 4, 20)),
    }
}

#[test]
fn the_head_of_a_table_stands_on_every_page_and_no_row_is_lost() {
    let mut rows = String::new();
    for row in 0..200 {
        write!(rows, "<tr><th>row {row}</th><td>some words about it</td></tr>").expect("written");
    }
    let body = format!(
        "<body><table><thead><tr><th>Name</th><th>Words</th></tr></thead><tbody>{rows}</tbody></table></body>"
    );
    let pages = pages_of(&body, Sheet::LETTER);
    assert!(pages.len() > 3);
    for page in &pages {
        assert_eq!(page.first().map(|word| word.0.as_str()), Some("Name"));
    }
    let all: Vec<&str> = pages.iter().flatten().map(|word| word.0.as_str()).collect();
    for row in 0..200 {
        assert_eq!(all.iter().filter(|it| **it == format!("row {row}")).count(), 1, "row {row}");
    }
}

#[test]
fn nothing_stands_off_the_page_however_long_words_and_cells_are() {
    let long = "Llanfairpwllgwyngyll".repeat(12);
    let much = "many words that fill more than a page of a narrow column ".repeat(120);
    let body = format!(
        "<body><h1>{long}</h1><p>{long} {much}</p><table><thead><tr><th>{long}</th><th class=\"number\">{long}</th></tr></thead>\
         <tbody><tr><td>{much}</td><td class=\"number\">12,345,678.90 of {long}</td></tr></tbody></table>\
         <div class=\"pair\"><div><p>{much}</p></div><div><ul><li>{long}</li></ul></div></div>\
         <div class=\"box\"><p>{much}</p></div></body>"
    );
    for sheet in [Sheet::LETTER, Sheet::A4, Sheet::LETTER.bare()] {
        let pages = pages_of(&body, sheet);
        let wide = sheet.width - 2.0 * sheet.margin + 0.5;
        let tall = sheet.height - 2.0 * sheet.margin - sheet.foot + 0.5;
        for (word, right, down) in pages.iter().flatten() {
            assert!(
                *right <= wide && *down <= tall,
                "{word} reaches {right} of {wide}, {down} of {tall}"
            );
        }
        assert!(pages.iter().all(|page| !page.is_empty()), "an empty page");
        let all: String = pages.iter().flatten().map(|word| word.0.replace(' ', "")).collect();
        let wanted = much.replace(' ', "").len() * 4;
        assert!(all.len() >= wanted, "words were lost: {} of {wanted}", all.len());
    }
}

#[test]
fn a_heading_is_never_the_last_line_of_a_page() {
    for lines in 30..70 {
        let body = format!(
            "<body>{}<h2>Heading</h2><p>First line</p></body>",
            "<p>line</p>".repeat(lines)
        );
        let pages = pages_of(&body, Sheet::LETTER);
        for page in &pages {
            assert_ne!(page.last().map(|word| word.0.as_str()), Some("Heading"), "{lines} lines");
        }
    }
}

#[test]
fn letters_that_the_face_lacks_and_signs_that_nobody_sees_do_no_harm() {
    let body = "<body><h2>Πεδίο, поле, 畑 🌱</h2><p>a\u{7}b &lt;&amp;&gt; “quoted”</p></body>";
    let printed = print(body, STYLE, Sheet::A4, &about()).expect("printed");
    assert_eq!(printed.pages, 1);
    let words = pages_of("<body><p>Πεδίο, поле, 畑</p></body>", Sheet::A4);
    assert_eq!(
        words.first().and_then(|page| page.first()).map(|word| word.0.as_str()),
        Some("Πεδίο, поле, ?")
    );
}

#[test]
fn what_is_not_well_formed_is_an_error_and_no_panic() {
    for bad in ["", "<body><p></body>", "<body><svg></svg></body>"] {
        assert!(print(bad, STYLE, Sheet::A4, &about()).is_err(), "{bad}");
    }
    assert!(print("<body></body>", STYLE, Sheet::A4, &about()).is_ok(), "nothing is a page, too");
}
