//! How the records of another system are fetched and read: a profile that was checked.

use chrono::TimeDelta;
use reqwest::Url;
use reqwest::header::{HeaderName, HeaderValue};

use super::items::Items;
use super::pointer::Pointer;
use crate::exchange::intake::{Kind, Member};
use crate::sealed::Secret;
use crate::v1::yields::dto::GrainBasis;

/// A profile.
#[derive(Debug, Clone)]
pub struct Profile {
    /// Where all paths begin.
    pub base: Url,
    /// How we sign in.
    pub sign_in: SignIn,
    /// How one page leads to the next.
    pub paging: Paging,
    /// How what did not change is passed over.
    pub changes: Changes,
    /// What is fetched, parents before children.
    pub resources: Vec<Resource>,
}

/// How we sign in.
#[derive(Debug, Clone)]
pub enum SignIn {
    /// Not at all.
    Nobody,
    /// By a header.
    Header {
        /// Its name.
        name: HeaderName,
        /// What it says.
        value: Sensitive,
    },
    /// By a token that is got with an id and a secret (RFC 6749, section 4.4).
    ClientCredentials(Box<ClientCredentials>),
}

/// What a header says, where that is a secret; prints as `Sensitive`.
#[derive(Debug, Clone)]
pub struct Sensitive(HeaderValue);

impl Sensitive {
    /// Of a text that is a secret.
    ///
    /// # Errors
    /// In words, when no header can say so.
    pub fn of(text: &str) -> Result<Self, &'static str> {
        let value = HeaderValue::from_str(text);
        let mut value =
            value.map_err(|_bad| "A header can't hold a line break or a control character.")?;
        value.set_sensitive(true);
        Ok(Self(value))
    }

    /// What the header says.
    pub fn reveal(&self) -> &HeaderValue {
        &self.0
    }
}

/// Id and secret, and where they get a token.
#[derive(Debug, Clone)]
pub struct ClientCredentials {
    /// Where.
    pub token_url: Url,
    /// The id.
    pub client_id: String,
    /// The secret.
    pub secret: Secret,
    /// What the token shall be good for.
    pub scope: Option<String>,
    /// Whether id and secret go into the body, and not into a header.
    pub in_body: bool,
}

/// How one page leads to the next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Paging {
    /// There is one page.
    One,
    /// The header `Link` (RFC 8288).
    LinkHeader,
    /// The member `links` of the page, as OGC API Features has it, or the header.
    Links,
    /// Its address stands in the page.
    NextUrl(Pointer),
    /// A text in the page goes into a parameter.
    Cursor {
        /// Where it stands.
        pointer: Pointer,
        /// The parameter.
        parameter: String,
    },
    /// Pages are counted.
    Page {
        /// The parameter.
        parameter: String,
        /// The number of the first.
        first: u32,
    },
    /// Records are counted.
    Offset {
        /// The parameter.
        parameter: String,
    },
}

/// How what did not change is passed over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Changes {
    /// It is not.
    Full,
    /// By `ETag` and `If-None-Match`.
    ETag,
    /// By a parameter with a time.
    Since {
        /// The parameter.
        parameter: String,
        /// How much earlier than the last run is asked for, since clocks differ.
        overlap: TimeDelta,
    },
}

/// Where the records of one kind are, and what stands where in them.
#[derive(Debug, Clone)]
pub struct Resource {
    /// What they are.
    pub kind: Kind,
    /// Path behind the base.
    pub path: String,
    /// Parameters of the first page.
    pub parameters: Vec<(String, String)>,
    /// Where the records stand in a page.
    pub items: Items,
    /// What stands where in a record.
    pub members: Vec<(Member, Pointer)>,
    /// The units of what is measured.
    pub units: Vec<(Member, String)>,
    /// How the boundary is written.
    pub boundary_in: BoundaryForm,
    /// How much water a yield counts.
    pub basis: Option<GrainBasis>,
}

/// How a boundary is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoundaryForm {
    /// A GeoJSON geometry.
    GeoJson,
    /// Well-known text.
    Wkt,
}

impl Resource {
    /// The address of the first page.
    pub fn first(&self, base: &Url) -> Url {
        let mut url = base.clone();
        url.set_path(&format!("{}{}", base.path().trim_end_matches('/'), self.path));
        if !self.parameters.is_empty() {
            let mut query = url.query_pairs_mut();
            for (name, value) in &self.parameters {
                query.append_pair(name, value);
            }
        }
        url
    }

    /// The unit that a member is given in.
    pub fn unit_of(&self, member: Member) -> Option<&str> {
        self.units.iter().find(|(known, _)| *known == member).map(|(_, unit)| unit.as_str())
    }
}

/// The address with a parameter set to a value, instead of what it had.
pub fn with_parameter(url: &Url, name: &str, value: &str) -> Url {
    let others: Vec<(String, String)> = url
        .query_pairs()
        .filter(|(known, _)| known != name)
        .map(|(known, value)| (known.into_owned(), value.into_owned()))
        .collect();
    let mut url = url.clone();
    url.query_pairs_mut().clear().extend_pairs(others).append_pair(name, value);
    url
}
