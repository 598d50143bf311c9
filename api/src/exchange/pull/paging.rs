//! What leads to the next page.

use std::collections::HashSet;

use reqwest::Url;
use serde_json::Value;

use super::fetch::Page;
use super::link_header;
use super::pointer::Pointer;
use super::profile::{Paging, with_parameter};
use super::stop::{Stop, StopCode};

/// The pages of a resource, one after the other.
#[derive(Debug)]
pub struct Pages<'a> {
    paging: &'a Paging,
    /// The first address, to which parameters are added.
    first: Url,
    asked: HashSet<String>,
    came: HashSet<[u8; 32]>,
    /// Pages before the next one.
    number: u32,
    /// Records on those pages.
    records: usize,
}

impl<'a> Pages<'a> {
    /// From the address of the first page; gives what is asked for first.
    pub fn from(paging: &'a Paging, first: Url) -> (Self, Url) {
        let asked = match paging {
            Paging::Page { parameter, first: number } => {
                with_parameter(&first, parameter, &number.to_string())
            }
            Paging::Offset { parameter } => with_parameter(&first, parameter, "0"),
            _ => first.clone(),
        };
        let pages = Self {
            paging,
            first,
            asked: HashSet::from([asked.to_string()]),
            came: HashSet::new(),
            number: 0,
            records: 0,
        };
        (pages, asked)
    }

    /// The address of the page after this one, which held so many records.
    ///
    /// # Errors
    /// When pages come twice, or what leads to the next can't be used.
    pub fn after(&mut self, page: &Page, records: usize) -> Result<Option<Url>, Stop> {
        if !self.came.insert(page.hash) && records > 0 {
            let detail = "The same page came twice: the way from page to page leads in a circle.";
            return Err(Stop::new(StopCode::PageRepeats, detail));
        }
        self.number = self.number.saturating_add(1);
        self.records = self.records.saturating_add(records);
        let Some(next) = self.next(page, records)? else { return Ok(None) };
        if next.origin() != self.first.origin() {
            let detail = "The next page is on another host than the first; it is not asked for.";
            return Err(Stop::new(StopCode::OtherOrigin, detail));
        }
        if !self.asked.insert(next.to_string()) {
            let detail = "The next page is one that came before: the pages lead in a circle.";
            return Err(Stop::new(StopCode::PageRepeats, detail));
        }
        Ok(Some(next))
    }

    fn next(&self, page: &Page, records: usize) -> Result<Option<Url>, Stop> {
        let link = || link_header::next(page.links.iter().map(String::as_str));
        match self.paging {
            Paging::One => Ok(None),
            Paging::LinkHeader => resolved(page, link()),
            Paging::Links => {
                resolved(page, link().or_else(|| next_of_links(&page.body).map(str::to_owned)))
            }
            Paging::NextUrl(pointer) => resolved(page, text_at(&page.body, pointer)?),
            Paging::Cursor { pointer, parameter } => {
                let cursor = text_at(&page.body, pointer)?;
                Ok(cursor.map(|cursor| with_parameter(&self.first, parameter, &cursor)))
            }
            Paging::Page { parameter, first } => Ok((records > 0).then(|| {
                let number = first.saturating_add(self.number);
                with_parameter(&self.first, parameter, &number.to_string())
            })),
            Paging::Offset { parameter } => Ok((records > 0)
                .then(|| with_parameter(&self.first, parameter, &self.records.to_string()))),
        }
    }
}

fn resolved(page: &Page, next: Option<String>) -> Result<Option<Url>, Stop> {
    let Some(next) = next else { return Ok(None) };
    let url = page.url.join(&next);
    url.map(Some).map_err(|_bad| {
        Stop::new(StopCode::Paging, "The address of the next page is none that can be used.")
    })
}

/// The `href` of the entry of `links` whose `rel` is `next`.
fn next_of_links(page: &Value) -> Option<&str> {
    let links = page.get("links")?.as_array()?;
    let next = links.iter().find(|link| link.get("rel").and_then(Value::as_str) == Some("next"))?;
    next.get("href")?.as_str()
}

/// A text or a number; nothing, `""` and `false` end the pages.
fn text_at(page: &Value, pointer: &Pointer) -> Result<Option<String>, Stop> {
    match pointer.find(page) {
        None | Some(Value::Null | Value::Bool(false)) => Ok(None),
        Some(Value::String(text)) => Ok(Some(text.clone()).filter(|text| !text.is_empty())),
        Some(Value::Number(number)) => Ok(Some(number.to_string())),
        Some(_) => {
            let detail = format!("At {} of the page stands no text.", pointer.as_str());
            Err(Stop::new(StopCode::Paging, detail))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Pages;
    use crate::exchange::pull::fetch::Page;
    use crate::exchange::pull::pointer::Pointer;
    use crate::exchange::pull::profile::Paging;
    use crate::exchange::pull::stop::StopCode;
    use reqwest::Url;
    use serde_json::{Value, json};

    fn page(url: &str, body: Value, number: u8) -> Page {
        let url = Url::parse(url).expect("an address");
        Page { url, body, hash: [number; 32], etag: None, links: Vec::new() }
    }

    fn pointer(text: &str) -> Pointer {
        Pointer::parse(text).expect("a pointer")
    }

    const FIRST: &str = "https://r.example/api/farms?limit=2";

    fn walk(paging: &Paging) -> (Pages<'_>, String) {
        let (pages, asked) = Pages::from(paging, Url::parse(FIRST).expect("an address"));
        (pages, asked.to_string())
    }

    fn next(pages: &mut Pages<'_>, page: &Page, records: usize) -> Option<String> {
        pages.after(page, records).expect("a way").map(|url| url.to_string())
    }

    #[test]
    fn an_address_in_the_page_may_be_relative() {
        let paging = Paging::NextUrl(pointer("/links/next"));
        let (mut pages, asked) = walk(&paging);
        assert_eq!(asked, FIRST);
        let first = page(FIRST, json!({"links": {"next": "farms?page=b"}}), 1);
        assert_eq!(
            next(&mut pages, &first, 2).as_deref(),
            Some("https://r.example/api/farms?page=b")
        );
        for (number, end) in
            [json!({}), json!({"links": {"next": null}}), json!({"links": {"next": ""}})]
                .into_iter()
                .enumerate()
        {
            let last = page(FIRST, end, 100 + u8::try_from(number).expect("small"));
            assert_eq!(next(&mut pages, &last, 2), None);
        }
        let odd = page(FIRST, json!({"links": {"next": {}}}), 9);
        assert_eq!(pages.after(&odd, 2).expect_err("no text").code, StopCode::Paging);
    }

    #[test]
    fn a_cursor_a_number_and_an_offset_go_into_a_parameter() {
        let cursor = Paging::Cursor { pointer: pointer("/next"), parameter: "after".to_owned() };
        let (mut pages, _) = walk(&cursor);
        let first = page(FIRST, json!({"next": "a b&c"}), 1);
        let second = next(&mut pages, &first, 2).expect("a page");
        assert_eq!(second, "https://r.example/api/farms?limit=2&after=a+b%26c");
        let third = next(&mut pages, &page(&second, json!({"next": 17}), 2), 2);
        assert_eq!(third.as_deref(), Some("https://r.example/api/farms?limit=2&after=17"));

        let counted = Paging::Page { parameter: "page".to_owned(), first: 1 };
        let (mut pages, asked) = walk(&counted);
        assert_eq!(asked, "https://r.example/api/farms?limit=2&page=1");
        let second = next(&mut pages, &page(FIRST, json!([1, 2]), 1), 2);
        assert_eq!(second.as_deref(), Some("https://r.example/api/farms?limit=2&page=2"));
        assert_eq!(next(&mut pages, &page(FIRST, json!([]), 2), 0), None);

        let offset = Paging::Offset { parameter: "offset".to_owned() };
        let (mut pages, asked) = walk(&offset);
        assert_eq!(asked, "https://r.example/api/farms?limit=2&offset=0");
        next(&mut pages, &page(FIRST, json!([1, 2]), 1), 2);
        let third = next(&mut pages, &page(FIRST, json!([3]), 2), 1);
        assert_eq!(third.as_deref(), Some("https://r.example/api/farms?limit=2&offset=3"));
    }

    #[test]
    fn links_are_read_from_header_or_page() {
        let mut first = page(FIRST, json!({"links": [{"rel": "self", "href": "/x"}]}), 1);
        first.links = vec!["</api/farms?s=2>; rel=\"next\"".to_owned()];
        for paging in [Paging::LinkHeader, Paging::Links] {
            let (mut pages, _) = walk(&paging);
            let second = next(&mut pages, &first, 2).expect("a page");
            assert_eq!(second, "https://r.example/api/farms?s=2");
        }
        let body = json!({"links": [{"rel": "next", "href": "/api/farms?s=3"}]});
        let (mut pages, _) = walk(&Paging::Links);
        let third = next(&mut pages, &page(FIRST, body.clone(), 2), 2).expect("a page");
        assert_eq!(third, "https://r.example/api/farms?s=3");
        let (mut pages, _) = walk(&Paging::LinkHeader);
        assert_eq!(next(&mut pages, &page(FIRST, body, 2), 2), None);
        let (mut pages, _) = walk(&Paging::One);
        assert_eq!(next(&mut pages, &first, 2), None);
    }

    #[test]
    fn circles_and_other_hosts_end_it() {
        let paging = Paging::NextUrl(pointer("/next"));
        for (target, code) in [
            (FIRST, StopCode::PageRepeats),
            ("https://other.example/api", StopCode::OtherOrigin),
            ("http://r.example/api/farms?page=2", StopCode::OtherOrigin),
            ("https://r.example:8443/api", StopCode::OtherOrigin),
            ("//169.254.169.254/", StopCode::OtherOrigin),
            ("https://", StopCode::Paging),
        ] {
            let (mut pages, _) = walk(&paging);
            let stop = pages.after(&page(FIRST, json!({"next": target}), 1), 2).expect_err(target);
            assert_eq!(stop.code, code, "{target}");
        }
        // A server that does not know the parameter sends its first page for ever.
        let counted = Paging::Page { parameter: "page".to_owned(), first: 0 };
        let (mut pages, _) = walk(&counted);
        assert!(next(&mut pages, &page(FIRST, json!([1]), 7), 1).is_some());
        let stop = pages.after(&page(FIRST, json!([1]), 7), 1).expect_err("the same");
        assert_eq!(stop.code, StopCode::PageRepeats);
    }
}
