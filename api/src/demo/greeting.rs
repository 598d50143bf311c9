//! What the demo says when it is ready: where, who may sign in, and three lines to try.

use std::io::{self, Write};
use std::net::SocketAddr;

use super::scenario::people::{ADVISORS, GROWERS, SignIn};
use super::season::Told;

/// The three lines to try, for any shell with `curl` and `sed`.
pub fn lines_to_try(address: SocketAddr, told: &Told) -> [String; 3] {
    let SignIn { email, password } = first_advisor();
    let with_token = r#"-H "Authorization: Bearer $TOKEN""#;
    [
        format!(
            "TOKEN=$(curl -s http://{address}/v1/sessions -H 'Content-Type: application/json' \
             -d '{{\"email\": \"{email}\", \"password\": \"{password}\"}}' \
             | sed 's/.*\"access_token\":\"\\([^\"]*\\)\".*/\\1/')"
        ),
        format!("curl -s {with_token} 'http://{address}/v1/fields?limit=3'"),
        format!(
            "curl -s {with_token} http://{address}/v1/recommendations/{}",
            told.recommendation_id
        ),
    ]
}

fn first_advisor() -> SignIn {
    let [advisor, ..] = ADVISORS;
    advisor.sign_in
}

/// Says it.
pub(super) fn greet(
    address: SocketAddr,
    told: &Told,
    out: &mut (dyn Write + Send),
) -> io::Result<()> {
    writeln!(out, "\nDibble is ready at http://{address} (end it with Ctrl-C).\n")?;
    writeln!(out, "An invented season: {}.", told.summary())?;
    writeln!(out, "Every setting, finding and adjustment in it was worked out by this service.\n")?;
    writeln!(out, "Sign in (passwords made for this demo, good for nothing else):")?;
    for advisor in ADVISORS {
        account(out, "advisor", advisor.name, advisor.sign_in)?;
    }
    for grower in GROWERS {
        if let Some(sign_in) = grower.sign_in {
            account(out, "grower", grower.name, sign_in)?;
        }
    }
    let [sign_in, fields, recommendation] = lines_to_try(address, told);
    writeln!(out, "\nThree lines to try, in this order:")?;
    writeln!(out, "\n# sign in and keep the token\n{sign_in}")?;
    writeln!(out, "\n# the first fields\n{fields}")?;
    writeln!(out, "\n# one recommendation, with its reasons and every step of the calculation")?;
    writeln!(out, "{recommendation}")?;
    writeln!(out, "\nThe page that goes into the cab, as a file for the browser or the printer:")?;
    writeln!(out, "{}", sheet_line(address, told))?;
    writeln!(out, "\nEvery operation, to read and to try: http://{address}/docs")?;
    out.flush()
}

fn sheet_line(address: SocketAddr, told: &Told) -> String {
    format!(
        "curl -s -H \"Authorization: Bearer $TOKEN\" \
         http://{address}/v1/recommendations/{}/sheet -o sheet.html",
        told.recommendation_id
    )
}

fn account(
    out: &mut (dyn Write + Send),
    role: &str,
    name: &str,
    SignIn { email, password }: SignIn,
) -> io::Result<()> {
    writeln!(out, "  {role:8} {name:20} {email:26} {password}")
}
