//! Where a record stands in its source, and each of its members.

use std::collections::BTreeMap;
use std::sync::Arc;

/// A member of a record, whatever its source calls it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Member {
    /// Their id of the record.
    Id,
    /// Their version of it.
    Version,
    /// When they changed it.
    UpdatedAt,
    /// What it belongs to: the grower of a farm or planter, the farm of a field, the field of a yield.
    Parent,
    /// The same where it is named by our id, if that stands elsewhere.
    OurParent,
    /// Name.
    Name,
    /// Telephone number of a grower.
    Phone,
    /// E-mail address of a grower.
    Email,
    /// Boundary of a field.
    Boundary,
    /// Area of a field.
    Area,
    /// Rows of a planter.
    Rows,
    /// Distance between the rows of a planter.
    RowSpacing,
    /// The whole make-up of a planter.
    Makeup,
    /// Day of the harvest.
    HarvestedOn,
    /// Crop that was harvested.
    Crop,
    /// Grain on an area.
    Grain,
    /// How much water the grain counts.
    Basis,
    /// Water in the grain.
    Moisture,
    /// Area that was harvested.
    HarvestedArea,
    /// Note.
    Note,
}

impl Member {
    /// Its name in answers.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Id => "id",
            Self::Version => "version",
            Self::UpdatedAt => "updated_at",
            Self::Parent => "parent",
            Self::OurParent => "our_parent",
            Self::Name => "name",
            Self::Phone => "phone",
            Self::Email => "email",
            Self::Boundary => "boundary",
            Self::Area => "area",
            Self::Rows => "rows",
            Self::RowSpacing => "row_spacing",
            Self::Makeup => "makeup",
            Self::HarvestedOn => "harvested_on",
            Self::Crop => "crop",
            Self::Grain => "grain",
            Self::Basis => "basis",
            Self::Moisture => "moisture",
            Self::HarvestedArea => "harvested_area",
            Self::Note => "note",
        }
    }

    /// Those whose values are compared with ours.
    pub const COMPARED: &'static [Self] = &[
        Self::Name,
        Self::Phone,
        Self::Email,
        Self::Boundary,
        Self::Area,
        Self::Rows,
        Self::RowSpacing,
        Self::Makeup,
        Self::HarvestedOn,
        Self::Crop,
        Self::Grain,
        Self::Basis,
        Self::Moisture,
        Self::HarvestedArea,
        Self::Note,
    ];

    /// The member that answers call so.
    pub fn named(word: &str) -> Option<Self> {
        Self::COMPARED.iter().copied().find(|member| member.word() == word)
    }
}

/// What is put behind the place of a record to name one of its members: `/properties/name` behind
/// `/features/3`, `, column "area_ac"` behind `line 12`. One for all records of a source.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Columns(BTreeMap<Member, String>);

impl<const N: usize> From<[(Member, String); N]> for Columns {
    fn from(members: [(Member, String); N]) -> Self {
        Self(BTreeMap::from(members))
    }
}

impl FromIterator<(Member, String)> for Columns {
    fn from_iter<I: IntoIterator<Item = (Member, String)>>(members: I) -> Self {
        Self(members.into_iter().collect())
    }
}

/// Where a record stands in its source: `line 12` of a file, the JSON Pointer `/features/3`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    record: String,
    columns: Arc<Columns>,
}

impl Place {
    /// A record that stands here, with members where `columns` says.
    pub fn new(record: impl Into<String>, columns: &Arc<Columns>) -> Self {
        Self { record: record.into(), columns: columns.clone() }
    }

    /// Where the record stands.
    pub fn record(&self) -> &str {
        &self.record
    }

    /// Where a member stands; the record where that is not known.
    pub fn of(&self, member: Member) -> String {
        let known = |member: Member| self.columns.0.get(&member).map(String::as_str);
        let behind = match member {
            Member::OurParent => known(member).or_else(|| known(Member::Parent)),
            _ => known(member),
        };
        format!("{}{}", self.record, behind.unwrap_or_default())
    }
}

#[cfg(test)]
mod tests {
    use super::{Columns, Member, Place};
    use std::sync::Arc;

    #[test]
    fn a_member_is_named_where_it_stands() {
        let file = Arc::new(Columns::from([(Member::Area, ", column \"area_ac\"".to_owned())]));
        let place = Place::new("line 12", &file);
        assert_eq!(place.of(Member::Area), "line 12, column \"area_ac\"");
        assert_eq!(place.of(Member::Name), "line 12");
    }

    #[test]
    fn each_compared_member_has_a_name_of_its_own() {
        for member in Member::COMPARED {
            assert_eq!(Member::named(member.word()), Some(*member));
        }
        assert_eq!(Member::named("id"), None);
    }
}
