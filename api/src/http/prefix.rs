//! The beginning of a name, to look for.

use sea_orm::sea_query::{Expr, ExprTrait, Func, LikeExpr, SimpleExpr};
use sea_orm::{ColumnTrait, ConnectionTrait, DbBackend};

use super::member::BadMember;
use super::text;

/// The beginning of a name; capitals and small letters from A to Z are the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prefix(String);

impl Prefix {
    /// Checks the parameter at `pointer`.
    pub fn parse(pointer: &str, given: Option<&str>) -> Result<Option<Self>, BadMember> {
        let text = given.map(|given| text::name(pointer, given)).transpose()?;
        Ok(text.map(|text| Self(text.to_ascii_lowercase())))
    }

    /// The condition that a text in `column` begins so.
    ///
    /// SQLite lowers A to Z only. PostgreSQL would lower other letters too, by the language of the
    /// database, so it is told to take the text as plain: one behaviour on both.
    pub fn begins(&self, db: &impl ConnectionTrait, column: impl ColumnTrait) -> SimpleExpr {
        let column = Expr::col(column);
        let plain = match db.get_database_backend() {
            DbBackend::Postgres => Expr::cust_with_expr(r#"$1 COLLATE "C""#, column),
            _ => column,
        };
        let pattern = format!("{}%", escaped(&self.0));
        Expr::expr(Func::lower(plain)).like(LikeExpr::new(pattern).escape('\\'))
    }
}

/// With nothing in it that `LIKE` takes for a wildcard.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        if matches!(letter, '%' | '_' | '\\') {
            safe.push('\\');
        }
        safe.push(letter);
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::{Prefix, escaped};

    #[test]
    fn wildcards_are_plain_letters() {
        assert_eq!(escaped(r"50%_a\b"), r"50\%\_a\\b");
    }

    #[test]
    fn an_empty_or_long_beginning_is_refused() {
        let parse = |text| Prefix::parse("?name", Some(text));
        assert_eq!(parse("Mil"), Ok(Some(Prefix("mil".to_owned()))));
        assert_eq!(parse("ÉCOLE"), Ok(Some(Prefix("École".to_owned()))));
        assert!(parse(" ").is_err_and(|bad| bad.pointer == "?name"));
        assert!(parse(&"x".repeat(121)).is_err());
        assert_eq!(Prefix::parse("?name", None), Ok(None));
    }
}
