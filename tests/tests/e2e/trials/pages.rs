//! The page of what a trial says.

use tests::{Farmstead, TestApp};

use super::{id, on_rows, plot_of, reading, running};

#[tokio::test]
async fn the_page_says_what_the_analysis_says() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let trial = running(&app.lead, &on_rows(&stead)).await;
    let path = format!("/v1/trials/{}", id(&trial));
    let values = [(80.0, 90.0), (82.0, 91.0), (81.0, 93.0), (84.0, 92.0), (83.0, 91.0)];
    for (block, (smooth, spiked)) in (1..).zip(values) {
        for (treatment, value) in [("smooth wheels", smooth), ("spiked wheels", spiked)] {
            let plot = plot_of(&trial, block, treatment);
            let body = reading(plot, "emergence", "%", &[value]);
            app.grower.post(&format!("{path}/plots"), &body).await.assert_status(201);
        }
    }
    let told = app.grower.get(&format!("{path}/analysis")).await.json();
    let page = app.grower.get(&format!("{path}/analysis/page")).await.assert_status(200);
    let text = page.text.replace("&gt;", ">").replace("&lt;", "<").replace("&amp;", "&");
    let verdict = &told["responses"][0]["verdict"];
    assert!(text.contains(verdict["headline"].as_str().expect("a headline")), "{text}");
    for list in ["findings", "cannot_conclude", "next"] {
        for line in verdict[list].as_array().expect("lines") {
            assert!(text.contains(line.as_str().expect("text")), "no {line}");
        }
    }
    assert!(text.contains("spiked wheels less smooth wheels: 9.40"), "{text}");
    assert!(text.contains("no difference"));
}
