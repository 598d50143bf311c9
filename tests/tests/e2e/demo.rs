//! The invented season, and the walk through the main job.

use std::collections::BTreeSet;
use std::net::SocketAddr;
use std::process::Command;

use api::app::Running;
use api::demo::{self, Options, Told, lines_to_try};
use serde_json::Value;
use tempfile::TempDir;

fn options(dir: &TempDir) -> Options {
    Options { dir: dir.path().to_owned(), address: SocketAddr::from(([127, 0, 0, 1], 0)) }
}

/// Somebody who uses what the demo printed.
struct Visitor {
    client: reqwest::Client,
    base: String,
    token: String,
}

impl Visitor {
    /// Signs in as the first of the three lines does.
    async fn sign_in(running: &Running, told: &Told) -> Self {
        let [line, _, _] = lines_to_try(running.address, told);
        let client = reqwest::Client::new();
        let body = line.split("-d '").nth(1).and_then(|rest| rest.split('\'').next());
        let request = client
            .post(url_of(&line))
            .header("content-type", "application/json")
            .body(body.expect("a body").to_owned());
        let answer = request.send().await.expect("an answer");
        assert_eq!(answer.status(), 201);
        let session: Value = answer.json().await.expect("JSON");
        let token = session["access_token"].as_str().expect("a token").to_owned();
        Self { client, base: format!("http://{}", running.address), token }
    }

    async fn get(&self, url: &str) -> Value {
        let answer = self.client.get(url).bearer_auth(&self.token).send().await.expect("answer");
        assert_eq!(answer.status(), 200, "{url}");
        answer.json().await.expect("JSON")
    }

    /// All objects of a kind: there are fewer than a page holds.
    async fn all(&self, kind: &str) -> Vec<Value> {
        let page = self.get(&format!("{}/v1/{kind}?limit=200", self.base)).await;
        assert!(page["next_cursor"].is_null(), "{kind} fill more than a page");
        page["items"].as_array().expect("items").clone()
    }

    /// The story without the ids, which are new each time.
    async fn story(&self) -> BTreeSet<String> {
        let mut story = BTreeSet::new();
        for it in self.all("recommendations").await {
            let (verdict, force) = (&it["verdict"], &it["down_force"]["value"]);
            let (made, seen) = (&it["created_at"], &it["acknowledged_at"]);
            story.insert(format!("{made} {seen} {} {verdict} {force}", it["status"]));
        }
        for it in self.all("adjustments").await {
            let words = &it["proposal"]["words"];
            story.insert(format!("{} {} {words} {}", it["created_at"], it["status"], it["reason"]));
        }
        story
    }
}

fn url_of(line: &str) -> String {
    let from = line.find("http://").expect("an address");
    line[from..].chars().take_while(|c| !" '\"".contains(*c)).collect()
}

fn distinct(items: &[Value], member: &str) -> BTreeSet<String> {
    items.iter().map(|item| item[member].to_string()).collect()
}

#[tokio::test]
async fn the_season_is_rich_and_the_same_each_time() {
    let (first_dir, second_dir) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    let (first, told) = demo::ready(&options(&first_dir)).await.expect("a season");
    let (second, told_again) = demo::ready(&options(&second_dir)).await.expect("a season");
    let visitor = Visitor::sign_in(&first, &told).await;

    let growers = visitor.all("growers").await;
    assert_eq!(growers.len(), 12);
    assert_eq!(distinct(&growers, "advisor_id").len(), 2);
    assert_eq!(visitor.all("fields").await.len(), 40);
    assert!(distinct(&visitor.all("planters").await, "makeup").len() >= 7);
    let sheets = visitor.all("recommendations").await;
    assert_eq!(distinct(&sheets, "field_id").len(), 40, "every field has a sheet");
    let statuses = ["\"acknowledged\"", "\"draft\"", "\"issued\"", "\"superseded\""];
    assert_eq!(distinct(&sheets, "status"), statuses.map(str::to_owned).into());
    let adjustments = visitor.all("adjustments").await;
    let statuses = ["\"accepted\"", "\"declined\"", "\"proposed\""];
    assert_eq!(distinct(&adjustments, "status"), statuses.map(str::to_owned).into());
    let proposals: Vec<Value> = adjustments.iter().map(|it| it["proposal"].clone()).collect();
    assert!(distinct(&proposals, "cause").len() >= 5, "digs find several causes");
    assert_eq!(usize::try_from(told.sheets).unwrap(), sheets.len());
    assert_eq!((told.digs, told.decisions), (told_again.digs, told_again.decisions));

    let again = Visitor::sign_in(&second, &told_again).await;
    assert_eq!(visitor.story().await, again.story().await);
    try_the_lines(&visitor, lines_to_try(first.address, &told)).await;
    first.stop().await.expect("a good end");
    second.stop().await.expect("a good end");
}

/// The printed lines: the requests in them, and the lines themselves where there is `curl`.
async fn try_the_lines(visitor: &Visitor, [sign_in, fields, sheet]: [String; 3]) {
    let page = visitor.get(&url_of(&fields)).await;
    assert_eq!(page["items"].as_array().expect("items").len(), 3);
    let told = visitor.get(&url_of(&sheet)).await;
    assert!(told["settings"]["down_force"]["per_row"]["value"].is_number(), "{told}");
    if Command::new("curl").arg("--version").output().is_err() {
        return;
    }
    for (line, expected) in [(fields, page), (sheet, told)] {
        let script = format!("{sign_in}\n{line}");
        let run = move || Command::new("sh").arg("-c").arg(script).output().expect("a shell");
        let output = tokio::task::spawn_blocking(run).await.expect("it ran");
        let answer: Value = serde_json::from_slice(&output.stdout).expect("JSON from the line");
        assert_eq!(answer, expected);
    }
}

#[tokio::test]
async fn every_step_of_the_walk_holds() {
    let dir = TempDir::new().unwrap();
    let mut said = Vec::new();
    let outcome = demo::walk(&options(&dir), &mut said).await.expect("the walk ends");
    let said = String::from_utf8(said).expect("text");
    assert_eq!(outcome.failed, 0, "{said}");
    assert!(outcome.checks >= 40, "{outcome}");
    assert!(said.ends_with(&format!("{outcome}.\n")), "{said}");
    for word in ["down force", "psi", "too little force", "The advisor accepts the change"] {
        assert!(said.contains(word), "the walk does not mention {word}");
    }
}
