//! How one page leads to the next, and how what did not change is passed over.

use crate::tagged_union;

tagged_union! {
    /// How one page of a records system leads to the next.
    #[schema(examples(json!({"kind": "next_url", "pointer": "/links/next"})))]
    pub enum RecordsPaging by "kind" {
        /// All records stand in one page.
        One = "none" {},
        /// The header `Link` with `rel="next"` (RFC 8288).
        LinkHeader = "link_header" {},
        /// The member `links` of the page, as OGC API Features has it: `href` where `rel` is `next`. The
        /// header `Link` does too.
        Links = "links" {},
        /// The address of the next page stands in the page.
        NextUrl = "next_url" {
            /// JSON Pointer to it.
            #[schema(min_length = 1, max_length = 200, example = "/links/next")]
            pointer: String,
        },
        /// A text in the page goes into a parameter of the next request.
        Cursor = "cursor" {
            /// JSON Pointer to it.
            #[schema(min_length = 1, max_length = 200, example = "/next_cursor")]
            pointer: String,
            /// Name of the parameter.
            #[schema(min_length = 1, max_length = 100, example = "cursor")]
            parameter: String,
        },
        /// Pages have numbers; a page without records is the last.
        Page = "page" {
            /// Name of the parameter.
            #[schema(min_length = 1, max_length = 100, example = "page")]
            parameter: String,
            /// Number of the first page.
            #[serde(default)]
            #[schema(minimum = 0, maximum = 1, default = 0, example = 1)]
            first: u32,
        },
        /// Records are counted; a page without records is the last.
        Offset = "offset" {
            /// Name of the parameter with the number of records before the page.
            #[schema(min_length = 1, max_length = 100, example = "offset")]
            parameter: String,
        },
    }
}

tagged_union! {
    /// How what did not change since the last run is passed over.
    #[schema(examples(json!({"kind": "etag"})))]
    pub enum RecordsChanges by "kind" {
        /// It is not: each run fetches all there is.
        Full = "full" {},
        /// By `ETag` and `If-None-Match` (RFC 9110): a resource whose pages all answer 304 is left as it is.
        Etag = "etag" {},
        /// By a parameter with a time: only what was changed since is asked for. Such a run can't see what
        /// is missing; a run of `everything` can.
        Since = "since" {
            /// Name of the parameter.
            #[schema(min_length = 1, max_length = 100, example = "updated_since")]
            parameter: String,
            /// How many minutes earlier than the last run is asked for, since clocks differ; 10 when absent.
            #[serde(default = "ten")]
            #[schema(minimum = 0, maximum = 1440, default = 10, example = 10)]
            overlap_minutes: u16,
        },
    }
}

const fn ten() -> u16 {
    10
}
