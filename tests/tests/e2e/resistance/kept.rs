//! The same in every process, whoever records; learned anew when figures or the year change.

use api::entities::dig_lessons;
use sea_orm::{EntityTrait, QueryOrder};
use serde_json::json;
use tests::TestApp;
use tokio::task::JoinSet;

use super::{afresh, base, dig, dig_at, held, issued, known, neighbour, second, width};

#[tokio::test]
async fn every_process_knows_what_any_of_them_recorded() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let other = second(&app).await;
    let there = app.lead.at(&base(&other));
    assert_eq!(known(&there, &stead).await["digs"], 0, "both hold that nobody dug");
    dig(&app.grower, &stead, &dig_at(10)).await;
    assert_eq!(known(&there, &stead).await["digs"], 1);
    dig(&there, &stead, &dig_at(20)).await;
    let here = known(&app.lead, &stead).await;
    assert_eq!(here["digs"], 2);
    assert_eq!(known(&there, &stead).await, here);
    other.stop().await.expect("a good end");
    let third = second(&app).await;
    assert_eq!(known(&app.lead.at(&base(&third)), &stead).await, here, "after a restart");
    third.stop().await.expect("a good end");
}

#[tokio::test]
async fn digs_that_come_in_at_one_moment_are_each_counted_once() {
    const DIGS: u32 = 16;
    let app = TestApp::start().await;
    let steads = [issued(&app).await, neighbour(&app).await];
    let other = second(&app).await;
    let users = [app.lead.clone(), app.advisor.at(&base(&other))];
    let mut under_way = JoinSet::new();
    for n in 0..DIGS {
        let (user, stead) = (&users[n as usize % 2], &steads[n as usize / 2 % 2]);
        let (user, stead) = (user.clone(), stead.clone());
        under_way.spawn(async move {
            let made = dig(&user, &stead, &dig_at(n)).await;
            // Somebody looks while others dig.
            (made["id"].as_str().expect("id").to_owned(), known(&user, &stead).await)
        });
    }
    let sent = under_way.join_all().await;
    for (id, seen) in &sent {
        assert!(seen["digs"].as_u64().expect("a count") > 0, "{id} knows of itself: {seen}");
    }
    let lessons = dig_lessons::Entity::find().order_by_asc(dig_lessons::Column::Seq);
    let lessons = lessons.all(&app.state().db).await.expect("lessons");
    let numbers: Vec<i64> = lessons.iter().map(|lesson| lesson.seq).collect();
    assert_eq!(numbers, (1..=i64::from(DIGS)).collect::<Vec<_>>());
    let mut ids: Vec<String> = lessons.iter().map(|lesson| lesson.id.to_string()).collect();
    let mut made: Vec<String> = sent.into_iter().map(|(id, _)| id).collect();
    ids.sort();
    made.sort();
    assert_eq!(ids, made);
    for stead in &steads {
        let answer = known(&users[0], stead).await;
        assert_eq!(answer["digs"], DIGS / 2);
        assert_eq!(answer["classes"][0]["digs"]["practice"], DIGS);
        assert_eq!(known(&users[1], stead).await, answer);
    }
    assert_eq!(*held(&app, 2027).await, *afresh(&app, 2027).await, "one by one as all at once");
    other.stop().await.expect("a good end");
}

#[tokio::test]
async fn own_figures_and_a_new_year_change_what_digs_say() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    dig(&app.grower, &stead, &dig_at(30)).await;
    let before = known(&app.lead, &stead).await;
    let figure = "/v1/coefficients/fields_differ";
    let standard = app.lead.get(figure).await.assert_status(200).json();
    let own = json!({
        "value": standard["high"], "low": standard["value"], "high": standard["high"],
        "unit": standard["unit"], "source": "our fields differ more"
    });
    let etag = app.lead.get(figure).await.header("etag").to_owned();
    app.lead.put(figure, &etag, &own).await.assert_status(200);
    let after = known(&app.lead, &stead).await;
    assert!(width(&after["without_digs"]) > width(&before["without_digs"]));
    app.lead.delete(figure).await.assert_status(204);
    assert_eq!(known(&app.lead, &stead).await, before, "back to the standard");

    let next = held(&app, 2028).await;
    assert_eq!(next.season(), 2028);
    assert_eq!(*next, *afresh(&app, 2028).await);
    let back = held(&app, 2027).await;
    assert_eq!(*back, *afresh(&app, 2027).await);
    assert_ne!(*back, *next);
}
