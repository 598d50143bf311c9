//! The page that goes with a package.

use domain::season::report::SeasonReport;

use super::descriptor::Form;
use crate::reports::words::date;

const FORM: &str = "\
Each CSV file is a table; datapackage.json says what each column is, its type and its unit (UCUM code), \
and which column refers to which table. UTF-8, commas, quotes by RFC 4180, lines end with CR LF, dot \
decimals, empty where nothing is known. Units are fixed for each column and stand in its name: SI \
throughout. Where the ICASA data dictionary has a name for what a column holds, the member `icasa` \
gives it; codes of texture are those of the USDA scheme, not of ICASA, which writes CL for clay.

Text that begins with = + - or @ has an apostrophe before it, so that no spreadsheet takes it for a \
formula; line breaks in text are spaces.
";

const WITHOUT_NAMES: &str = "\
WHAT WAS DONE TO HIDE WHO IT IS

- Names of growers, farms, fields, planters, trials and treatments, notes, addresses and boundaries are \
left out. No column holds a place.
- Every id is replaced by a code that was made for this export with a secret that is gone. The same \
grower, planter or field has the same code in all tables of this package, and another in the next.
- Days and times are the Monday of their week.
- Areas are rounded to 20 ha, planters to 8 rows.
- Values by which a grower could be told from others (rows, row spacing and down force of a planter; \
area and texture of a field; soil and cover of a dig) are empty where fewer than five growers share all \
of them.
- Stands, plantings, wear and trials are left out as a table where fewer than five growers stand behind \
them. With fewer than five growers in the season there is no export.
- Rows are in an order that says nothing, within blocks of 500.

WHAT THAT CAN'T DO

Whoever knows in which weeks a grower dug, and how often, may still recognise the pattern. Give the \
package only to people who promise not to try, and not to the public.
";

/// What the package is.
pub(super) fn readme(report: &SeasonReport, title: &str, form: Form) -> String {
    let about = &report.about;
    let head = match form {
        Form::Whole => title.to_owned(),
        Form::WithoutNames => format!("Season {} of a practice, without names", about.season),
    };
    let span = format!("{} to {}", date(about.first_day), date(about.last_day));
    let more = match form {
        Form::Whole => format!("Days are those of {}.\n", about.time_zone),
        Form::WithoutNames => format!("\n{WITHOUT_NAMES}"),
    };
    format!("{head}\n\n{span}; {}.\n\n{FORM}{more}", about.so_far.words)
}
