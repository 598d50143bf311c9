//! Unions of objects that are told apart by one member, `kind` or another.

/// Declares a union of objects that are told apart by one of their members.
///
/// It is written like an `enum` with struct variants, each with its word. It goes out as
/// serde's internally tagged form does, and its schema is the plain `oneOf` of inline objects that
/// every client generator reads. It comes in through [`strict`](crate::http::strict), so that a
/// refusal deep inside still names its member; serde's own reader of such unions forgets the place.
///
/// ```
/// api::tagged_union! {
///     /// What presses the row units down.
///     pub enum Press by "kind" {
///         /// A spring.
///         Spring = "spring" {
///             /// Force of the spring in N.
///             force: f64,
///         },
///         /// Nothing.
///         Nothing = "nothing" {},
///     }
/// }
/// let press: Press = serde_json::from_str(r#"{"kind": "spring", "force": 500}"#).unwrap();
/// assert_eq!(serde_json::to_value(&press).unwrap()["kind"], "spring");
/// assert!(serde_json::from_str::<Press>(r#"{"kind": "spring"}"#).is_err());
/// ```
#[macro_export]
macro_rules! tagged_union {
    (
        $(#[$union_doc:meta])*
        $visible:vis enum $union:ident by $tag:tt {
            $(
                $(#[$variant_doc:meta])*
                $variant:ident = $word:tt {
                    $($(#[$member_doc:meta])* $member:ident: $type:ty),* $(,)?
                }
            ),* $(,)?
        }
    ) => {
        #[derive(Debug, Clone, PartialEq, ::serde::Serialize, ::utoipa::ToSchema)]
        #[serde(tag = $tag, deny_unknown_fields)]
        $(#[$union_doc])*
        $visible enum $union {
            $(
                $(#[$variant_doc])*
                #[serde(rename = $word)]
                $variant { $($(#[$member_doc])* $member: $type),* },
            )*
        }

        impl<'de> ::serde::Deserialize<'de> for $union {
            fn deserialize<D: ::serde::Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
                use ::serde::de::Error;
                $(
                    #[derive(::serde::Deserialize, ::utoipa::ToSchema)]
                    #[serde(deny_unknown_fields)]
                    struct $variant { $($(#[$member_doc])* $member: $type),* }
                )*
                let mut members =
                    ::serde_json::Map::<String, ::serde_json::Value>::deserialize(reader)?;
                let word = $crate::http::tagged::take_word(&mut members, $tag, &[$($word),*])
                    .map_err(|refusal| D::Error::custom(refusal.into_text()))?;
                let whole = ::serde_json::Value::Object(members);
                match word.as_str() {
                    $(
                        $word => $crate::http::strict::from_value::<$variant>(&whole)
                            .map(|$variant { $($member),* }| Self::$variant { $($member),* })
                            .map_err(|refusal| D::Error::custom(refusal.into_text())),
                    )*
                    _ => Err(D::Error::custom("this kind is not known")),
                }
            }
        }
    };
}

use serde_json::{Map, Value};

use super::strict::Refusal;

/// Takes the member `tag` out of an object; it must be one of the words `known`.
pub fn take_word(
    members: &mut Map<String, Value>,
    tag: &str,
    known: &[&str],
) -> Result<String, Refusal> {
    match members.remove(tag) {
        Some(Value::String(word)) if known.contains(&word.as_str()) => Ok(word),
        Some(Value::String(other)) => Err(Refusal::unknown_word(tag, &other, known)),
        Some(other) => Err(Refusal::unknown_word(tag, &other.to_string(), known)),
        None => Err(Refusal::missing(tag)),
    }
}

#[cfg(test)]
mod tests {
    use crate::http::strict::from_value;
    use serde::Deserialize;
    use serde_json::{Value, json};

    tagged_union! {
        /// A shape.
        enum Shape by "kind" {
            /// Round.
            Round = "round" {
                /// Its size.
                size: Size,
            },
            /// None.
            Nothing = "nothing" {},
        }
    }

    /// A size.
    #[derive(Debug, Clone, PartialEq, Deserialize, serde::Serialize, utoipa::ToSchema)]
    #[serde(deny_unknown_fields)]
    struct Size {
        /// Across.
        width: f64,
    }

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Whole {
        shapes: Vec<Shape>,
    }

    fn pointer(shape: &Value) -> String {
        let refusal = from_value::<Whole>(&json!({"shapes": [shape]})).expect_err("refused");
        refusal.into_member().pointer
    }

    #[test]
    fn a_refusal_inside_keeps_its_place() {
        let taken: Whole = from_value(&json!({"shapes": [
            {"kind": "round", "size": {"width": 2}}, {"kind": "nothing"}
        ]}))
        .expect("valid");
        assert_eq!(taken.shapes.len(), 2);
        assert_eq!(pointer(&json!({"size": {"width": 2}})), "/shapes/0/kind");
        assert_eq!(pointer(&json!({"kind": "square"})), "/shapes/0/kind");
        assert_eq!(pointer(&json!({"kind": 7})), "/shapes/0/kind");
        assert_eq!(pointer(&json!({"kind": "round"})), "/shapes/0/size");
        assert_eq!(pointer(&json!({"kind": "round", "size": {}})), "/shapes/0/size/width");
        let wrong = json!({"kind": "round", "size": {"width": "x"}});
        assert_eq!(pointer(&wrong), "/shapes/0/size/width");
        assert_eq!(pointer(&json!({"kind": "nothing", "size": 1})), "/shapes/0/size");
        assert_eq!(pointer(&json!("round")), "/shapes/0");
    }

    #[test]
    fn it_goes_out_as_it_came_in() {
        let round = json!({"kind": "round", "size": {"width": 2.5}});
        let shape: Shape = serde_json::from_value(round.clone()).expect("valid");
        assert_eq!(serde_json::to_value(&shape).expect("json"), round);
    }
}
