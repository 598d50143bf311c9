//! The page, and both documents on paper.

use tests::{Farmstead, TestApp};

use super::season;

const PAGE: &str = "/v1/seasons/2027/report/page";
const PDF: &str = "/v1/seasons/2027/report/pdf";

#[tokio::test]
async fn the_page_says_what_the_report_counts_and_runs_nothing() {
    let app = TestApp::start().await;
    season(&app, 6).await;
    let report = app.lead.get("/v1/seasons/2027/report").await.assert_status(200).json();
    let page = app.lead.get(PAGE).await.assert_status(200);
    assert_eq!(page.header("content-type"), "text/html; charset=utf-8");
    assert_eq!(page.header("cache-control"), "no-store");
    assert!(page.header("content-security-policy").starts_with("default-src 'none'"));
    let first = &report["in_window"]["all"]["first_pass"];
    let said = format!("{} of {}", first["count"], first["of"]);
    assert!(page.text.contains(&said), "{said} of {}", page.text);
    assert!(page.text.contains("6 settings sheets went out"), "{}", page.text);
    assert!(page.text.contains("The season is not over: day 110 of 365"), "half a season is said");
    for bad in ["<script", "http://", "https://", " style="] {
        let found = page.text.replace("http://www.w3.org/2000/svg", "").contains(bad);
        assert!(!found, "{bad} on the page");
    }
    assert!(page.text.contains("<title>Depth of the seed against the depth wanted</title>"));
}

#[tokio::test]
async fn a_grower_reads_his_own_page_and_no_neighbours_name() {
    let app = TestApp::start().await;
    season(&app, 6).await;
    let own = Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await;
    own.with_dig(&app.lead).await;
    let page = app.grower.get(PAGE).await.assert_status(200);
    assert!(page.text.contains("North forty"), "his field");
    assert!(!page.text.contains("Marchbanks"), "a neighbour is named");
    assert!(page.text.contains("All other growers of the practice together (6)"), "{}", page.text);
    let pdf = app.grower.get(PDF).await.assert_status(200);
    assert!(pdf.bytes.starts_with(b"%PDF-1.7"));
}

#[tokio::test]
async fn reports_of_a_grower_a_planter_and_an_advisor_are_pages_too() {
    let app = TestApp::start().await;
    let all = season(&app, 2).await;
    let [first, ..] = all.as_slice() else { panic!("two") };
    for (query, heading) in [
        (format!("?grower_id={}", first.grower), "Grower Marchbanks 0"),
        (format!("?planter_id={}&units=si", first.planter), "The eight-row"),
        (format!("?advisor_id={}", app.advisor.account_id), "of a advisor"),
    ] {
        let page = app.lead.get(&format!("{PAGE}{query}")).await.assert_status(200);
        let heading = heading.replace("of a advisor", "advisor and the growers looked after now");
        assert!(page.text.contains(&heading), "{query}: {}", page.text);
        let pdf = app.lead.get(&format!("{PDF}{query}&paper=a4")).await.assert_status(200);
        assert_eq!(pdf.header("content-type"), "application/pdf");
        assert_eq!(pdf.header("content-disposition"), "attachment; filename=\"season-2027.pdf\"");
        assert_eq!(pdf.header("cache-control"), "no-store");
        assert!(
            pdf.bytes.starts_with(b"%PDF-1.7") && pdf.bytes.trim_ascii_end().ends_with(b"%%EOF")
        );
    }
}

#[tokio::test]
async fn a_season_in_which_nothing_happened_is_a_page_that_says_so() {
    let app = TestApp::start().await;
    let page = app.lead.get("/v1/seasons/2031/report/page").await.assert_status(200);
    assert!(page.text.contains("No settings sheet was issued in this season."));
    assert!(page.text.contains("nothing can be said of either"));
    app.lead.get("/v1/seasons/2031/report/pdf").await.assert_status(200);
    app.lead.get("/v1/seasons/2031/workbook").await.assert_status(200);
    app.lead.get("/v1/seasons/2031/data-package").await.assert_status(200);
}

#[tokio::test]
async fn what_is_no_season_no_paper_or_someone_elses_is_refused() {
    let app = TestApp::start().await;
    let all = season(&app, 1).await;
    let [theirs, ..] = all.as_slice() else { panic!("one") };
    for form in ["report/page", "report/pdf", "workbook", "data-package"] {
        app.lead.get(&format!("/v1/seasons/27/{form}")).await.assert_problem(404, "not_found");
        let other = format!("/v1/seasons/2027/{form}?grower_id={}", theirs.grower);
        app.grower.get(&other).await.assert_problem(404, "not_found");
        app.stranger.get(&other).await.assert_problem(404, "not_found");
    }
    app.lead.get(&format!("{PDF}?paper=a5")).await.assert_status(422);
}

#[tokio::test]
async fn the_settings_sheet_is_one_page_of_paper() {
    let app = TestApp::start().await;
    let all = season(&app, 1).await;
    let [stead, ..] = all.as_slice() else { panic!("one") };
    let path = format!("/v1/recommendations/{}/sheet/pdf", stead.recommendation);
    for paper in ["letter", "a4"] {
        let pdf = app.lead.get(&format!("{path}?paper={paper}&units=us")).await.assert_status(200);
        assert_eq!(pdf.header("content-type"), "application/pdf");
        // The tree of pages of the document says how many there are.
        assert!(pdf.text.contains("/Count 1"), "one page");
        assert!(pdf.bytes.starts_with(b"%PDF-1.7"));
    }
    app.stranger.get(&path).await.assert_problem(404, "not_found");
}
