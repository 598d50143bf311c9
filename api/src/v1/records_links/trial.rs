//! One page of each resource, looked at closely.

use std::time::Duration;

use actix_web::web::Data;
use reqwest::Url;
use serde_json::{Value, json};
use tokio::time::{Instant, timeout_at};

use super::dto::{
    RecordsRead, RecordsSample, RecordsStop, RecordsTest, RecordsTested, RecordsUnfound,
};
use super::opened::{Opened, opened};
use crate::app::AppState;
use crate::entities::records_links::Model;
use crate::exchange::intake::{Incoming, Member, Parent, in_words};
use crate::exchange::pull::bounds::Bounds;
use crate::exchange::pull::fetch::{Fetched, Fetcher, Page};
use crate::exchange::pull::paging::Pages;
use crate::exchange::pull::profile::{Paging, Profile, Resource};
use crate::exchange::pull::read::Reader;
use crate::exchange::pull::sample::{blotted, shortened};
use crate::exchange::pull::stop::{Stop, StopCode};
use crate::http::ApiError;

/// Time for all of it: whoever asked waits.
const TIME: Duration = Duration::from_secs(22);
/// Records that are shown.
const SAMPLES: usize = 3;
/// Most problems of a record that are shown.
const PROBLEMS: usize = 50;

/// Tries a link.
pub(super) async fn of(app: &Data<AppState>, link: &Model) -> Result<RecordsTest, ApiError> {
    let Opened { profile, secret } = match opened(app, link)? {
        Ok(opened) => opened,
        Err(Stop { code, detail }) => {
            let stopped = Some(RecordsStop { code, kind: None, page: None, detail });
            return Ok(RecordsTest { good: false, stopped, resources: Vec::new() });
        }
    };
    let mut hidden: Vec<String> = secret.iter().map(|secret| secret.reveal().to_owned()).collect();
    let mut fetcher = Fetcher::new(&app.outgoing, &*app.clock, &profile.sign_in, Bounds::TEST);
    let until = Instant::now() + TIME;
    let mut resources = Vec::new();
    for resource in &profile.resources {
        let (pages, url) = Pages::from(&profile.paging, resource.first(&profile.base));
        let came = timeout_at(until, fetcher.get(&url, None)).await;
        hidden.extend(fetcher.secrets());
        let late = |_elapsed| Err(Stop::new(StopCode::TooLong, "There was no time left for this."));
        let tested = match came.unwrap_or_else(late) {
            Ok(Fetched::Page(page)) => looked_at(&profile, resource, (pages, url), &page, &hidden),
            Ok(Fetched::NotModified) => {
                stopped(resource, &url, Stop::new(StopCode::Status, "It answers 304 unasked."))
            }
            Err(stop) => stopped(resource, &url, stop),
        };
        resources.push(tested);
    }
    let good = resources.iter().all(is_good);
    Ok(RecordsTest { good, stopped: None, resources })
}

fn is_good(tested: &RecordsTested) -> bool {
    let faultless = tested.samples.iter().all(|sample| sample.problems.is_empty());
    tested.stopped.is_none() && tested.records > 0 && faultless && tested.hints.is_empty()
}

fn stopped(resource: &Resource, url: &Url, stop: Stop) -> RecordsTested {
    let Stop { code, detail } = stop;
    RecordsTested {
        kind: resource.kind,
        url: url.to_string(),
        stopped: Some(RecordsStop { code, kind: None, page: None, detail }),
        records: 0,
        has_next_page: false,
        page: None,
        samples: Vec::new(),
        found_nothing: Vec::new(),
        hints: Vec::new(),
    }
}

fn looked_at(
    profile: &Profile,
    resource: &Resource,
    (mut pages, url): (Pages<'_>, Url),
    page: &Page,
    hidden: &[String],
) -> RecordsTested {
    let items = resource.items.of(&page.body);
    let reader = Reader::of(resource);
    let mut samples = Vec::new();
    for (place, record) in items.iter().take(SAMPLES) {
        let mut incoming = reader.read(place.clone(), record);
        let mut problems = std::mem::take(&mut incoming.unread);
        problems.truncate(PROBLEMS);
        let raw = shortened(record, hidden);
        let read = read(&incoming, hidden);
        for problem in &mut problems {
            problem.given = problem.given.as_ref().map(|given| blotted(given, hidden));
        }
        samples.push(RecordsSample { place: place.clone(), raw, read, problems });
    }
    let mut hints = Vec::new();
    if items.is_empty() {
        hints.push(format!("No record stands at {} of this page.", resource.items.as_str()));
    }
    let next = pages.after(page, items.len());
    if let Err(Stop { detail, .. }) = &next {
        hints.push(detail.clone());
    }
    hints.extend(no_way_on(profile, page));
    let found_nothing = found_nothing(resource, &items);
    let records = number(items.len());
    hints.extend(
        found_nothing
            .iter()
            .filter(|it| it.in_records == records)
            .map(|it| format!("{}: nothing stands at {:?} in any record.", it.member, it.pointer)),
    );
    RecordsTested {
        kind: resource.kind,
        url: url.to_string(),
        stopped: None,
        records,
        has_next_page: matches!(next, Ok(Some(_))),
        page: items.is_empty().then(|| shortened(&page.body, hidden)),
        samples,
        found_nothing,
        hints,
    }
}

/// A pointer to the next page that leads nowhere, not even to `null`, may be a slip.
fn no_way_on(profile: &Profile, page: &Page) -> Option<String> {
    let (Paging::NextUrl(pointer) | Paging::Cursor { pointer, .. }) = &profile.paging else {
        return None;
    };
    if page.body.pointer(pointer.as_str()).is_some() {
        return None;
    }
    Some(format!(
        "Paging: nothing stands at {:?} of this page. That is right on a last page only.",
        pointer.as_str()
    ))
}

fn found_nothing(resource: &Resource, items: &[(String, &Value)]) -> Vec<RecordsUnfound> {
    let mut all = Vec::new();
    for (member, pointer) in &resource.members {
        let in_records =
            number(items.iter().filter(|(_, record)| pointer.find(record).is_none()).count());
        if in_records > 0 {
            let (member, pointer) = (member.word().to_owned(), pointer.as_str().to_owned());
            all.push(RecordsUnfound { member, pointer, in_records });
        }
    }
    all
}

fn number(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// What is read in a record, for people.
fn read(incoming: &Incoming, hidden: &[String]) -> Vec<RecordsRead> {
    let mut all = Vec::new();
    let mut say = |member: Member, value: Option<String>| {
        let member = member.word().to_owned();
        let value = value.map(|value| blotted(&value, hidden));
        all.extend(value.map(|value| RecordsRead { member, value }));
    };
    let said = &incoming.said;
    say(Member::Id, incoming.their_id.clone());
    say(Member::Version, incoming.their_version.clone());
    say(Member::UpdatedAt, incoming.updated_at.map(|time| time.to_rfc3339()));
    say(
        Member::Parent,
        said.parent.as_ref().map(|parent| match parent {
            Parent::Theirs(text) | Parent::Named(text) => text.clone(),
            Parent::Ours(id) => id.to_string(),
        }),
    );
    let words = |value: Value| in_words(&value);
    say(Member::Name, said.name.clone());
    say(Member::Phone, said.phone.clone());
    say(Member::Email, said.email.clone());
    say(Member::Boundary, words(json!(said.boundary)));
    say(Member::Area, words(json!(said.area)));
    say(Member::Rows, said.rows.map(|rows| rows.to_string()));
    say(Member::RowSpacing, words(json!(said.row_spacing)));
    say(Member::HarvestedOn, said.harvested_on.map(|day| day.to_string()));
    say(Member::Crop, words(json!(said.crop)));
    say(Member::Grain, words(json!(said.grain)));
    say(Member::Basis, words(json!(said.basis)));
    say(Member::Moisture, words(json!(said.moisture)));
    say(Member::HarvestedArea, words(json!(said.harvested_area)));
    say(Member::Note, said.note.clone());
    all
}
