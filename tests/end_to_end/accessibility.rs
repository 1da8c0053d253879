use std::fmt::Write;

use suite::{Screen, Window, story};

/// Every violation found so far, with the view it was found in, so that one run names them all.
#[derive(Default)]
struct Found(String);

impl Found {
    async fn look(&mut self, window: &Window, view: &str) {
        for violation in window.violations().await {
            writeln!(self.0, "{view}: {violation}").expect("a string takes all text");
        }
    }
}

#[tokio::test]
async fn no_view_breaks_a_rule_of_accessibility() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    let mut found = Found::default();

    window.tap("#way-create").await;
    window.see("#create").await;
    found.look(&window, "first start").await;
    story::create_facility(&window).await;
    found.look(&window, "home of an empty facility").await;
    story::add_colleague(&window).await;
    found.look(&window, "people").await;
    window.tap("#nav-start").await;
    window.see("#begin").await;
    found.look(&window, "start").await;

    story::begin(&window).await;
    found.look(&window, "live form").await;
    story::log_act(&window, "remove-mask", 1).await;
    window.see("#banner").await;
    found.look(&window, "live form with a warning").await;
    window.tap("#contamination").await;
    found.look(&window, "live form, contamination").await;
    window.tap("#stop").await;
    window.see("#end-completed").await;
    found.look(&window, "live form, ending").await;
    window.tap("#end-completed").await;
    window.see("[id^='not-done-']").await;
    found.look(&window, "steps without a tap").await;
    window.tap("#nav-today").await;
    window.see(".unfinished a").await;
    found.look(&window, "home with something unfinished").await;
    window.tap(".unfinished a").await;
    story::answer(&window).await;
    found.look(&window, "review").await;
    window.tap("#to-sign").await;
    window.see("#seal").await;
    found.look(&window, "signing").await;
    window.fill("#sign-pin", story::PIN).await;
    window.tap("#seal").await;
    window.see("#sealed").await;
    found.look(&window, "signed").await;
    window.tap("#to-history").await;
    window.see("#records").await;
    found.look(&window, "history").await;
    window.tap("[id^='right-']").await;
    window.see("#right-go").await;
    found.look(&window, "putting a record right").await;
    window.tap("#nav-people").await;
    for part in ["#take-away", "#roll-open", "#join-open"] {
        window.tap(part).await;
    }
    window.see("#away-go").await;
    found.look(&window, "who signs, and the authority").await;
    window.tap("#nav-verify").await;
    window.see("#record-file").await;
    found.look(&window, "checking a record").await;

    window.tap("#nav-roster").await;
    window.see("#roster").await;
    found.look(&window, "roster").await;
    window.tap("#roster tbody th a").await;
    window.see("#clearances").await;
    for kind in ["fit", "medical", "evidence", "leave", "moved", "suspended", "skill"] {
        window.tap(&format!("#about-{kind}")).await;
        window.see("#state-about").await;
        found.look(&window, &format!("a person, {kind}")).await;
    }
    window.tap("#nav-roster").await;
    for (place, shown) in
        [("go-in", "#go-in"), ("sessions", "#set-session"), ("requirements", "#requirements")]
    {
        window.tap(&format!("#to-{place}")).await;
        window.see(shown).await;
        found.look(&window, place).await;
    }
    let table = data.path().join("people.csv");
    std::fs::write(
        &table,
        "number,name,unit,role\n1002,Tomas Rehn,Emergency,\n1009,Ana Lind,Emergency,Nurse\n",
    )
    .expect("a file");
    window.tap("#nav-people").await;
    window.tap("#to-import").await;
    window.choose_file("#people-file", &table).await;
    window.tap("#try-import").await;
    window.see("#import").await;
    found.look(&window, "people from a file").await;
    window.tap("#nav-procedures").await;
    window.tap(&format!("a[href='#/procedures/{}']", story::PROCEDURE)).await;
    window.see("svg").await;
    found.look(&window, "a procedure").await;
    window.tap("#nav-procedures").await;
    window.see(&format!("a[href='#/procedures/{}']", story::PROCEDURE)).await;
    found.look(&window, "procedures").await;

    story::begin_next_version(&window).await;
    window.tap("#step-gown-off").await;
    window.see("#step-editor").await;
    for part in ["steps", "head", "happenings", "values", "try", "publish"] {
        window.tap(&format!("#part-{part}")).await;
        window.see(&format!("#part-{part}[aria-current]")).await;
        found.look(&window, &format!("workbench, {part}")).await;
    }

    assert_eq!(found.0, "", "rules broken");
}
