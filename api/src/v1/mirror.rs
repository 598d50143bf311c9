//! The wire forms of the domain's enums.
//!
//! `domain` knows nothing of the API document. A mirror has the same variants, and the compiler
//! refuses one that lacks a variant.

/// Makes an enum with the variants of a domain enum, `snake_case` on the wire, and both ways
/// between the two.
macro_rules! mirror {
    ($($(#[$meta:meta])* $name:ident = $domain:path { $($variant:ident)* })*) => {$(
        $(#[$meta])*
        #[derive(
            Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize, utoipa::ToSchema,
        )]
        #[serde(rename_all = "snake_case")]
        pub enum $name {
            $(#[doc = stringify!($variant)] $variant,)*
        }

        impl From<$domain> for $name {
            fn from(it: $domain) -> Self {
                type Domain = $domain;
                match it { $(Domain::$variant => Self::$variant,)* }
            }
        }

        impl From<$name> for $domain {
            fn from(it: $name) -> Self {
                type Domain = $domain;
                match it { $($name::$variant => Domain::$variant,)* }
            }
        }
    )*};
}

pub(crate) use mirror;
