//! All records of a records system: resource by resource, page by page.

use std::collections::{HashMap, HashSet};

use chrono::{DateTime, SecondsFormat, Utc};
use reqwest::Url;

use super::fetch::{Fetched, Fetcher, Page};
use super::link_header;
use super::paging::Pages;
use super::profile::{Changes, Paging, Profile, Resource, with_parameter};
use super::read::Reader;
use super::remembered::{KnownPage, KnownResource, Remembered};
use super::stop::{Stop, StopCode};
use crate::exchange::intake::{Incoming, Kind};

/// Which records are asked for.
#[derive(Debug, Clone, Copy)]
pub enum Asked<'a> {
    /// All there are.
    Everything,
    /// Those that changed since the last run.
    SinceLast(&'a Remembered),
}

/// What was fetched of a resource.
#[derive(Debug)]
pub struct Gathered {
    /// What its records are.
    pub kind: Kind,
    /// The records, each once.
    pub incoming: Vec<Incoming>,
    /// Whether these are all there are, so that what is not among them is missing.
    pub whole: bool,
    /// Whether no page was another than before; there are no records then.
    pub not_modified: bool,
    /// Its pages, to be remembered; none when they have no versions.
    pub pages: Vec<KnownPage>,
    /// How many records came.
    pub records: usize,
}

/// Told after each page, so that somebody can look on.
pub trait Watch {
    /// So many pages and records came so far. An error ends the work.
    fn came(&mut self, pages: u32, records: usize)
    -> impl Future<Output = Result<(), Stop>> + Send;
}

/// Fetches all resources of a profile.
#[derive(Debug)]
pub struct Gatherer<'a> {
    profile: &'a Profile,
    fetcher: Fetcher<'a>,
    most_records: usize,
    records: usize,
}

/// Why a resource was not gathered, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StopAt {
    /// What the records are.
    pub kind: Kind,
    /// The page, from 1.
    pub page: u32,
    /// Why.
    pub stop: Stop,
}

impl<'a> Gatherer<'a> {
    /// Of a profile.
    pub fn new(profile: &'a Profile, fetcher: Fetcher<'a>, most_records: usize) -> Self {
        Self { profile, fetcher, most_records, records: 0 }
    }

    /// Fetches every resource, parents before children.
    ///
    /// # Errors
    /// When one can't be fetched to its end.
    pub async fn all(
        mut self,
        asked: Asked<'_>,
        watch: &mut impl Watch,
    ) -> Result<Vec<Gathered>, StopAt> {
        let mut all = Vec::new();
        let profile = self.profile;
        for resource in &profile.resources {
            let mut page = 1;
            let gathered = self.resource(resource, asked, watch, &mut page).await;
            let kind = resource.kind;
            all.push(gathered.map_err(|stop| StopAt { kind, page, stop })?);
        }
        Ok(all)
    }

    async fn resource(
        &mut self,
        resource: &Resource,
        asked: Asked<'_>,
        watch: &mut impl Watch,
        page: &mut u32,
    ) -> Result<Gathered, Stop> {
        let mut first = resource.first(&self.profile.base);
        let mut whole = true;
        if let Asked::SinceLast(remembered) = asked
            && let Some(known) = remembered.of(resource.kind)
        {
            match &self.profile.changes {
                Changes::Full => {}
                Changes::ETag => {
                    if self.is_as_it_was(&known.pages, watch, page).await? {
                        return Ok(Gathered::as_it_was(resource.kind, known.pages.clone()));
                    }
                    *page = 1;
                }
                Changes::Since { parameter, overlap } => {
                    first = with_parameter(&first, parameter, &said(known.began_at - *overlap));
                    whole = false;
                }
            }
        }
        self.pages(resource, first, watch, page)
            .await
            .map(|gathered| Gathered { whole: gathered.whole && whole, ..gathered })
    }

    /// Whether there are pages that are known, and all of them are what they were.
    async fn is_as_it_was(
        &mut self,
        known: &[KnownPage],
        watch: &mut impl Watch,
        page: &mut u32,
    ) -> Result<bool, Stop> {
        // What leads on stands beside the page then, so its version does not say whether another follows by now.
        let way_is_beside = self.profile.paging == Paging::LinkHeader;
        let before_last = known.len().saturating_sub(1);
        for (nth, KnownPage { url, etag }) in known.iter().enumerate() {
            // An address from before the profile was changed is not asked for.
            let Ok(url) = Url::parse(url) else { return Ok(false) };
            if url.origin() != self.profile.base.origin() {
                return Ok(false);
            }
            let is_read = way_is_beside && nth == before_last;
            match self.fetcher.get(&url, Some(etag.as_str()).filter(|_| !is_read)).await? {
                Fetched::NotModified => {}
                Fetched::Page(page) if is_read && is_last(&page, etag) => {}
                Fetched::Page(_) => return Ok(false),
            }
            watch.came(self.fetcher.pages(), self.records).await?;
            *page = page.saturating_add(1);
        }
        Ok(!known.is_empty())
    }

    async fn pages(
        &mut self,
        resource: &Resource,
        first: Url,
        watch: &mut impl Watch,
        number: &mut u32,
    ) -> Result<Gathered, Stop> {
        let (mut pages, mut next) = Pages::from(&self.profile.paging, first);
        let reader = Reader::of(resource);
        let mut once = Once::default();
        let mut known = Some(Vec::new());
        let mut came = 0_usize;
        loop {
            let Fetched::Page(page) = self.fetcher.get(&next, None).await? else {
                return Err(Stop::new(StopCode::Status, "The records system answers 304 unasked."));
            };
            note_version(&mut known, &next, &page);
            let items = resource.items.of(&page.body);
            let records = items.len();
            came = came.saturating_add(records);
            self.count(records)?;
            for (at, record) in items {
                let place = format!("{}, page {number}, {at}", resource.kind.plural());
                once.push(reader.read(place, record));
            }
            watch.came(self.fetcher.pages(), self.records).await?;
            match pages.after(&page, records)? {
                Some(after) => next = after,
                None => break,
            }
            *number = number.saturating_add(1);
        }
        let whole = once.incoming.iter().all(|record| record.their_id.is_some());
        let (kind, incoming) = (resource.kind, once.incoming);
        let pages = known.unwrap_or_default();
        Ok(Gathered { kind, incoming, whole, not_modified: false, pages, records: came })
    }

    fn count(&mut self, records: usize) -> Result<(), Stop> {
        self.records = self.records.saturating_add(records);
        if self.records <= self.most_records {
            return Ok(());
        }
        let detail = format!("There are more than {} records.", self.most_records);
        Err(Stop::new(StopCode::TooLarge, detail))
    }
}

impl Gathered {
    fn as_it_was(kind: Kind, pages: Vec<KnownPage>) -> Self {
        Self { kind, incoming: Vec::new(), whole: false, not_modified: true, pages, records: 0 }
    }

    /// What is to be remembered of it.
    pub fn known(&self, began_at: DateTime<Utc>) -> KnownResource {
        KnownResource { kind: self.kind, began_at, pages: self.pages.clone() }
    }

    /// The ids that came.
    pub fn seen(&self) -> HashSet<String> {
        self.incoming.iter().filter_map(|record| record.their_id.clone()).collect()
    }
}

/// Whether a page is still what it was, and the last.
fn is_last(page: &Page, etag: &str) -> bool {
    page.etag.as_deref() == Some(etag)
        && link_header::next(page.links.iter().map(String::as_str)).is_none()
}

/// One page without a version, and the pages can't be asked for by version.
fn note_version(known: &mut Option<Vec<KnownPage>>, url: &Url, page: &Page) {
    match (known.as_mut(), &page.etag) {
        (Some(pages), Some(etag)) => {
            pages.push(KnownPage { url: url.to_string(), etag: etag.clone() });
        }
        _ => *known = None,
    }
}

/// A time for a parameter.
fn said(time: DateTime<Utc>) -> String {
    time.to_rfc3339_opts(SecondsFormat::Secs, true)
}

/// Records, each once: a list of what others belong to names one as often as it has others.
#[derive(Default)]
struct Once {
    incoming: Vec<Incoming>,
    places: HashMap<String, usize>,
}

impl Once {
    fn push(&mut self, record: Incoming) {
        let Some(id) = record.their_id.clone() else {
            self.incoming.push(record);
            return;
        };
        let before = self.places.get(&id).and_then(|place| self.incoming.get(*place));
        if before.is_some_and(|before| before.said == record.said && record.unread.is_empty()) {
            return;
        }
        self.places.entry(id).or_insert(self.incoming.len());
        self.incoming.push(record);
    }
}
